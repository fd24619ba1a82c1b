"""What the tests of the desk share."""

from __future__ import annotations

import pytest

from benchconsole.library import Library, shipped_library
from tests.desk.small_bench import Bench


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped library, read once."""
    return shipped_library()


@pytest.fixture
def bench(library: Library) -> Bench:
    """An empty shop at noon."""
    return Bench(library)
