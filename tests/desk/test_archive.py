"""The archive at the desk: what goes when, what is found, what is brought back and for how long."""

from __future__ import annotations

from datetime import timedelta

import pytest

from benchconsole.desk.leaving import AT_ONCE, LIQUORS_STAY, QUIET
from benchconsole.errors import NotKnown, NotPossibleNow
from benchconsole.model.events import HidesArchived
from tests.desk.small_bench import NOON, Bench


@pytest.fixture
def shop(bench: Bench) -> Bench:
    """A goat that was lost at noon, with a note, and a kid that is in work."""
    bench.take_in()
    bench.take_in("Black kid")
    bench.desk.hides.note("brown-goat", "Löcher am Bauch")
    bench.desk.moves.out_of_work("brown-goat", "sold raw")
    return bench


def found(bench: Bench, text: str) -> list[str]:
    """The ids that a search finds."""
    return [row.hide.id for row in bench.desk.archive.finished(text)]


class TestGoing:
    """What goes, and when."""

    def test_a_hide_goes_when_it_was_quiet_for_a_month(self, shop: Bench) -> None:
        """Not a second before; the one that is in work stays."""
        shop.clock.advance(seconds=QUIET.total_seconds() - 1)
        assert 0 == shop.desk.moving_out.all()
        shop.clock.advance(seconds=1)
        assert 1 == shop.desk.moving_out.all()
        assert ("black-kid",) == shop.desk.hides.ids()
        assert 2026 == shop.desk.archive.get("brown-goat").year

    def test_whatever_is_noted_of_it_lets_it_stay_another_month(self, shop: Bench) -> None:
        """A note is enough, and so is its being taken back."""
        shop.clock.advance(days=20)
        shop.desk.hides.note("brown-goat", "the buyer liked it")
        shop.desk.hides.undo("brown-goat")
        shop.clock.advance(days=29)
        assert 0 == shop.desk.moving_out.all()
        shop.clock.advance(days=1)
        assert 1 == shop.desk.moving_out.all()

    def test_the_year_is_that_of_the_shops_calendar(self, bench: Bench) -> None:
        """At noon of the last day by Greenwich it is the new year already in Auckland."""
        bench.desk.settings.set({**bench.desk.settings.texts(), "zone": "Pacific/Auckland"})
        bench.clock.move_to(NOON.replace(month=12, day=31))
        bench.take_in()
        bench.desk.moves.out_of_work("brown-goat", "x")
        bench.clock.advance(days=31)
        bench.desk.moving_out.all()
        assert 2027 == bench.desk.archive.get("brown-goat").year

    def test_what_was_split_goes_together(self, bench: Bench) -> None:
        """A part that is in work holds the lot back."""
        bench.take_in("Kids", count="3")
        bench.desk.moves.split("kids", count="1", name="Thin kid")
        bench.desk.moves.out_of_work("kids", "x")
        bench.clock.advance(days=60)
        assert 0 == bench.desk.moving_out.all()
        bench.desk.moves.out_of_work("thin-kid", "x")
        bench.clock.advance(days=30)
        assert 2 == bench.desk.moving_out.all()

    def test_a_liquor_stays_for_a_year_and_a_month(self, shop: Bench) -> None:
        """So that the same can be made again next season; then it goes to its hide's parcel."""
        desk = shop.desk
        view = desk.weigh_outs.begin(desk.worksheet("salt-citric-pickle"), ["brown-goat"])
        while not view.done:
            view = desk.weigh_outs.accept("w1")
        desk.weigh_outs.finish("w1")
        shop.clock.advance(days=31)
        desk.moving_out.all()
        assert "L1" == desk.liquor("L1").id
        shop.clock.move_to(NOON + LIQUORS_STAY)
        desk.moving_out.all()
        with pytest.raises(NotKnown):
            desk.liquor("L1")
        card = desk.in_archive("brown-goat").hides.card("brown-goat")
        assert ["L1"] == [liquor.id for liquor in card.liquors]
        desk.archive.bring_back("brown-goat")
        assert ["L1"] == [each.id for each in desk.hides.card("brown-goat").liquors]

    def test_many_go_a_few_hundred_at_a_time(self, bench: Bench) -> None:
        """Each step holds up little; none is left behind."""
        for place in range(AT_ONCE + 5):
            bench.take_in(f"Kid {place}")
            bench.desk.moves.out_of_work(f"kid-{place}", "x")
        bench.clock.advance(days=31)
        assert AT_ONCE == len(bench.desk.moving_out.ask().leaving().event.hides)
        assert AT_ONCE + 5 == bench.desk.moving_out.all()
        assert AT_ONCE + 5 == len(found(bench, "kid"))

    def test_what_was_noted_meanwhile_stays(self, shop: Bench) -> None:
        """A tap on the hide between asking and moving wins; one about another hinders nothing."""
        shop.clock.advance(days=31)
        moving = shop.desk.moving_out
        asked = moving.ask()
        laid = moving.lay(asked, asked.leaving())
        shop.desk.hides.note("brown-goat", "wait")
        assert not moving.record(laid)
        assert "brown-goat" in shop.desk.hides.ids()
        shop.clock.advance(days=31)
        asked = moving.ask()
        laid = moving.lay(asked, asked.leaving())
        shop.desk.hides.note("black-kid", "go on")
        assert moving.record(laid)
        shorter = moving.shorter(laid)
        assert shorter is not None
        shop.desk.hides.note("black-kid", "and on")
        assert not moving.shorten(shorter)
        assert shop.reopened().hides.ids() == shop.desk.hides.ids() == ("black-kid",)
        assert 0 == moving.all()
        named = [e.event for e in shop.repository.entries() if "brown-goat" in str(e.event)]
        assert [HidesArchived] == list(map(type, named))


