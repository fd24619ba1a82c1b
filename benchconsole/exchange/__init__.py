"""What leaves the shop as a file, a stream or a page: JSON and plain text, no rule of the trade."""

from benchconsole.exchange.documents import day_sheet_document, worksheet_document
from benchconsole.exchange.instants import read_instant
from benchconsole.exchange.marks import STATE_MARKS, STATE_WORDS
from benchconsole.exchange.printed import day_sheet_text, worksheet_text

__all__ = [
    "STATE_MARKS",
    "STATE_WORDS",
    "day_sheet_document",
    "day_sheet_text",
    "read_instant",
    "worksheet_document",
    "worksheet_text",
]
