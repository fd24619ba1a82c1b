"""The plan as JSON against its schema, and as text that stands on a page."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from benchconsole.exchange.documents import day_sheet_document
from benchconsole.exchange.plan_documents import cut_to, plan_document, plan_text
from tests.console.small_plan import small_plan
from tests.exchange.test_documents import validator

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
PLAN = small_plan(NOW)


def test_a_plan_fits_its_schema_and_leaves_nothing_out() -> None:
    """Every visit and round in order, the hide that could not be planned with its reason."""
    document = json.loads(json.dumps(plan_document(PLAN, NOW, UTC)))
    validator("plan-1").validate(document)
    assert [each["starts"] for each in document["visits"]] == [
        visit.starts.isoformat() for visit in PLAN.visits
    ]
    assert len(document["rounds"]) == len(PLAN.rounds) > 0
    reasons = {each["hide"]: each["unplanned"] for each in document["hides"]}
    assert "not in the library" in reasons["lost"]
    late = [each["past_latest_minutes"] for each in document["visits"]]
    assert late == [visit.past_latest.total_seconds() / 60 for visit in PLAN.visits]
    assert max(late) > 0


@pytest.mark.parametrize("key", ["visits", "rounds", "hides", "until"])
def test_the_schema_refuses_a_plan_with_a_part_missing(key: str) -> None:
    """The schema asks for what it documents."""
    document = plan_document(PLAN, NOW, UTC)
    del document[key]
    assert list(validator("plan-1").iter_errors(document))


def test_the_day_sheet_carries_the_plan_or_null() -> None:
    """Both forms fit the schema of the day sheet."""
    for plan in (PLAN, None):
        document: dict[str, Any] = day_sheet_document((), NOW, UTC, plan)
        validator("daysheet-1").validate(json.loads(json.dumps(document)))
        assert (document["plan"] is None) is (plan is None)


def test_a_plan_is_cut_at_an_instant() -> None:
    """What begins before it stays, what begins then or later goes; the hides stay."""
    until = NOW + timedelta(days=2)
    cut = cut_to(PLAN, until)
    assert [v for v in PLAN.visits if v.starts < until] == list(cut.visits)
    assert [r for r in PLAN.rounds if r.at < until] == list(cut.rounds)
    assert len(cut.hides) == len(PLAN.hides)
    assert 0 < len(cut.visits) < len(PLAN.visits)


def test_the_text_stands_on_a_page_and_says_every_day() -> None:
    """No line is wider than the page; a plan of nothing says so."""
    text = plan_text(PLAN, NOW, UTC, title="Plan of a shop")
    lines = text.splitlines()
    assert lines[0] == "Plan of a shop"
    assert max(map(len, lines)) <= 78
    assert "TODAY, Wednesday 18 March" in lines
    assert any(line.startswith("? Deer of last year: its route") for line in lines)
    nothing = plan_text(small_plan(NOW, hides=1), NOW, UTC, title="Plan")
    assert "Deer of last year" in nothing
