"""The export command: a private table, written whole or not at all, and never over another's."""

from __future__ import annotations

import csv
import io
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import benchconsole
from benchconsole import bootstrap
from benchconsole.cli import files, main
from benchconsole.clock import SystemClock
from benchconsole.exchange.csv import BOM, HIDES, HISTORY, text_in
from benchconsole.letters import fault_in, filed
from benchconsole.store import TinyRepository
from tests.hostile_shop import HOSTILE, hostile_store

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hostile shop in files."""
    return hostile_store(tmp_path_factory.mktemp("shop"), SystemClock())


@pytest.fixture
def run(
    shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Run:
    """Run the command in an empty folder; its exit code, output and complaints."""
    monkeypatch.setenv("BENCHCONSOLE_STORE", str(shop))
    monkeypatch.chdir(tmp_path)

    def run_it(*words: str) -> tuple[int, str, str]:
        capsys.readouterr()
        code = main(["export", *words])
        out, err = capsys.readouterr()
        return code, out, err.replace("benchconsole: left out: ", "", 1)

    return run_it


def rows_of(text: str) -> list[dict[str, str]]:
    """A table as Python reads it, each text as it was before it was guarded."""
    read = csv.DictReader(io.StringIO(text, newline=""))
    return [{key: text_in(cell) for key, cell in row.items()} for row in read]


def test_the_hides_of_a_shop(run: Run, shop: Path) -> None:
    """Every hide a line, the archived one too, names to the letter, and the answer counts them."""
    code, out, _ = run("shop.csv")
    body = Path("shop.csv").read_bytes()
    assert body.decode().startswith(BOM)
    rows = rows_of(body.decode("utf-8-sig"))
    assert (0, f"{Path('shop.csv').resolve()} holds {len(rows)} hides.\n") == (code, out)
    desk = bootstrap.open_desk(shop, writing=False)
    there = {row.hide.id for row in desk.hides.rows()} | {"old"}
    assert there == {row["id"] for row in rows}
    assert filed(HOSTILE) in {row["name"] for row in rows}
    assert ["old"] == [row["id"] for row in rows if row["archived"] == "yes"]
    assert list(HIDES) == list(rows[0])


def test_the_history_of_a_shop(run: Run, shop: Path) -> None:
    """Every event that was ever written, in order."""
    code, out, _ = run("past.csv", "--what", "history")
    rows = rows_of(Path("past.csv").read_bytes().decode("utf-8-sig"))
    assert (0, True) == (code, f"holds {len(rows)} events." in out)
    assert list(HISTORY) == list(rows[0])
    numbers = [int(row["event"]) for row in rows]
    assert numbers == sorted(set(numbers))
    assert 3 == sum(row["subjects"] == "hide/old" for row in rows)


@pytest.mark.parametrize("what", ["hides", "history"])
def test_standard_output_gets_the_table_alone(run: Run, what: str) -> None:
    """UTF-8 and CRLF whatever the terminal speaks; no command to it and nothing that turns."""
    run("shop.csv", "--what", what)
    done = subprocess.run(
        [sys.executable, "-m", "benchconsole", "export", "-", "--what", what],
        env={
            **os.environ,
            "PYTHONIOENCODING": "ascii",
            "PYTHONPATH": str(Path(benchconsole.__file__).parents[1]),
        },
        capture_output=True,
        check=True,
    )
    table = done.stdout.decode()
    assert "" == fault_in(table.replace("\r\n", "\n"), lines=True)
    assert len(rows_of(table)) == len(rows_of(Path("shop.csv").read_bytes().decode("utf-8-sig")))


def test_a_new_file_is_the_users_alone(run: Run) -> None:
    """It is full of names; who shares it says so by chmod, and that stays."""
    run("shop.csv")
    assert 0o600 == stat.S_IMODE(Path("shop.csv").stat().st_mode)
    Path("shop.csv").chmod(0o640)
    assert 0 == run("shop.csv")[0]
    assert 0o640 == stat.S_IMODE(Path("shop.csv").stat().st_mode)


@pytest.mark.parametrize("content", [b"Dear diary", b"name,price\r\nx,1\r\n", b"\xff\xfe\x00"])
def test_another_file_is_not_written_over_unless_asked(run: Run, content: bytes) -> None:
    """It is left to the letter, and --force takes its place."""
    Path("mine.csv").write_bytes(content)
    code, out, err = run("mine.csv")
    assert (2, "") == (code, out)
    assert "it is no earlier export of the same table" in err
    assert "--force" in err
    assert content == Path("mine.csv").read_bytes()
    assert 0 == run("mine.csv", "--force")[0]


def test_one_table_is_not_written_over_the_other(run: Run) -> None:
    """A slip of the hand costs nobody the history."""
    run("shop.csv", "--what", "history")
    before = Path("shop.csv").read_bytes()
    assert 2 == run("shop.csv")[0]
    assert before == Path("shop.csv").read_bytes()
    assert 0 == run("shop.csv", "--what", "history")[0]


FAULTS = {
    "no file": ([], "OUT"),
    "force for nothing": (["-", "--force"], "force: it only goes with a file; for example export"),
    "another ending": (["shop.ics"], "out: “shop.ics” does not end in .csv; for example my-shop."),
    "no such table": (["shop.csv", "--what", "prices"], "--what"),
    "no folder": (["none/x.csv"], "there is no folder "),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_bad_input_is_one_sentence_and_leaves_nothing(run: Run, fault: str) -> None:
    """Exit 2, what is wrong in words, and the folder is as it was."""
    words, said = FAULTS[fault]
    code, out, err = run(*words)
    assert (2, "") == (code, out)
    assert said in err
    assert [] == list(Path().iterdir())


def test_a_disk_that_fails_leaves_the_earlier_file(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Full in the middle of it: the old table to the letter, and nothing beside it."""
    run("shop.csv")
    before = Path("shop.csv").read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.Disk, "write", full)
    code, _, err = run("shop.csv")
    assert (2, True) == (code, "cannot be written: the disk is full." in err)
    assert before == Path("shop.csv").read_bytes()
    assert ["shop.csv"] == [path.name for path in Path().iterdir()]


def test_the_store_is_only_read(run: Run, shop: Path) -> None:
    """It works while a console holds the store."""
    with TinyRepository(shop, writing=True):
        before = shop.read_bytes()
        assert 0 == run("shop.csv")[0]
        assert before == shop.read_bytes()
