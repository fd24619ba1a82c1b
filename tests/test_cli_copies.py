"""The commands about the backup copies: listing them, putting one back, looking it all through."""

from __future__ import annotations

import io
import json
import os
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from benchconsole import bootstrap
from benchconsole.cli import main
from benchconsole.store import TinyRepository
from benchconsole.store.backups import Backups
from benchconsole.store.lock import WriterLock
from tests.store.some_logs import damaged, log_of, note, put_store

Run = Callable[..., tuple[int, str, str]]
SCHEMAS = Path(__file__).parents[1] / "shared" / "schemas"


@pytest.fixture(autouse=True)
def zone(monkeypatch: pytest.MonkeyPatch) -> None:
    """A computer whose clock shows UTC."""
    monkeypatch.setenv("TZ", "UTC")


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A store of five notes, and a copy of three of them made yesterday."""
    path = put_store(tmp_path / "shop" / "shop.json", log_of(5))
    assert Backups(path).keep(log_of(3), datetime.now(UTC) - timedelta(days=1))
    return path


@pytest.fixture
def run(store: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line in this process; its exit code, output and complaints."""
    monkeypatch.setenv("BENCHCONSOLE_STORE", str(store))
    capsys.readouterr()

    def run_it(*words: str) -> tuple[int, str, str]:
        code = main(words)
        return (code, *capsys.readouterr())

    return run_it


class Terminal(io.StringIO):
    """Somebody at a terminal who answers."""

    def isatty(self) -> bool:
        """It is one."""
        return True


# --- restore --------------------------------------------------------------------------


def test_the_copies_are_listed_the_newest_first(run: Run, store: Path) -> None:
    """Number, when, how old, taps, last tap, size; what is damaged and what was kept before."""
    backups, now = Backups(store), datetime.now(UTC)
    backups.keep_before("restore", log_of(4), now - timedelta(hours=3))
    bad = backups.keep(log_of(4), now - timedelta(minutes=5))
    assert bad is not None
    bad.path.write_bytes(damaged(log_of(4)))
    code, out, err = run("restore")
    assert (0, "") == (code, err)
    rows = [line.split() for line in out.splitlines() if line.strip()[:1].isdigit()]
    assert [row[0] for row in rows] == ["1", "2", "3"]
    first, second, third = (line for line in out.splitlines() if line.strip()[:1].isdigit())
    assert "5 min" in first and "▲ it is damaged" in first
    assert "3 h" in second and " 4  Sun 1 Mar 12:00" in second
    assert second.endswith("before a restore")
    assert "1 d " in third and " 3  Sun 1 Mar 11:00" in third and third.endswith("1 KB")
    assert str(store) in out and "benchconsole restore 1" in out
    assert store.read_bytes() == log_of(5)


def test_without_copies_it_says_when_there_will_be(run: Run, tmp_path: Path) -> None:
    """Nothing is made, not even a folder."""
    code, out, err = run("restore", "--store", str(tmp_path / "none" / "shop.json"))
    assert (0, "") == (code, err)
    assert "There are no backup copies of" in out
    assert not (tmp_path / "none").exists()


def test_what_would_change_is_shown_before_anything_does(run: Run, store: Path) -> None:
    """The taps that would be gone, by time and words; without a terminal nothing is asked."""
    code, out, err = run("restore", "1")
    assert 2 == code
    assert "3 taps. Putting it back:" in out
    assert "2 taps would be gone:\n" in out
    assert "    Sun 1 Mar 12:00   goat: note: note 4\n" in out
    assert "    Sun 1 Mar 13:00   goat: note: note 5\n" in out
    assert "come back" not in out
    assert "Nothing was changed: to do it without being asked, add --yes." in err
    assert store.read_bytes() == log_of(5)
    assert len(Backups(store).all()) == 1


@pytest.mark.parametrize(("answer", "done"), [("yes\n", True), ("no\n", False), ("", False)])
def test_a_person_is_asked(
    run: Run, store: Path, monkeypatch: pytest.MonkeyPatch, answer: str, done: bool
) -> None:
    """Only yes does it."""
    monkeypatch.setattr("sys.stdin", Terminal(answer))
    code, out, _ = run("restore", "1")
    assert 0 == code
    assert "Put it back? What is there now is kept as a copy first. (yes/no) " in out
    assert store.read_bytes() == log_of(3 if done else 5)
    assert ("Put back: 3 taps" in out, "Nothing was changed." in out) == (done, not done)


