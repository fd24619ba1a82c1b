"""The command line: reads what was typed, asks the desk, prints. It draws nothing itself."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, NoReturn

from benchconsole import __version__, bootstrap
from benchconsole.errors import BadInput, BenchError, NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.clock import Clock
    from benchconsole.desk import Desk
    from benchconsole.mixing.targets import Target
    from benchconsole.quantities import Measures

TARGET_OPTIONS = ("make", "times", "hide-mass", "hides", "limit")
INTERRUPTED = 130
_MEASURES_HELP = "what gallons and fluid ounces mean (default: the shop's setting)"


class Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence; options are written out in full."""

    def __init__(self, **given: Any) -> None:
        super().__init__(allow_abbrev=False, **given)

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and where to read more; exit 2."""
        self.exit(2, f"{self.prog}: {printable(message)} (see {self.prog} --help).\n")


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
    _add_today(commands)
    _add_mix(commands)
    _add_sum(commands)
    return whole


def _add_today(commands: Any) -> None:
    today = commands.add_parser(
        "today",
        help="print the next action of every hide",
        description="Prints the next action of every hide in due order.",
    )
    _store_option(today, inner=True)
    today.add_argument("--json", action="store_true", help="as a JSON document")
    today.add_argument(
        "--at",
        metavar="WHEN",
        help="as of another time, without what happened later: 2026-03-01T08:00, 2026-03-01 or "
        "14:30 (today); of a repeated hour the first, or with its offset: 2026-10-25T02:30+01:00",
    )


def _add_mix(commands: Any) -> None:
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
    mix.add_argument("--measures", choices=("us", "imperial", "metric"), help=_MEASURES_HELP)
    mix.add_argument("--json", action="store_true", help="as a JSON document")


def _add_sum(commands: Any) -> None:
    asked = commands.add_parser(
        "sum",
        help="print the answer to a sum of the bench: a brine, a pH, a bottle mark, a scale",
        description="Without a name: prints all sums there are. With a name alone: prints what it "
        "asks for, and an example. Options go before the name or after the last field.",
    )
    _store_option(asked, inner=True)
    asked.add_argument("name", metavar="NAME", nargs="?", help="for example rinse-salt")
    asked.add_argument(
        "pairs", metavar="FIELD=VALUE", nargs="*", help='what it asks for, "rinse-water=40 L"'
    )
    asked.add_argument("--measures", choices=("us", "imperial", "metric"), help=_MEASURES_HELP)
    asked.add_argument("--json", action="store_true", help="as a JSON document")


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
    _never_choke()
    try:
        code = _run(argv)
        _put("")
        return code
    except BenchError as fault:
        _tell(str(fault))
        return fault.exit_code
    except BrokenPipeError:
        # The reader of our output (head, less) left: nothing more to say.
        return 0
    except KeyboardInterrupt:
        return INTERRUPTED


def _run(argv: Sequence[str] | None) -> int:
    try:
        arguments = parser().parse_args(argv)
    except SystemExit as end:
        # argparse has printed the help, the version or its complaint.
        return end.code if isinstance(end.code, int) else 0
    return _COMMANDS[arguments.command](arguments)


# --- commands -------------------------------------------------------------------------


def _console(arguments: argparse.Namespace) -> int:
    from benchconsole.console import run_console

    _ask_for_a_terminal()
    path = bootstrap.store_path(arguments.store)
    return run_console(lambda: bootstrap.open_desk(path, writing=True))


def _demo(arguments: argparse.Namespace) -> int:
    from benchconsole.console import run_console

    if arguments.store is not None:
        raise BadInput("store", "the demo has a store of its own", "benchconsole demo")
    _ask_for_a_terminal()
    with bootstrap.demo_folder() as folder:
        path = folder / bootstrap.STORE_FILE

        def open_demo() -> Desk:
            bootstrap.fill_demo(path)
            return bootstrap.open_desk(path, writing=True)

        return run_console(open_demo)


def _ask_for_a_terminal() -> None:
    if not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stderr)):
        raise NotPossibleNow(
            "The console needs a terminal; for plain text try “benchconsole today”."
        )


def _today(arguments: argparse.Namespace) -> int:
    from benchconsole.clock import ManualClock, SystemClock
    from benchconsole.exchange import day_sheet_document, day_sheet_text, read_instant

    clock = SystemClock()
    desk = _reading(arguments, clock=ManualClock(clock.now(), clock.zone))
    if arguments.at is not None:
        desk = desk.as_of(read_instant(arguments.at, desk.now(), desk.zone))
    actions = desk.hides.day_sheet()
    if arguments.json:
        _print_json(day_sheet_document(actions, desk.now(), desk.zone))
    else:
        _print_text(day_sheet_text(actions, desk.now(), desk.zone))
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
        _print_json(worksheet_document(sheet))
    else:
        _print_text(worksheet_text(sheet, shop))
    return 0


def _sum(arguments: argparse.Namespace) -> int:
    from benchconsole.desk.sums import answer_to, printed, sum_named

    shop = _reading(arguments).shop_in(arguments.measures)
    if not arguments.pairs:
        asked = None if arguments.name is None else sum_named(arguments.name)
        if arguments.json:
            _print_json(printed.sums_document(asked, shop.measures))
        else:
            _print_text(printed.fields_text(asked, shop.measures) if asked else printed.sums_text())
        return 0
    asked = sum_named(arguments.name)
    texts = printed.read_pairs(arguments.pairs, asked)
    answer = answer_to(asked, texts, shop)
    if arguments.json:
        _print_json(printed.answer_document(asked, texts, answer))
    else:
        _print_text(printed.answer_text(asked, answer))
    return 0


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


def _reading(arguments: argparse.Namespace, clock: Clock | None = None) -> Desk:
    path = bootstrap.store_path(arguments.store)
    desk = bootstrap.open_desk(path, writing=False, clock=clock)
    for sentence in (*(f"left out: {refusal}" for refusal in desk.refused), *desk.notices):
        _tell(sentence)
    if arguments.store is not None and not path.exists():
        _tell(f"there is no store at {path} yet; this is an empty shop.")
    return desk


# --- output ---------------------------------------------------------------------------


def printable(text: str) -> str:
    """The text on one line, with ``?`` for what a terminal would act on instead of showing."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def _tell(sentence: str) -> None:
    if sys.stderr is not None:
        print(f"benchconsole: {printable(sentence)}", file=sys.stderr)


