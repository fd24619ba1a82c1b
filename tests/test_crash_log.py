"""The log of a defect: its place and kind, and nothing that came from the shop."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap, crash_log
from benchconsole.cli import main
from benchconsole.crash_log import CRASHED, MOST_KEPT, crash_text, crash_words, write_crash
from benchconsole.desk import Desk
from tests.test_cli import in_a_process

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
SECRET = "Grandmothers buck \x1b[2J"


@pytest.fixture(autouse=True)
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that logs go to."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return crash_log.log_folder()


def raised(act: Callable[[], object]) -> BaseException:
    """What an act raises."""
    try:
        act()
    except BaseException as error:
        return error
    raise AssertionError("nothing was raised")


def deep(levels: int) -> None:
    """Fail far down."""
    secret = SECRET
    if levels:
        deep(levels - 1)
    raise ValueError(secret)


def chained() -> None:
    """Fail because of a failure, in a group, with a path."""
    try:
        try:
            deep(3)
        except ValueError as fault:
            raise FileNotFoundError(2, SECRET, SECRET) from fault
    except FileNotFoundError as fault:
        raise ExceptionGroup(SECRET, [fault, KeyError(SECRET)]) from None


def test_every_failure_of_a_chain_has_its_place() -> None:
    """Kinds, modules, lines, functions; no message, no variable, no path."""
    text = crash_text(raised(chained), NOW)
    for kind in (
        "builtins.ExceptionGroup",
        "one of a group: builtins.FileNotFoundError (errno 2)",
        "one of a group: builtins.KeyError",
        "because of builtins.ValueError",
    ):
        assert kind in text
    assert f"  {__name__}, line {deep.__code__.co_firstlineno + 5}, in deep" in text
    assert "Grandmother" not in text
    assert str(Path(__file__).parent) not in text
    assert text.replace("\n", "").isprintable()


def test_a_failure_without_an_end_has_a_log_of_some_length() -> None:
    """A recursion of a thousand levels: its two ends, and how many lie between."""
    rows = crash_text(raised(lambda: deep(10_000)), NOW).splitlines()
    assert len(rows) < 60
    assert any("more …" in row for row in rows)


def test_a_chain_that_bites_its_tail_ends() -> None:
    """Causes in a circle are told once each."""
    first, second = ValueError(), KeyError()
    first.__cause__, second.__cause__ = second, first
    assert 1 == crash_text(first, NOW).count("KeyError")


@pytest.mark.parametrize("umask", [0, 0o022])
def test_log_and_folder_are_the_users_alone(logs: Path, umask: int) -> None:
    """Whatever the system's habit is."""
    logs.parent.mkdir(parents=True)
    before = os.umask(umask)
    try:
        path = write_crash(ValueError(SECRET), NOW)
    finally:
        os.umask(before)
    assert path is not None
    assert 0o600 == stat.S_IMODE(path.stat().st_mode)
    assert 0o700 == stat.S_IMODE(logs.stat().st_mode)


def test_only_the_newest_logs_are_kept(logs: Path) -> None:
    """A program that fails every day fills no disk; two in one second are two."""
    for day in range(MOST_KEPT + 5):
        write_crash(ValueError(), NOW + timedelta(days=day))
    write_crash(ValueError(), NOW + timedelta(days=MOST_KEPT + 4))
    names = sorted(path.name for path in logs.iterdir())
    assert MOST_KEPT == len(names)
    assert names[-1].endswith("-2.txt") or names[-2].endswith("-2.txt")
    assert "crash-20260304T090000.txt" not in names


def test_where_no_log_can_be_written_the_place_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file stands where the folder should be: the sentence holds module and line."""
    (tmp_path / "state").write_text("x")
    words = crash_words(raised(lambda: deep(1)), NOW)
    assert "No log of it could be written" in words
    assert f"in {__name__}, line " in words
    assert "Grandmother" not in words


def test_a_command_that_fails_says_so_in_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], logs: Path
) -> None:
    """Exit code 70, nothing on standard output, one line without a word of the shop."""
    store = tmp_path / "shop.json"
    bootstrap.fill_demo(store)

    def broken(self: Desk) -> str:
        raise RuntimeError(SECRET)

    monkeypatch.setattr(Desk, "zone", property(broken))
    assert CRASHED == main(["today", "--store", str(store)])
    out, err = capsys.readouterr()
    assert ("", 1) == (out, err.count("\n"))
    assert err.startswith("benchconsole: The program had to stop by a fault of its own")
    assert "Grandmother" not in err
    [log] = logs.iterdir()
    assert str(log) in err
    assert "Grandmother" not in log.read_text()


def test_a_command_that_ends_well_leaves_no_log(logs: Path) -> None:
    """Nothing is made before it is needed."""
    assert 0 == in_a_process("sum").returncode
    assert not logs.exists()
