"""What no route foresees, at the desk: stored as one tap, said in words, refused in a sentence."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import msgspec
import pytest

from benchconsole.desk import Desk
from benchconsole.errors import BadInput, BenchError, NotKnown, NotPossibleNow
from benchconsole.library import Library
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


def hold_words(bench: Bench, hide_id: str) -> tuple[str, str, str]:
    """Kind, state and stage of what a hide needs next."""
    action = bench.desk.hides.action_of(hide_id)
    return action.kind, action.state, action.stage


def weighed(bench: Bench, formula: str, *hides: str) -> str:
    """A liquor weighed out to the letter for these hides; its id."""
    weigh_outs = bench.desk.weigh_outs
    name = weigh_outs.begin(bench.desk.worksheet(formula), hides).weigh_out.id
    while not weigh_outs.view(name).done:
        weigh_outs.accept(name)
    return weigh_outs.finish(name).id


def places(bench: Bench, hide_id: str) -> dict[str, str]:
    """The stages of a hide's route as its card shows them."""
    return {each.stage: each.place for each in bench.desk.hides.card(hide_id).stages}


def in_the_bath(bench: Bench, **given: str) -> tuple[str, str]:
    """A hide in an alum bath that was weighed out for it, a day in; hide and liquor."""
    hide_id = bench.take_in(**given)
    bench.desk.moves.move(hide_id, stage="alum")
    liquor = weighed(bench, bench.desk.hides.action_of(hide_id).mix, hide_id)
    bench.desk.hides.done(hide_id)
    bench.clock.advance(hours=24)
    return hide_id, liquor


