"""What every test has in common: no display, no threads for small sums, no foreign home."""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
for _variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")

# A busy machine takes long over an example, and long to think of one: neither is a fault.
# The examples are the same each time, so that green stays green until the code is changed;
# BINDERY_NEW_EXAMPLES=1 looks for others, and what it finds is kept beside the test by name.
settings.register_profile(
    "unhurried",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize="BINDERY_NEW_EXAMPLES" not in os.environ,
)
settings.load_profile("unhurried")


@pytest.fixture(autouse=True)
def _home_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test may touch the settings of whoever runs it."""
    monkeypatch.setenv("BINDERY_STOCK_HOME", str(tmp_path / "home"))
