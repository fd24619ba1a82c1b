"""What each command does: the desk answers, the exchange words it, the output prints it."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from benchconsole import bootstrap
from benchconsole.cli.arguments import parser
from benchconsole.cli.output import never_choke, print_json, print_text, put, tell
from benchconsole.cli.terminal import prepare_terminal
from benchconsole.errors import BadInput, BenchError

if TYPE_CHECKING:
    from benchconsole.clock import Clock
    from benchconsole.desk import Desk
    from benchconsole.mixing.targets import Target
    from benchconsole.quantities import Measures

TARGET_OPTIONS = ("make", "times", "hide-mass", "hides", "limit")
INTERRUPTED = 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; 0, or the exit code of the fault, which is told in one sentence.

    Every file and folder that comes of it is the user's alone, whatever the system's habit.
    """
    before = os.umask(0o077)
    try:
        return _told(argv)
    finally:
        os.umask(before)


def _told(argv: Sequence[str] | None) -> int:
    never_choke()
    try:
        code = _run(argv)
        put("")
        return code
    except BenchError as fault:
        tell(str(fault))
        return fault.exit_code
    except BrokenPipeError:
        # The reader of our output (head, less) left: nothing more to say.
        return 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as defect:
        from benchconsole.crash_log import CRASHED, crash_words

        tell(crash_words(defect, datetime.now(UTC)))
        return CRASHED


def _run(argv: Sequence[str] | None) -> int:
    try:
        arguments = parser().parse_args(argv)
    except SystemExit as end:
        # argparse has printed the help, the version or its complaint.
        return end.code if isinstance(end.code, int) else 0
    return _COMMANDS[arguments.command](arguments)


def _console(arguments: argparse.Namespace) -> int:
    prepare_terminal()
    from benchconsole.console import run_console

    path = bootstrap.store_path(arguments.store)
    return run_console(lambda: bootstrap.open_console(path))


def _demo(arguments: argparse.Namespace) -> int:
    if arguments.store is not None:
        raise BadInput("store", "the demo has a store of its own", "benchconsole demo")
    prepare_terminal()
    from benchconsole.console import run_console

    with bootstrap.demo_folder() as folder:
        path = folder / bootstrap.STORE_FILE

        def open_demo() -> Desk:
            bootstrap.fill_demo(path)
            return bootstrap.open_desk(path, writing=True)

        return run_console(open_demo)


