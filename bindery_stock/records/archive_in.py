"""An archive laid out as a stock folder."""

import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.clock import Clock, system_clock
from bindery_stock.errors import BinderyError, DamagedStockroom, DiskTrouble, StockError
from bindery_stock.records.archive_check import Archive, opened
from bindery_stock.records.counted import counted
from bindery_stock.records.files import cannot_write
from bindery_stock.records.stock_archive import RULES, Tell
from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping.new_folder import lay_out

_SPARE_BYTES = 64 << 20


@dataclass(frozen=True, slots=True)
class Unpacked:
    """What came out of an archive."""

    folder: Path
    pieces: int
    lots: int
    photos: int
    missing: int
    """Photographs that were missing already when the archive was made."""

    @property
    def words(self) -> str:
        """One sentence on it."""
        said = (
            f"{counted(self.pieces, 'piece')}, {counted(self.lots, 'lot')} and "
            f"{counted(self.photos, 'photograph')} laid out "
            f"in {self.folder.name}."
        )
        if self.missing:
            said += f" Missing when the archive was made: {counted(self.missing, 'photograph')}."
        return said


def _silent(_share: float, _words: str) -> None:
    return


def unpack(
    path: Path,
    folder: Path,
    *,
    tell: Tell = _silent,
    check: Callable[[], None] = lambda: None,
    clock: Clock = system_clock,
) -> Unpacked:
    """Lay out the archive at ``path`` in ``folder``, which must be new or empty.

    Everything is checked first and laid out beside; the folder gets its name when it is whole and
    sound. Raises as ``archive_check.opened``, ``DiskTrouble`` where there is no room, and
    ``StockError`` where the folder is in use; nothing is left behind then.
    """
    if folder.exists() and any(folder.iterdir()):
        raise StockError(f"{folder} is not empty. Choose a new folder for the stockroom.")
    beside = folder.with_name(f".{folder.name}.being-laid-out")
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(beside, ignore_errors=True)
        beside.mkdir()
        with opened(path) as archive:
            _room_for(archive, beside)
            _lay(archive, beside, tell, check)
            missing = len(archive.manifest.missing_photos)
        counts = _sound(path, beside, missing, clock)
        if sys.platform == "win32" and folder.exists():
            folder.rmdir()
        beside.rename(folder)  # over the empty folder in one go, where the system can
    except OSError as fault:
        raise cannot_write(folder, fault) from fault
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return Unpacked(folder, *counts, missing)


def _room_for(archive: Archive, beside: Path) -> None:
    free = shutil.disk_usage(beside).free
    needed = 2 * archive.manifest.size + _SPARE_BYTES  # tables are larger with their indexes
    if needed > free:
        raise DiskTrouble(
            f"{archive.path.name} needs about {needed >> 20} MB, and {free >> 20} MB are free. "
            "Make room, or choose a folder on another disk."
        )


def _lay(archive: Archive, beside: Path, tell: Tell, check: Callable[[], None]) -> None:
    tell(0.0, "Checking the archive")
    whole = archive.whole()
    photos = beside / "photos"
    photos.mkdir()
    names = archive.photos()
    for number, name in enumerate(names):
        check()
        tell(number / len(names), f"Photograph {number + 1} of {len(names)}")
        if Path(name).stem != archive.manifest.files[name]["sha256"]:
            if Path(name).stem in archive.manifest.missing_photos:
                continue  # altered before it was packed: its name is the promise, not its content
            raise archive.refused(f"{name} is not the photograph its name says")
        with (photos / Path(name).name).open("wb") as out:
            archive.copy(name, out)
    if RULES in archive.manifest.files:
        (beside / RULES).write_bytes(archive.read(RULES))
    check()
    tell(1.0, "Laying out the stockroom")
    try:
        lay_out(beside, whole)
    except DamagedStockroom as fault:
        raise archive.refused(str(fault).rstrip(".")) from fault


def _sound(path: Path, beside: Path, missing: int, clock: Clock) -> tuple[int, int, int]:
    """See that what was laid out is a sound stockroom; counts pieces, lots and photographs."""
    with Stockroom.open(beside, clock=clock) as stockroom:
        found = stockroom.keeping.check()
        faults = [fault for fault in found.faults if not fault.startswith("The original of ")]
        lost = len(found.faults) - len(faults)
        if faults or lost > missing:
            raise DamagedStockroom(
                f"{path.name} was not taken in: {(faults or list(found.faults))[0]} Nothing was "
                "changed. Take another copy of the archive."
            )
        try:
            pieces, lots = (
                len(stockroom.pieces.listed(gone=True)),
                len(stockroom.lots.listed(finished=True)),
            )
            for ask in (
                stockroom.books.repairs,
                stockroom.books.parts,
                stockroom.wants.listed,
                stockroom.lots.uses,
            ):
                ask()
        except (ValueError, TypeError, KeyError, BinderyError) as fault:
            raise DamagedStockroom(
                f"{path.name} was not taken in: something in it cannot be read ({fault}). "
                "Nothing was changed. Take another copy of the archive."
            ) from fault
    return pieces, lots, found.photos - lost
