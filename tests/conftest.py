"""What every test has in common: no display, no threads for small sums, no foreign home."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from bindery_stock.stock.keeping import disk, open_folder

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


_really_asked = disk._PRAGMAS


@pytest.fixture(scope="session", autouse=True)
def _no_waiting_for_the_disk() -> Iterator[None]:
    """What a test writes need not outlast a power cut, and a disk takes milliseconds each time.

    What the program asks of the disk is held by ``tests/stock/test_brought_to_the_disk.py``.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda _handle: None)
        patch.setattr(disk, "_PRAGMAS", (*_really_asked, "PRAGMA synchronous = OFF"))
        yield


@pytest.fixture
def as_the_program_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    """The database is opened as it is outside the tests."""
    monkeypatch.setattr(disk, "_PRAGMAS", _really_asked)


_really_bring_up = open_folder._bring_up
_new_database: list[bytes] = []


def _bring_up_once(database: Path) -> None:
    """The migrations make the first new database of the run; the next begin as copies of it.

    A database that holds anything is brought up by its migrations each time.
    """
    if database.stat().st_size:
        _really_bring_up(database)
    elif _new_database:
        database.write_bytes(_new_database[0])
    else:
        _really_bring_up(database)
        _new_database.append(database.read_bytes())


@pytest.fixture(autouse=True)
def _migrated_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Laying a new stock folder out costs a tenth of a second, and most tests lay one out."""
    monkeypatch.setattr(open_folder, "_bring_up", _bring_up_once)
