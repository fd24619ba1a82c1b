"""Every command over a shop whose every word is hostile: only letters reach the terminal."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

import benchconsole
from benchconsole.cli import main
from benchconsole.cli.arguments import parser
from benchconsole.clock import ManualClock
from benchconsole.letters import cells, fault_in, shown
from tests.exchange.calendar_grammar import read_strictly
from tests.hostile_shop import HOSTILE, hostile_desk, hostile_store

WIDE = 78
"""Cells of the widest line of a paragraph."""

TEXTS = (
    ("today",),
    ("plan",),
    ("plan", "--days", "366"),
    ("drying", "HIDE"),
    ("start", "HIDE"),
    ("mix", "borax-soak"),
    ("mix", "borax-soak", "--hide-mass", "2 lb", "--use", HOSTILE),
    ("mix", HOSTILE),
    ("sum",),
    ("sum", HOSTILE),
    ("sum", "rinse-salt", f"rinse-water={HOSTILE}"),
    ("calendar", "shop.ics"),
    ("calendar", f"{HOSTILE}.ics"),
    ("calendar", HOSTILE.replace("\0", "").replace("/", "") + ".ics"),
    ("export", "shop.csv"),
    ("export", f"{HOSTILE}.csv", "--what", HOSTILE),
    ("find",),
    ("find", HOSTILE),
    ("archive",),
    ("restore",),
    ("restore", "1"),
    ("check",),
    (HOSTILE,),
    ("today", HOSTILE),
    ("today", "--at", HOSTILE),
    ("today", "--store", HOSTILE),
)
DOCUMENTS = (
    ("today", "--json"),
    ("plan", "--json"),
    ("drying", "HIDE", "--json"),
    ("mix", "borax-soak", "--json"),
    ("sum", "--json"),
    ("check", "--json"),
)
SILENT = {"demo"}
"""Commands that only open the console."""


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hostile shop in files, as of now."""
    clock = ManualClock(datetime.now(UTC))
    return hostile_store(tmp_path_factory.mktemp("shop"), clock)


@pytest.fixture
def here(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to write to."""
    monkeypatch.setenv("BENCHCONSOLE_STORE", str(shop))
    monkeypatch.setenv("PYTHONPATH", str(Path(benchconsole.__file__).parents[1]))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def with_hides(words: tuple[str, ...]) -> Iterator[list[str]]:
    """The command for every hide, if it is about one."""
    if "HIDE" not in words:
        yield list(words)
        return
    desk = hostile_desk(ManualClock(datetime.now(UTC)))
    for row in desk.hides.rows():
        yield [row.hide.id if word == "HIDE" else word for word in words]


@pytest.mark.parametrize("words", TEXTS, ids=lambda words: ascii(" ".join(words))[:40])
def test_what_is_printed_is_letters_and_nothing_else(
    here: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """No command to a terminal, nothing that turns the writing, no line that a name has made."""
    for command in with_hides(words):
        code = main(command)
        assert code in (0, 2, 3), command
        out, err = capsys.readouterr()
        assert out or err
        for line in [*out.split("\n"), *err.split("\n")]:
            assert line == shown(line), (command, ascii(line))
            assert not line.startswith("FORGED"), (command, ascii(line))
        for line in out.split("\n") if words[0] in ("today", "plan", "mix") else ():
            assert cells(line) <= WIDE, (command, ascii(line))


@pytest.mark.parametrize("words", DOCUMENTS, ids=" ".join)
def test_documents_are_exact_and_printable(
    here: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """JSON gives every name back to the letter, in escapes where a terminal would act on it."""
    for command in with_hides(words):
        if main(command) == 2:
            continue
        out = capsys.readouterr().out
        assert out.replace("\n", "").isprintable(), command
        document = json.loads(out)
        if words[0] in ("today", "plan"):
            assert HOSTILE in set(_texts(document))


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)


def test_no_command_is_left_out() -> None:
    """A new command must be tried here too."""
    [commands] = [action.choices for action in parser()._actions if action.dest == "command"]
    assert commands is not None
    tried = {words[0] for words in (*TEXTS, *DOCUMENTS)} | SILENT
    assert set(commands) <= tried


def test_a_calendar_of_hostile_names(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What goes to a file or to standard output holds no command and nothing that turns."""
    assert 0 == main(["calendar", "shop.ics"])
    text = (here / "shop.ics").read_bytes().decode()
    assert read_strictly(text.encode()).parts
    assert "" == fault_in(text.replace("\r\n", "\n"), lines=True)
    capsys.readouterr()
    done = subprocess.run(
        [sys.executable, "-m", "benchconsole", "calendar", "-"], capture_output=True, check=True
    )
    assert "" == fault_in(done.stdout.decode().replace("\r\n", "\n"), lines=True)
    assert all(line == shown(line) for line in done.stderr.decode().split("\n"))
