"""Colours that an earlier version read get the band that their way of reading deserves, once."""

from sqlalchemy import Connection, exists, or_, select
from sqlalchemy.orm import Session

from bindery_stock.colour import ReadBy
from bindery_stock.stock.books.tables import PartRow, TargetRow
from bindery_stock.stock.pieces.old_methods import deserved, read_by_of
from bindery_stock.stock.pieces.tables import ColourRow

_COLOURED = PartRow.lightness.is_not(None)


def are_there(connection: Connection) -> bool:
    """Whether any colour is kept without what vouches for it."""
    question = or_(
        exists().where(ColourRow.read_by == ""),
        exists().where(TargetRow.read_by == ""),
        exists().where(PartRow.read_by == "", _COLOURED),
    )
    return bool(connection.scalar(select(question)))


def bring_up(session: Session) -> str:
    """Say of each what vouches for it, and give it its band; returns the name of the step.

    A part has its colour from a place of its volume, and what vouches for it from there.
    """
    count = 0
    readings = select(ColourRow).where(ColourRow.read_by == "").order_by(ColourRow.id)
    for row in session.scalars(readings):
        _settle(row, read_by_of(row.method))
        count += 1
    places: dict[tuple[int, float, float, float], ReadBy] = {}
    for place in session.scalars(select(TargetRow).order_by(TargetRow.id)):
        way = ReadBy(place.read_by) if place.read_by else read_by_of(place.method)
        places[place.repair_id, place.lightness, place.a, place.b] = way
        if not place.read_by:
            _settle(place, way)
            count += 1
    parts = select(PartRow).where(PartRow.read_by == "", _COLOURED).order_by(PartRow.id)
    for part in session.scalars(parts):
        if part.lightness is None or part.a is None or part.b is None:
            continue
        key = (part.repair_id, part.lightness, part.a, part.b)
        _settle(part, places.get(key, ReadBy.STATED))
        count += 1
    what = "1 colour" if count == 1 else f"{count} colours"
    return f"Bands of {what} brought to what their way of reading deserves"


def _settle(row: ColourRow | TargetRow | PartRow, way: ReadBy) -> None:
    row.read_by, row.u = way.value, deserved(way, row.u)
