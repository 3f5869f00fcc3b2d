"""Questions put to the tables: plain values come back, in a handful of statements at most."""

from collections import defaultdict

from sqlalchemy import ColumnElement, Connection, func, select, true
from sqlalchemy.orm import InstrumentedAttribute, aliased

from bindery_stock.errors import NotFound
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.pieces.tables import (
    ColourRow,
    CuttingRow,
    MarkRow,
    PieceRow,
    ReservationRow,
)
from bindery_stock.stock.pieces.values import (
    Colour,
    Cutting,
    PhotoMark,
    PieceState,
    Reservation,
    StockPiece,
)

Condition = ColumnElement[bool]
_PHOTO = (PhotoRow.sha256, PhotoRow.name, PhotoRow.width, PhotoRow.height, PhotoRow.suffix)


def pieces(connection: Connection, condition: Condition) -> list[StockPiece]:
    """The pieces for which ``condition`` on ``PieceRow`` holds, in the order of shelving.

    Four statements however many there are.
    """
    colours: defaultdict[int, list[Colour]] = defaultdict(list)
    marks: defaultdict[int, list[PhotoMark]] = defaultdict(list)
    reserved: defaultdict[int, list[str]] = defaultdict(list)
    for row in connection.execute(
        select(ColourRow.__table__, PieceRow.code.label("owner_code"))
        .join(PieceRow, PieceRow.id == ColourRow.piece_id)
        .where(condition)
        .order_by(ColourRow.piece_id, ColourRow.position)
    ):
        colours[row.piece_id].append(piece_rows.colour_of(row))
    for row in connection.execute(
        select(MarkRow.__table__, *_PHOTO, PieceRow.code.label("owner_code"))
        .join(PieceRow, PieceRow.id == MarkRow.piece_id)
        .join(PhotoRow, PhotoRow.sha256 == MarkRow.photo)
        .where(condition)
        .order_by(MarkRow.piece_id, MarkRow.position)
    ):
        marks[row.piece_id].append(piece_rows.mark_of(row))
    for row in connection.execute(
        select(ReservationRow.piece_id, ReservationRow.purpose)
        .join(PieceRow, PieceRow.id == ReservationRow.piece_id)
        .where(condition)
        .order_by(ReservationRow.id)
    ):
        reserved[row.piece_id].append(row.purpose)
    parent = aliased(PieceRow)
    found = connection.execute(
        select(PieceRow.__table__, parent.code.label("parent_code"))
        .outerjoin(parent, parent.id == PieceRow.parent_id)
        .where(condition)
        .order_by(PieceRow.id)
    )
    return [
        piece_rows.piece_of(
            row,
            colours=colours.get(row.id, ()),
            marks=marks.get(row.id, ()),
            parent=row.parent_code,
            reserved_for="; ".join(reserved.get(row.id, ())),
        )
        for row in found
    ]


def on_shelf() -> Condition:
    """Pieces that lie on the shelf."""
    return PieceRow.state == PieceState.ON_SHELF.value


def everything() -> Condition:
    """All pieces there ever were and that have not been undone."""
    return true()


def how_many(connection: Connection, condition: Condition) -> int:
    """How many pieces there are of these, without reading them."""
    return connection.scalar(select(func.count()).select_from(PieceRow).where(condition)) or 0


def piece(connection: Connection, code: str) -> StockPiece:
    """The piece with this code, or ``NotFound``."""
    return _one(pieces(connection, PieceRow.code == code), code)


def piece_by_id(connection: Connection, piece_id: int) -> StockPiece:
    """The piece with this id, or ``NotFound``."""
    return _one(pieces(connection, PieceRow.id == piece_id), f"with the number {piece_id}")


def _one(found: list[StockPiece], what: str) -> StockPiece:
    if not found:
        raise NotFound(f"There is no piece {what} in this stockroom. Check the code on its label.")
    return found[0]


def children(connection: Connection, code: str) -> list[StockPiece]:
    """The offcuts of a piece."""
    return pieces(connection, PieceRow.parent_id == piece(connection, code).id)


def ancestors(connection: Connection, code: str) -> list[StockPiece]:
    """The piece it was cut from, the piece that one was cut from, and so on."""
    line: list[StockPiece] = []
    parent = piece(connection, code).parent
    while parent is not None:
        line.append(piece(connection, parent))
        parent = line[-1].parent
    return line


def cutting(connection: Connection, code: str) -> Cutting | None:
    """What was cut from a piece, with its offcuts; None where it has not been cut."""
    cut_up = piece(connection, code)
    row = connection.execute(
        select(CuttingRow.__table__, PieceRow.code)
        .join(PieceRow, PieceRow.id == CuttingRow.piece_id)
        .where(CuttingRow.piece_id == cut_up.id)
    ).first()
    if row is None:
        return None
    return piece_rows.cutting_of(
        row, offcuts=(child.outline for child in children(connection, code))
    )


def all_photos(connection: Connection) -> list[Photo]:
    """Every photograph in the archive."""
    return [photo_rows.photo_of(row) for row in connection.execute(select(PhotoRow.__table__))]


def pieces_shown(connection: Connection, sha256: str) -> list[str]:
    """Codes of the pieces that the photograph with this hash shows, in the order of shelving."""
    asked = (
        select(PieceRow.code)
        .join(MarkRow, MarkRow.piece_id == PieceRow.id)
        .where(MarkRow.photo == sha256)
        .distinct()
        .order_by(PieceRow.id)
    )
    return list(connection.scalars(asked))


def reservations(connection: Connection, code: str | None = None) -> list[Reservation]:
    """What is spoken for, of one piece or of all."""
    asked = (
        select(ReservationRow.__table__, PieceRow.code)
        .join(PieceRow, PieceRow.id == ReservationRow.piece_id)
        .order_by(ReservationRow.id)
    )
    if code is not None:
        asked = asked.where(PieceRow.code == code)
    return [piece_rows.reservation_of(row) for row in connection.execute(asked)]


def distinct(connection: Connection, *columns: InstrumentedAttribute[str]) -> list[str]:
    """The different words in these columns, sorted, without the empty one."""
    found: set[str] = set()
    for column in columns:
        found.update(connection.scalars(select(column).distinct()))
    return sorted(found - {""}, key=str.casefold)
