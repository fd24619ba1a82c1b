"""Files that a person asks for by name: read before they are written over, replaced in one step."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.store.disk import Disk, shown, words_for

STANDARD_OUTPUT = "-"

LARGEST_READ = 64 * 1024 * 1024
"""Bytes of a file that is looked at before it is written over; no export comes near."""


def named_file(text: str, *, field: str, ending: str) -> Path:
    """The file that a person named, links followed; nothing is created.

    Raises ``BadInput`` naming the field for a text that is no path, and for another ``ending``
    (``.ics``) than the file will be known by.
    """
    example = f"my-shop{ending}"
    if not text.strip():
        raise BadInput(field, "it is empty", example)
    if "\0" in text:
        raise BadInput(field, "it holds a control character", example)
    if text.endswith(("/", os.sep)):
        raise BadInput(field, f"“{text[-40:]}” names a folder", example)
    try:
        path = Path(text).expanduser()
        # A link stays a link: what it leads to is replaced.
        real = Path(os.path.realpath(path))
    except (RuntimeError, OSError, ValueError):
        raise BadInput(field, f"“{text[:40]}” leads nowhere", example) from None
    if path.suffix.lower() != ending:
        raise BadInput(field, f"“{text[-40:]}” does not end in {ending}", example)
    return real


def out_file(text: str, store: Path, *, ending: str, command: str, force: bool) -> Path | None:
    """The file that an export is written to, None for ``-``, standard output.

    ``BadInput`` for what cannot be one, the store itself included.
    """
    if text == STANDARD_OUTPUT:
        if force:
            example = f"{command} my-shop{ending} --force"
            raise BadInput("force", "it only goes with a file", example)
        return None
    path = named_file(text, field="out", ending=ending)
    if path == store.resolve():
        raise BadInput("out", "that is the store itself", f"my-shop{ending}")
    return path


def content_of(path: Path) -> bytes | None:
    """What stands in an ordinary file, None if there is none; ``NotPossibleNow`` if unreadable."""
    try:
        if path.is_file() and path.stat().st_size > LARGEST_READ:
            raise NotPossibleNow(f"{shown(path)} cannot be read: it is too large.")
        return Disk().read(path)
    except OSError as fault:
        raise NotPossibleNow(f"{shown(path)} cannot be read: {words_for(fault)}.") from fault


def put_file(path: Path, body: bytes) -> None:
    """Replace a file, or make it, in one step: the old content or the new, never a mix.

    The folder must be there. An existing file keeps who may read it; a new one is the user's
    alone. Raises ``NotPossibleNow``, and nothing is changed then.
    """
    try:
        _replace(path, body, Disk())
    except FileNotFoundError:
        raise NotPossibleNow(
            f"{shown(path)} cannot be written: there is no folder {shown(path.parent)}."
        ) from None
    except OSError as fault:
        raise NotPossibleNow(f"{shown(path)} cannot be written: {words_for(fault)}.") from fault


def _replace(path: Path, body: bytes, disk: Disk) -> None:
    # A short name of its own: the file's may already be as long as names can be.
    new = path.with_name(f".{secrets.token_hex(6)}.part")
    descriptor = disk.create(new)
    try:
        try:
            disk.write(descriptor, body)
            disk.sync(descriptor)
        finally:
            disk.close(descriptor)
        if path.is_dir():
            raise IsADirectoryError(21, "it is a folder")
        if path.exists():
            new.chmod(path.stat().st_mode & 0o777)
        disk.replace(new, path)
    except BaseException:
        with contextlib.suppress(OSError):
            disk.remove(new)
        raise
    # The file is in place; a folder that cannot be synced only leaves it to the system when.
    with contextlib.suppress(OSError):
        disk.sync_folder(path.parent)
