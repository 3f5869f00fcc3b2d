"""The sample stockroom: always a working copy, never the one that was shipped."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

from bindery_stock import places
from bindery_stock.clock import system_clock
from bindery_stock.errors import DiskTrouble, NotAStockroom
from bindery_stock.stock import Stockroom

SAMPLE_NAME = "Sample stockroom"


def fresh_copy(home: Path) -> Path:
    """Lay out the sample afresh under ``home`` and return its folder.

    An earlier working copy is removed only once the new one stands. Raises
    ``NotAStockroom`` where the program was installed without its sample.
    """
    shipped = places.sample()
    if not (shipped / "stock.sqlite").exists():
        raise NotAStockroom(
            "This installation came without the sample stockroom; install from a full checkout."
        )
    folder = home / SAMPLE_NAME
    old, fresh = home / f"{SAMPLE_NAME} (before)", home / f"{SAMPLE_NAME} (coming)"
    try:
        home.mkdir(parents=True, exist_ok=True)
        for leftover in (old, fresh):
            shutil.rmtree(leftover, ignore_errors=True)
        shutil.copytree(shipped, fresh)
        if folder.exists():
            folder.rename(old)
        fresh.rename(folder)
        shutil.rmtree(old, ignore_errors=True)
    except OSError as error:
        raise DiskTrouble(
            f"The sample could not be copied to {home}: {error.strerror}. "
            "Make room there, or set BINDERY_STOCK_HOME to another folder."
        ) from error
    return folder


def open_working_copy(folder: Path, home: Path) -> Stockroom:
    """Open a stock folder; the sample's working copy under ``home`` with a time of its own.

    In the sample time goes on from its last step, so that a paste cooked there last week is a week
    old on whatever day the sample is opened. Raises as ``Stockroom.open`` does.
    """
    if folder.resolve() != (home / SAMPLE_NAME).resolve():
        return Stockroom.open(folder)
    clock = _SampleClock()
    stockroom = Stockroom.open(folder, clock=clock)
    last = stockroom.ledger.latest()
    if last is not None:
        clock.behind = system_clock() - last
    return stockroom


class _SampleClock:
    """The machine's clock, put back by as much as the sample is old."""

    def __init__(self) -> None:
        self.behind = timedelta(0)

    def __call__(self) -> datetime:
        return system_clock() - self.behind
