"""Folders every settings test may break."""

from pathlib import Path

import pytest

from tests.settings.folders import DEMO, PLANT_T, Folder


@pytest.fixture
def demo(tmp_path: Path) -> Folder:
    """A copy of the demo plant."""
    return Folder(tmp_path / "demo", DEMO)


@pytest.fixture
def plant_t(tmp_path: Path) -> Folder:
    """A copy of the plant the whole-day tests use; it is not a demo."""
    return Folder(tmp_path / "plant_t", PLANT_T)
