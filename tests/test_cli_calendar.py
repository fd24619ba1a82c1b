"""The calendar command: a file that is written whole or not at all, and never over another's."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.cli import files, main
from benchconsole.clock import SystemClock
from benchconsole.model.events import HideTakenIn, ShopSet, StageLeft
from benchconsole.model.shop import Shop
from benchconsole.store import TinyRepository
from tests.exchange.calendar_grammar import read_strictly
from tests.test_cli import in_a_process

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The demo shop's file."""
    path = tmp_path_factory.mktemp("demo") / "shop.json"
    bootstrap.fill_demo(path)
    return path.read_bytes()


@pytest.fixture
def run(
    demo: bytes,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> Run:
    """Run the command in an empty folder on a demo shop; its exit code, output and complaints."""
    store = tmp_path / "store" / "shop.json"
    store.parent.mkdir()
    store.write_bytes(demo)
    monkeypatch.setenv("BENCHCONSOLE_STORE", str(store))
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    capsys.readouterr()

    def run_it(*words: str) -> tuple[int, str, str]:
        code = main(["calendar", *words])
        return (code, *capsys.readouterr())

    return run_it


def test_every_visit_and_round_of_the_plan_is_in_the_file(
    run: Run, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What “plan” lists, the calendar holds, at the same times; the answer names the file."""
    now = datetime.now(UTC)
    monkeypatch.setattr(SystemClock, "now", lambda _: now)
    code, out, err = run("shop.ics", "--days", "60")
    assert (0, "") == (code, err)
    assert f"{Path.cwd() / 'shop.ics'} holds " in out
    whole = read_strictly(Path("shop.ics").read_bytes())
    assert f"holds {len(whole.parts)} events up to 60 days ahead." in out
    main(["plan", "--json", "--days", "60"])
    plan = json.loads(capsys.readouterr().out)
    assert len({visit["hide"] for visit in plan["visits"]}) > 5
    for visit in plan["visits"]:
        times = [
            event.instant("DTSTART")
            for event in whole.parts
            if visit["name"] in event.text("SUMMARY") + event.text("DESCRIPTION")
        ]
        starts = datetime.fromisoformat(visit["starts"]).astimezone(UTC)
        assert starts.replace(microsecond=0) in times, (visit["name"], visit["stage"])
    rounds = [e for e in whole.parts if e.text("SUMMARY").startswith("Round")]
    assert len(rounds) == len(plan["rounds"]) > 5


def test_standard_output_gets_the_bytes_themselves() -> None:
    """CRLF and UTF-8 whatever the terminal speaks, and nothing else."""
    done = in_a_process("calendar", "-", env={"PYTHONIOENCODING": "ascii"})
    assert (0, b"") == (done.returncode, done.stderr)
    assert [] == read_strictly(done.stdout).parts


def test_writing_again_brings_the_file_up_to_date(run: Run, tmp_path: Path) -> None:
    """The same names with greater numbers; an act that was done early is called off."""
    run("shop.ics")
    before = {event.text("UID"): event for event in read_strictly(body("shop.ics")).parts}
    now = datetime.now(UTC)
    store = tmp_path / "store" / "shop.json"
    with TinyRepository(store, writing=True) as repository:
        ahead = next(
            event for event in before.values() if event.text("SUMMARY").startswith("Red calf")
        )
        assert ahead.instant("DTSTART") > now
        calf = next(
            entry.event
            for entry in repository.entries()
            if isinstance(entry.event, HideTakenIn) and entry.event.name == "Red calf"
        )
        left = StageLeft(hide=calf.hide, stage=calf.stage, next="")
        repository.append([left], at=now, recorded=now)
    code, out, err = run("shop.ics")
    assert (0, "") == (code, err)
    after = {event.text("UID"): event for event in read_strictly(body("shop.ics")).parts}
    assert before.keys() <= after.keys()
    numbers = {
        name: [int(events[name].properties["SEQUENCE"][1]) for events in (before, after)]
        for name in before
    }
    assert all(first < second for first, second in numbers.values())
    assert "CANCELLED" == after[ahead.text("UID")].text("STATUS")
    assert "no longer planned are called off" in out


def test_a_hide_of_no_known_route_is_told(run: Run, tmp_path: Path) -> None:
    """It cannot be in the calendar, and that is said, not passed over."""
    now = datetime.now(UTC)
    lost = HideTakenIn(
        hide="odd", name="Odd one", species="goat", route="none", stage="x", came="salted"
    )
    with TinyRepository(tmp_path / "store" / "shop.json", writing=True) as repository:
        repository.append([lost], at=now, recorded=now)
    code, _, err = run("shop.ics")
    assert (0, 1) == (code, err.count("\n"))
    assert (
        "not in the calendar: Odd one: its route, or its stage in it, is not in the library" in err
    )


def test_fewer_days_hold_less(run: Run) -> None:
    """One day ends at midnight, today included."""
    run("all.ics", "--days", "366")
    run("day.ics", "--days", "1")
    few, many = (read_strictly(body(name)).parts for name in ("day.ics", "all.ics"))
    assert len(few) < len(many)
    assert all(e.instant("DTSTART") < datetime.now(UTC) + timedelta(days=1) for e in few)


def test_rounds_end_with_the_look_that_ends_the_hold(run: Run) -> None:
    """The lime is stirred until the hide is taken out of it, and not after."""
    run("shop.ics", "--days", "366")
    parts = read_strictly(body("shop.ics")).parts
    look = min(
        event.instant("DTSTART")
        for event in parts
        if event.text("SUMMARY").startswith("Red calf: Unhair")
    )
    rounds = [
        event.instant("DTSTART")
        for event in parts
        if event.text("SUMMARY").startswith("Round") and "the lime" in event.text("DESCRIPTION")
    ]
    assert len(rounds) > 2
    assert max(rounds) <= look


def test_a_shop_without_hours_is_told_why_nothing_is_planned(run: Run, tmp_path: Path) -> None:
    """No opening to work in: every hide is named with the reason, and the file is a calendar."""
    now = datetime.now(UTC)
    with TinyRepository(tmp_path / "store" / "shop.json", writing=True) as repository:
        repository.append([ShopSet(shop=Shop(hours=()))], at=now, recorded=now)
    code, _, err = run("shop.ics")
    assert code == 0
    assert err.count("not in the calendar: ") > 5
    assert "Red calf: the shop has no open hours in the coming time" in err
    events = read_strictly(body("shop.ics")).parts
    assert all(event.text("SUMMARY").startswith("Round") for event in events)


# --- files that are there already -----------------------------------------------------

OTHERS = {
    "notes.ics": (b"Dear diary", "it is no calendar"),
    "other.ics": (
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//X//Y//EN\r\nEND:VCALENDAR\r\n",
        "not one written here",
    ),
}


@pytest.mark.parametrize("name", OTHERS)
def test_another_file_is_not_written_over_unless_asked(run: Run, name: str) -> None:
    """It is left to the letter, and --force takes its place."""
    content, said = OTHERS[name]
    Path(name).write_bytes(content)
    code, out, err = run(name)
    assert (2, "", 1) == (code, out, err.count("\n"))
    assert said in err
    assert "--force" in err
    assert content == body(name)
    assert 0 == run(name, "--force")[0]
    assert read_strictly(body(name)).parts


def test_the_calendar_of_another_shop_is_not_written_over(run: Run, tmp_path: Path) -> None:
    """Two shops on one computer: a slip of the hand costs neither its calendar."""
    run("shop.ics")
    other = tmp_path / "other" / "shop.json"
    bootstrap.fill_demo(other)
    before = body("shop.ics")
    code, _, err = run("shop.ics", "--store", str(other))
    assert (2, True) == (code, "it is the calendar of another shop" in err)
    assert before == body("shop.ics")


def test_an_empty_file_is_nobodys(run: Run) -> None:
    """What a program that makes names for new files left there is filled."""
    Path("new.ics").write_bytes(b"")
    assert 0 == run("new.ics")[0]


def test_a_file_keeps_its_rights_and_a_link_stays_a_link(run: Run) -> None:
    """Who might read it before may read it after; a link into a shared folder is followed."""
    Path("shared").mkdir()
    run("shared/shop.ics")
    Path("shared/shop.ics").chmod(0o640)
    Path("link.ics").symlink_to("shared/shop.ics")
    assert 0 == run("link.ics")[0]
    assert Path("link.ics").is_symlink()
    assert 0o640 == stat.S_IMODE(Path("shared/shop.ics").stat().st_mode)
    assert ["shop.ics"] == [path.name for path in Path("shared").iterdir()]


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o277])
def test_a_new_file_is_the_users_alone(run: Run, umask: int) -> None:
    """Whatever the system's habit: names of hides are in it. Who shares it says so by chmod."""
    before = os.umask(umask)
    try:
        assert 0 == run("shop.ics")[0]
        assert umask == os.umask(umask)
    finally:
        os.umask(before)
    assert 0o600 == stat.S_IMODE(Path("shop.ics").stat().st_mode)


# --- what cannot be -------------------------------------------------------------------

FAULTS: dict[str, tuple[list[str], str]] = {
    "no file": ([], "OUT"),
    "force for nothing": (["-", "--force"], "force: it only goes with a file"),
    "empty": ([""], "out: it is empty; for example my-shop.ics."),
    "zero byte": (["a\0.ics"], "out: it holds a control character"),
    "another ending": (["shop.json"], "out: “shop.json” does not end in .ics"),
    "no ending": (["shop"], "does not end in .ics"),
    "nobody": (["~nobody-there/x.ics"], "leads nowhere"),
    "a folder by its slash": (["there/"], "names a folder"),
    "a folder": (["folder.ics"], "cannot be read: it is a folder."),
    "a folder by force": (["folder.ics", "--force"], "cannot be read: it is a folder."),
    "no folder": (["none/x.ics"], "there is no folder "),
    "a file for a folder": (["file/x.ics"], "a part of its path is not a folder."),
    "long name": (["x" * 300 + ".ics"], "its name is too long."),
    "half a character": (["\ud83d.ics"], "leads nowhere"),
    "pipe": (["pipe.ics"], "it is not an ordinary file."),
    "no days": (["x.ics", "--days", "0"], "days: it must be from 1 to 366"),
    "days below nothing": (["x.ics", "--days=-1"], "days: "),
    "half a day": (["x.ics", "--days", "1.5"], "days: "),
    "many days": (["x.ics", "--days", "9" * 5000], "days: "),
    "days in words": (["x.ics", "--days", "a week"], "days: "),
    "empty days": (["x.ics", "--days", ""], "days: "),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_bad_input_is_one_sentence_and_leaves_nothing(run: Run, fault: str) -> None:
    """Exit 2, one line that says what is wrong, and the folder is as it was."""
    Path("folder.ics").mkdir()
    Path("file").write_text("x")
    os.mkfifo("pipe.ics")
    words, said = FAULTS[fault]
    code, out, err = run(*words)
    assert (2, "") == (code, out)
    assert said in err
    assert err.startswith("benchconsole")
    assert err.endswith(".\n")
    assert 1 == err.count("\n")
    assert ["file", "folder.ics", "pipe.ics"] == sorted(path.name for path in Path().iterdir())


def test_the_store_is_never_written_over(run: Run, tmp_path: Path) -> None:
    """Not even by force, and not through a link."""
    store = tmp_path / "store.ics"
    store.write_bytes((tmp_path / "store" / "shop.json").read_bytes())
    Path("link.ics").symlink_to(store)
    before = store.read_bytes()
    for words in ((str(store),), ("link.ics",)):
        code, _, err = run(*words, "--force", "--store", str(store))
        assert (2, True) == (code, "that is the store itself" in err)
    assert before == store.read_bytes()


@pytest.mark.parametrize("call", ["write", "sync", "replace"])
def test_a_disk_that_fails_leaves_the_earlier_file(
    run: Run, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    """Full in the middle of it: the old file to the letter, nothing beside it, one sentence."""
    run("shop.ics")
    before = body("shop.ics")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.Disk, call, full)
    code, out, err = run("shop.ics")
    assert (2, "") == (code, out)
    assert "cannot be written: the disk is full." in err
    assert before == body("shop.ics")
    assert ["shop.ics"] == [path.name for path in Path().iterdir()]


def test_a_folder_that_may_not_be_written(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system refuses is told in a sentence; a fake refusal, since root is refused none."""

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(files.Disk, "create", refuse)
    code, out, err = run("shop.ics")
    assert (2, "") == (code, out)
    assert "cannot be written: this user may not use it." in err


def test_the_store_is_only_read(run: Run, tmp_path: Path) -> None:
    """It works while a console holds the store, and leaves nothing beside it."""
    folder = tmp_path / "store"
    with TinyRepository(folder / "shop.json", writing=True):
        before = {path.name: path.read_bytes() for path in folder.iterdir()}
        assert 0 == run("shop.ics")[0]
        assert before == {path.name: path.read_bytes() for path in folder.iterdir()}


def body(name: str) -> bytes:
    """What stands in a file here."""
    return Path(name).read_bytes()
