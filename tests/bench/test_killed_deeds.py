"""Every deed, its process killed in the middle of it: the stockroom is as it was before."""

import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping.layout import DATABASE
from tests.bench.killed_deed import BEFORE
from tests.bench.small_stock import BenchClock
from tests.bench.test_deeds import ORIGINALS, WALKED
from tests.patience import PATIENCE

if sys.platform == "win32":
    pytest.skip("there is no SIGKILL and no fork on Windows", allow_module_level=True)

HOUSE = Path(__file__).parents[2]
STATISTICS = ("sqlite_stat1", "sqlite_stat4")
"""What SQLite notes for itself when a database is closed."""


def found(folder: Path) -> dict[str, list[tuple[Any, ...]]]:
    """Every row in a stockroom but the originals, which are no step; it must be sound."""
    with Stockroom.open(folder, clock=BenchClock()) as room:
        assert room.keeping.check().faults == ()
    with closing(sqlite3.connect(folder / DATABASE)) as database:
        named = database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        tables = sorted({name for (name,) in named} - {ORIGINALS, *STATISTICS})
        return {table: database.execute(f"SELECT * FROM {table}").fetchall() for table in tables}


def test_a_deed_whose_process_is_killed_in_its_middle_has_changed_nothing(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.killed_deed", str(tmp_path)],
        cwd=HOUSE,
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )
    assert done.returncode == 0, done.stderr
    before = found(tmp_path / BEFORE)
    killed = set()
    for line in done.stdout.splitlines():
        name, point, written, by = line.split()
        assert int(by) == signal.SIGKILL, f"{name} did not end at its {point}\n{done.stderr}"
        assert int(written) > 0, f"{name} had written nothing at its {point}"
        assert found(tmp_path / name / point / "stock") == before, f"{name}, {point}"
        killed.add(name)
    assert killed == set(WALKED)
