"""The one door between screens and shop: intents in, events stored, views out.

It decides nothing of the trade itself: mixes come from ``mixing``, times from ``schedule``.
"""

from benchconsole.desk.desk import Desk

__all__ = ["Desk"]
