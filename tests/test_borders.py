"""The borders of the packages, seen from a fresh interpreter: what loads what."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

CORE = ("quantities", "model", "chemistry", "library", "mixing", "schedule")
OUTSIDE = ("textual", "rich", "tinydb", "platformdirs")
SHOW = "; import sys, json; json.dump(sorted(sys.modules), sys.stderr)"


def loaded_by(code: str) -> set[str]:
    """The modules in a new interpreter after it ran the code (which may print)."""
    ended = subprocess.run(
        [sys.executable, "-c", code + SHOW],
        env={**os.environ, "BENCHCONSOLE_STORE": "/nowhere/shop.json"},
        capture_output=True,
        check=True,
        timeout=60,
    )
    modules: list[str] = json.loads(ended.stderr)
    return set(modules)


def outside(modules: set[str]) -> set[str]:
    """Those of the outside packages that are among the modules."""
    return set(OUTSIDE) & modules


def test_the_core_loads_no_screen_no_database_and_no_folder() -> None:
    """Everything that computes can be used without Textual and without files."""
    code = "import importlib; " + "; ".join(
        f"importlib.import_module('benchconsole.{name}')" for name in CORE
    )
    modules = loaded_by(code)
    assert {f"benchconsole.{name}" for name in CORE} <= modules
    assert set() == outside(modules)
    assert not {f"benchconsole.{name}" for name in ("store", "desk", "console")} & modules


def test_every_module_of_the_core_keeps_to_it() -> None:
    """Not only what the packages' doors load: every module in them, imported one by one."""
    root = Path(__file__).parents[1] / "benchconsole"
    names = [
        ".".join(file.relative_to(root.parent).with_suffix("").parts)
        for name in CORE
        for file in sorted((root / name).rglob("*.py"))
        if file.name != "__init__.py"
    ]
    modules = loaded_by(f"import importlib; [importlib.import_module(n) for n in {names}]")
    assert set(names) <= modules
    assert set() == outside(modules)


def test_the_package_itself_loads_nothing() -> None:
    """``import benchconsole`` gives the version and nothing else of ours, nor of others."""
    modules = loaded_by("import benchconsole")
    assert ["benchconsole"] == [name for name in modules if name.startswith("benchconsole")]
    assert set() == outside(modules)


@pytest.mark.parametrize("words", [["mix", "borax-rinse"], ["today", "--json"], ["--help"]])
def test_the_command_line_loads_no_screen(words: list[str]) -> None:
    """Printing a worksheet needs no terminal program; the answer comes before Textual would."""
    modules = loaded_by(f"from benchconsole.cli import main; assert main({words}) == 0")
    assert not {"textual", "rich", "benchconsole.console"} & modules


def test_help_loads_neither_library_nor_store() -> None:
    """Asking what there is costs next to nothing."""
    modules = loaded_by("from benchconsole.cli import main; main(['--help'])")
    assert not {"pint", "msgspec", "benchconsole.library", "benchconsole.desk"} & modules
    assert set() == outside(modules)
