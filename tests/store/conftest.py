"""What the tests of the store share: a shop file in a folder that is not there yet, the count."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.fault_counts import COUNTS


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Where a new shop's store would be; nothing exists there, not even the folder."""
    return tmp_path / "shop" / "store.json"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say at the end what the fault tests went through, if they ran."""
    if COUNTS.points or COUNTS.kills:
        terminalreporter.write_line(str(COUNTS), red=COUNTS.lost > 0)
