"""A defect of the program at the bench: the terminal is restored, every tap kept, nothing told."""

from __future__ import annotations

import os
import stat
import termios
from datetime import UTC, datetime
from pathlib import Path

import pytest

import benchconsole
from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.crash_log import CRASHED
from benchconsole.desk.hides import Hides
from benchconsole.store import TinyRepository
from tests.console.at_the_bench import at_the_bench
from tests.console.terminal import Terminal

NAME, NOTE = "Grandmothers buck", "sold to the neighbour"

BROKEN = """
import os, sys
from benchconsole.cli import main
from benchconsole.desk.hides import Hides

def note(self, hide_id, text):
    secret = self.get(hide_id).name
    try:
        raise KeyError(secret)
    except KeyError as fault:
        raise RuntimeError(f"{secret}: {text}") from fault

Hides.note = note
os.umask(0)
sys.exit(main(sys.argv[1:]))
"""
"""The program with an act that fails, its message and variables full of names."""

THREAD_BROKEN = """
import sys
from benchconsole.cli import main
from benchconsole import bootstrap

def open_desk(path, **options):
    name = "Grandmothers buck"
    raise RuntimeError(name)

bootstrap.open_desk = open_desk
sys.exit(main(sys.argv[1:]))
"""


def shop_in(folder: Path) -> Path:
    """A store with one hide."""
    path = folder / "shop.json"
    desk = bootstrap.open_desk(path, writing=True)
    desk.hides.take_in(name=NAME, species="goat", route="hair-on-alum-pelt", came="green")
    desk.close()
    return path


def logs_in(folder: Path) -> list[Path]:
    """The logs that were written."""
    return sorted((folder / "state").rglob("crash-*.txt"))


def after_the_screen(console: Terminal) -> str:
    """What was printed after the console gave the screen back."""
    return console.seen.decode().rpartition("\x1b[?1049l")[2]


@pytest.fixture(autouse=True)
def private_logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Logs go to a folder of the test's, and Textual's own switches stand as a tinkerer's do."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("TEXTUAL_DEBUG", "1")
    monkeypatch.setenv("TEXTUAL_LOG", str(tmp_path / "textual.log"))
    monkeypatch.setenv("PYTHONPATH", str(Path(benchconsole.__file__).parents[1]))
    monkeypatch.chdir(tmp_path)


def test_an_act_that_fails_ends_the_console_and_tells_nothing(tmp_path: Path) -> None:
    """Through a real terminal: exit code, restored terminal, a sentence, a log without names."""
    store = shop_in(tmp_path)
    console = Terminal(store, program=("-c", BROKEN))
    before = termios.tcgetattr(console.end)
    console.wait_for(NAME)
    os.write(console.end, b"d")
    console.wait_for("begun")
    os.write(console.end, b"o")
    console.wait_for("belly thin")
    os.write(console.end, NOTE.encode())
    console.wait_for(NOTE)
    assert before != termios.tcgetattr(console.end)
    os.write(console.end, b"\r")
    console.wait_for("with no word of your shop.")
    assert before == termios.tcgetattr(console.end)
    assert CRASHED == console.ended()
    last = after_the_screen(console)
    assert "RuntimeError" in last
    assert "Every tap that was confirmed is kept." in " ".join(last.split())
    seen = console.seen.decode()
    for mode in ("\x1b[?1049l", "\x1b[?25h", "\x1b[?1000l", "\x1b[?2004l"):
        assert mode in seen, mode
    assert 1 == len(logs_in(tmp_path))
    [log] = logs_in(tmp_path)
    for words in (last, log.read_text()):
        assert not any(secret in words for secret in (NAME, NOTE, "Traceback", str(store)))
    assert "builtins.RuntimeError" in log.read_text()
    assert "because of builtins.KeyError" in log.read_text()
    assert "benchconsole.desk.hides" not in last
    assert "__main__, line 11, in note" in log.read_text()
    assert "benchconsole.console.screens.note, line " in log.read_text()
    assert 0o600 == stat.S_IMODE(log.stat().st_mode)
    assert 0o700 == stat.S_IMODE(log.parent.stat().st_mode)
    assert ["shop.json", "state"] == sorted(
        path.name for path in tmp_path.iterdir() if not path.name.startswith("shop.json.")
    )
    with TinyRepository(store, writing=True) as repository:
        assert 2 == len(repository.entries())


def test_a_failure_while_opening_is_told_the_same_way(tmp_path: Path) -> None:
    """What goes wrong in a thread: its place is in the log, its words are nowhere."""
    console = Terminal(tmp_path / "shop.json", program=("-c", THREAD_BROKEN))
    assert CRASHED == console.ended()
    [log] = logs_in(tmp_path)
    assert "__main__, line 8, in open_desk" in log.read_text()
    assert "RuntimeError" in after_the_screen(console)
    for words in (log.read_text(), console.seen.decode()):
        assert NAME not in words


async def test_nothing_is_printed_of_the_variables(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """In the program's own process: Textual's picture of every frame is not drawn."""

    def note(self: Hides, hide_id: str, text: str) -> str:
        secret = self.get(hide_id).name
        raise RuntimeError(secret + text)

    monkeypatch.setattr(Hides, "note", note)
    store = shop_in(tmp_path)
    clock = ManualClock(datetime.now(UTC))
    with pytest.raises(RuntimeError, match=NAME):
        async with at_the_bench(store, clock) as person:
            await person.sees(NAME)
            await person.press("o")
            await person.sees("belly thin")
            await person.press("x", "enter")
            await person.pilot.pause()
    out, err = capfd.readouterr()
    assert NAME not in out + err
    assert "RuntimeError" not in out + err
    with TinyRepository(store, writing=True) as repository:
        assert 1 == len(repository.entries())
