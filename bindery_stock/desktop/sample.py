"""The sample stockroom: always a working copy, never the one that was shipped."""

import shutil
from pathlib import Path

from bindery_stock import places
from bindery_stock.errors import DiskTrouble, NotAStockroom

SAMPLE_NAME = "Sample stockroom"


def fresh_copy(home: Path) -> Path:
    """Lay out the sample afresh under ``home`` and return its folder.

    An earlier working copy is set aside first and removed once the new one stands. Raises
    ``NotAStockroom`` where the program was installed without its sample.
    """
    shipped = places.sample()
    if not (shipped / "stock.sqlite").exists():
        raise NotAStockroom(
            "This installation came without the sample stockroom; install from a full checkout."
        )
    folder = home / SAMPLE_NAME
    old = home / f"{SAMPLE_NAME} (before)"
    try:
        home.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(old, ignore_errors=True)
        if folder.exists():
            folder.rename(old)
        shutil.copytree(shipped, folder)
        shutil.rmtree(old, ignore_errors=True)
    except OSError as error:
        raise DiskTrouble(
            f"The sample could not be copied to {home}: {error.strerror}. "
            "Make room there, or set BINDERY_STOCK_HOME to another folder."
        ) from error
    return folder