def test_it_is_put_back_and_taken_back(run: Run, store: Path) -> None:
    """The console then opens on the old taps; the number it names brings the new ones back."""
    code, out, err = run("restore", "1", "--yes")
    assert (0, "") == (code, err)
    assert "What was there before is copy 2 now: benchconsole restore 2" in out
    with TinyRepository(store, writing=True) as repository:
        assert [entry.tap for entry in repository.entries()] == [1, 2, 3]
        assert repository.notices == ()
    code, out, _ = run("restore", "2", "--yes")
    assert 0 == code
    assert "2 taps would come back:\n    Sun 1 Mar 12:00   goat: note: note 4\n" in out
    assert store.read_bytes() == log_of(5)


def test_a_copy_is_named_by_its_time_or_its_file_too(run: Run, store: Path) -> None:
    """The last copy up to a time; the name stands in the folder."""
    copy = Backups(store).all()[0]
    for which in (copy.name, f"{copy.at + timedelta(hours=1):%Y-%m-%dT%H:%M}"):
        assert "3 taps. Putting it back:" in run("restore", which)[1]
    code, _, err = run("restore", f"{copy.at - timedelta(days=1):%Y-%m-%d}")
    assert (2, True) == (code, "which: there is no copy as old as that" in err)


def test_what_is_there_already_is_not_put_back(run: Run, store: Path) -> None:
    """Nothing to do is said, and no copy is made for it."""
    Backups(store).keep(log_of(5), datetime.now(UTC))
    code, out, _ = run("restore", "1", "--yes")
    assert 0 == code
    assert "Copy 1 is what the store holds now: there is nothing to do." in out
    assert len(Backups(store).all()) == 2


def test_a_store_that_cannot_be_opened_can_be_put_back(run: Run, store: Path) -> None:
    """Damage, or a foreign file: what it was is kept, and the shop is there again."""
    for present in (b"\0" * 500, b"not a store"):
        store.write_bytes(present)
        code, out, _ = run("restore", f"{len(Backups(store).all())}", "--yes")
        assert 0 == code
        assert "3 taps would come back:" in out
        assert store.read_bytes() == log_of(3)
        assert present in [Backups(store).read(copy) for copy in Backups(store).all()]


def test_a_link_stays_a_link(run: Run, store: Path, tmp_path: Path) -> None:
    """The copies are those of the file behind it, which is what is replaced."""
    link = tmp_path / "link.json"
    link.symlink_to(store)
    assert 0 == run("restore", "1", "--yes", "--store", str(link))[0]
    assert link.is_symlink()
    assert store.read_bytes() == log_of(3)


def test_it_waits_for_nobody_who_stays(run: Run, store: Path) -> None:
    """While a console is open nothing is put back, and it says who has the shop open."""
    lock = WriterLock(store, who="console")
    try:
        code, _, err = run("restore", "1", "--yes", "--wait", "0")
    finally:
        lock.release()
    assert 3 == code
    assert "Another console has had this shop open since" in err
    assert store.read_bytes() == log_of(5)
    assert len(Backups(store).all()) == 1


def test_it_waits_as_long_as_it_is_told(run: Run, store: Path) -> None:
    """A console that closes meanwhile is waited for; what is no number of seconds is refused."""
    lock = WriterLock(store, who="console")
    threading.Timer(0.3, lock.release).start()
    assert 0 == run("restore", "1", "--yes", "--wait", "20")[0]
    assert store.read_bytes() == log_of(3)
    for text in ("-1", "soon", "", "99999", "1e99", "nan"):
        code, _, err = run("restore", "1", "--yes", f"--wait={text}")
        assert 2 == code
        assert err.startswith("benchconsole: wait: ")


