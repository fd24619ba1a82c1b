"""Everything that befalls a file: rotten bytes, cuts, editors, sync programs, merges, mistakes."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from tests.store.damaged_worlds import Sample

Damage = Callable[[Random, Sample], bytes]
"""What becomes of a sample's log; the same every time for a random number's seed."""


def flipped(random: Random, sample: Sample) -> bytes:
    """Some bits turned, few or many."""
    body = bytearray(sample.body)
    for _ in range(random.choice((1, 1, 1, 2, 5, 40))):
        place = random.randrange(len(body))
        body[place] ^= 1 << random.randrange(8)
    return bytes(body)


def changed_byte(random: Random, sample: Sample) -> bytes:
    """One byte another; often one that looks right, a digit for a digit."""
    body = bytearray(sample.body)
    digits = [place for place, byte in enumerate(body) if byte in b"0123456789"]
    place = random.randrange(len(body))
    if digits and random.random() < 0.5:
        place = random.choice(digits)
    body[place] = random.choice(b"0123456789abc{}\"',\n\r\t \0\xff")
    return bytes(body)


def _range(random: Random, size: int) -> tuple[int, int]:
    start = random.randrange(size)
    length = random.choice((1, 2, 16, 100, 512, random.randrange(size) + 1))
    return start, min(start + length, size)


def zeroed(random: Random, sample: Sample) -> bytes:
    """A stretch of zeros, as a file system may leave it."""
    start, end = _range(random, len(sample.body))
    return sample.body[:start] + bytes(end - start) + sample.body[end:]


def overwritten(random: Random, sample: Sample) -> bytes:
    """A stretch of something else."""
    start, end = _range(random, len(sample.body))
    return sample.body[:start] + random.randbytes(end - start) + sample.body[end:]


def inserted(random: Random, sample: Sample) -> bytes:
    """A stretch more: noise, or blank lines."""
    start, end = _range(random, len(sample.body))
    noise = random.choice((random.randbytes(end - start), b"\n" * 3, b" ", b"\xef\xbb\xbf", b"{}"))
    start = random.choice((start, 0, len(sample.body)))
    return sample.body[:start] + noise + sample.body[start:]


def deleted(random: Random, sample: Sample) -> bytes:
    """A stretch gone."""
    start, end = _range(random, len(sample.body))
    return sample.body[:start] + sample.body[end:]


def duplicated(random: Random, sample: Sample) -> bytes:
    """A stretch twice, the second time anywhere."""
    start, end = _range(random, len(sample.body))
    place = random.choice((end, random.randrange(len(sample.body)), len(sample.body)))
    return sample.body[:place] + sample.body[start:end] + sample.body[place:]


def moved(random: Random, sample: Sample) -> bytes:
    """A stretch elsewhere."""
    start, end = _range(random, len(sample.body))
    rest = sample.body[:start] + sample.body[end:]
    place = random.randrange(len(rest) + 1)
    return rest[:place] + sample.body[start:end] + rest[place:]


def truncated(random: Random, sample: Sample) -> bytes:
    """Cut anywhere."""
    return sample.body[: random.randrange(len(sample.body))]


def without_lines(random: Random, sample: Sample) -> bytes:
    """Whole lines gone, some or most."""
    share = random.choice((0.1, 0.5, 0.9))
    return b"".join(line for line in sample.lines if random.random() > share)


def shuffled(random: Random, sample: Sample) -> bytes:
    """Lines in another order: two swapped, or all."""
    lines = list(sample.lines)
    if random.random() < 0.5:
        random.shuffle(lines)
    else:
        one, other = random.randrange(len(lines)), random.randrange(len(lines))
        lines[one], lines[other] = lines[other], lines[one]
    return b"".join(lines)


def other_line_ends(random: Random, sample: Sample) -> bytes:
    """An editor or a sync program turned the line ends, everywhere or here and there."""
    new = random.choice((b"\r\n", b"\r", b"", b"\n\n", b" \n"))
    share = random.choice((1.0, 1.0, 0.3))
    return b"".join(
        line[:-1] + (new if random.random() < share else b"\n") for line in sample.lines
    )


def saved_anew(random: Random, sample: Sample) -> bytes:
    """An editor saved it in another encoding, or as text with a mark in front."""
    text = sample.body.decode()
    encoding = random.choice(("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"))
    mark = "\ufeff" if encoding.endswith("e") else ""
    if random.random() < 0.3:
        text = text.replace("\n", "\r\n")
    return (mark + text).encode(encoding)


def merged(random: Random, sample: Sample) -> bytes:
    """A version control program wrote both sides of a conflict into it."""
    start = len(sample.lines) - sample.apart
    ours, theirs = sample.lines[start:], sample.other_lines[start:]
    if random.random() < 0.5:
        ours, theirs = theirs, ours
    return b"".join(
        (
            *sample.lines[:start],
            b"<<<<<<< HEAD\n",
            *ours,
            b"=======\n",
            *theirs,
            b">>>>>>> 1a2b3c4 (the other computer)\n",
        )
    )


def concatenated(random: Random, sample: Sample) -> bytes:
    """Two logs of one shop one after the other, or a log and its own beginning."""
    older = b"".join(sample.lines[: random.randrange(1, len(sample.lines))])
    parts = random.choice(((sample.body, sample.body), (older, sample.body), (sample.body, older)))
    return b"".join(parts)


def mixed(random: Random, sample: Sample) -> bytes:
    """Lines of another shop in between, or all of its log before or behind."""
    if random.random() < 0.2:
        return sample.foreign_body + sample.body
    if random.random() < 0.2:
        return sample.body + sample.foreign_body
    lines = list(sample.lines)
    for line in random.sample(sample.foreign_lines, random.randrange(1, 5)):
        lines.insert(random.randrange(len(lines) + 1), line)
    return b"".join(lines)


def older(random: Random, sample: Sample) -> bytes:
    """An older copy in its place."""
    return b"".join(sample.lines[: random.randrange(1, len(sample.lines))])


def several(random: Random, sample: Sample) -> bytes:
    """Misfortunes seldom come singly."""
    for damage in random.sample(PLAIN, random.randrange(2, 4)):
        body = damage(random, sample)
        if len(body) > 1:
            sample = sample.with_body(body)
    return sample.body


PLAIN: tuple[Damage, ...] = (
    flipped,
    changed_byte,
    zeroed,
    overwritten,
    inserted,
    deleted,
    duplicated,
    moved,
    truncated,
    without_lines,
    shuffled,
    other_line_ends,
)
ALL: tuple[Damage, ...] = (
    *PLAIN,
    saved_anew,
    merged,
    concatenated,
    mixed,
    older,
    several,
)
