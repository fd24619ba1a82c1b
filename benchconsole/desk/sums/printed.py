"""A sum on paper or for another program: the list, one answer as text, one as a document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from benchconsole.desk.sums.asking import examples
from benchconsole.desk.sums.catalogue import SUMS
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.errors import BadInput
from benchconsole.quantities import Measures


def read_pairs(pairs: Sequence[str], asked: Sum) -> dict[str, str]:
    """The texts of ``field=value`` arguments by field id; ``BadInput`` for any other form."""
    example = f"{asked.fields[0].id}={asked.fields[0].example}"
    ids = {field.id.lower(): field.id for field in asked.fields}
    texts: dict[str, str] = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals:
            raise BadInput("sum", f"“{pair[:40]}” is not field=value", f'"{example}"')
        field_id = name.strip().lower()
        field_id = ids.get(field_id, field_id)
        if field_id in texts:
            raise BadInput(field_id, "it is given twice", f'"{example}"')
        texts[field_id] = value
    return texts


def sums_text() -> str:
    """All sums, a line each."""
    width = max(len(one.name) for one in SUMS)
    return "\n".join(f"{one.name:<{width}}  {one.purpose}" for one in SUMS)


def fields_text(asked: Sum, measures: Measures) -> str:
    """What a sum asks for, with a call that would be answered."""
    lines = [f"{asked.title}: {asked.purpose}", ""]
    width = max(len(field.id) for field in asked.fields)
    for field in asked.fields:
        offered = ", ".join(name for name, _ in field.choices)
        if offered and field.optional:
            offered = f"{offered} (may be left out)"
        offered = offered or field.prompt_in(measures)
        lines.append(f"  {field.id:<{width}}  {field.label}: {offered}")
    # Quoted whole, for most values hold a space.
    pairs = " ".join(f'"{name}={text}"' for name, text in examples(asked, measures).items())
    return "\n".join([*lines, "", f"benchconsole sum {asked.name} {pairs}"])


def answer_text(asked: Sum, answer: Answer) -> str:
    """One answer with its cautions and its working, to be read."""
    lines = [asked.title, "", answer.says, *answer.lines]
    lines += [f"▲ {caution}" for caution in answer.cautions]
    for working in answer.workings:
        lines += ["", working.title]
        lines += [f"  {name}: {figure}" for name, figure in working.inputs]
        lines += [f"  {line}" for line in (working.equation, f"= {working.result}") if line]
        lines += [f"  source: {working.source}"] if working.source else []
        lines += [f"  how sure: {working.sure}"] if working.sure else []
    return "\n".join(lines)


def sums_document(only: Sum | None, measures: Measures) -> dict[str, Any]:
    """All sums with their fields, or one alone."""
    return {
        "schema": "benchconsole.sums/1",
        "sums": [
            {
                "name": one.name,
                "title": one.title,
                "purpose": one.purpose,
                "fields": [
                    {
                        "id": field.id,
                        "label": field.label,
                        "asks": field.asks,
                        "optional": field.optional,
                        "example": field.example_in(measures),
                        "choices": [name for name, _ in field.choices],
                    }
                    for field in one.fields
                ],
            }
            for one in SUMS
            if only in (None, one)
        ],
    }


def answer_document(asked: Sum, texts: Mapping[str, str], answer: Answer) -> dict[str, Any]:
    """One answer, what was asked, and how it came about."""
    return {
        "schema": "benchconsole.sum/1",
        "sum": asked.name,
        "asked": dict(texts),
        "says": answer.says,
        "figures": [
            {"name": figure.name, "value": figure.value, "unit": figure.unit}
            for figure in answer.figures
        ],
        "lines": list(answer.lines),
        "cautions": list(answer.cautions),
        "workings": [
            {
                "title": working.title,
                "inputs": [list(pair) for pair in working.inputs],
                "equation": working.equation,
                "result": working.result,
                "source": working.source,
                "sure": working.sure,
            }
            for working in answer.workings
        ],
    }
