"""A route from its file: durations read, windows in order, no step without a limit before it."""

from __future__ import annotations

from datetime import timedelta
from itertools import product

from benchconsole.library.catalogue import Library
from benchconsole.library.checks import (
    check_known,
    check_names,
    check_said,
    check_within,
    duration_at,
    window_at,
)
from benchconsole.library.faults import Fault, shown
from benchconsole.library.formula_files import MOST_COATS
from benchconsole.library.lines import Path
from benchconsole.library.written import (
    RouteFile,
    WrittenAttention,
    WrittenCoats,
    WrittenHold,
    WrittenStage,
)
from benchconsole.model.routes import (
    ATTENTION_WORK,
    Attention,
    Check,
    CoatWaits,
    Hold,
    Route,
    Stage,
)

CONDITIONS = ("green", "salted", "dried", "frozen", "pickled")
"""In what state a hide may come in."""
MOST_STAGES = 60
OFTENEST = timedelta(minutes=1)
LONGEST_WORK = timedelta(hours=24)


def route_from(file: RouteFile, library: Library, *, own: bool) -> Route:
    """The route of a file; Fault for one that could not be followed."""
    head = file.route
    check_names([(head.id, head.name, ("route",))])
    check_said(head.purpose, ("route", "purpose"))
    if not file.source:
        raise Fault(("source",), "a route says where it comes from: [[source]]")
    if not head.species:
        raise Fault(("route", "species"), "species: at least one is needed; for example deer")
    for place, species in enumerate(head.species):
        check_known(species, library.species, "species", ("route", "species", place))
    if not 1 <= len(file.stage) <= MOST_STAGES:
        raise Fault(("stage",), f"a route has from 1 to {MOST_STAGES} [[stage]]")
    check_names((stage.id, stage.name, ("stage", place)) for place, stage in enumerate(file.stage))
    _check_starts(head.starts, {stage.id: stage for stage in file.stage})
    stages = tuple(
        _stage_from(stage, head.species, library, ("stage", place))
        for place, stage in enumerate(file.stage)
    )
    _check_limits_between(stages)
    return Route(
        id=head.id,
        name=head.name,
        purpose=head.purpose,
        species=head.species,
        stages=stages,
        sources=file.source,
        starts=head.starts,
        cautions=head.cautions,
        hair_on=head.hair_on,
        own=own,
    )


def _check_starts(starts: dict[str, str], stages: dict[str, WrittenStage]) -> None:
    if not starts:
        raise Fault(
            ("route", "starts"), 'starts: at least one is needed; for example green = "trim"'
        )
    for condition, stage in starts.items():
        path: Path = ("route", "starts", condition)
        if condition not in CONDITIONS:
            raise Fault(path, f"a hide comes in {', '.join(CONDITIONS)}, not “{shown(condition)}”")
        check_known(stage, stages, "stage", path)


def _check_limits_between(stages: tuple[Stage, ...]) -> None:
    """After a stage without a hold only ``soon`` says how long the hide may lie."""
    for place in range(1, len(stages)):
        if not stages[place - 1].hold and stages[place].soon is None:
            before = stages[place - 1].id
            raise Fault(
                ("stage", place),
                f"“soon” is missing: “{before}” before it has no hold, so say how long "
                'the hide may lie in between; for example soon = "1 h"',
            )


def _stage_from(
    written: WrittenStage, species: tuple[str, ...], library: Library, path: Path
) -> Stage:
    check_said(written.do, (*path, "do"))
    check_said(written.late, (*path, "late"))
    if written.mix:
        check_known(written.mix, library.formulas, "formula", (*path, "mix"))
    for came, formula in written.mix_when.items():
        check_known(formula, library.formulas, "formula", (*path, "mix_when", came))
    work = duration_at(written.work, (*path, "work"), zero=True)
    if work > LONGEST_WORK:
        raise Fault((*path, "work"), "work: hands-on time is at most 24 h; a wait is a hold")
    return Stage(
        id=written.id,
        name=written.name,
        do=written.do,
        work=work,
        late=written.late,
        hold=_holds_from(written.hold, species, library, path),
        attend=_attentions_from(written, path),
        check=_check_from(written, path),
        coats=_coats_from(written.coats, path),
        mix=written.mix,
        mix_when=written.mix_when,
        needs=written.needs,
        vessel=written.vessel,
        keeps=_optional(written.keeps, (*path, "keeps")),
        soon=_optional(written.soon, (*path, "soon")),
        inspect=written.inspect,
        gate=written.gate,
        dries_to=written.dries_to,
        stake=written.stake,
        sources=written.source,
    )


