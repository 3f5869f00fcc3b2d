"""``python -m sample_db``: build the sample stockroom anew in place of the one that is shipped."""

import shutil
import sys
import tempfile
from pathlib import Path

from bindery_stock.stock import Stockroom
from sample_db.build import build
from sample_db.develop import book_negatives
from sample_db.scenario import SAMPLE
from sample_db.volumes import PHOTOGRAPHED

SHIPPED = Path(__file__).parent / "stockroom"
BOOKS = "books"
_KEPT = ("stock.sqlite", "photos")


def main() -> int:
    """Build beside, check, and only then put it in place."""
    with tempfile.TemporaryDirectory() as scratch:
        fresh = Path(scratch) / "stockroom"
        for line in build(SAMPLE, fresh):
            _say(line)
        with Stockroom.open(fresh) as room:
            found = room.keeping.check()
        if not found.sound:
            _say("\n".join(found.faults))
            return 1
        shutil.rmtree(SHIPPED, ignore_errors=True)
        SHIPPED.mkdir()
        for name in _KEPT:
            shutil.move(fresh / name, SHIPPED / name)
        (SHIPPED / BOOKS).mkdir()
        for negative in book_negatives(PHOTOGRAPHED):
            (SHIPPED / BOOKS / negative.name).write_bytes(negative.data)
            _say(negative.name)
    return 0


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
