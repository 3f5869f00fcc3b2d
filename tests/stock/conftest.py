"""A stockroom to try things on, a clock that is set by hand, and a few scraps."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bindery_stock.shape import Flaw, FlawKind, Outline, Ring
from bindery_stock.stock import Colour, Cutting, NewPiece, PhotoMark, Stockroom
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind


class BenchClock:
    """A clock that goes on one second each time it is read, and can be set."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def rectangle(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


@pytest.fixture
def clock() -> BenchClock:
    return BenchClock()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "stock folder"


@pytest.fixture
def stock(folder: Path, clock: BenchClock) -> Iterator[Stockroom]:
    with Stockroom.create(folder, clock=clock) as stockroom:
        yield stockroom
        if not stockroom.read_only:
            assert stockroom.keeping.check().faults == ()


@pytest.fixture
def spoil_index() -> Callable[[Path, bytes], None]:
    """Alter a code in the index of codes and leave the table as it is."""

    def spoil(database: Path, code: bytes) -> None:
        with closing(sqlite3.connect(database)) as raw:
            (size,) = raw.execute("PRAGMA page_size").fetchone()
            (root,) = raw.execute(
                "SELECT rootpage FROM sqlite_master "
                "WHERE type = 'index' AND tbl_name = 'piece' AND sql IS NULL"
            ).fetchone()
        pages = database.read_bytes()
        at = pages.index(code, (root - 1) * size, root * size)
        database.write_bytes(pages[:at] + b"Z-9999" + pages[at + 6 :])

    return spoil


@pytest.fixture
def red_rib(stock: Stockroom) -> NewPiece:
    """Red ribbed cloth, 100 × 300 mm, photographed, with a stain in its middle."""
    photo = stock.photos.archive(b"not looked at here", name="Red rib.JPG", width=1600, height=1200)
    return NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(rectangle(0, 0, 100, 300)),
        pattern="rib",
        backing=Backing.STARCH,
        fibre=Fibre.COTTON,
        flaws=(Flaw(FlawKind.STAIN, rectangle(40, 100, 80, 150)),),
        colours=(
            Colour(
                lab=(38.2, 44.9, 21.7),
                spread=1.4,
                u=2.5,
                method="photo with a grey card",
                photo=photo.sha256,
                patch=((10.0, 10.0), (90.0, 10.0), (90.0, 80.0)),
            ),
        ),
        marks=(
            PhotoMark(photo, (0.2, 0.0, -3.0, 0.0, -0.2, 240.0, 0.0, 0.0, 1.0), "by the ruler"),
        ),
        source="the press of an invented binder",
        source_date="c. 1868",
        place="drawer 2",
        note="fades at one edge",
    )


@pytest.fixture
def spine_strip() -> Callable[[str], Cutting]:
    """A strip 60 × 228 mm from the lower left corner, leaving two offcuts."""

    def cutting(code: str) -> Cutting:
        return Cutting(
            code=code,
            purpose="spine strip, vol. 4",
            width=60.0,
            height=228.0,
            corners=rectangle(0, 0, 60, 228),
            offcuts=(Outline(rectangle(60, 0, 100, 300)), Outline(rectangle(0, 228, 60, 298))),
            discarded=(Outline(rectangle(0, 298, 60, 300)),),
        )

    return cutting
