"""The lists themselves, on a real stockroom."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from bindery_stock.bench.exchange.lists import Listing, listing
from bindery_stock.records.table import Table
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    Colour,
    Cutting,
    Measure,
    NewAdhesiveLot,
    NewBookSet,
    NewPiece,
    NewRepair,
    NewWanted,
    Stockroom,
)
from bindery_stock.trade import Survey
from bindery_stock.trade.care import CareOption, CarePlan
from bindery_stock.trade.description import Description
from bindery_stock.trade.vocabulary import Kind


def rectangle(
    left: float, low: float, right: float, high: float
) -> tuple[tuple[float, float], ...]:
    return ((left, low), (right, low), (right, high), (left, high))


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as made:
        yield made


def column(table: Table, head: str) -> list[object]:
    heads = [one.head for one in table.columns]
    return [row[heads.index(head)] for row in table.rows]


def scrap(price: Decimal | None = None, pattern: str = "rib") -> NewPiece:
    return NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(rectangle(0, 0, 100, 200)),
        pattern=pattern,
        colours=(Colour(lab=(38.2, 44.9, 21.7), u=2.5),),
        price=price,
    )


def test_the_stock_list_says_size_colour_and_area_in_their_units(stock: Stockroom) -> None:
    stock.pieces.shelve(scrap())
    table = listing(Listing.STOCK, stock)
    assert column(table, "Code") == ["C-0001"]
    assert column(table, "Width across warp") == [100.0]
    assert column(table, "Area") == [200.0]
    assert column(table, "Usable across") == [100.0]
    assert column(table, "Usable along") == [200.0]
    assert column(table, "Largest square") == [100.0]
    assert column(table, "L*") == [38.2]
    assert "D50" in table.told


def test_an_offcut_carries_its_share_of_the_price(stock: Stockroom) -> None:
    stock.pieces.shelve(scrap(Decimal("8.00")))
    stock.pieces.shelve(scrap())
    stock.pieces.cut(
        Cutting(
            code="C-0001", purpose="spine strip", width=50, height=200,
            corners=rectangle(0, 0, 50, 200),
            offcuts=(Outline(rectangle(50, 0, 75, 200)),),
            discarded=(Outline(rectangle(75, 0, 100, 200)),),
        )
    )  # fmt: skip
    table = listing(Listing.COST, stock)
    # A quarter of the area is left: 8.00 × 0.25 = 2.00.
    assert column(table, "Worth of that") == [Decimal("2.00")]
    assert column(table, "Cut up, used or thrown away") == [Decimal("6.00")]
    assert "paid 8.00 in all, 2.00 of it still on the shelf" in table.told
    assert "not counted: 1 piece on the shelf" in table.told


def test_what_remains_is_added_up_by_kind_pattern_and_colour(stock: Stockroom) -> None:
    for pattern in ("rib", "rib", "sand"):
        stock.pieces.shelve(scrap(pattern=pattern))
    stock.pieces.reserve("C-0001", "vol. 4", width=20, height=50)
    table = listing(Listing.REMAINING, stock)
    assert column(table, "Grain pattern") == ["rib", "sand"]
    assert column(table, "Area") == [400.0, 200.0]
    assert column(table, "Of that reserved pieces") == [200.0, 0]


def test_adhesives_are_listed_by_what_ends_first(stock: Stockroom) -> None:
    stock.lots.enter(NewAdhesiveLot(kind="methyl-cellulose", name="Late", expires=date(2026, 5, 1)))
    stock.lots.enter(
        NewAdhesiveLot(
            kind="methyl-cellulose", name="Soon", expires=date(2026, 3, 4), unit=Measure.GRAM,
            held=200.0,
        )
    )  # fmt: skip
    table = listing(Listing.EXPIRING, stock)
    assert column(table, "Adhesive") == ["Soon", "Late"]
    assert column(table, "Days left")[0] == 2
    assert column(table, "Left")[0] == 200.0


def test_the_wanted_list_leaves_out_what_was_found(stock: Stockroom) -> None:
    stock.wants.add(NewWanted(what="red rib", width=60, height=240))
    stock.wants.add(NewWanted(what="mull"))
    stock.wants.close("W-0002", "found at a sale")
    assert column(listing(Listing.WANTED, stock), "Wanted") == ["red rib"]


def test_every_list_can_be_made_of_an_empty_stockroom(stock: Stockroom) -> None:
    for which in Listing:
        assert listing(which, stock).rows == ()


def test_the_list_of_volumes_has_the_copy_its_binding_and_what_was_agreed(
    stock: Stockroom,
) -> None:
    code = stock.books.add_set(NewBookSet(title="Hollin Vale")).born[0]
    stock.books.add_repair(
        NewRepair(
            name="Hollin Vale vol. 1",
            survey=Survey(spine_width=30, board_height=200),
            book_set=code,
            volume=1,
            pattern="rib",
            description=Description(
                imprint="Wexcombe: Tarn & Daughter", shelfmark="B 12", sewing="on tapes"
            ),
            care=CarePlan(
                examiner="I. Fell",
                examined_on=date(2026, 3, 1),
                options=(CareOption(what="Box it"), CareOption(what="Reback")),
                recommended=1,
            ),
        )
    )
    table = listing(Listing.VOLUMES, stock)
    for head, cell in (
        ("Set", "Hollin Vale"),
        ("Shelfmark", "B 12"),
        ("Imprint", "Wexcombe: Tarn & Daughter"),
        ("Sewing", "on tapes"),
        ("Grain pattern", "rib"),
        ("Examined", date(2026, 3, 1)),
        ("Recommended", "Reback"),
    ):
        assert column(table, head) == [cell], head
