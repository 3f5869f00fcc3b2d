"""A stockroom in which a little of everything has happened."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.stock import Cutting, NewPiece, NewWanted, Stockroom
from bindery_stock.trade import Evidence, LabResult, Property
from bindery_stock.trade.care import CareOption, CarePlan
from bindery_stock.trade.description import Description
from bindery_stock.trade.vocabulary import Kind
from tests.bench.test_recording import repaired


class BenchClock:
    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def rectangle(
    left: float, low: float, right: float, high: float
) -> tuple[tuple[float, float], ...]:
    return ((left, low), (right, low), (right, high), (left, high))


@contextmanager
def busy_stockroom(folder: Path, scratch: Path) -> Iterator[Stockroom]:
    """Pieces, a cut, an undo, a lot, a use, a volume, a want, settings, rules of one's own."""
    scratch.mkdir(exist_ok=True)
    with Stockroom.create(folder, clock=BenchClock()) as stock:
        code = repaired(stock, scratch)
        stock.books.correct_repair(
            code,
            description=Description(imprint="Wexcombe: Tarn & Daughter", shelfmark="B 12"),
            care=CarePlan(
                examiner="I. Fell",
                examined_on=date(2026, 3, 1),
                options=(CareOption(what="Leave it, boxed"), CareOption(what="Reback", hours=4)),
                recommended=1,
            ),
        )
        stock.pieces.shelve(
            NewPiece(
                kind=Kind.LEATHER,
                outline=Outline(rectangle(0, 0, 90.25, 120.1), (rectangle(5, 5, 9, 9),)),
                flaws=(Flaw(FlawKind.STAIN, rectangle(20, 20, 40, 40)),),
                note="„тёмно-красный“ 'with' \"quotes\" and\nlines [1]",
                price=Decimal("4.50"),
                properties=(
                    Property(name="ph", value=7.8, evidence=Evidence.BENCH, on=date(2026, 1, 3)),
                ),
                lab_results=(
                    LabResult(
                        substance="arsenic", found=False, on=date(2025, 5, 3),
                        laboratory="county laboratory", method="XRF",
                    ),
                ),
            )
        )  # fmt: skip
        stock.pieces.cut(
            Cutting(
                code="C-0001", purpose="spine strip", width=50, height=300,
                corners=rectangle(0, 0, 50, 300),
                offcuts=(Outline(rectangle(50, 0, 100, 300)),),
            )
        )  # fmt: skip
        stock.pieces.reserve("C-0002", "joint strip, vol. 2", width=20, height=100)
        stock.wants.add(NewWanted(what="red rib", width=60, height=240, lab=(38.0, 44.0, 21.0)))
        stock.pieces.shelve(NewPiece(kind=Kind.MULL, outline=Outline(rectangle(0, 0, 300, 400))))
        stock.ledger.undo()
        stock.keeping.set_setting("bench/name", "[not JSON")
        yield stock
