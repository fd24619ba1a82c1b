"""The program as a process: closed terminals, a busy or damaged store, leaving with q."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.store import TinyRepository
from tests.console.terminal import PATIENCE, Terminal

F8 = b"\x1b[19~"
GIVES_TITLE_BACK = b"\x1b]2;\x07\x1b[23;2t"


def take_in_a_goat(store: Path) -> None:
    """A shop in which one key begins the first stage of its only hide."""
    desk = bootstrap.open_desk(store, writing=True)
    desk.hides.take_in(
        name="brown goat", species="goat", route="hair-on-alum-pelt", came="green", weight="2 lb"
    )
    desk.close()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_closed_terminal_lets_go_of_the_store(tmp_path: Path, number: int) -> None:
    """After the signal the program ends by itself and the next writer gets in."""
    store = tmp_path / "shop.json"
    console = Terminal(store)
    console.wait_for("No hides yet")
    os.kill(console.child, number)
    assert 0 == console.ended()
    with TinyRepository(store, writing=True) as repository:
        assert () == repository.entries()


def test_q_leaves_with_success(tmp_path: Path) -> None:
    """The usual way out."""
    console = Terminal(tmp_path / "shop.json")
    console.wait_for("No hides yet")
    os.write(console.end, b"q")
    assert 0 == console.ended()


def test_a_second_console_looks_on_follows_and_takes_over_after_a_kill(tmp_path: Path) -> None:
    """Two programs, each in a terminal of its own; the first one dies by kill -9."""
    store = tmp_path / "shop.json"
    take_in_a_goat(store)
    first = Terminal(store)
    first.wait_for("brown goat")
    second = Terminal(store)
    second.wait_for(f"(process {first.child} on this computer)")
    assert b"\x1b]2;Bench Console: looking only\x07" in second.seen
    os.write(first.end, b"d")
    first.wait_for("“Cool and trim” begun")
    second.wait_for("Has all body heat gone?")
    os.kill(first.child, signal.SIGKILL)
    assert -signal.SIGKILL == first.ended()
    second.wait_for("is closed. F8")
    os.write(second.end, F8)
    second.wait_for("records from now on")
    assert GIVES_TITLE_BACK in second.seen
    os.write(second.end, b"u")
    second.wait_for("taken back")
    os.write(second.end, b"q")
    assert 0 == second.ended()
    with TinyRepository(store, writing=True) as repository:
        assert 3 == repository.entries()[-1].tap


WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from benchconsole.model.events import NoteWritten
from benchconsole.store import TinyRepository
now = datetime(2026, 3, 1, 8, tzinfo=UTC)
with TinyRepository(Path(sys.argv[1]), writing=True) as repository:
    for number in range(int(sys.argv[2])):
        events = [NoteWritten(hide="h1", text=f"{half} {number} " * 30) for half in "ab"]
        repository.append(events, at=now, recorded=now)
        if number == 0:
            print("begun", flush=True)
            sys.stdin.readline()
    sys.stdin.read()
"""


def test_what_is_followed_is_whole_at_every_moment(tmp_path: Path) -> None:
    """Another process taps without a pause: every look finds whole taps, and never fewer."""
    store, taps = tmp_path / "shop.json", 400
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, str(store), str(taps)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as writer:
        assert writer.stdout is not None and "begun\n" == writer.stdout.readline()
        desk = bootstrap.open_console(store)
        looking, seen, news = desk.looking_on, 0, 0
        assert looking is not None and writer.stdin is not None
        writer.stdin.write("go on\n")
        writer.stdin.flush()
        given_up = time.monotonic() + PATIENCE
        while seen < taps and time.monotonic() < given_up:
            look = looking.look()
            assert "" == look.fault
            assert look.holder is not None and writer.pid == look.holder.process
            news += looking.take(look)
            if look.news is not None:
                entries = look.news[0].entries
                assert len(entries) == 2 * entries[-1].tap >= seen
                seen = entries[-1].tap
        assert taps == seen
        assert news > 5
        desk.close()
        writer.communicate(timeout=PATIENCE)


def test_a_reader_of_the_command_line_is_let_in_beside_a_console(tmp_path: Path) -> None:
    """While a console records, today prints, and leaves every file as it is."""
    store = tmp_path / "shop.json"
    take_in_a_goat(store)
    console = Terminal(store)
    console.wait_for("brown goat")
    os.write(console.end, b"d")
    console.wait_for("“Cool and trim” begun")
    before = {file.name: file.read_bytes() for file in tmp_path.iterdir() if file.is_file()}
    for words in (("today",), ("plan",), ("mix", "alum-salt-bath")):
        done = subprocess.run(
            [sys.executable, "-m", "benchconsole", *words, "--store", str(store)],
            capture_output=True,
            check=True,
        )
        assert b"" == done.stderr
    after = {file.name: file.read_bytes() for file in tmp_path.iterdir() if file.is_file()}
    assert before == after
    os.write(console.end, b"q")
    assert 0 == console.ended()


def test_a_damaged_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    """A sentence that names the file; not a byte of it is changed."""
    store = tmp_path / "shop.json"
    store.write_text('{"history": {"1": ')
    console = Terminal(store)
    assert 3 == console.ended()
    assert "shop.json" in console.text
    assert "Traceback" not in console.text
    assert '{"history": {"1": ' == store.read_text()