class TestMoves:
    """Another stage, another route."""

    def test_stages_are_skipped(self, bench: Bench) -> None:
        """What lies between is skipped on the card, and the hide is to begin the stage now."""
        hide_id = bench.take_in()
        bench.desk.hides.done(hide_id)
        said = bench.desk.moves.move(hide_id, stage="wash")
        assert "Brown goat: moved on from “Soak” to “Wash”" == said
        assert ("begin", "due", "wash") == hold_words(bench, hide_id)
        seen = places(bench, hide_id)
        assert ("before", "done", "skipped", "here", "ahead") == tuple(
            seen[stage] for stage in ("trim", "soak", "flesh", "wash", "alum")
        )

    def test_a_hide_goes_back_into_the_bath_it_left(self, bench: Bench) -> None:
        """The same liquor is meant while it lies in it; the hold counts anew from going in."""
        hide_id, liquor = in_the_bath(bench)
        bench.clock.advance(hours=96)
        bench.desk.hides.passed(hide_id)
        said = bench.desk.moves.move(hide_id, stage="alum")
        assert said.startswith("Brown goat: back from “Rinse")
        assert bench.desk.hides.done(hide_id).endswith(f"begun with liquor {liquor}")
        hide = bench.desk.hides.get(hide_id)
        assert (bench.clock.now(), liquor) == (hide.hold_from, hide.liquor)
        assert hold_words(bench, hide_id)[0] in ("attend", "check")

    def test_once_out_of_it_no_liquor_is_guessed(self, bench: Bench) -> None:
        """A hide that was rinsed since and goes back may go into any bath."""
        hide_id, _ = in_the_bath(bench)
        bench.clock.advance(hours=96)
        bench.desk.hides.passed(hide_id)
        bench.desk.hides.done(hide_id)
        bench.desk.moves.move(hide_id, stage="alum")
        assert bench.desk.hides.done(hide_id).endswith("” begun")

    def test_the_piece_is_finished_early_and_taken_up_again(self, bench: Bench) -> None:
        """Both are moves; a finished piece may want softening again."""
        hide_id = bench.take_in()
        assert bench.desk.moves.move(hide_id, stage="").endswith("; the piece is finished")
        assert ("none", "finished", "") == hold_words(bench, hide_id)
        with pytest.raises(NotPossibleNow, match="is at “the end of its route” already"):
            bench.desk.moves.move(hide_id, stage="")
        assert bench.desk.moves.move(hide_id, stage="finish").startswith("Brown goat: taken up")
        assert ("begin", "due", "finish") == hold_words(bench, hide_id)
        assert bench.desk.hides.get(hide_id).finished_at is None

    def test_another_route_from_a_store(self, bench: Bench) -> None:
        """A salted hide changes its mind about what it becomes: it keeps as long as it did."""
        hide_id = bench.take_in(came="green")
        for _ in range(12):
            if bench.desk.hides.action_of(hide_id).state == "stored":
                break
            bench.clock.move_to(bench.desk.hides.action_of(hide_id).due)
            bench.desk.hides.done(hide_id)
        before = bench.desk.hides.action_of(hide_id)
        assert "stored" == before.state
        bench.clock.advance(days=30)
        said = bench.desk.moves.move(hide_id, route="hair-off-white-leather", stage="soak")
        assert "Brown goat: moved to the route “Hair-off white leather”, next “Soak”" == said
        after = bench.desk.hides.action_of(hide_id)
        assert ("stored", before.latest) == (after.state, after.latest)
        assert before.spoils == after.spoils
        card = bench.desk.hides.card(hide_id)
        assert "Hair-off white leather" == card.route_name
        assert "before" == places(bench, hide_id)["salting"]
        # What it did on the old route is told in the words of the old route.
        assert any("“First salting” begun" == words for _, words in card.history)

    def test_another_route_within_a_bath(self, bench: Bench) -> None:
        """The hold that ran and the last stirring count on; due is by the new route."""
        hide_id, liquor = in_the_bath(bench)
        begun = bench.desk.hides.get(hide_id).hold_from
        bench.desk.hides.attended(hide_id)
        stirred = bench.clock.now()
        bench.clock.advance(hours=1)
        said = bench.desk.moves.move(hide_id, route="small-fur-skin", stage="alum", begun=True)
        assert "in “" in said
        hide = bench.desk.hides.get(hide_id)
        assert ("small-fur-skin", "alum", begun, liquor) == (
            hide.route,
            hide.stage,
            hide.hold_from,
            hide.liquor,
        )
        assert stirred in hide.attended_at.values()
        assert bench.desk.hides.action_of(hide_id).state != "overdue"

    @pytest.mark.parametrize(
        ("given", "fault", "words"),
        [
            ({"stage": "nowhere"}, BadInput, "^stage: .* has no stage “nowhere”; for example"),
            ({"stage": "soak", "route": "none"}, BadInput, "^route: “none” is not in the library"),
            ({"stage": "", "route": "small-fur-skin"}, BadInput, "^stage: nothing is chosen"),
            ({"stage": "soak"}, NotPossibleNow, "is at “Soak” already"),
            ({"stage": "wash", "begun": True}, NotPossibleNow, "then note when it is in"),
            (
                {"stage": "soak", "route": "small-fur-skin", "begun": True},
                NotPossibleNow,
                "is in no stage now",
            ),
        ],
    )
    def test_what_makes_no_sense_is_refused(
        self, bench: Bench, given: dict[str, Any], fault: type[BenchError], words: str
    ) -> None:
        """One sentence, and nothing is stored."""
        hide_id = bench.take_in()
        with pytest.raises(fault, match=words):
            bench.desk.moves.move(hide_id, **given)
        assert 1 == bench.taps

    def test_a_hide_whose_route_is_gone_finds_another(self, library: Library) -> None:
        """The file of its route was taken away: it may go on by one that is there."""
        bench = Bench(library)
        hide_id = bench.take_in()
        routes = {key: way for key, way in library.routes.items() if key != "hair-on-alum-pelt"}
        desk = Desk(bench.repository, bench.clock, msgspec.structs.replace(library, routes=routes))
        desk.moves.move(hide_id, route="small-fur-skin", stage="soak")
        assert "begin" == desk.hides.action_of(hide_id).kind


