"""The command line: reads what was typed, asks the desk, prints. It draws nothing itself."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING, Any, NoReturn

from benchconsole import __version__, bootstrap
from benchconsole.errors import BadInput, BenchError

if TYPE_CHECKING:
    from benchconsole.desk import Desk
    from benchconsole.mixing.targets import Target

TARGET_OPTIONS = ("make", "times", "hide-mass", "hides", "limit")


class Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and where to read more; exit 2."""
        self.exit(2, f"{self.prog}: {message} (see {self.prog} --help).\n")


def parser() -> Parser:
    """The whole command line."""
    whole = Parser(
        prog="benchconsole",
        description="A bench console for turning raw hides into finished pelts and leather. "
        "Without a command it opens the console on your own shop.",
    )
    whole.add_argument("--version", action="version", version=f"benchconsole {__version__}")
    _store_option(whole)
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)

    commands.add_parser(
        "demo",
        help="open the console on a throw-away demo shop",
        description="Opens the console on a throw-away copy of an invented shop. "
        "Nothing you do there is kept.",
    )

    today = commands.add_parser(
        "today",
        help="print the next action of every hide",
        description="Prints the next action of every hide, most urgent first.",
    )
    _store_option(today, inner=True)
    today.add_argument("--json", action="store_true", help="as a JSON document")
    today.add_argument(
        "--at", metavar="WHEN", help="as of another time: 2026-03-01T08:00 or 14:30 (today)"
    )

    mix = commands.add_parser(
        "mix",
        help="print the worksheet of a formula",
        description="Prints one worksheet. Without a target: the recipe as it is written.",
    )
    _store_option(mix, inner=True)
    mix.add_argument("formula", metavar="FORMULA", help="its id, for example alum-salt-bath")
    target = mix.add_mutually_exclusive_group()
    target.add_argument("--make", metavar="VOLUME", help='finished liquor, "6 gal"')
    target.add_argument("--times", metavar="N", help="so many times the recipe, 2 or 1/2")
    target.add_argument("--hide-mass", metavar="WEIGHT", help='for a hide of "3.2 kg"')
    target.add_argument("--hides", metavar="N", help="for so many hides")
    target.add_argument("--limit", metavar="WHAT", help='as much as "potassium-alum=14 oz" allows')
    mix.add_argument("--float", metavar="RATIO", help='with --hide-mass: "6 L/kg"')
    mix.add_argument("--species", metavar="NAME", help="with --hides: deer, rabbit, ...")
    mix.add_argument("--use", metavar="SUBSTANCE", action="append", help="take this one instead")
    mix.add_argument("--water-temp", metavar="T", help='temperature of your water, "12 C" or 55F')
    mix.add_argument(
        "--measures",
        choices=("us", "imperial", "metric"),
        help="what gallons and fluid ounces mean (default: the shop's setting)",
    )
    mix.add_argument("--json", action="store_true", help="as a JSON document")
    return whole


def _store_option(to: argparse.ArgumentParser, *, inner: bool = False) -> None:
    # The same option before or after the command; the later one must not erase the earlier.
    default: Any = argparse.SUPPRESS if inner else None
    to.add_argument(
        "--store",
        metavar="PATH",
        default=default,
        help="another store than your own (also: BENCHCONSOLE_STORE)",
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; 0, or the exit code of the fault, which is told in one sentence."""
    try:
        arguments = parser().parse_args(argv)
        return _COMMANDS[arguments.command](arguments)
    except BenchError as fault:
        print(f"benchconsole: {fault}", file=sys.stderr)
        return fault.exit_code
    except BrokenPipeError:
        # The reader of our output (head, less) left: nothing more to say.
        sys.stderr.close()
        return 0


def _console(arguments: argparse.Namespace) -> int:
    from benchconsole.console import run_console

    path = bootstrap.store_path(arguments.store)
    return run_console(lambda: bootstrap.open_desk(path, writing=True))


def _demo(arguments: argparse.Namespace) -> int:
    from benchconsole.console import run_console

    with bootstrap.demo_folder() as folder:
        path = folder / bootstrap.STORE_FILE

        def open_demo() -> Desk:
            bootstrap.fill_demo(path)
            return bootstrap.open_desk(path, writing=True)

        return run_console(open_demo)


def _today(arguments: argparse.Namespace) -> int:
    from benchconsole.clock import ManualClock, SystemClock
    from benchconsole.exchange import day_sheet_document
    from benchconsole.exchange.printed import day_sheet_text

    clock = SystemClock()
    desk = _reading(arguments, clock=clock)
    if arguments.at is not None:
        at = read_instant(arguments.at, clock.now(), desk.zone)
        desk = _reading(arguments, clock=ManualClock(at, clock.zone))
    actions = desk.hides.day_sheet()
    if arguments.json:
        _print_json(day_sheet_document(actions, desk.now(), desk.zone))
    else:
        print(day_sheet_text(actions, desk.now(), desk.zone), end="")
    return 0


def _mix(arguments: argparse.Namespace) -> int:
    from benchconsole.exchange import worksheet_document
    from benchconsole.exchange.printed import worksheet_text
    from benchconsole.quantities import read_temperature

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
        _print_json(worksheet_document(sheet))
    else:
        print(worksheet_text(sheet, shop), end="")
    return 0


def _target(arguments: argparse.Namespace, measures: Any) -> Target:
    from benchconsole.mixing.targets import AsWritten, read_target

    for kind in TARGET_OPTIONS:
        text = getattr(arguments, kind.replace("-", "_"))
        if text is not None:
            return read_target(
                kind,
                text,
                measures=measures,
                float_text=arguments.float or "",
                species=arguments.species or "",
            )
    return AsWritten()


def _reading(arguments: argparse.Namespace, **given: Any) -> Desk:
    desk = bootstrap.open_desk(bootstrap.store_path(arguments.store), writing=False, **given)
    for refusal in desk.refused:
        print(f"benchconsole: left out: {refusal}", file=sys.stderr)
    return desk


def read_instant(text: str, now: datetime, zone: tzinfo) -> datetime:
    """An instant as typed: ISO 8601 (the shop's zone if it names none) or a time of today."""
    from dateutil import tz
    from dateutil.parser import isoparser

    words = text.strip()
    local = now.astimezone(zone)
    try:
        if len(words) <= 5 and ":" in words:
            words = f"{local:%Y-%m-%d}T{words:0>5}"
        read = isoparser().isoparse(words.replace(" ", "T", 1))
        aware = read if read.tzinfo else tz.resolve_imaginary(read.replace(tzinfo=zone))
        return aware.astimezone(tz.UTC)
    except (ValueError, OverflowError):
        raise BadInput("at", f"“{text[:40]}” is not a time", "2026-03-01T08:00") from None


def _print_json(document: dict[str, Any]) -> None:
    import json

    print(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))


_COMMANDS = {None: _console, "demo": _demo, "today": _today, "mix": _mix}
