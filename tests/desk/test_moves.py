"""What no route foresees, at the desk: stored as one tap, said in words, refused in a sentence."""

from __future__ import annotations

from datetime import timedelta

import pytest

from benchconsole.errors import NotKnown, NotPossibleNow
from tests.desk.small_bench import NOON, Bench

MONDAY_EIGHT = NOON + timedelta(days=7, hours=-4)


class TestStarts:
    """A start that the person has chosen."""

    def test_a_chosen_start_is_when_the_stage_is_due(self, bench: Bench) -> None:
        """A salted hide waits for the hour that was chosen, and says that it was."""
        hide_id = bench.take_in()
        said = bench.desk.moves.start_at(hide_id, MONDAY_EIGHT)
        assert "Brown goat: start chosen: Mon 8 Jun 2026 08:00" == said
        action = bench.desk.hides.action_of(hide_id)
        assert ("begin", "stored", MONDAY_EIGHT) == (action.kind, action.state, action.due)
        assert "You chose to begin it Monday 8 June 08:00." == action.why
        bench.clock.move_to(MONDAY_EIGHT)
        assert "due" == bench.desk.hides.action_of(hide_id).state

    def test_it_may_be_begun_before_and_the_choice_is_gone(self, bench: Bench) -> None:
        """The hide decides; what was chosen for this stage is not carried to the next."""
        hide_id = bench.take_in()
        bench.desk.moves.start_at(hide_id, MONDAY_EIGHT)
        bench.desk.hides.done(hide_id)
        assert bench.desk.hides.get(hide_id).start_at is None

    def test_the_choice_is_changed_taken_away_and_taken_back(self, bench: Bench) -> None:
        """Each is one tap, and undo gives the choice before."""
        hide_id = bench.take_in()
        moves, hides = bench.desk.moves, bench.desk.hides
        moves.start_at(hide_id, MONDAY_EIGHT)
        moves.start_at(hide_id, NOON + timedelta(days=1))
        assert "Brown goat: no start chosen any more" == moves.start_any_time(hide_id)
        with pytest.raises(NotPossibleNow, match="no start was chosen"):
            moves.start_any_time(hide_id)
        hides.undo(hide_id)
        assert NOON + timedelta(days=1) == hides.get(hide_id).start_at
        hides.undo(hide_id)
        assert MONDAY_EIGHT == hides.get(hide_id).start_at

    def test_what_makes_no_sense_is_refused(self, bench: Bench) -> None:
        """A time that is past, a stage that is begun, a hide that nobody knows."""
        hide_id, moves = bench.take_in(), bench.desk.moves
        with pytest.raises(NotPossibleNow, match="11:00 is past"):
            moves.start_at(hide_id, NOON - timedelta(hours=1))
        bench.desk.hides.done(hide_id)
        with pytest.raises(NotPossibleNow, match="there is no stage to begin"):
            moves.start_at(hide_id, MONDAY_EIGHT)
        with pytest.raises(NotKnown):
            moves.start_at("nobody", MONDAY_EIGHT)
        assert 2 == bench.taps

    def test_a_green_hide_cannot_be_put_off_past_its_latest(self, bench: Bench) -> None:
        """It says until when it may lie; at that very time it may still be chosen."""
        hide_id = bench.take_in(came="green")
        latest = bench.desk.hides.action_of(hide_id).latest
        assert latest is not None
        with pytest.raises(NotPossibleNow, match=r"may lie until .*, no longer"):
            bench.desk.moves.start_at(hide_id, latest + timedelta(minutes=1))
        bench.desk.moves.start_at(hide_id, latest)
        assert latest == bench.desk.hides.action_of(hide_id).due
