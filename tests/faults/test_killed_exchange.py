"""Killed while going back to a copy, taking in, unpacking or packing: wholly before, or after."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from zipfile import ZipFile

import pytest

from bindery_stock.errors import DamagedStockroom
from bindery_stock.records.archive_in import unpack
from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping.restore import backups, contents, restore
from bindery_stock.stock.ledger.whole import Whole

if sys.platform == "win32":
    pytest.skip("there is no SIGKILL and no fork on Windows", allow_module_level=True)

from tests.faults.exchange_day import AT, prepare
from tests.patience import PATIENCE

ROOT = Path(__file__).parents[2]
EVERY = int(os.environ.get("BINDERY_KILL_EVERY", "24"))
"""Each how-manieth point is tried; set BINDERY_KILL_EVERY=1 to try them all."""


def run(*words: object) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "tests.faults.exchange_day", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("prepared")
    prepare(root)
    assert (root / "stock" / "stock.sqlite-wal").stat().st_size > 0, "as a kill leaves it"
    return root


def killed(day: str, prepared: Path, tmp_path: Path, every: int = EVERY) -> Iterator[Path]:
    """The folder after each kill that was tried, and at last after the whole day."""
    told = run(day, prepared, tmp_path, every).splitlines()
    (points, whole), *kills = (map(int, line.split()) for line in told)
    assert whole == 0
    chosen = range(1, points + 1, every)
    assert dict(kills) == dict.fromkeys(chosen, int(signal.SIGKILL))
    yield from (tmp_path / str(point) for point in chosen)
    yield tmp_path / "whole"


def acknowledged(root: Path) -> list[str]:
    return (root / "acknowledged").read_text().splitlines()


def sound(folder: Path) -> Whole:
    """What a stock folder holds, once it has been opened for writing and found sound."""
    with Stockroom.open(folder) as stock:
        assert stock.keeping.check().faults == ()
        assert not list(folder.glob(".stock.sqlite*")), "nothing half done is left"
        assert not list((folder / "backups").glob(".*")), "nor among the copies"
        return stock.exchange.whole()


def test_going_back_to_a_copy_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    before = sound(shutil.copytree(prepared / "stock", tmp_path / "before"))
    noon = next(one for one in backups(prepared / "stock") if one.reason == "noon")
    restore(tmp_path / "before", noon.path, AT)
    then = sound(tmp_path / "before")
    assert (len(before.tables["piece"]), len(then.tables["piece"])) == (2, 1)
    reached = []
    for root in killed("restoring", prepared, tmp_path, max(1, EVERY // 3)):
        said = len(acknowledged(root))
        here = sound(root / "stock")
        assert here in (before, then, before)[said : said + 2]
        reached.append(here == then)
        steps = {contents(one.path).steps for one in backups(root / "stock")}
        assert here == before or 3 in steps, "what was there before is kept"
        restore(root / "stock", root / "stock" / "backups" / noon.path.name, AT)
        assert sound(root / "stock") == then, "and it can be done again"
    assert set(reached) == {True, False}


def test_a_damaged_stockroom_replaced_by_a_copy_killed_at_any_point(
    prepared: Path, tmp_path: Path
) -> None:
    damaged = shutil.copytree(prepared, tmp_path / "damaged")
    database = damaged / "stock" / "stock.sqlite"
    database.write_bytes(database.read_bytes()[:9000])
    broken = database.read_bytes()
    reached = set()
    for root in killed("mending", damaged, tmp_path, max(1, EVERY // 3)):
        folder = root / "stock"
        restored = (folder / "stock.sqlite").read_bytes() != broken
        if not restored:
            assert not acknowledged(root)
            with pytest.raises(DamagedStockroom, match="from its backups folder"):
                Stockroom.open(folder)
            noon = next(one for one in backups(folder) if one.reason == "noon")
            restore(folder, noon.path, AT)
        assert len(sound(folder).tables["piece"]) == 1
        kept = folder.glob("backups/damaged-*/stock.sqlite")
        assert broken in {one.read_bytes() for one in kept}, "what was there is kept"
        reached.add(restored)
    assert reached == {True, False}


def test_tables_taken_in_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    expected = [(2, 0), (7, 0), (7, 3), (7, 0), (7, 3)]
    reached = set()
    for root in killed("taking_in", prepared, tmp_path, max(1, EVERY // 2)):
        here = sound(root / "stock")
        done = len(here.tables["step"]) - 3
        assert done in (len(acknowledged(root)), len(acknowledged(root)) + 1)
        assert (len(here.tables["piece"]), len(here.tables["adhesive_lot"])) == expected[done]
        reached.add(done)
    assert reached == set(range(5))


def test_another_stockroom_taken_in_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    before = sound(shutil.copytree(prepared / "stock", tmp_path / "before")).tables
    # Photographs are archived before the step, and a number once given out stays so.
    stock_only = set(before) - {"photo", "step", "movement", "code_series"}
    reached = set()
    for root in killed("merging", prepared, tmp_path, EVERY * 2):
        here = sound(root / "stock").tables
        done = len(here["step"]) - 3
        assert done in (len(acknowledged(root)), len(acknowledged(root)) + 1)
        reached.add(done)
        assert done == 1 or {name: here[name] for name in stock_only} == {
            name: before[name] for name in stock_only
        }
        with (
            Stockroom.open(root / "stock") as stock,
            Stockroom.open(root / "theirs", read_only=True) as theirs,
        ):
            if done != 1:
                stock.exchange.merge(theirs.exchange, {})
            assert stock.keeping.check().faults == ()
            assert len(stock.pieces.listed(gone=True)) == 5, "and it can be done again"
    assert reached == {0, 1, 2}


def test_theirs_taken_instead_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    before = sound(shutil.copytree(prepared / "theirs", tmp_path / "before")).tables
    reached = set()
    for root in killed("replacing", prepared, tmp_path, max(1, EVERY // 2)):
        here = sound(root / "theirs").tables
        done = len(here["step"]) - len(before["step"])
        assert done in (len(acknowledged(root)), len(acknowledged(root)) + 1)
        changed = {name for name in before if here[name] != before[name]}
        assert changed - {"step", "movement"} == (
            {"piece", "colour_reading"} if done == 1 else set()
        )
        reached.add(done)
    assert reached == {0, 1, 2}


def test_an_archive_laid_out_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    theirs = sound(prepared / "theirs")
    reached = set()
    for root in killed("unpacking", prepared, tmp_path, EVERY * 4):
        new = root / "new"
        there = new.exists() and any(new.iterdir())
        assert there or not acknowledged(root)
        if not there:
            unpack(root / "theirs.zip", new)
        assert sound(new) == theirs
        assert not list(root.glob(".new*")), "nothing half done is left beside"
        reached.add(there)
    assert reached == {True, False}


def test_an_archive_written_killed_at_any_point(prepared: Path, tmp_path: Path) -> None:
    for root in killed("packing", prepared, tmp_path):
        written = root / "theirs 2026.zip"
        if written.read_bytes() != b"the archive of yesterday":
            with ZipFile(written) as file:
                assert file.testzip() is None
                assert "manifest.json" in file.namelist()
        else:
            assert not acknowledged(root)
