"""What every test has in common: no display, no threads for small sums, no foreign home."""

import os
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
for _variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")


@pytest.fixture(autouse=True)
def _home_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test may touch the settings of whoever runs it."""
    monkeypatch.setenv("BINDERY_STOCK_HOME", str(tmp_path / "home"))
