"""The program as a process: closed terminals, a busy or damaged store, leaving with q."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from benchconsole.store import TinyRepository
from tests.console.terminal import Terminal


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


def test_a_second_console_is_told_that_the_shop_is_open(tmp_path: Path) -> None:
    """One sentence after the screen is restored, and exit code 3."""
    store = tmp_path / "shop.json"
    with TinyRepository(store, writing=True):
        console = Terminal(store)
        assert 3 == console.ended()
    assert "benchconsole: " in console.text
    assert "Traceback" not in console.text


def test_a_damaged_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    """A sentence that names the file; not a byte of it is changed."""
    store = tmp_path / "shop.json"
    store.write_text('{"history": {"1": ')
    console = Terminal(store)
    assert 3 == console.ended()
    assert "shop.json" in console.text
    assert "Traceback" not in console.text
    assert '{"history": {"1": ' == store.read_text()
