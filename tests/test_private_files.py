"""Every file and folder that the program makes is the user's alone, whatever the system's habit."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

import benchconsole
from benchconsole import bootstrap
from benchconsole.cli import main
from tests.console.terminal import Terminal


@pytest.fixture(autouse=True, params=[0o000, 0o022], ids=oct)
def habit(request: pytest.FixtureRequest) -> Iterator[None]:
    """A system that lets everybody read, or even write, what is made."""
    before = os.umask(request.param)
    yield
    os.umask(before)


def open_to_others(folder: Path) -> list[str]:
    """What in a folder, and of the folders in it, anybody else may use."""
    return [
        f"{path.relative_to(folder)} {stat.filemode(path.stat().st_mode)}"
        for path in folder.rglob("*")
        if path.stat().st_mode & 0o077
    ]


def test_the_store_its_folders_and_all_beside_it(tmp_path: Path) -> None:
    """Made in folders that were not there: the log, the lock and whatever else the store keeps."""
    path = tmp_path / "hides" / "here" / "shop.json"
    desk = bootstrap.open_desk(path, writing=True)
    desk.hides.take_in(name="goat", species="goat", route="hair-on-alum-pelt", came="green")
    assert (tmp_path / "hides" / "here" / "shop.json.lock").exists()
    assert [] == open_to_others(tmp_path)
    desk.hides.note("goat", "thin")
    desk.close()
    bootstrap.open_desk(path, writing=True).close()
    assert [] == open_to_others(tmp_path)


def test_the_demo_shop() -> None:
    """Its throw-away folder and the shop in it."""
    with bootstrap.demo_folder() as folder:
        assert 0o700 == stat.S_IMODE(folder.stat().st_mode)
        bootstrap.fill_demo(folder / "shop.json")
        assert [] == open_to_others(folder)
    assert not folder.exists()


def test_what_a_command_writes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Exports name hides; the system's habit is as it was after the command."""
    store = tmp_path / "shop.json"
    bootstrap.fill_demo(store)
    monkeypatch.chdir(tmp_path)
    assert 0 == main(["calendar", "shop.ics", "--store", str(store)])
    assert {"shop.ics", "shop.json"} <= {path.name for path in tmp_path.iterdir()}
    assert [] == open_to_others(tmp_path)
    Path("later").write_text("x")
    assert Path("later").stat().st_mode & 0o044


def test_a_picture_of_the_screen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The palette can write one: it is full of names, and Textual makes it as files are made."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("PYTHONPATH", str(Path(benchconsole.__file__).parents[1]))
    pictures = tmp_path / "Downloads"
    pictures.mkdir(mode=0o700)
    console = Terminal(tmp_path / "shop" / "shop.json")
    console.wait_for("No hides yet")
    os.write(console.end, b"\x10")
    console.wait_for("Search for commands")
    os.write(console.end, b"Screenshot")
    console.wait_for("Save an SVG")
    os.write(console.end, b"\r")
    console.wait_for("Saved screenshot")
    os.write(console.end, b"q")
    assert 0 == console.ended()
    [picture] = pictures.iterdir()
    assert ".svg" == picture.suffix
    assert [] == open_to_others(tmp_path)
