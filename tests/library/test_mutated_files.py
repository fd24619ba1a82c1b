"""Whatever a person does to a file, loading it gives a library and at most a refusal."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import BadFile
from benchconsole.library import shipped_library, with_own_files
from benchconsole.library.lines import line_of

SAMPLES = Path(__file__).parents[2] / "sample_data" / "own"
TEXTS = [file.read_text(encoding="utf-8") for file in sorted(SAMPLES.rglob("*.toml"))]
SCRAPS = st.one_of(
    st.sampled_from(
        [
            '"', "'", '"""', "[", "]", "[[", "{", "}", "=", ".", ",", "#", "\n", "\\", "\\u0000",
            "nan", "inf", "-1", "1e400", "true", "1979-05-27", "[[part]]\n", "[[stage]]\n", "id",
            "min", "0 min", "soak", "\x00", "\x1b", "\u202e", "\ud800", "9" * 500, "[" * 200,
        ]
    ),
    st.text(max_size=8),
)  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A sample file with up to four cuts, insertions or moved pieces."""
    text = draw(st.sampled_from(TEXTS))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 40)))
        text = text[:start] + draw(SCRAPS) + text[end:]
    return text


def check_outcome(text: str) -> None:
    """Loaded with something new, or refused by name, an existing line and one clean sentence."""
    shipped = shipped_library()
    library, bad = with_own_files(shipped, [("mine.toml", text)])
    if not bad:
        assert library != shipped
        return
    (refusal,) = bad
    assert isinstance(refusal, BadFile)
    assert library == shipped
    assert "mine.toml" == refusal.name
    assert 0 <= refusal.line <= text.count("\n") + 1
    assert refusal.fault
    assert str(refusal).isprintable()


@given(mutated())
@settings(max_examples=300, deadline=None)
def test_a_mutated_file_is_loaded_or_refused(text: str) -> None:
    """No change to a good file makes the loader raise anything."""
    check_outcome(text)


@given(st.text(max_size=200))
@settings(max_examples=150, deadline=None)
def test_any_text_is_loaded_or_refused(text: str) -> None:
    """No text at all makes the loader raise anything."""
    check_outcome(text)


@given(mutated(), st.lists(st.one_of(st.integers(0, 9), st.text(max_size=4)), max_size=5))
@settings(max_examples=150, deadline=None)
def test_the_line_finder_ends_on_any_text(text: str, path: list[str | int]) -> None:
    """Even on text that is no TOML the walk ends, and on a line that exists."""
    assert 1 <= line_of(text, tuple(path)) <= text.count("\n") + 1
