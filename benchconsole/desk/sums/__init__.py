"""Sums a person asks for at the bench: typed texts in, one answer with its working out.

The trade's own arithmetic is in ``mixing`` and ``chemistry``; nothing here is stored.
"""

from benchconsole.desk.sums.asking import answer_to, examples, field_of, still_wanted
from benchconsole.desk.sums.catalogue import SUMS, sum_named
from benchconsole.desk.sums.records import Answer, Sum, SumField

__all__ = [
    "SUMS",
    "Answer",
    "Sum",
    "SumField",
    "answer_to",
    "examples",
    "field_of",
    "still_wanted",
    "sum_named",
]