def _optional(text: str | None, path: Path) -> timedelta | None:
    return None if text is None else duration_at(text, path)


def _holds_from(
    written: tuple[WrittenHold, ...], species: tuple[str, ...], library: Library, path: Path
) -> tuple[Hold, ...]:
    """The hold rows; every species has to find one, whatever condition its hides came in."""
    seen: set[tuple[str, str]] = set()
    holds: list[Hold] = []
    for place, row in enumerate(written):
        here = (*path, "hold", place)
        for one in row.species:
            check_known(one, library.species, "species", (*here, "species"))
        for meant in product(row.species or ("",), row.came or ("",)):
            if meant in seen:
                raise Fault(
                    here, f"{' '.join(filter(None, meant)) or 'the general case'}: two rows"
                )
            seen.add(meant)
        shortest, target, longest = window_at((row.min, row.target, row.max), here)
        holds.append(
            Hold(min=shortest, target=target, max=longest, species=row.species, came=row.came)
        )
    general = ("", "") in seen
    if holds and not general and (without := [one for one in species if (one, "") not in seen]):
        raise Fault((*path, "hold"), f"no row for {', '.join(without)}, and none for the others")
    return tuple(holds)


def _attentions_from(written: WrittenStage, path: Path) -> tuple[Attention, ...]:
    if written.attend and not written.hold:
        raise Fault((*path, "attend"), "attend: a stage without a hold has nothing to attend to")
    return tuple(
        _attention_from(attention, (*path, "attend", place))
        for place, attention in enumerate(written.attend)
    )


def _attention_from(written: WrittenAttention, path: Path) -> Attention:
    check_said(written.do, (*path, "do"))
    every = duration_at(written.every, (*path, "every"))
    at_most = duration_at(written.at_most, (*path, "at_most"))
    since = duration_at(written.since, (*path, "since"), zero=True)
    until = _optional(written.until, (*path, "until"))
    if every < OFTENEST:
        raise Fault((*path, "every"), "every: at the oftenest once a minute")
    if at_most < every:
        raise Fault((*path, "at_most"), "at_most: it must not be shorter than every")
    if until is not None and until <= since:
        raise Fault((*path, "until"), "until: it must come after since")
    work = _optional(written.work, (*path, "work"))
    if work is not None and work > every:
        raise Fault((*path, "work"), "work: it must not be longer than every; for example 5 min")
    return Attention(
        do=written.do,
        every=every,
        at_most=at_most,
        since=since,
        until=until,
        own_act=written.own_act,
        work=min(ATTENTION_WORK, every) if work is None else work,
    )


def _check_from(written: WrittenStage, path: Path) -> Check | None:
    if written.check is None:
        return None
    check_said(written.check.ask, (*path, "check", "ask"))
    return Check(
        ask=written.check.ask,
        again=duration_at(written.check.again, (*path, "check", "again")),
    )


def _coats_from(written: WrittenCoats | None, path: Path) -> CoatWaits | None:
    if written is None:
        return None
    here = (*path, "coats")
    check_within(written.count, 1, MOST_COATS, (*here, "count"))
    waits = (written.wait_min, written.wait_target, written.wait_max)
    shortest, target, longest = window_at(waits, here, "wait_")
    return CoatWaits(count=written.count, wait_min=shortest, wait_target=target, wait_max=longest)
