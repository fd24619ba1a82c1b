"""Every act of every screen: said in words, on keys that wet hands can press, in the help."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from typing import Any

import pytest

import benchconsole.console
from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.keynames import key_words
from benchconsole.console.screens.help import HelpScreen
from tests.console.small_shop import showing, with_a_goat, written


def _load_the_console() -> None:
    for module in pkgutil.walk_packages(
        benchconsole.console.__path__, f"{benchconsole.console.__name__}."
    ):
        importlib.import_module(module.name)


def _below(kind: type[Any]) -> Iterator[type[Any]]:
    for child in kind.__subclasses__():
        yield child
        yield from _below(child)


_load_the_console()
SCREENS = sorted(
    {
        screen
        for screen in _below(ActScreen)
        if screen.acts() and screen.__module__.startswith("benchconsole.")
    },
    key=lambda screen: screen.__name__,
)
ACTS = sorted({act for screen in SCREENS for act in screen.acts()}, key=lambda act: act.__name__)

_ALLOWED = re.compile(
    r"[a-z0-9]|f[1-9]|f1[0-2]|enter|escape|space|tab|up|down|left|right|home|end|pageup|pagedown"
    r"|plus|add|minus|subtract|asterisk|multiply|slash|divide|full_stop|decimal|comma"
    r"|question_mark|less_than_sign|greater_than_sign|backspace|delete"
)
_TYPES_NOTHING = re.compile(r"f[1-9]|f1[0-2]|enter|escape|pageup|pagedown")


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.__name__)
def test_an_act_is_whole(act: type[Act[Any]]) -> None:
    """A docstring of its own that ends in a full stop, a label, keys that wet hands can press."""
    own = act.__dict__.get("__doc__")
    assert own
    assert inspect.cleandoc(own).split("\n\n")[0].endswith(".")
    assert act.label.strip() == act.label != ""
    for key in act.keys.split(","):
        assert _ALLOWED.fullmatch(key), key
        if act.while_typing:
            assert _TYPES_NOTHING.fullmatch(key), key


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
def test_keys_of_a_screen_are_unique(screen: type[ActScreen[Any]]) -> None:
    """No key does two things on one screen."""
    keys = [key for act in screen.acts() for key in act.keys.split(",")]
    assert sorted(set(keys)) == sorted(keys)


def test_names_of_acts_are_unique() -> None:
    """Key maps rest on the names, so no two acts share one."""
    names = [act.__name__ for act in ACTS]
    assert sorted(set(names)) == sorted(names)


async def test_every_act_of_every_screen_stands_in_its_help() -> None:
    """Keys, label and help of each act, on the help page of each screen."""
    desk, _ = with_a_goat()
    for screen in SCREENS:
        page = HelpScreen(screen)
        async with showing(page, desk, (200, 60)) as (_, _):
            words = " ".join(written(page).split())
        for act in screen.acts():
            expected = f"{key_words(act.keys)} {act.label}: {' '.join(act.help().split())}"
            assert expected in words
