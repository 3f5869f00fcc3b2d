"""Colour-science is a test's yardstick only; importing it warns about parts not installed."""

import os
import warnings
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def science() -> ModuleType:
    """The colour-science library."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


@pytest.fixture(scope="session")
def target_photos() -> Path:
    """The folder of real photographs of a target, or a skip that says so."""
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    folder = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    if not (folder / "patches.json").is_file():
        pytest.skip("no photographs of a target here: set BINDERY_TARGET_PHOTOS to their folder")
    return folder
