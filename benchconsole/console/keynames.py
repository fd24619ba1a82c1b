"""Keys in a person's words."""

from __future__ import annotations

_NAMES = {
    "plus": "+",
    "add": "+",
    "minus": "-",
    "subtract": "-",
    "asterisk": "*",
    "multiply": "*",
    "slash": "/",
    "divide": "/",
    "full_stop": ".",
    "decimal": ".",
    "comma": ",",
    "question_mark": "?",
    "escape": "esc",
    "enter": "enter",
    "space": "space",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "less_than_sign": "<",
    "greater_than_sign": ">",
    "equals_sign": "=",
    "pageup": "page up",
    "pagedown": "page down",
}


def key_words(keys: str) -> str:
    """The keys of an act as they are written on a keyboard: ``"esc or q"``.

    A key that the keypad has too (``plus,add``) is named once.
    """
    names = [_named(key.strip()) for key in keys.split(",")]
    return " or ".join(dict.fromkeys(names))


def _named(key: str) -> str:
    if key.startswith("f") and key[1:].isdigit():
        return key.upper()
    return _NAMES.get(key, key)
