"""The files of the years: what goes in comes out, copies stand in, what is not ours is refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole.errors import StoreError, StoreTooNew
from benchconsole.model.archive_events import ArchivedHide
from benchconsole.model.events import Entry, NoteWritten
from benchconsole.store.archive import Archive
from benchconsole.store.disk import Disk
from benchconsole.store.lines import sealed
from benchconsole.store.parcels import Parcel
from benchconsole.store.shelves import FileShelf, MemoryShelf, Shelf

NOON = datetime(2025, 6, 1, 12, tzinfo=UTC)


def entry(seq: int, text: str = "thin") -> Entry:
    """A note, each in a tap of its own."""
    at = NOON + timedelta(minutes=seq)
    return Entry(seq=seq, tap=seq, at=at, recorded=at, event=NoteWritten(hide="goat", text=text))


def hide(name: str = "goat", year: int = 2025) -> ArchivedHide:
    """A goat that came and went."""
    return ArchivedHide(
        id=name,
        name=name.title(),
        species="goat",
        route="hair-on-alum-pelt",
        year=year,
        came_at=NOON,
        out_at=NOON + timedelta(days=60),
        family=name,
    )


def parcel(*entries: Entry, name: str = "goat", year: int = 2025, whole: bool = True) -> Parcel:
    """What goes to the archive of one goat."""
    return Parcel(
        year=year,
        key=f"hide/{name}",
        entries=entries,
        hides=(hide(name, year),),
        words={name: f"{name} alum {year} thin belly"},
        whole=whole,
    )


def year_file(store: Path, *, copy: bool = False) -> Path:
    """The file of 2025, or its copy."""
    folder = store.with_name(f"{store.name}.backups") / "archive" if copy else None
    return (folder or store.with_name(f"{store.name}.archive")) / "2025.json"


@pytest.fixture(params=["files", "memory"])
def shelf(request: pytest.FixtureRequest, store: Path) -> Shelf:
    """Either kind; what is asked of one is asked of the other."""
    return FileShelf(store, Disk(), writing=True) if request.param == "files" else MemoryShelf()


@pytest.fixture
def filled(store: Path) -> Path:
    """A store's archive with a year in it."""
    archive_of(store).put([parcel(entry(1), entry(2))], NOON)
    return store


def archive_of(store: Path, *, writing: bool = True) -> Archive:
    """The archive beside a store that began at noon, as a new process has it."""
    return Archive(FileShelf(store, Disk(), writing=writing), lambda: NOON)


def held(archive: Archive, name: str = "goat", year: int = 2025) -> tuple[Entry, ...]:
    """The entries of a hide."""
    return archive.parcels(year, [f"hide/{name}"]).get(f"hide/{name}", ())


def test_what_is_laid_there_is_there(shelf: Shelf) -> None:
    """Entries by key, hides by all words they are found by, in each year."""
    archive = Archive(shelf, lambda: NOON)
    archive.put([parcel(entry(1)), parcel(entry(2), name="kid", year=2024)], NOON)
    again = Archive(shelf, lambda: NOON)
    assert (2024, 2025) == again.years()
    assert (entry(1),) == held(again)
    assert () == held(again, "kid")
    assert (hide("kid", 2024),) == again.search(["kid", "2024"])
    assert (hide("kid", 2024), hide()) == again.search(["alum"])
    assert () == again.search(["alum", "oak"])
    assert () == again.notices


def test_a_whole_parcel_replaces_and_another_is_added(shelf: Shelf) -> None:
    """So a hide is archived anew after a copy was put back, and a liquor follows its hide."""
    archive = Archive(shelf, lambda: NOON)
    archive.put([parcel(entry(1), entry(2))], NOON)
    archive.put([parcel(entry(2, "fat"), entry(4), whole=False)], NOON)
    assert (entry(1), entry(2, "fat"), entry(4)) == held(archive)
    archive.put([parcel(entry(1), entry(3))], NOON)
    assert (entry(1), entry(3)) == held(archive)
    assert (hide(),) == archive.search([])


def test_what_it_lacks_is_told_entry_by_entry(shelf: Shelf) -> None:
    """Only what is there to the letter may leave the log."""
    archive = Archive(shelf, lambda: NOON)
    archive.put([parcel(entry(1), entry(2))], NOON)
    asked = (entry(1), entry(2, "other"), entry(3))
    assert {2, 3} == archive.lacks(asked)
    assert {2, 3} == archive.lacks(asked, {2025: ["hide/goat"]})
    assert {1, 2, 3} == archive.lacks(asked, {2025: ["hide/kid"]})


