"""Keeping a part of a piece for a purpose, and giving it up."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon
from sqlalchemy import select

from bindery_stock.errors import NotFound, StockError
from bindery_stock.shape import Ring
from bindery_stock.stock import checks
from bindery_stock.stock.books.tables import PartRow
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.pieces.changes import on_shelf, row_of
from bindery_stock.stock.pieces.tables import PieceRow, ReservationRow
from bindery_stock.stock.pieces.values import StockPiece

_SLACK_MM = 1e-6
_SLACK_MM2 = 0.01


@dataclass(frozen=True, slots=True)
class NewReservation:
    """A part of a piece to be kept: its code, for what, width and height in mm, how it lies."""

    code: str
    purpose: str
    size: tuple[float, float]
    corners: Ring


def reserve(
    draft: Draft, code: str, purpose: str, size: tuple[float, float], corners: Ring
) -> ReservationRow:
    """Keep a part of a piece. ``size`` is width and height in mm. Returns the row, with its id."""
    (row,) = reserve_all(draft, [NewReservation(code, purpose, size, corners)])
    return row


def reserve_all(draft: Draft, wanted: Sequence[NewReservation]) -> list[ReservationRow]:
    """Keep parts of pieces, none of which may overlap; the rows in the order given.

    Asks a fixed number of questions, however many there are. Raises ``StockError`` where one does
    not lie in free cloth, ``NotFound``.
    """
    connection = draft.session.connection()
    codes = list(dict.fromkeys(new.code for new in wanted))
    found = piece_questions.pieces(connection, PieceRow.code.in_(codes))
    pieces = {piece.code: piece for piece in found}
    held: defaultdict[str, list[tuple[str, Ring]]] = defaultdict(list)
    one = codes[0] if len(codes) == 1 else None
    for other in piece_questions.reservations(connection, one):
        held[other.code].append((other.purpose, other.corners))
    rows = []
    for new in wanted:
        if new.code not in pieces:
            piece_questions.piece(connection, new.code)
        piece = on_shelf(pieces[new.code])
        purpose = checks.words(new.purpose, "Purpose")
        _is_free(new, piece, purpose, held[new.code])
        held[new.code].append((purpose, new.corners))
        rows.append(
            ReservationRow(
                piece_id=piece.id,
                purpose=purpose,
                width=checks.size(new.size[0], "Width"),
                height=checks.size(new.size[1], "Height"),
                corners=piece_rows.ring_text(new.corners, "Part"),
                at=draft.at.isoformat(),
            )
        )
    draft.session.add_all(rows)
    draft.session.flush()
    draft.touches(*codes)
    return rows


def _is_free(
    new: NewReservation, piece: StockPiece, purpose: str, held: Iterable[tuple[str, Ring]]
) -> None:
    """Raise ``StockError`` where the part does not lie in free cloth."""
    code = piece.code
    if any(other == purpose for other, _corners in held):
        raise StockError(f"{code} is reserved for {purpose} already.")
    if not new.corners:
        return
    part = Polygon(checks.points(new.corners, "Part"))
    if not piece.outline.polygon.buffer(_SLACK_MM, join_style="mitre").covers(part):
        raise StockError(f"The part does not lie within {code}. Place it again.")
    for other, corners in held:
        if corners and Polygon(corners).intersection(part).area > _SLACK_MM2:
            raise StockError(
                f"The part overlaps what is reserved for {other} in {code}. Place it "
                "elsewhere, or release that first."
            )


def release(draft: Draft, code: str, purpose: str | None) -> None:
    """Give up one reservation of a piece, or all."""
    held = draft.session.scalars(
        select(ReservationRow).where(ReservationRow.piece_id == row_of(draft, code).id)
    )
    given_up = [row for row in held if purpose is None or row.purpose == purpose]
    if not given_up:
        what = f" for {purpose}" if purpose else ""
        raise NotFound(f"{code} is not reserved{what}, so there is nothing to release.")
    for row in given_up:
        for part in draft.session.scalars(select(PartRow).where(PartRow.reservation_id == row.id)):
            part.reservation_id = part.delta_e = part.delta_u = None
            part.shade_of = ""
        draft.session.delete(row)
    draft.touches(code)
