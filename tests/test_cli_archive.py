"""The commands “find” and “archive”: what they print, what they change, and what they refuse."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from benchconsole import bootstrap
from benchconsole.cli import main
from benchconsole.clock import ManualClock
from benchconsole.store.lock import WriterLock

SCHEMA = Path(__file__).parent.parent / "shared" / "schemas" / "finished-1.schema.json"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """The demo shop as it was two months ago: one hide has been finished since then."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, ManualClock(datetime.now(UTC) - timedelta(days=60)))
    return path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """What a command ends with, prints and tells."""
    code = main(words)
    printed = capsys.readouterr()
    return code, printed.out, printed.err


def test_archive_shows_and_moves_only_when_told(
    store: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without --yes not a byte changes; with it the hide leaves the log, and once is enough."""
    before = store.read_bytes()
    code, out, _ = run(capsys, "archive", "--store", str(store))
    assert 0 == code
    assert "Spotted goat, finished" in out
    assert "Nothing was moved: add --yes" in out
    assert before == store.read_bytes()
    assert not store.with_name("shop.json.archive").exists()
    code, out, _ = run(capsys, "archive", "--yes", "--store", str(store))
    assert 0 == code
    assert "Moved to the archive: 1 hide" in out
    assert b"Soft to the edges" not in store.read_bytes()
    assert (0, "Nothing is ready for the archive.\n", "") == run(
        capsys, "archive", "--yes", "--store", str(store)
    )


def test_find_prints_the_same_hides_before_and_after(
    store: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By a word of a note; only the place is another."""
    _, before, _ = run(capsys, "find", "soft", "edges", "--store", str(store))
    run(capsys, "archive", "--yes", "--store", str(store))
    _, after, err = run(capsys, "find", "soft", "edges", "--store", str(store))
    assert "" == err
    year = (datetime.now(UTC) - timedelta(days=62)).year
    assert before.replace("on the bench", f"archive of {year}") == after
    assert "1 hide out of work." in after
    code, out, _ = run(capsys, "find", "oak", "--store", str(store))
    assert (0, "No hide out of work is found by that.\n") == (code, out)


def test_find_prints_a_document_that_fits_its_schema(
    store: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """For hides on the bench and in the archive."""
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    validator = Draft202012Validator(schema, format_checker=FormatChecker())
    for _ in range(2):
        _, out, _ = run(capsys, "find", "--json", "--store", str(store))
        document = json.loads(out)
        validator.validate(document)
        assert ["spotted-goat"] == [hide["hide"] for hide in document["hides"]]
        run(capsys, "archive", "--yes", "--store", str(store))
    assert isinstance(document["hides"][0]["archive"], int)


def test_a_damaged_year_is_told_and_its_copy_is_used(
    store: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The hide is found by its note all the same."""
    run(capsys, "archive", "--yes", "--store", str(store))
    (path,) = store.with_name("shop.json.archive").iterdir()
    path.write_bytes(path.read_bytes()[:-20])
    code, out, err = run(capsys, "find", "soft", "--store", str(store))
    assert 0 == code
    assert "Spotted goat" in out
    assert f"The archive of {path.stem} is damaged; its copy is used instead." in err


def test_archive_waits_for_nobody_for_ever(
    store: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """While a console has the shop open, moving is refused and looking is not."""
    monkeypatch.setattr("benchconsole.cli.archiving.WAIT_S", 0.05)
    lock = WriterLock(store)
    try:
        code, _, err = run(capsys, "archive", "--yes", "--store", str(store))
        assert 3 == code
        assert "has had this shop open" in err
        assert 0 == run(capsys, "archive", "--store", str(store))[0]
        assert 0 == run(capsys, "find", "--store", str(store))[0]
    finally:
        lock.release()