class TestFinding:
    """By any word, in the archive as on the bench."""

    @pytest.mark.parametrize("days", [0, 31])
    @pytest.mark.parametrize(
        "text", ["", "GOAT", "goat brown", "löcher", "locher bauch", "alum pelt", "2026 lost"]
    )
    def test_all_words_are_looked_for(self, shop: Bench, text: str, days: int) -> None:
        """In name, animal, route, notes, year and how it ended; accents do not matter."""
        shop.clock.advance(days=days)
        shop.desk.moving_out.all()
        assert ["brown-goat"] == found(shop, text)
        assert [] == found(shop, f"{text} oak")

    def test_a_hide_in_work_is_not_found(self, shop: Bench) -> None:
        """It is on the bench."""
        assert [] == found(shop, "kid")


class TestBringingBack:
    """As it was, in its place, for a month."""

    @pytest.fixture
    def away(self, shop: Bench) -> Bench:
        """The goat lies in the archive."""
        shop.clock.advance(days=31)
        shop.desk.moving_out.all()
        return shop

    def test_it_is_one_tap_that_can_be_taken_back_and_put_back(self, away: Bench) -> None:
        """In between, and after each, it is in one place only."""
        taps = away.taps
        said = away.desk.archive.bring_back("brown-goat")
        assert "Brown goat brought back from the archive of 2026" == said
        assert taps + 1 == away.taps
        away.desk.hides.undo("brown-goat")
        assert ("black-kid",) == away.desk.hides.ids()
        assert ["brown-goat"] == found(away, "")
        away.desk.moving_out.all()
        away.desk.taps.put_back_last("hide/brown-goat")
        assert "brown-goat" in away.desk.hides.ids()
        assert ["note: Löcher am Bauch"] == [
            words for _, words in away.desk.hides.card("brown-goat").history if "note" in words
        ]

    def test_it_goes_again_after_another_month(self, away: Bench) -> None:
        """And comes back again with all that was noted in between."""
        away.desk.archive.bring_back("brown-goat")
        away.desk.hides.note("brown-goat", "seen again")
        away.clock.advance(days=29)
        assert 0 == away.desk.moving_out.all()
        away.clock.advance(days=1)
        assert 1 == away.desk.moving_out.all()
        assert "seen again" not in str(away.repository.entries())
        away.desk.archive.bring_back("brown-goat")
        history = [words for _, words in away.desk.hides.card("brown-goat").history]
        assert "note: seen again" in history
        assert away.reopened().hides.ids() == away.desk.hides.ids()

    def test_a_hide_that_went_on_stays_here(self, away: Bench) -> None:
        """Its return is not taken back under it."""
        desk = away.desk
        desk.archive.bring_back("brown-goat")
        tap = desk.taps.numbers()[0]
        lost = next(t for t in desk.taps.numbers() if "out of work" in desk.taps.line(t).words)
        desk.taps.take_back(desk.taps.falls(lost))
        assert desk.hides.get("brown-goat").in_work
        with pytest.raises(NotPossibleNow, match="is in work again"):
            desk.taps.falls(tap)

    def test_the_move_itself_is_not_taken_back(self, away: Bench) -> None:
        """The sentence says how it is done instead."""
        tap = away.desk.taps.numbers()[0]
        assert "“Brown goat” moved to the archive" in away.desk.taps.line(tap).words
        with pytest.raises(NotPossibleNow, match=r"brought back from there \(F6\)"):
            away.desk.taps.falls(tap)

    def test_nobody_is_brought_back_who_is_not_there(self, away: Bench) -> None:
        """Neither a hide of the bench nor one that never was."""
        for name in ("black-kid", "nobody"):
            with pytest.raises(NotKnown):
                away.desk.archive.bring_back(name)


def test_the_console_is_told_when_to_look(shop: Bench) -> None:
    """Soon after the opening, then daily; never while it is only looked on."""
    moving = shop.desk.moving_out
    assert not moving.is_due()
    shop.clock.advance(minutes=1)
    assert moving.is_due()
    moving.ask()
    shop.clock.advance(hours=23)
    assert not moving.is_due()
    shop.clock.advance(hours=1)
    assert moving.is_due()
    shop.desk._ledger.only_looks = "Another console records."
    assert not moving.is_due()
    shop.desk._ledger.only_looks = ""
    moving.ask()
    shop.clock.advance(hours=-48)
    assert moving.is_due(), "a clock that was set back does not put it off for ever"


def test_all_that_is_archived_can_be_exported(shop: Bench) -> None:
    """In order, each entry once, as it was written."""
    before = [e for e in shop.repository.entries() if "brown-goat" in str(e.event)]
    shop.clock.advance(days=31)
    shop.desk.moving_out.all()
    assert tuple(before) == shop.desk.archive.entries()
    assert NOON + timedelta(0) == shop.desk.archive.entries()[0].at