class TestSplitLots:
    """Some skins of a lot go on by themselves."""

    def test_both_parts_stand_where_the_lot_stood(self, bench: Bench) -> None:
        """Times, stage, liquor and looks are the same; weight and number are shared out."""
        lot, liquor = in_the_bath(bench, count="5", weight="10 kg")
        bench.desk.hides.not_yet(lot)
        before = bench.desk.hides.get(lot)
        said = bench.desk.moves.split(lot, count="2", name="Thin ones")
        assert "Brown goat: lot split: 2 skins of “Brown goat” as “Thin ones”" == said
        stays, goes = (bench.desk.hides.get(name) for name in (lot, "thin-ones"))
        assert ((3, 6000.0), (2, 4000.0)) == tuple(
            (each.count, pytest.approx(each.mass_g)) for each in (stays, goes)
        )
        for field in ("stage", "hold_from", "failed_at", "attended_at", "liquor", "route"):
            assert getattr(before, field) == getattr(stays, field) == getattr(goes, field)
        card = bench.desk.hides.card("thin-ones")
        assert [liquor] == [each.id for each in card.liquors]
        words = [words for _, words in card.history]
        assert "taken in salted, a lot of 5" == words[0]
        assert "lot split: 2 skins of “Brown goat” as “Thin ones”" == words[-1]
        assert "done" != places(bench, "thin-ones")["alum"] == "here"

    def test_each_part_goes_its_own_way(self, bench: Bench) -> None:
        """What happens to one after the split is not told of the other."""
        lot, _ = in_the_bath(bench, count="5")
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        bench.desk.hides.not_yet(lot)
        assert 1 == len(bench.desk.hides.get(lot).failed_at)
        assert () == bench.desk.hides.get("thin-ones").failed_at
        told = [words for _, words in bench.desk.hides.card("thin-ones").history]
        assert not any("not yet ready" in words for words in told)

    @pytest.mark.parametrize("from_part", ["brown-goat", "thin-ones"])
    def test_it_is_taken_back_from_either_card(self, bench: Bench, from_part: str) -> None:
        """The lot is whole again and the part is gone."""
        lot = bench.take_in(count="5")
        before = bench.desk.hides.get(lot)
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        bench.desk.hides.undo(from_part)
        assert before == bench.desk.hides.get(lot)
        with pytest.raises(NotKnown):
            bench.desk.hides.get("thin-ones")

    @pytest.mark.parametrize(
        ("gone_on", "asked", "words"),
        [
            (
                "thin-ones",
                "brown-goat",
                "Thin ones, the other part of the split lot, has gone on",
            ),
            ("brown-goat", "thin-ones", "Brown goat, the other part of the split lot, has gone on"),
        ],
    )
    def test_a_part_that_has_gone_on_is_not_joined_again(
        self, bench: Bench, gone_on: str, asked: str, words: str
    ) -> None:
        """What one part did would be told of all skins: first that has to be taken back."""
        lot = bench.take_in(count="5")
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        bench.desk.hides.done(gone_on)
        for door in (bench.desk.hides, bench.desk.rounds):
            with pytest.raises(NotPossibleNow, match=words):
                door.undo(asked)
        bench.desk.hides.undo(gone_on)
        bench.desk.hides.undo(asked)
        assert 5 == bench.desk.hides.get(lot).count

    def test_undo_at_the_bench_leaves_the_part_there(self, bench: Bench) -> None:
        """Pressed once too often it takes no hide off the list unasked."""
        lot = bench.take_in(count="5")
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        with pytest.raises(NotPossibleNow, match="only its splitting off is left"):
            bench.desk.hides.undo("thin-ones", taking_in=False)

    def test_what_was_on_the_scale_for_all_is_ready_for_all(self, bench: Bench) -> None:
        """A liquor weighed out for the lot begins the stage of both; a later one only its own."""
        lot = bench.take_in(count="5")
        mix = bench.desk.hides.action_of(lot).mix
        weigh_outs = bench.desk.weigh_outs
        name = weigh_outs.begin(bench.desk.worksheet(mix), [lot]).weigh_out.id
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        while not weigh_outs.view(name).done:
            weigh_outs.accept(name)
        common = weigh_outs.finish(name).id
        bench.clock.advance(minutes=5)
        own = weighed(bench, mix, lot)
        assert bench.desk.hides.done("thin-ones").endswith(f"with liquor {common}")
        assert bench.desk.hides.done(lot).endswith(f"with liquor {own}")

    def test_a_part_of_a_part_knows_all_it_comes_from(self, bench: Bench) -> None:
        """Names taken once are not given again, and the story goes back to the taking in."""
        lot = bench.take_in(count="6", weight="")
        bench.desk.moves.split(lot, count="3", name="Thin ones")
        bench.desk.moves.split("thin-ones", count="1", name="Thin ones")
        last = bench.desk.hides.card("thin-ones-2")
        assert (1, None) == (last.hide.count, last.hide.mass_g)
        assert 3 == len(last.history)
        bench.desk.hides.undo("thin-ones-2")
        bench.desk.moves.split("thin-ones", count="1", name="Thin ones")
        assert "thin-ones-3" in bench.desk.hides.ids()

    @pytest.mark.parametrize(
        ("field", "given"),
        [
            ("count", {"count": "5"}),
            ("count", {"count": "0"}),
            ("count", {"count": "half"}),
            ("name", {"name": " "}),
            ("name", {"name": "a\x00b"}),
        ],
    )
    def test_what_cannot_be_split_is_refused(
        self, bench: Bench, field: str, given: dict[str, str]
    ) -> None:
        """The field is named with an example, and nothing is stored."""
        lot = bench.take_in(count="5")
        with pytest.raises(BadInput, match=rf"^{field}: .*; for example "):
            bench.desk.moves.split(lot, **{"count": "1", "name": "Thin ones", **given})
        single = bench.take_in("Doe")
        with pytest.raises(NotPossibleNow, match="Doe is one skin"):
            bench.desk.moves.split(single, count="1", name="Half a doe")
        assert 2 == bench.taps