def test_what_is_tapped_while_it_asks_is_not_swept_away(
    run: Run, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The person saw what would go; a tap made since is not among it, so nothing is done."""

    class Slow(Terminal):
        def readline(self, _size: int | None = -1, /) -> str:
            now = datetime.now(UTC)
            with TinyRepository(store, writing=True) as repository:
                repository.append([note(6)], at=now, recorded=now)
            return "yes\n"

    monkeypatch.setattr("sys.stdin", Slow())
    code, _, err = run("restore", "1")
    assert 2 == code
    assert "something was recorded since this was shown; look again" in err
    assert store.read_bytes().count(b"\n") == 7


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("restore", "9"), "which: there are copies 1 to 1; for example 1 or"),
        (("restore", "0"), "which: there are copies 1 to 1"),
        (("restore", "9" * 5000), "which: there are copies 1 to 1"),
        (("restore", "the old one"), "which: “the old one” is no copy's number, nor a time"),
        (("restore", ""), "which: “” is no copy's number, nor a time"),
        (("restore", "\x1b[2J"), "which: “·[2J” is no copy's number"),
        (("restore", "--yes"), "yes: it only goes with a copy"),
    ],
)
def test_bad_input_is_one_sentence(run: Run, words: tuple[str, ...], said: str) -> None:
    """The field, the fault, an example; nothing is done."""
    code, out, err = run(*words)
    assert (2, "", 1) == (code, out, err.count("\n"))
    assert said in err


def test_a_damaged_copy_is_refused(run: Run, store: Path) -> None:
    """With a sentence; the store is left as it is."""
    Backups(store).all()[0].path.write_bytes(damaged(log_of(3)))
    code, _, err = run("restore", "1", "--yes")
    assert (3, "benchconsole: Copy 1 is damaged.\n") == (code, err)
    assert store.read_bytes() == log_of(5)


# --- check ----------------------------------------------------------------------------


def test_a_sound_shop_is_well(run: Run, tmp_path: Path) -> None:
    """Every check says what it looked at, and it ends with 0."""
    path = tmp_path / "demo" / "shop.json"
    path.parent.mkdir(mode=0o700)
    bootstrap.fill_demo(path)
    Backups(path).keep(path.read_bytes(), datetime.now(UTC))
    before = everything_in(path.parent)
    code, out, err = run("check", "--store", str(path))
    assert (0, "") == (code, err)
    for words in (
        "✓ store",
        "every line is whole",
        "they make a shop of 8 hides",
        "The last tap that was confirmed here is in the store.",
        "Nobody writes to the store just now.",
        "1 backup copy can be used.",
        "Nobody else on this computer may read any of it.",
        "are free on the disk",
        "All is well.",
    ):
        assert words in " ".join(out.split())
    assert "▲" not in out
    assert everything_in(path.parent) == before


def everything_in(folder: Path) -> dict[str, tuple[bytes, int, int]]:
    """Every file with its content, its mode and when it was changed."""
    return {
        str(path.relative_to(folder)): (
            path.read_bytes() if path.is_file() else b"",
            path.stat().st_mode,
            path.stat().st_mtime_ns,
        )
        for path in sorted(folder.rglob("*"))
    }


def test_damage_is_told_with_what_to_do(run: Run, store: Path) -> None:
    """Words, a remedy on its own line, and it ends with 1; nothing is mended by looking."""
    store.write_bytes(damaged(log_of(5)))
    before = everything_in(store.parent)
    code, out, _ = run("check")
    assert 1 == code
    told = " ".join(out.split())
    assert "▲ store The store is damaged: 1 stretch of it cannot be read" in told
    assert "→ Open the console: it brings back 1 tap from the copies" in told
    assert "There is 1 thing to look at (▲)." in out or "things to look at (▲)." in out
    assert everything_in(store.parent) == before


def test_as_a_document(run: Run, store: Path) -> None:
    """The same findings for a program, by the schema that is published with the program."""
    store.chmod(0o644)
    code, out, err = run("check", "--json")
    assert (1, "") == (code, err)
    document = json.loads(out)
    schema = json.loads((SCHEMAS / "check-1.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(document)
    assert ("benchconsole.check/1", str(store), False) == (
        document["schema"],
        document["store"],
        document["good"],
    )
    bad = {each["about"] for each in document["findings"] if not each["good"]}
    assert bad == {"private"}


def test_a_conflict_copy_tells_its_taps(run: Run, store: Path) -> None:
    """The same tap numbers with other taps: told in that file's words, not in ours."""
    other = store.with_name("shop (conflicted copy).json")
    other.write_bytes(log_of(6, note_5="only there", note_6="there too"))
    other.chmod(0o600)
    code, out, _ = run("check")
    assert 1 == code
    told = " ".join(out.split())
    assert "shop (conflicted copy).json is another copy of this store, with 2 taps" in told
    assert "goat: note: only there" in told and "goat: note: there too" in told
    assert "→ Enter what is missing by hand" in told


def test_it_works_while_a_console_is_open(run: Run, store: Path) -> None:
    """It says who has the shop open, and takes nothing from them."""
    with TinyRepository(store, writing=True) as repository:
        code, out, _ = run("check")
        assert 0 == code, out
        assert f"process {os.getpid()} on this computer" in " ".join(out.split())
        now = datetime.now(UTC)
        repository.append([note(6)], at=now, recorded=now)
    assert store.read_bytes().count(b"\n") == 7


def test_no_shop_is_no_fault(run: Run, tmp_path: Path) -> None:
    """Before the first tap there is nothing to look at."""
    code, out, _ = run("check", "--store", str(tmp_path / "none" / "shop.json"))
    assert 0 == code
    assert "There is no store" in out and "All is well." in out
    assert not (tmp_path / "none").exists()