def test_files_and_folders_are_private(filled: Path) -> None:
    """Nobody else on the computer reads what a shop did."""
    for path in (year_file(filled), year_file(filled, copy=True)):
        assert 0o600 == path.stat().st_mode & 0o777
        assert 0o700 == path.parent.stat().st_mode & 0o777


@pytest.mark.parametrize("damage", ["gone", "cut", "changed", "empty", "rubbish", "folder"])
def test_a_copy_stands_in_and_the_file_is_made_anew(filled: Path, damage: str) -> None:
    """It is told in a sentence; what was there is kept beside the new file."""
    path = year_file(filled)
    body = path.read_bytes()
    path.unlink()
    match damage:
        case "cut":
            path.write_bytes(body[: len(body) // 2])
        case "changed":
            path.write_bytes(body.replace(b"thin", b"fat ", 1))
        case "empty":
            path.write_bytes(b"")
        case "rubbish":
            path.write_bytes(b"\xff\x00[[[{")
        case "folder":
            path.mkdir()
    reader = archive_of(filled, writing=False)
    assert (entry(1), entry(2)) == held(reader)
    assert (hide(),) == reader.search(["belly"])
    (told,) = reader.notices
    assert told.startswith("The archive of 2025 ")
    assert told.endswith("its copy is used instead.")
    if damage == "folder":
        with pytest.raises(StoreError, match="cannot be read"):
            archive_of(filled).put([parcel(entry(7), name="kid")], NOON)
        return
    writer = archive_of(filled)
    writer.put([parcel(entry(7), name="kid")], NOON)
    assert (entry(1), entry(2)) == held(archive_of(filled))
    assert () == archive_of(filled).notices
    aside = [each.name for each in path.parent.iterdir() if ".damaged-" in each.name]
    assert (damage in ("cut", "changed", "rubbish")) == bool(aside)


def test_every_changed_byte_is_noticed(filled: Path) -> None:
    """None gives another story: the year is read as it was, or not at all."""
    path = year_file(filled)
    body = path.read_bytes()
    year_file(filled, copy=True).unlink()
    for place in range(0, len(body), 7):
        path.write_bytes(body[:place] + bytes([body[place] ^ 0x11]) + body[place + 1 :])
        try:
            found = held(archive_of(filled, writing=False))
        except StoreTooNew:
            continue
        assert found in ((), (entry(1), entry(2)))


def test_a_year_of_another_shop_is_refused_and_kept(filled: Path, tmp_path: Path) -> None:
    """What somebody put there is not taken for this shop's, nor written over without a trace."""
    other = Archive(FileShelf(tmp_path / "other" / "o.json", Disk(), writing=True), lambda: NOON)
    other.put([parcel(entry(9, "not ours"))], NOON - timedelta(days=1))
    foreign = year_file(tmp_path / "other" / "o.json").read_bytes()
    year_file(filled).write_bytes(foreign)
    archive = archive_of(filled)
    assert (entry(1), entry(2)) == held(archive)
    assert ("The archive of 2025 is of another shop; its copy is used instead.",) == archive.notices
    archive.put([parcel(entry(7), name="kid")], NOON)
    assert (entry(1), entry(2)) == held(archive_of(filled))
    kept = [each for each in year_file(filled).parent.iterdir() if ".damaged-" in each.name]
    assert [foreign] == [each.read_bytes() for each in kept]


def test_a_newer_version_is_told_and_never_touched(filled: Path) -> None:
    """Neither read nor written, nor replaced by its copy."""
    newer = sealed(b'{"schema":"benchconsole.archive","version":2,"more":true}')
    year_file(filled).write_bytes(newer)
    archive = archive_of(filled)
    with pytest.raises(StoreTooNew, match=r"The archive of 2025 was written by a newer"):
        held(archive)
    assert () == archive.search([])
    with pytest.raises(StoreTooNew):
        archive.put([parcel(entry(7))], NOON)
    assert newer == year_file(filled).read_bytes()


def test_a_reader_writes_nothing(store: Path) -> None:
    """An archive that was opened to look at refuses to be laid anything in."""
    with pytest.raises(StoreError, match="only to look at"):
        archive_of(store, writing=False).put([parcel(entry(1))], NOON)
    assert not store.parent.exists()
