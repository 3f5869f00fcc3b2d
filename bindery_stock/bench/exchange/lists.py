"""The lists that leave the program: stock, wanted, expiring, remaining, cost; with volumes."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from bindery_stock.bench.adhesives.shelf_rows import lot_rows
from bindery_stock.bench.exchange.volume_list import volume_list
from bindery_stock.bench.shelf.cautions import cautions
from bindery_stock.bench.shelf.piece_words import flaws_words
from bindery_stock.bench.shelf.search import family_of
from bindery_stock.bench.shelf.usable_rectangles import SQUARE, UsableRectangles
from bindery_stock.clock import local_date
from bindery_stock.records.counted import counted
from bindery_stock.records.table import Cell, Column, Sort, Table, table_of
from bindery_stock.stock import AdhesiveLot, Colour, PieceState, StockPiece, Stockroom, Wanted
from bindery_stock.trade import Level, Rules
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

_MM2_PER_CM2 = 100.0
_CENT = Decimal("0.01")
_LAB = tuple(Column(name, Sort.NUMBER, "", 2) for name in ("L*", "a*", "b*"))
COLOUR_NOTE = "Colours are CIELAB, illuminant D50, 2° observer; lengths are millimetres."


class Listing(StrEnum):
    """The lists there are, by the name a script calls them."""

    STOCK = "stock"
    WANTED = "wanted"
    EXPIRING = "expiring"
    REMAINING = "remaining"
    COST = "cost"
    VOLUMES = "volumes"


def listing(which: Listing, stockroom: Stockroom, usable: UsableRectangles | None = None) -> Table:
    """A list of what the stockroom holds now.

    ``usable`` knows the rectangles measured so far, and no other is told; without it all are
    measured now.
    """
    today = stockroom.today
    makers: dict[Listing, Callable[[], Table]] = {
        Listing.STOCK: lambda: stock_list(
            stockroom.pieces.listed(), today, stockroom.rules, usable
        ),
        Listing.WANTED: lambda: wanted_list(stockroom.wants.listed(), today),
        Listing.EXPIRING: lambda: expiring_list(stockroom.lots.listed(), today, stockroom.rules),
        Listing.REMAINING: lambda: remaining_list(stockroom.pieces.listed(), today),
        Listing.COST: lambda: cost_list(stockroom.pieces.listed(gone=True), today),
        Listing.VOLUMES: lambda: volume_list(
            stockroom.books.repairs(),
            {one.code: one.title for one in stockroom.books.book_sets()},
            today,
        ),
    }
    return makers[which]()


_STOCK_COLUMNS = (
    Column("Code"),
    Column("Kind"),
    Column("Form", on_paper=False),
    Column("Grain pattern"),
    Column("Colour family"),
    *_LAB,
    Column("Colour ±", Sort.NUMBER, "ΔE00, 95 %", 1, on_paper=False),
    Column("Colour read", on_paper=False),
    Column("Width across warp", Sort.NUMBER, "mm", 1),
    Column("Height along warp", Sort.NUMBER, "mm", 1),
    Column("Usable across", Sort.NUMBER, "mm"),
    Column("Usable along", Sort.NUMBER, "mm"),
    Column("Largest square", Sort.NUMBER, "mm", on_paper=False),
    Column("Area", Sort.NUMBER, "cm²", 1, on_paper=False),
    Column("Backing", on_paper=False),
    Column("Fibre", on_paper=False),
    Column("Flaws", on_paper=False),
    Column("Cautions"),
    Column("Place"),
    Column("Reserved for"),
    Column("Source", on_paper=False),
    Column("Source date", on_paper=False),
    Column("Price", Sort.MONEY, on_paper=False),
    Column("Shelved", Sort.DATE, on_paper=False),
    Column("Note", on_paper=False),
)


def stock_list(
    pieces: Iterable[StockPiece],
    today: date,
    rules: Rules,
    usable: UsableRectangles | None = None,
) -> Table:
    """Every piece on the shelf, with what can be had from it in one piece.

    Of that only what is known in ``usable`` is told, where it is given; else each piece is measured
    now, which takes some hundredths of a second.
    """
    everything, known = list(pieces), usable or UsableRectangles()
    if usable is None:
        for piece in everything:
            known.measure_both(piece)
    rows = [_stock_row(piece, rules, known) for piece in everything]
    told = f"{counted(len(rows), 'piece')} on the shelf on {written(today)}. {COLOUR_NOTE}"
    return table_of("Stock", told, _STOCK_COLUMNS, rows)


def _stock_row(piece: StockPiece, rules: Rules, known: UsableRectangles) -> Sequence[Cell]:
    colour, outline = piece.colour, piece.outline
    measured = colour is not None and colour.read_by.is_measured
    lab: tuple[Cell, ...] = colour.lab if colour and measured else (None, None, None)
    grave = [one.name for one in cautions(piece, rules) if one.level is not Level.INFO]
    return (
        piece.code,
        piece.kind.value,
        piece.form.value,
        piece.pattern,
        family_of(piece),
        *lab,
        colour.u if colour else None,
        _how_read(colour) if colour else "",
        outline.width,
        outline.height,
        *_usable(piece, known),
        outline.area / _MM2_PER_CM2,
        piece.backing.value,
        piece.fibre.value,
        flaws_words(piece),
        "; ".join(grave),
        piece.place,
        piece.reserved_for,
        piece.source,
        piece.source_date,
        piece.price,
        local_date(piece.shelved_at),
        piece.note,
    )


def _usable(piece: StockPiece, known: UsableRectangles) -> tuple[Cell, Cell, Cell]:
    """Whole millimetres, never more than there is; nothing is a rectangle of no size."""
    if not (known.is_known(piece) and known.is_known(piece, SQUARE)):
        return None, None, None
    whole, square = known.known(piece), known.known(piece, SQUARE)
    told = LengthStyle()
    across, along = (whole.width, whole.height) if whole else (0.0, 0.0)
    side = square.width if square else 0.0
    return told.at_most(across), told.at_most(along), told.at_most(side)


def _how_read(colour: Colour) -> str:
    seen = "" if colour.read_by.is_measured else f", {colour.read_by}"
    return f"{colour.face.value}, {colour.method}{seen}"


_WANTED_COLUMNS = (
    Column("Code"),
    Column("Wanted"),
    Column("For"),
    Column("Least width", Sort.NUMBER, "mm", 1),
    Column("Least height", Sort.NUMBER, "mm", 1),
    *_LAB,
    Column("Since", Sort.DATE),
    Column("Note"),
)


def wanted_list(wanted: Iterable[Wanted], today: date) -> Table:
    """What to buy, or to look for at sales."""
    rows = [
        (
            want.code,
            want.what,
            want.purpose,
            want.width,
            want.height,
            *(want.lab or (None, None, None)),
            local_date(want.since),
            want.note,
        )
        for want in wanted
    ]
    told = f"{counted(len(rows), 'line')} on {written(today)}. {COLOUR_NOTE}"
    return table_of("Wanted", told, _WANTED_COLUMNS, rows)


_EXPIRING_COLUMNS = (
    Column("Code"),
    Column("Adhesive"),
    Column("Class"),
    Column("Last good day", Sort.DATE),
    Column("Days left", Sort.NUMBER),
    Column("What ends it"),
    Column("Left", Sort.NUMBER, "", 2),
    Column("Counted in"),
    Column("Place"),
    Column("Storage"),
    Column("Stopped"),
)


def expiring_list(lots: Iterable[AdhesiveLot], today: date, rules: Rules) -> Table:
    """Every lot of adhesive, what is over first, then what ends soonest."""
    rows = [
        (
            row.lot.code,
            row.lot.name,
            row.class_name,
            row.life.ends,
            row.life.days_left,
            row.life.words if row.life.ends is None else row.life.ending.value,
            row.lot.left,
            row.lot.unit.value if row.lot.unit else "",
            row.lot.place,
            row.lot.storage,
            "yes" if row.barred_everywhere else "no",
        )
        for row in lot_rows(lots, today, rules)
    ]
    told = f"{counted(len(rows), 'lot')} on {written(today)}. Each is good on its last good day."
    return table_of("Adhesives by what ends first", told, _EXPIRING_COLUMNS, rows)


_REMAINING_COLUMNS = (
    Column("Kind"),
    Column("Grain pattern"),
    Column("Colour family"),
    Column("Pieces", Sort.NUMBER),
    Column("Area", Sort.NUMBER, "cm²", 1),
    Column("Of that reserved pieces", Sort.NUMBER, "cm²", 1),
    Column("Longest along warp", Sort.NUMBER, "mm", 1),
)


def remaining_list(pieces: Iterable[StockPiece], today: date) -> Table:
    """How much cloth, leather, paper … there is, by kind, pattern and colour family."""
    groups: defaultdict[tuple[str, str, str], list[StockPiece]] = defaultdict(list)
    for piece in pieces:
        groups[piece.kind.value, piece.pattern, family_of(piece)].append(piece)
    rows = [
        (
            *group,
            len(found),
            sum(piece.outline.area for piece in found) / _MM2_PER_CM2,
            sum(piece.outline.area for piece in found if piece.reserved_for) / _MM2_PER_CM2,
            max(piece.outline.height for piece in found),
        )
        for group, found in sorted(groups.items())
    ]
    told = f"On the shelf on {written(today)}. Areas without holes; flaws are counted in."
    return table_of("What remains", told, _REMAINING_COLUMNS, rows)


_COST_COLUMNS = (
    Column("Code"),
    Column("Kind"),
    Column("Source"),
    Column("Price", Sort.MONEY),
    Column("Area bought", Sort.NUMBER, "cm²", 1),
    Column("Still on the shelf", Sort.NUMBER, "cm²", 1),
    Column("Worth of that", Sort.MONEY),
    Column("Cut up, used or thrown away", Sort.MONEY),
)


@dataclass(slots=True)
class _Bought:
    """A piece with a price, and how much of it still lies on the shelf, mm²."""

    piece: StockPiece
    left: float = 0.0


def cost_list(pieces: Iterable[StockPiece], today: date) -> Table:
    """What was paid, and what of it still lies on the shelf, shared out by area.

    An offcut carries the price of the piece it was cut from; one with a price of its own is counted
    by itself. Pieces without a price are left out, and their number is told.
    """
    everything = {piece.code: piece for piece in pieces}
    bought = {p.code: _Bought(p) for p in everything.values() if p.price is not None}
    unpriced = 0
    for piece in everything.values():
        if piece.state is not PieceState.ON_SHELF:
            continue
        root = _priced(piece, everything)
        if root is None:
            unpriced += 1
        else:
            bought[root.code].left += piece.outline.area
    rows = [_cost_row(one) for one in bought.values()]
    paid = sum((_price(one.piece) for one in bought.values()), Decimal(0))
    left = sum((_worth(one) for one in bought.values()), Decimal(0))
    told = (
        f"On {written(today)}, shared out by area: paid {paid:.2f} in all, {left:.2f} of it still "
        f"on the shelf. Without a price, and not counted: {counted(unpriced, 'piece')} on the "
        "shelf."
    )
    return table_of("Cost", told, _COST_COLUMNS, rows)


def _priced(piece: StockPiece, everything: dict[str, StockPiece]) -> StockPiece | None:
    """The piece itself or the nearest it was cut from that has a price."""
    at: StockPiece | None = piece
    while at is not None and at.price is None:
        at = everything.get(at.parent) if at.parent else None
    return at


def _price(piece: StockPiece) -> Decimal:
    return piece.price if piece.price is not None else Decimal(0)


def _worth(one: _Bought) -> Decimal:
    """What was paid for what still lies on the shelf."""
    share = Decimal(min(1.0, one.left / one.piece.outline.area))
    return (_price(one.piece) * share).quantize(_CENT, ROUND_HALF_UP)


def _cost_row(one: _Bought) -> Sequence[Cell]:
    piece = one.piece
    worth = _worth(one)
    return (
        piece.code,
        piece.kind.value,
        piece.source,
        _price(piece),
        piece.outline.area / _MM2_PER_CM2,
        one.left / _MM2_PER_CM2,
        worth,
        _price(piece) - worth,
    )
