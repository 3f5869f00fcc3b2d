"""A program killed at any instant leaves the last completed action, whole.

A kill does not stand for a power cut: what the disk had not yet written is not lost here.
"""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from bindery_stock.errors import NotAStockroom
from bindery_stock.stock import PieceState, Stockroom
from tests.patience import PATIENCE

if sys.platform == "win32":
    pytest.skip("there is no SIGKILL and no fork on Windows", allow_module_level=True)

DAY = Path(__file__).parent / "bench_day.py"
EVERY = int(os.environ.get("BINDERY_KILL_EVERY", "24"))
"""Each how-manieth point is tried; set BINDERY_KILL_EVERY=1 to try them all."""


def run(folder: Path) -> str:
    done = subprocess.run(
        [sys.executable, str(DAY), str(folder), str(EVERY)],
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def assert_holds(root: Path) -> int:
    """The stockroom is sound and has every step that was acknowledged; returns how many it has."""
    acknowledged = (root / "acknowledged").read_text().splitlines()
    try:
        stock = Stockroom.open(root / "stock")
    except NotAStockroom:
        # Killed while it was being laid out: then it is not there at all, and can be made.
        assert acknowledged == []
        stock = Stockroom.create(root / "stock")
    with stock:
        found = stock.keeping.check()
        assert found.faults == ()
        steps = {f"{step.number} {step.name}" for step in stock.ledger.steps()}
        for line in acknowledged:
            if line.startswith("photo "):
                assert stock.photos.get(line.removeprefix("photo ")).name == "scrap.jpg"
            else:
                assert line in steps
        # At most the one action that was under way may have been completed unsaid.
        assert len(steps) - sum(not line.startswith("photo") for line in acknowledged) in (0, 1)
        for piece in stock.pieces.listed(gone=True):
            assert (piece.state is PieceState.CUT_UP) == bool(stock.pieces.children(piece.code))
        while stock.ledger.undoable() is not None:
            stock.ledger.undo()
        assert stock.pieces.listed(gone=True) == []
        assert list((stock.folder / "photos").glob(".incoming*")) == []
    return len(steps)


def test_a_day_killed_at_any_point_leaves_the_last_completed_action(tmp_path: Path) -> None:
    (points, whole), *kills = (map(int, line.split()) for line in run(tmp_path).splitlines())
    assert whole == 0
    assert assert_holds(tmp_path / "whole") == 6
    assert points > 150
    chosen = range(1, points + 1, EVERY)
    assert dict(kills) == dict.fromkeys(chosen, int(signal.SIGKILL))
    reached = {assert_holds(tmp_path / str(point)) for point in chosen}
    assert reached >= set(range(6)), "the kills were spread over the whole day"
