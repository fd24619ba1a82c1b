"""Whether things may meet: in a mix, in a vessel, on a shelf. Silence is never a leave."""

from __future__ import annotations

from benchconsole.desk.sums.fields import choice, field
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.desk.sums.typed_things import Things
from benchconsole.mixing.clashes import MATERIALS, Clash, Where, clashes
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula, Ingredient, Part
from benchconsole.model.hazards import Group, Severity
from benchconsole.model.record import Figure

_HEED: dict[Severity, str] = {
    "never": "Never",
    "avoid": "Avoid it",
    "caution": "Take care",
    "note": "Know this",
}
_PLACES: dict[Where, str] = {
    "formula": "in one mix",
    "vessel": "what the vessel held last",
    "material": "what the vessel is made of",
    "shelf": "on one shelf",
}
_OTHER = ("other", "plastic, wood, stoneware, glass")
_NOTHING = "Nothing in our list speaks against it; that is no promise."
_STANDING = (
    "The list is short: what it does not name can still harm. Never try two things to see.",
    "Read the safety sheet of each product first; a product may hold more than its name says.",
)
_NO_THINGS = Things(substances=())


def _meet(typed: Typed) -> Answer:
    mixed = typed.things("these")
    held = typed.or_else("vessel-held", typed.contents, _NO_THINGS)
    shelf = typed.or_else("same-shelf", typed.things, _NO_THINGS)
    made_of = typed.or_else("vessel-made-of", typed.choice, "")
    alone = len(mixed.substances) == 1 and not mixed.formulas
    if alone and not any(map(typed.given, ("vessel-held", "same-shelf", "vessel-made-of"))):
        raise typed.refuse("these", "one thing alone meets nothing: name another beside it")
    metals: tuple[Group, ...] = tuple(kind for kind in MATERIALS if kind == made_of)
    found = clashes(
        _as_formula(mixed),
        typed.library.incompatible,
        typed.library.substances,
        last_content=(*held.substances, *held.unknown),
        shelf=shelf.substances,
        vessel=metals,
    )
    sentences = [f"{_HEED[each.severity]}: {each.says}" for each in found] or [_NOTHING]
    asked = (
        ("these", _named(mixed, typed)),
        ("the vessel held", _named(held, typed)),
        ("on the shelf", _named(shelf, typed)),
        ("the vessel is of", MATERIALS[metals[0]] if metals else _OTHER[1] if made_of else ""),
    )
    return Answer(
        says=sentences[0],
        lines=(*sentences[1:], *_silent((mixed, held, shelf), typed)),
        workings=(*map(_working, found), _looked(asked, found, typed)),
        cautions=_STANDING,
    )


def _as_formula(things: Things) -> Formula:
    """What was named as a mix without amounts: a clash goes by what meets, not by how much."""
    lines = tuple(Ingredient(substance=each, by="scale", printed="") for each in things.substances)
    return Formula(
        id="asked",
        name="what was asked",
        purpose="",
        kind="liquor",
        parts=(Part(id="asked", name="", container="", ingredients=lines),),
        sources=(),
        tolerance=Figure(value=0.0, source="no amounts", mark="computed"),
    )


def _named(things: Things, typed: Typed) -> str:
    whole = [f"{typed.library.formula(each).name}, that is" for each in things.formulas]
    known = [typed.library.substance(each).name for each in things.substances]
    return " ".join((*whole, ", ".join((*known, *(f"“{each[:40]}”" for each in things.unknown)))))


def _silent(asked: tuple[Things, ...], typed: Typed) -> tuple[str, ...]:
    """A sentence on those of which the list has no kind, so that its silence is no answer."""
    ids = dict.fromkeys(each for things in asked for each in things.substances)
    known = [typed.library.substance(each) for each in ids]
    names = [each.name for each in known if not each.groups and each.form != "water"]
    return (f"Of these the list knows nothing: {', '.join(names)}.",) if names else ()


def _working(clash: Clash) -> Working:
    known = "by the kinds of the two, whatever their amounts and strengths"
    return Working(
        title=f"{clash.first} and {clash.second}" if clash.first else clash.second,
        inputs=(("where", _PLACES[clash.where]), ("heed", _HEED[clash.severity])),
        result=clash.says,
        source=clash.source,
        sure=known if clash.first else "the library does not know what it is",
    )


def _looked(asked: tuple[tuple[str, str], ...], found: tuple[Clash, ...], typed: Typed) -> Working:
    rules = len(typed.library.incompatible)
    return Working(
        title="What was looked up",
        inputs=tuple(pair for pair in asked if pair[1]),
        equation=f"the kinds of each pair against {rules} rules; of a shelf only what must never "
        "meet",
        result=f"{len(found)} to heed" if found else "none in the list",
        source="the rules of the library, each with a source of its own",
        sure="only what is in the list is found; nothing follows from its silence",
    )


NEIGHBOUR_SUMS = (
    Sum(
        name="neighbours",
        title="May these meet?",
        purpose="What must not meet: in a mix, with what the vessel held or is of, on one shelf.",
        fields=(
            field("these", "A formula, or substances", "things", "bleach, vinegar"),
            field(
                "vessel-held",
                "The vessel held last",
                "contents",
                "household ammonia",
                optional=True,
            ),
            field("same-shelf", "On the same shelf", "things", "formic acid", optional=True),
            choice(
                "vessel-made-of",
                "The vessel is made of",
                (*MATERIALS.items(), _OTHER),
                optional=True,
            ),
        ),
        work_out=_meet,
    ),
)
