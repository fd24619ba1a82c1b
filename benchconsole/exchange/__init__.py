"""What leaves the shop as a file or a stream: documented JSON. No rule of the trade lives here."""

from benchconsole.exchange.documents import day_sheet_document, worksheet_document

__all__ = ["day_sheet_document", "worksheet_document"]