def _print_text(text: str) -> None:
    _put("".join(f"{printable(line)}\n" for line in text.splitlines()))


def _print_json(document: dict[str, Any]) -> None:
    import json

    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    # Elsewhere than in UTF-8 a letter might be replaced by one that is no JSON.
    plain = not encoding.lower().replace("-", "").startswith("utf8")
    _put(json.dumps(document, ensure_ascii=plain, indent=2, allow_nan=False) + "\n")


def _put(text: str) -> None:
    """Write to standard output now, so that a full disk or a closed pipe shows here."""
    if sys.stdout is None:
        return
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except OSError as fault:
        # The interpreter would try the rest again at its end, and complain in its own words.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(fault, BrokenPipeError):
            raise
        reason = (fault.strerror or "the system gives no reason").lower()
        raise NotPossibleNow(f"The output cannot be written: {reason}.") from fault


def _never_choke() -> None:
    """A terminal without ▲ or “ shows something else for it; nothing stops because of that."""
    for stream, instead in ((sys.stdout, "replace"), (sys.stderr, "backslashreplace")):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=instead)


_COMMANDS: dict[str | None, Callable[[argparse.Namespace], int]] = {
    None: _console,
    "demo": _demo,
    "today": _today,
    "mix": _mix,
    "sum": _sum,
}
