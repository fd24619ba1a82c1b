"""The working of figures: inputs, equation, result, source, and how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.mixing.working import Working


class WorkingScreen(PageScreen):
    """The workings in the order given: those asked for come first."""

    def __init__(self, title: str, workings: tuple[Working, ...]) -> None:
        super().__init__()
        self._headline = title
        self._workings = workings

    def heading(self) -> str:
        """Whose working it is."""
        return f"Working  ·  {self._headline}"

    def left(self) -> Sequence[Written]:
        """All of them, one under the other."""
        if not self._workings:
            return [Written("No figure here was computed, so there is nothing to explain.")]
        return [line for working in self._workings for line in _written(working)]


def _written(working: Working) -> Iterator[Written]:
    yield Written(working.title, "head")
    width = max((len(name) for name, _ in working.inputs), default=0)
    width = min(max(width, 9), 30)
    for name, figure in working.inputs:
        yield Written(f"  {name:<{width}}  {figure}", hang=width + 4)
    if working.equation:
        yield Written(f"  {'so':<{width}}  {working.equation}", hang=width + 4)
    yield Written(f"  {'result':<{width}}  {working.result}", "strong", width + 4)
    if working.source:
        yield Written(f"  {'source':<{width}}  {working.source}", hang=width + 4)
    if working.sure:
        yield Written(f"  {'how sure':<{width}}  {working.sure}", hang=width + 4)
    yield BLANK
