"""What the tests of the store share: a shop file in a folder that is not there yet."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Where a new shop's store would be; nothing exists there, not even the folder."""
    return tmp_path / "shop" / "store.json"