class TestSpoiledLiquors:
    """A liquor that can no longer be used."""

    def test_what_lies_in_it_comes_out_now(self, bench: Bench) -> None:
        """The stage is to begin again with a fresh mix, at once; its card tells why."""
        hide_id, liquor = in_the_bath(bench)
        said = bench.desk.moves.spoil(liquor, "slimy")
        assert f"Noted: liquor {liquor} spoiled: slimy; take out now: Brown goat" == said
        action = bench.desk.hides.action_of(hide_id)
        assert ("begin", "due", "alum") == hold_words(bench, hide_id)
        assert action.action.startswith("Take it out of the spoiled liquor; make a fresh one. ")
        assert "found spoiled" in action.why
        assert "slimy" in action.why
        assert action.mix
        card = bench.desk.hides.card(hide_id)
        assert {liquor: "slimy"} == card.spoiled
        assert f"liquor {liquor} spoiled: slimy" == card.history[-1][1]
        fresh = weighed(bench, action.mix, hide_id)
        assert bench.desk.hides.done(hide_id).endswith(f"begun with liquor {fresh}")
        assert bench.desk.hides.get(hide_id).spoiled_at is None

    def test_it_is_not_offered_as_ready(self, bench: Bench) -> None:
        """Spoiled before anything lay in it: the stage begins with another or with none known."""
        hide_id = bench.take_in()
        liquor = weighed(bench, bench.desk.hides.action_of(hide_id).mix, hide_id)
        assert f"Noted: liquor {liquor} spoiled: sour" == bench.desk.moves.spoil(liquor, "sour")
        assert "Brown goat: “Soak” begun" == bench.desk.hides.done(hide_id)

    def test_what_has_passed_but_lies_there_still_comes_out_too(self, bench: Bench) -> None:
        """The look was passed; it goes on to the next stage, now."""
        hide_id, liquor = in_the_bath(bench)
        bench.clock.advance(hours=96)
        bench.desk.hides.passed(hide_id)
        bench.desk.moves.spoil(liquor, "slimy")
        action = bench.desk.hides.action_of(hide_id)
        assert ("begin", "due", "rinse") == hold_words(bench, hide_id)
        assert action.action.startswith("Take it out of the spoiled liquor. ")

    def test_a_dressing_on_the_skin_stays_there(self, bench: Bench) -> None:
        """Between two coats only the rest is lost: the next coat wants its mix again."""
        hide_id = bench.take_in()
        bench.desk.moves.move(hide_id, stage="oil")
        liquor = weighed(bench, bench.desk.hides.action_of(hide_id).mix, hide_id)
        bench.desk.hides.done(hide_id)
        assert "" == bench.desk.hides.action_of(hide_id).mix
        assert "take out" not in bench.desk.moves.spoil(liquor, "dropped")
        action = bench.desk.hides.action_of(hide_id)
        assert ("coat", 2) == (action.kind, action.coat)
        assert "the rest is spoiled (dropped): make it anew" in action.why
        assert action.mix
        bench.desk.hides.done(hide_id)
        assert bench.desk.hides.get(hide_id).spoiled_at is None

    def test_it_is_taken_back_from_the_card_or_by_name(self, bench: Bench) -> None:
        """Either way the hide lies in its bath as before, hold and all."""
        hide_id, liquor = in_the_bath(bench)
        before = bench.state
        bench.desk.moves.spoil(liquor, "slimy")
        bench.desk.hides.undo(hide_id)
        assert before == bench.state
        bench.desk.moves.spoil(liquor, "slimy")
        bench.desk.moves.undo_spoiled(liquor)
        assert before == bench.state
        with pytest.raises(NotPossibleNow, match="was not noted as spoiled"):
            bench.desk.moves.undo_spoiled(liquor)

    def test_what_makes_no_sense_is_refused(self, bench: Bench) -> None:
        """An unknown liquor, no reason, a second time; and its weigh-out stays ended."""
        hide_id = bench.take_in()
        liquor = weighed(bench, bench.desk.hides.action_of(hide_id).mix, hide_id)
        with pytest.raises(NotKnown, match="No liquor is called “L7”"):
            bench.desk.moves.spoil("L7", "sour")
        with pytest.raises(BadInput, match=r"^why: it is empty; for example"):
            bench.desk.moves.spoil(liquor, " ")
        bench.desk.moves.spoil(liquor, "sour")
        with pytest.raises(NotPossibleNow, match="noted as spoiled before"):
            bench.desk.moves.spoil(liquor, "sour")
        with pytest.raises(NotPossibleNow, match="noted as spoiled: take that back first"):
            bench.desk.weigh_outs.undo("w1")

    def test_the_lot_and_what_was_split_off_come_out_both(self, bench: Bench) -> None:
        """A hide that was never named to the scale lies in the liquor all the same."""
        lot, liquor = in_the_bath(bench, count="5")
        bench.desk.moves.split(lot, count="2", name="Thin ones")
        said = bench.desk.moves.spoil(liquor, "slimy")
        assert said.endswith("take out now: Brown goat, Thin ones")
        bench.desk.hides.undo("thin-ones")
        assert {} == bench.state.spoiled


