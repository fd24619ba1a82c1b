"""Sums a person asks for at the bench: typed texts in, one answer with its working out.

The trade's own arithmetic is in ``mixing`` and ``chemistry``; nothing here is stored.
"""

from benchconsole.desk.sums.asking import answer_to, examples, field_of, look, still_wanted
from benchconsole.desk.sums.catalogue import SUMS, sum_named, sums_matching
from benchconsole.desk.sums.records import Answer, Sum, SumField, SumLook
from benchconsole.desk.sums.typed_shapes import sizes_example

__all__ = [
    "SUMS",
    "Answer",
    "Sum",
    "SumField",
    "SumLook",
    "answer_to",
    "examples",
    "field_of",
    "look",
    "sizes_example",
    "still_wanted",
    "sum_named",
    "sums_matching",
]
