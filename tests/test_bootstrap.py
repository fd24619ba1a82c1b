"""Wiring: where the store is, what a person's own files may be, and the throw-away demo."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.bootstrap import library_with_own, open_desk, store_path
from benchconsole.errors import BadInput, StoreBusy, StoreDamaged, StoreError

FORMULA = """[formula]
id = "my-rinse"
name = "My rinse"
purpose = "Rinses"
kind = "liquor"
measures = "metric"
[formula.tolerance]
value = 0.05
source = "our notebook"
mark = "practice"
[[source]]
source = "our notebook"
mark = "practice"
[[part]]
id = "rinse"
name = "rinse"
container = "tub"
[[part.ingredient]]
substance = "water"
by = "jug"
amount = "5 L"
"""


@pytest.fixture(autouse=True)
def no_store_of_the_persons(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """No test touches what belongs to the person who runs it."""
    monkeypatch.delenv("BENCHCONSOLE_STORE", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path / "home"))


# --- where the store is ---------------------------------------------------------------


def test_the_order_of_what_names_the_store(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The option, else the environment, else the person's data folder."""
    assert "shop.json" == store_path().name
    assert store_path().is_relative_to(tmp_path)
    monkeypatch.setenv("BENCHCONSOLE_STORE", "/srv/hides.json")
    assert Path("/srv/hides.json") == store_path()
    assert Path("/srv/other.json") == store_path("/srv/other.json")


def test_a_folder_means_the_file_in_it(tmp_path: Path) -> None:
    """One that is there, or one that is written as a folder."""
    assert tmp_path / "shop.json" == store_path(str(tmp_path))
    assert Path("/not/there/shop.json") == store_path("/not/there/")


def test_a_tilde_is_the_persons_home(tmp_path: Path) -> None:
    """Also where no shell has turned it into one."""
    assert tmp_path / "home" / "x.json" == store_path("~/x.json")


def test_finding_the_store_makes_nothing(tmp_path: Path) -> None:
    """Asking where it would be leaves no folder."""
    store_path()
    store_path(str(tmp_path / "a" / "b.json"))
    assert [] == list(tmp_path.iterdir())


@pytest.mark.parametrize("named", ["", "  ", "a\0b", "~nobody-there/x"])
def test_no_path_at_all_is_bad_input(named: str) -> None:
    """The option is named with an example."""
    with pytest.raises(BadInput, match=r"^store: .*; for example --store"):
        store_path(named)


def test_a_path_that_is_too_long_is_the_stores_fault() -> None:
    """The system's refusal becomes a sentence."""
    with pytest.raises(StoreError, match="its name is too long"):
        store_path("x" * 300)


# --- a person's own files -------------------------------------------------------------


def own(folder: Path, name: str, body: str | bytes) -> Path:
    """Write one of the person's own formulas."""
    file = folder / "formulas" / name
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(body if isinstance(body, bytes) else body.encode())
    return file


def test_an_own_formula_stands_beside_the_shipped_ones(tmp_path: Path) -> None:
    """It can be mixed like any other."""
    own(tmp_path, "mine.toml", FORMULA)
    library, refused = library_with_own(tmp_path)
    assert () == refused
    assert library.formula("my-rinse").own


def test_no_folder_is_no_fault(tmp_path: Path) -> None:
    """Most people have no files of their own, and some have a file where a folder would be."""
    (tmp_path / "routes").write_text("not a folder")
    _, refused = library_with_own(tmp_path / "nowhere")
    assert () == refused
    assert () == library_with_own(tmp_path)[1]


def test_each_bad_file_is_told_and_the_good_ones_are_used(tmp_path: Path) -> None:
    """Truncated, no text, too large, a folder, a pipe, a loop: name, line where there is one."""
    own(tmp_path, "good.toml", FORMULA)
    own(tmp_path, "cut.toml", FORMULA[:60])
    own(tmp_path, "latin.toml", b"[formula]\n# caf\xe9\n")
    own(tmp_path, "huge.toml", "#" * (256 * 1024 + 1))
    (tmp_path / "formulas" / "folder.toml").mkdir()
    (tmp_path / "formulas" / "loop.toml").symlink_to("loop.toml")
    os.mkfifo(tmp_path / "formulas" / "pipe.toml")
    own(tmp_path, ".#good.toml", "an editor's lock")
    own(tmp_path, "good.toml~", "an editor's copy")
    library, refused = library_with_own(tmp_path)
    assert "my-rinse" in library.formulas
    told = {fault.name.removeprefix("formulas/"): fault for fault in refused}
    assert {"cut.toml", "latin.toml", "huge.toml", "folder.toml", "loop.toml", "pipe.toml"} == set(
        told
    )
    assert "formulas/latin.toml, line 2: it is not UTF-8 text." == str(told["latin.toml"])
    assert "formulas/pipe.toml: it is not an ordinary file." == str(told["pipe.toml"])
    assert "larger than 256 KB" in str(told["huge.toml"])


def test_a_folder_that_cannot_be_listed_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fake refusal, since root is refused nothing."""

    def refuse(folder: Path) -> None:
        raise PermissionError(13, "Permission denied", str(folder))

    monkeypatch.setattr(Path, "iterdir", refuse)
    _, refused = library_with_own(tmp_path)
    assert 3 == len(refused)
    assert "formulas/: it cannot be read, this user may not use it." in map(str, refused)


# --- the desk -------------------------------------------------------------------------


def test_a_writer_keeps_taps_and_a_reader_sees_them(tmp_path: Path) -> None:
    """What one desk confirmed another one, opened beside it, shows."""
    path = tmp_path / "new" / "shop.json"
    writer = open_desk(path, writing=True)
    writer.timers.set("Rinse", "5 min")
    reader = open_desk(path, writing=False)
    assert ["Rinse"] == [countdown.name for countdown in reader.timers.all()]
    with pytest.raises(StoreBusy):
        open_desk(path, writing=True)
    writer.close()
    open_desk(path, writing=True).close()


def test_a_desk_that_cannot_open_lets_go(tmp_path: Path) -> None:
    """After a damaged store was put right the next one opens at once."""
    path = tmp_path / "shop.json"
    path.write_text("{")
    with pytest.raises(StoreDamaged):
        open_desk(path, writing=True)
    path.unlink()
    open_desk(path, writing=True).close()


def test_own_files_lie_beside_the_store(tmp_path: Path) -> None:
    """The desk has them, and tells which it had to leave out."""
    own(tmp_path, "good.toml", FORMULA)
    own(tmp_path, "bad.toml", "")
    desk = open_desk(tmp_path / "shop.json", writing=False)
    assert "my-rinse" in desk.library.formulas
    assert ["formulas/bad.toml"] == [refusal.name for refusal in desk.refused]


# --- the demo -------------------------------------------------------------------------


def test_the_demo_is_thrown_away() -> None:
    """Its folder is private, holds a shop that takes taps, and is gone afterwards."""
    with bootstrap.demo_folder() as folder:
        path = folder / bootstrap.STORE_FILE
        bootstrap.fill_demo(path)
        desk = open_desk(path, writing=True)
        assert "Brown goat" in desk.hides.done("brown-goat")
        desk.close()
        assert 0 == folder.stat().st_mode & 0o077
    assert not folder.exists()


def test_the_demo_is_packed_from_the_source_tree() -> None:
    """The text that is filled in is the file a newcomer can read."""
    source = Path(__file__).parents[1] / "sample_data" / "demo_shop.toml"
    assert source.read_text("utf-8") == bootstrap.demo_text()
