"""The errors a person can cause, with what to do about each; every other exception is a defect.

BenchError                exit 2   the root: one sentence for the person
|-- BadInput                       a field, its fault, an example that works
|   |-- BadQuantity                an amount that cannot be read or does not fit
|   `-- BadFile                    a file of the person's, refused by name and line
|-- NotKnown                       no such formula, route, hide, timer
|-- NotPossibleNow                 an act that does not fit the state of the thing
`-- StoreError            exit 3
    |-- StoreBusy                  another console holds the store
    |-- StoreTooNew                written by a newer version
    `-- StoreDamaged               the file cannot be read
"""

LONGEST_ECHO = 40
MOST_NAMED = 12
"""Names offered in one sentence where none is near."""


class BenchError(Exception):
    """A fault that a person can mend; ``str()`` is the one sentence they are shown."""

    exit_code = 2


class BadInput(BenchError):
    """Something typed that cannot be used.

    ``field`` is the word on the screen or the option, ``fault`` what was wrong with it,
    ``example`` an input that would have worked.
    """

    def __init__(self, field: str, fault: str, example: str = "") -> None:
        self.field = field
        self.fault = fault
        self.example = example
        tail = f"; for example {example}" if example else ""
        super().__init__(f"{field}: {fault}{tail}.")


class BadQuantity(BadInput):
    """An amount that cannot be read, or is not of the kind the field wants."""


class BadFile(BadInput):
    """A formula, route or shop file of the person's that is refused.

    ``name`` is the file's name and ``line`` the line of the fault, counted from 1 (0: unknown).
    """

    def __init__(self, name: str, line: int, fault: str) -> None:
        self.name = name
        self.line = line
        super().__init__(f"{name}, line {line}" if line else name, fault)


class NotKnown(BenchError):
    """A name that nothing answers to; says which of those there are is near, or what there is."""

    def __init__(self, kind: str, name: str, known: tuple[str, ...] = ()) -> None:
        self.kind = kind
        self.name = name
        self.known = known
        echo = name if len(name) <= LONGEST_ECHO else f"{name[:LONGEST_ECHO]}…"
        super().__init__(f"No {kind} is called “{echo}”{_instead(name, known)}.")


def _instead(name: str, known: tuple[str, ...]) -> str:
    """The end of the sentence: the nearest names, else all there are, else nothing."""
    # Only a slip of the hand pays for this import.
    from difflib import get_close_matches

    words = name[:LONGEST_ECHO].strip().lower()
    near = get_close_matches(words, known, n=3, cutoff=0.6)
    near = near or [each for each in known if len(words) > 2 and words in each][:3]
    if near:
        return f"; the nearest is {' or '.join(near)}"
    more = len(known) - MOST_NAMED
    if more > 1:
        return f"; there is {', '.join(known[:MOST_NAMED])} and {more} more"
    return f"; there is {', '.join(known)}" if known else ""


class NotPossibleNow(BenchError):
    """An act that the state of the hide, timer or weigh-out does not allow."""


class StoreError(BenchError):
    """The store cannot be used; nothing was changed."""

    exit_code = 3


class StoreBusy(StoreError):
    """Another console writes to this store."""


class StoreTooNew(StoreError):
    """A newer version wrote this store."""


class StoreDamaged(StoreError):
    """The store's file cannot be read."""
