"""Our colours. Status is always a mark and a word first; colour only underlines it."""

from __future__ import annotations

from textual.theme import Theme

DARK = Theme(
    name="lamp",
    dark=True,
    primary="#d9a05b",
    secondary="#8fb3a3",
    accent="#e8c07d",
    warning="#f0b849",
    error="#ff7a6b",
    success="#8fce8a",
    foreground="#ece6da",
    background="#171512",
    surface="#211e1a",
    panel="#2d2923",
)
LIGHT = Theme(
    name="daylight",
    dark=False,
    primary="#7a4a12",
    secondary="#2c5f50",
    accent="#8a5a00",
    warning="#7a5200",
    error="#a3180c",
    success="#1f6b24",
    foreground="#1c1913",
    background="#faf7f0",
    surface="#f1ece1",
    panel="#e2dac9",
)
THEMES = (DARK, LIGHT)
