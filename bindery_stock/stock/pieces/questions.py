"""Questions put to the tables: plain values come back, in a handful of statements at most."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping

from sqlalchemy import ColumnElement, Connection, func, literal, or_, select, true, union
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
    Family,
    PhotoMark,
    PieceState,
    Reservation,
    StockPiece,
    WordsInUse,
)

Condition = ColumnElement[bool]
Place = InstrumentedAttribute[str]
_PHOTO = (PhotoRow.sha256, PhotoRow.name, PhotoRow.width, PhotoRow.height, PhotoRow.suffix)
# Made once: to make them takes longer than most questions.
_PARENT, _BEFORE = aliased(PieceRow), aliased(PieceRow)


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
    found = connection.execute(
        select(PieceRow.__table__, _PARENT.code.label("parent_code"))
        .outerjoin(_PARENT, _PARENT.id == PieceRow.parent_id)
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


def pieces_by_id(connection: Connection, ids: Collection[int]) -> list[StockPiece]:
    """The pieces with these ids, on the shelf or gone, those there are."""
    return pieces(connection, PieceRow.id.in_(ids))


def _one(found: list[StockPiece], what: str) -> StockPiece:
    if not found:
        raise NotFound(f"There is no piece {what} in this stockroom. Check the code on its label.")
    return found[0]


def with_line(condition: Condition) -> Condition:
    """The pieces for which ``condition`` holds, and all that each of them was ever cut from."""
    line = select(PieceRow.id, PieceRow.parent_id).where(condition).cte(recursive=True)
    line = line.union(
        select(_BEFORE.id, _BEFORE.parent_id).join(line, _BEFORE.id == line.columns.parent_id)
    )
    return PieceRow.id.in_(select(line.columns.id))


def line_of(found: Mapping[str, StockPiece], code: str) -> list[StockPiece]:
    """Of pieces read with their line: one piece, what it was cut from, and so on to the first."""
    line: list[StockPiece] = []
    at: str | None = code
    while at is not None and at in found:
        line.append(found[at])
        at = found[at].parent
    return line


def lines(connection: Connection, codes: Iterable[str]) -> dict[str, list[StockPiece]]:
    """Each of these pieces with what it was cut from, and so on; four statements."""
    wanted = list(codes)
    read = {one.code: one for one in pieces(connection, with_line(PieceRow.code.in_(wanted)))}
    return {code: line_of(read, code) for code in wanted if code in read}


def family(connection: Connection, code: str) -> Family:
    """What a piece was cut from and what was cut from it, or ``NotFound``. Four statements."""
    itself = PieceRow.code == code
    cut_from_it = PieceRow.parent_id.in_(select(PieceRow.id).where(itself))
    read = pieces(connection, or_(with_line(itself), cut_from_it))
    found = {one.code: one for one in read}
    line = line_of(found, _one([p for p in read if p.code == code], code).code)
    return Family(
        ancestors=tuple(line[1:]), children=tuple(one for one in read if one.parent == code)
    )


def children(connection: Connection, code: str) -> list[StockPiece]:
    """The offcuts of a piece."""
    return list(family(connection, code).children)


def ancestors(connection: Connection, code: str) -> list[StockPiece]:
    """The piece it was cut from, the piece that one was cut from, and so on."""
    return list(family(connection, code).ancestors)


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


def words_in_use(connection: Connection, *more_places: Place) -> WordsInUse:
    """The different words of each kind, sorted, without the empty one; in one statement.

    ``more_places`` are the columns of other tables that name places.
    """
    columns = {
        "places": (PieceRow.place, *more_places),
        "patterns": (PieceRow.pattern,),
        "sources": (PieceRow.source,),
    }
    found: dict[str, set[str]] = {kind: set() for kind in columns}
    asked = union(
        *(select(literal(kind), one) for kind, listed in columns.items() for one in listed)
    )
    for kind, word in connection.execute(asked):
        found[kind].add(word)
    ordered = {kind: tuple(sorted(words - {""}, key=str.casefold)) for kind, words in found.items()}
    return WordsInUse(**ordered)
