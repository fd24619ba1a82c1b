"""What the tests of the store share: a shop file in a folder that is not there yet, the counts."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.store.damage_counts import DAMAGE_COUNTS
from tests.store.fault_counts import COUNTS


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Where a new shop's store would be; nothing exists there, not even the folder."""
    return tmp_path / "shop" / "store.json"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say at the end what the fault and the damage tests went through, if they ran."""
    if COUNTS.points or COUNTS.kills:
        terminalreporter.write_line(str(COUNTS), red=COUNTS.lost > 0)
    if DAMAGE_COUNTS.files:
        terminalreporter.write_line(str(DAMAGE_COUNTS), red=DAMAGE_COUNTS.lost > 0)