def _today(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.planning import print_today
    from benchconsole.exchange import read_instant

    desk = _reading_now(arguments)
    if arguments.at is not None:
        desk = desk.as_of(read_instant(arguments.at, desk.now(), desk.zone))
    print_today(desk, as_json=arguments.json)
    return 0


def _plan(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.planning import print_plan, read_days

    days = read_days(arguments.days)
    print_plan(_reading_now(arguments), days=days, as_json=arguments.json)
    return 0


def _drying(arguments: argparse.Namespace) -> int:
    from benchconsole.exchange.drying import drying_document, drying_text

    desk = _reading_now(arguments)
    view = desk.drying.forecast(arguments.hide)
    hide, forecast = view.hide, view.forecast
    if arguments.json:
        print_json(drying_document(hide.id, hide.stage, forecast, view.looks, desk.zone))
    else:
        begun = "" if view.begun else ", as if begun now"
        title = f"{hide.name}: {view.stage_name}{begun}"
        print_text(drying_text(title, forecast, view.looks, desk.zone))
    return 0


def _start(arguments: argparse.Namespace) -> int:
    from benchconsole.exchange.starts import starts_text

    desk = _reading_now(arguments)
    print_text(starts_text(desk.starting.starts(arguments.hide), desk.now(), desk.zone))
    return 0


def _mix(arguments: argparse.Namespace) -> int:
    from benchconsole.exchange import worksheet_document, worksheet_text
    from benchconsole.quantities import read_temperature

    _refuse_idle_options(arguments)
    desk = _reading(arguments)
    shop = desk.shop_in(arguments.measures)
    water = arguments.water_temp
    sheet = desk.worksheet(
        arguments.formula,
        _target(arguments, shop.measures),
        water_celsius=None if water is None else read_temperature(water, field="water temperature"),
        use=arguments.use or (),
        shop=shop,
    )
    if arguments.json:
        print_json(worksheet_document(sheet))
    else:
        print_text(worksheet_text(sheet, shop))
    return 0


def _sum(arguments: argparse.Namespace) -> int:
    from benchconsole.desk.sums import answer_to, printed, sum_named

    desk = _reading(arguments)
    shop = desk.shop_in(arguments.measures)
    if not arguments.pairs:
        asked = None if arguments.name is None else sum_named(arguments.name)
        if arguments.json:
            print_json(printed.sums_document(asked, shop.measures))
        else:
            print_text(printed.fields_text(asked, shop.measures) if asked else printed.sums_text())
        return 0
    asked = sum_named(arguments.name)
    texts = printed.read_pairs(arguments.pairs, asked)
    answer = answer_to(asked, texts, shop, desk.library)
    if arguments.json:
        print_json(printed.answer_document(asked, texts, answer))
    else:
        print_text(printed.answer_text(asked, answer))
    return 0


def _calendar(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.calendar_file import write_calendar
    from benchconsole.cli.files import out_file
    from benchconsole.cli.planning import read_days

    days = read_days(arguments.days)
    store = bootstrap.store_path(arguments.store)
    force = arguments.force
    path = out_file(arguments.out, store, ending=".ics", command="calendar", force=force)
    desk = _reading_now(arguments)
    write_calendar(desk, path, days=days, force=force)
    return 0


def _export(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.csv_file import write_table
    from benchconsole.cli.files import out_file

    store, force = bootstrap.store_path(arguments.store), arguments.force
    path = out_file(arguments.out, store, ending=".csv", command="export", force=force)
    write_table(_reading_now(arguments), path, what=arguments.what, force=force)
    return 0


def _restore(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.restoring import restore
    from benchconsole.cli.waiting import read_wait

    wait_s = read_wait(arguments.wait)
    store = bootstrap.store_path(arguments.store)
    return restore(store, arguments.which, yes=arguments.yes, wait_s=wait_s)


def _check(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.checking import check

    return check(bootstrap.store_path(arguments.store), as_json=arguments.json)


def _refuse_idle_options(arguments: argparse.Namespace) -> None:
    """An option that would change nothing is refused: it was meant to change something."""
    for option, needs, example in (
        ("float", "hide-mass", '--hide-mass "3.2 kg" --float "6 L/kg"'),
        ("species", "hides", "--hides 3 --species deer"),
    ):
        text = getattr(arguments, option)
        if text is not None and getattr(arguments, needs.replace("-", "_")) is None:
            raise BadInput(option, f"it only goes with --{needs}", example)
        if text is not None and not text.strip():
            raise BadInput(option, "it is empty", example)


def _target(arguments: argparse.Namespace, measures: Measures) -> Target:
    from benchconsole.mixing.targets import AsWritten, read_target

    for kind in TARGET_OPTIONS:
        text = getattr(arguments, kind.replace("-", "_"))
        if text is not None:
            return read_target(
                kind,
                text,
                measures=measures,
                float_text=arguments.float or "",
                species=(arguments.species or "").strip().lower(),
            )
    return AsWritten()


def _reading_now(arguments: argparse.Namespace) -> Desk:
    """The desk with the clock stopped: all that one command says is of one moment."""
    from benchconsole.clock import ManualClock, SystemClock

    clock = SystemClock()
    return _reading(arguments, clock=ManualClock(clock.now(), clock.zone))


def _reading(arguments: argparse.Namespace, clock: Clock | None = None) -> Desk:
    path = bootstrap.store_path(arguments.store)
    desk = bootstrap.open_desk(path, writing=False, clock=clock)
    for sentence in (*(f"left out: {refusal}" for refusal in desk.refused), *desk.notices):
        tell(sentence)
    if arguments.store is not None and not path.exists():
        tell(f"there is no store at {path} yet; this is an empty shop.")
    return desk


def _archive(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.archiving import archive

    archive(bootstrap.store_path(arguments.store), yes=arguments.yes)
    return 0


def _find(arguments: argparse.Namespace) -> int:
    from benchconsole.cli.archiving import find

    find(_reading_now(arguments), " ".join(arguments.words), as_json=arguments.json)
    return 0


_COMMANDS: dict[str | None, Callable[[argparse.Namespace], int]] = {
    None: _console,
    "demo": _demo,
    "today": _today,
    "plan": _plan,
    "calendar": _calendar,
    "export": _export,
    "drying": _drying,
    "start": _start,
    "mix": _mix,
    "sum": _sum,
    "archive": _archive,
    "find": _find,
    "restore": _restore,
    "check": _check,
}
