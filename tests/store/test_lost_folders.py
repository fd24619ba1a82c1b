"""The folder under an open shop goes away, is locked or turns read-only: told, nothing lost."""

from __future__ import annotations

import errno
import shutil
import subprocess
import sys
import tempfile
import textwrap
from collections.abc import Iterator
from pathlib import Path

import pytest

from benchconsole.errors import StoreError
from benchconsole.store.repository import TinyRepository
from tests.store.crash_scripts import NOW, note, taps_of
from tests.store.small_disks import BrokenDisk, mounted, unmount

NOBODY = 65534


def is_sentence(refusal: StoreError) -> bool:
    """Whether it can be put before a person."""
    told = str(refusal)
    return told.endswith(".") and "\n" not in told and "Errno" not in told


def test_a_folder_removed_under_an_open_shop(store: Path) -> None:
    """Each tap is refused in a sentence; with the folder back, all that was confirmed is there."""
    with TinyRepository(store, writing=True) as repository:
        repository.append(list(note(1)), at=NOW, recorded=NOW)
        store.parent.rename(store.parent.with_name("elsewhere"))
        for number in (2, 3):
            with pytest.raises(StoreError) as caught:
                repository.append(list(note(number)), at=NOW, recorded=NOW)
            assert is_sentence(caught.value)
        assert not store.exists()
        shutil.rmtree(store.parent, ignore_errors=True)
        store.parent.with_name("elsewhere").rename(store.parent)
        repository.append(list(note(4)), at=NOW, recorded=NOW)
    with TinyRepository(store, writing=True) as again:
        assert taps_of(again.entries()) == (note(1), note(4))


def test_a_file_removed_under_an_open_shop(store: Path) -> None:
    """The store is deleted by hand: nothing is said to be saved that would begin at its middle."""
    with TinyRepository(store, writing=True) as repository:
        repository.append(list(note(1)), at=NOW, recorded=NOW)
        store.unlink()
        with pytest.raises(StoreError) as caught:
            repository.append(list(note(2)), at=NOW, recorded=NOW)
        assert is_sentence(caught.value)


def test_a_disk_pulled_out_under_an_open_shop(tmp_path: Path) -> None:
    """The store's file system is unmounted (or, where that is not allowed, its folder moved)."""
    folder = tmp_path / "stick"
    is_real = mounted(folder)
    store = folder / "shop" / "shop.json"
    with TinyRepository(store, writing=True) as repository:
        repository.append(list(note(1)), at=NOW, recorded=NOW)
        if is_real:
            unmount(folder)
        else:
            folder.rename(tmp_path / "pulled out")
        for number in (2, 3):
            with pytest.raises(StoreError) as caught:
                repository.append(list(note(number)), at=NOW, recorded=NOW)
            assert is_sentence(caught.value)
    assert not store.exists()


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.EROFS, "the disk is read-only"),
        (errno.EACCES, "this user may not use it"),
        (errno.EPERM, "this user may not use it"),
        (errno.EDQUOT, "the disk is full for this user"),
        (errno.EIO, "input/output error"),
        (errno.ESTALE, "stale file handle"),
    ],
)
def test_a_disk_that_refuses_says_why_and_may_think_better_of_it(
    store: Path, number: int, words: str
) -> None:
    """Every file that is asked for is refused, then not: what was confirmed stays throughout."""
    disk = BrokenDisk()
    with TinyRepository(store, writing=True, disk=disk) as repository:
        repository.append(list(note(1)), at=NOW, recorded=NOW)
        disk.number = number
        for _ in range(2):
            with pytest.raises(StoreError, match=words) as caught:
                repository.append(list(note(2)), at=NOW, recorded=NOW)
            assert is_sentence(caught.value)
            assert taps_of(repository.entries()) == (note(1),)
        disk.number = 0
        repository.append(list(note(3)), at=NOW, recorded=NOW)
    with TinyRepository(store, writing=True) as again:
        assert taps_of(again.entries()) == (note(1), note(3))


PROGRAM = textwrap.dedent(
    """
    import os, sys
    from pathlib import Path
    from benchconsole.errors import StoreError
    from benchconsole.store.repository import TinyRepository

    path = Path(sys.argv[1])
    TinyRepository(path, writing=False).entries()  # loads what this user may not read later
    TinyRepository(path.parent / "other" / "shop.json", writing=True).close()
    if os.geteuid() == 0:  # the superuser may write everywhere, so another user has to try
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)
    with TinyRepository(path, writing=False) as reader:
        print(len(reader.entries()))
    try:
        TinyRepository(path, writing=True).entries()
        print("opened")
    except StoreError as refusal:
        print(refusal)
    """
).replace("NOBODY", str(NOBODY))


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that any user can reach, which the test's own is not."""
    folder = Path(tempfile.mkdtemp(prefix="benchconsole-test-"))
    folder.chmod(0o755)
    try:
        yield folder
    finally:
        for path in (folder, *folder.rglob("*")):
            path.chmod(0o700)
        shutil.rmtree(folder)


def test_a_user_who_may_only_read_reads(open_folder: Path) -> None:
    """In a folder that may not be written to, ``today`` works and the console says why not."""
    store = open_folder / "shop.json"
    with TinyRepository(store, writing=True) as repository:
        repository.append(list(note(1)), at=NOW, recorded=NOW)
    (open_folder / "other").mkdir(mode=0o700)
    for path in open_folder.iterdir():
        if path.is_file():
            path.chmod(0o444)
    open_folder.chmod(0o555)
    program = [sys.executable, "-c", PROGRAM, str(store)]
    done = subprocess.run(program, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    read, told = done.stdout.splitlines()
    assert read == "1"
    assert "this user may not use it" in told and told.endswith(".")
    with TinyRepository(store, writing=False) as reader:
        assert taps_of(reader.entries()) == (note(1),)