class TestOutOfWork:
    """Spoiled, sold raw, given away."""

    def test_it_leaves_the_day_sheet_and_stays_on_record(self, bench: Bench) -> None:
        """No action, no alarm, no tap but a note; the list shows it last and its card opens."""
        hide_id = bench.take_in()
        other = bench.take_in("Doe", species="deer")
        said = bench.desk.moves.out_of_work(hide_id, "hair slips")
        assert "Brown goat: taken out of work: hair slips" == said
        assert [other] == [action.hide for action in bench.desk.hides.day_sheet()]
        row = bench.desk.hides.rows()[-1]
        assert (hide_id, "out", frozenset()) == (row.hide.id, row.action.state, row.allowed)
        card = bench.desk.hides.card(hide_id)
        assert ("Out of work: hair slips.", "soak") == (card.action.action, card.hide.stage)
        bench.desk.hides.note(hide_id, "buried")

    def test_no_round_comes_by(self, bench: Bench) -> None:
        """What is gone is not stirred."""
        hide_id, _ = in_the_bath(bench)
        assert bench.desk.rounds.planned()
        bench.desk.moves.out_of_work(hide_id, "torn")
        assert () == bench.desk.rounds.planned()

    def test_a_ringing_wait_falls_silent(self, bench: Bench) -> None:
        """Nobody is called to a second coat of a hide that is gone."""
        hide_id = bench.take_in()
        bench.desk.moves.move(hide_id, stage="oil")
        bench.desk.hides.done(hide_id)
        assert 1 == len(bench.desk.timers.all())
        bench.desk.moves.out_of_work(hide_id, "torn")
        assert () == bench.desk.timers.all()

    def test_it_is_taken_back(self, bench: Bench) -> None:
        """One undo, and the hide is where it was."""
        hide_id, _ = in_the_bath(bench)
        before = bench.desk.hides.action_of(hide_id)
        bench.desk.moves.out_of_work(hide_id, "sold raw")
        bench.desk.hides.undo(hide_id)
        assert before == bench.desk.hides.action_of(hide_id)

    def test_nothing_is_done_with_what_is_gone(self, bench: Bench) -> None:
        """Every move and tap is refused in a sentence."""
        hide_id = bench.take_in(count="2")
        moves, hides = bench.desk.moves, bench.desk.hides
        moves.out_of_work(hide_id, "sold raw")
        for refused in (
            lambda: moves.out_of_work(hide_id, "twice"),
            lambda: moves.move(hide_id, stage="wash"),
            lambda: moves.split(hide_id, count="1", name="Half"),
            lambda: moves.start_at(hide_id, MONDAY_EIGHT),
            lambda: hides.done(hide_id),
            lambda: hides.passed(hide_id),
            lambda: hides.not_yet(hide_id),
            lambda: hides.attended(hide_id),
        ):
            with pytest.raises(NotPossibleNow, match=r"\.$"):
                refused()
        assert 2 == bench.taps

    def test_a_finished_piece_is_not_out_of_work(self, bench: Bench) -> None:
        """It is done; there is nothing to take out."""
        hide_id = bench.take_in()
        bench.desk.moves.move(hide_id, stage="")
        with pytest.raises(NotPossibleNow, match="is finished"):
            bench.desk.moves.out_of_work(hide_id, "sold")
