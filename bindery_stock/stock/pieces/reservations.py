"""Keeping a part of a piece for a purpose, and giving it up."""

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
from bindery_stock.stock.pieces.tables import ReservationRow

_SLACK_MM = 1e-6
_SLACK_MM2 = 0.01


def reserve(
    draft: Draft, code: str, purpose: str, size: tuple[float, float], corners: Ring
) -> ReservationRow:
    """Keep a part of a piece. ``size`` is width and height in mm. Returns the row, with its id."""
    connection = draft.session.connection()
    piece = on_shelf(piece_questions.piece(connection, code))
    purpose = checks.words(purpose, "Purpose")
    held = piece_questions.reservations(connection, code)
    if any(other.purpose == purpose for other in held):
        raise StockError(f"{code} is reserved for {purpose} already.")
    if corners:
        part = Polygon(checks.points(corners, "Part"))
        if not piece.outline.polygon.buffer(_SLACK_MM, join_style="mitre").covers(part):
            raise StockError(f"The part does not lie within {code}. Place it again.")
        for other in held:
            if other.corners and Polygon(other.corners).intersection(part).area > _SLACK_MM2:
                raise StockError(
                    f"The part overlaps what is reserved for {other.purpose} in {code}. Place it "
                    "elsewhere, or release that first."
                )
    row = ReservationRow(
        piece_id=row_of(draft, code).id,
        purpose=purpose,
        width=checks.size(size[0], "Width"),
        height=checks.size(size[1], "Height"),
        corners=piece_rows.ring_text(corners, "Part"),
        at=draft.at.isoformat(),
    )
    draft.session.add(row)
    draft.session.flush()
    draft.touches(code)
    return row


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
            part.reservation_id = part.delta_e = None
        draft.session.delete(row)
    draft.touches(code)
