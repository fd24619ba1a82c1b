"""Every word and option that may be typed after ``benchconsole``; what they do is elsewhere."""

from __future__ import annotations

import argparse
from typing import Any, NoReturn

from benchconsole import __version__
from benchconsole.letters import shown

_MEASURES_HELP = "what gallons and fluid ounces mean (default: the shop's setting)"


class Parser(argparse.ArgumentParser):
    """A parser whose complaint is one sentence; options are written out in full."""

    def __init__(self, **given: Any) -> None:
        super().__init__(allow_abbrev=False, **given)

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and where to read more; exit 2."""
        self.exit(2, f"{self.prog}: {shown(message)} (see {self.prog} --help).\n")


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
    _add_plan(commands)
    _add_calendar(commands)
    _add_export(commands)
    _add_drying(commands)
    _add_start(commands)
    _add_mix(commands)
    _add_sum(commands)
    _add_find(commands)
    _add_archive(commands)
    _add_restore(commands)
    _add_check(commands)
    return whole


def _add_today(commands: Any) -> None:
    today = commands.add_parser(
        "today",
        help="print the next action of every hide, and the coming week's plan",
        description="Prints the next action of every hide in due order, then what is planned for "
        "the coming week.",
    )
    _store_option(today, inner=True)
    today.add_argument("--json", action="store_true", help="as a JSON document")
    today.add_argument(
        "--at",
        metavar="WHEN",
        help="as of another time, without what happened later: 2026-03-01T08:00, 2026-03-01 or "
        "14:30 (today); of a repeated hour the first, or with its offset: 2026-10-25T02:30+01:00",
    )


def _add_plan(commands: Any) -> None:
    plan = commands.add_parser(
        "plan",
        help="print the plan of the whole shop, day by day",
        description="Prints what is planned for all hides together, day by day: visits, rounds, "
        "and why a visit does not stand when it is due.",
    )
    _store_option(plan, inner=True)
    plan.add_argument(
        "--days", metavar="N", default="14", help="how many days ahead, today included (14)"
    )
    plan.add_argument("--json", action="store_true", help="as a JSON document")


def _add_calendar(commands: Any) -> None:
    calendar = commands.add_parser(
        "calendar",
        help="write the coming acts to a calendar file, with alarms",
        description="Writes the coming acts of every hide to an iCalendar file, which a telephone "
        "or a calendar program imports or subscribes to. Write to the same file again and import "
        "it again: acts that moved then move there too, and what is no longer planned is called "
        "off. Another program's file is never written over without --force.",
    )
    _store_option(calendar, inner=True)
    calendar.add_argument("out", metavar="OUT", help="the file, my-shop.ics; - for standard output")
    calendar.add_argument(
        "--days", metavar="N", default="35", help="how many days ahead, today included (35)"
    )
    calendar.add_argument(
        "--force", action="store_true", help="replace a file that is no earlier export"
    )


def _add_export(commands: Any) -> None:
    export = commands.add_parser(
        "export",
        help="write the record of the shop to a table for a spreadsheet",
        description="Writes the hides, or the whole history, to a CSV file, what lies in the "
        "archive included. A text that a spreadsheet would take for a formula has an apostrophe "
        "in front. Another file is never written over without --force.",
    )
    _store_option(export, inner=True)
    export.add_argument("out", metavar="OUT", help="the file, my-shop.csv; - for standard output")
    export.add_argument(
        "--what",
        choices=("hides", "history"),
        default="hides",
        help="a line a hide (the default), or a line for everything that was ever noted",
    )
    export.add_argument(
        "--force", action="store_true", help="replace a file that is no earlier export"
    )


def _add_drying(commands: Any) -> None:
    drying = commands.add_parser(
        "drying",
        help="print when a drying hide will be damp, soft or dry",
        description="Prints the drying forecast of one hide, with its doubt and when to look.",
    )
    _store_option(drying, inner=True)
    drying.add_argument("hide", metavar="HIDE", help="its id, for example brown-goat")
    drying.add_argument("--json", action="store_true", help="as a JSON document")


def _add_start(commands: Any) -> None:
    start = commands.add_parser(
        "start",
        help="print when to begin a hide that waits",
        description="Prints the best start of every coming day for one hide, how good each is, "
        "and the visits that would follow the best. Nothing is chosen.",
    )
    _store_option(start, inner=True)
    start.add_argument("hide", metavar="HIDE", help="its id, for example autumn-buck")


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


def _add_find(commands: Any) -> None:
    find = commands.add_parser(
        "find",
        help="find finished hides, of this year and of all before",
        description="Prints the hides out of work that all words are found in: name, animal, "
        "route, year, notes. Without words: all of them.",
    )
    _store_option(find, inner=True)
    find.add_argument("words", metavar="WORD", nargs="*", help="for example buck 2025")
    find.add_argument("--json", action="store_true", help="as a JSON document")


def _add_archive(commands: Any) -> None:
    archive = commands.add_parser(
        "archive",
        help="show what is ready for the yearly archive, and move it there",
        description="Prints the hides that were finished or lost a month ago and of which nothing "
        "was noted since. They are moved to a file a year, where “find” and F6 in the console find "
        "them. The console does this by itself.",
    )
    _store_option(archive, inner=True)
    archive.add_argument("--yes", action="store_true", help="move them")


def _add_restore(commands: Any) -> None:
    restore = commands.add_parser(
        "restore",
        help="list the backup copies of the store, or put one of them back",
        description="Without WHICH: lists the copies that the console makes by itself. With it: "
        "shows what putting that copy back would change, and asks. What was there before is kept "
        "as a copy, so that this too can be taken back.",
    )
    _store_option(restore, inner=True)
    restore.add_argument(
        "which",
        metavar="WHICH",
        nargs="?",
        help="its number in the list, or a time, 2026-03-01T08:00: the last copy made by then",
    )
    restore.add_argument("--yes", action="store_true", help="put it back without being asked")
    _wait_option(restore)


def _add_check(commands: Any) -> None:
    check = commands.add_parser(
        "check",
        help="look the store and its copies through, and say what to do about what is found",
        description="Looks through the store, its copies and what lies beside it. Changes nothing "
        "and may run while a console is open. Ends with 0 if all is well, with 1 if there is "
        "something to look at.",
    )
    _store_option(check, inner=True)
    check.add_argument("--json", action="store_true", help="as a JSON document")


def _wait_option(to: argparse.ArgumentParser) -> None:
    """For every command that writes to the store; ``waiting.read_wait`` reads it."""
    to.add_argument(
        "--wait",
        metavar="SECONDS",
        help="how long to wait for a console or command that has the shop open (5)",
    )


def _store_option(to: argparse.ArgumentParser, *, inner: bool = False) -> None:
    # The same option before or after the command; the later one must not erase the earlier.
    default: Any = argparse.SUPPRESS if inner else None
    to.add_argument(
        "--store",
        metavar="PATH",
        default=default,
        help="another store than your own (also: BENCHCONSOLE_STORE)",
    )
