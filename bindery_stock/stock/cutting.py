"""Cutting a part from a piece: the piece is cut up, its offcuts go on the shelf."""

from collections.abc import Iterable, Iterator

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry
from sqlalchemy import select

from bindery_stock.errors import ShapeError, StockError
from bindery_stock.shape import Flaw, Outline
from bindery_stock.stock import asking, entry, rows
from bindery_stock.stock.book_tables import PartRow
from bindery_stock.stock.book_values import PartState
from bindery_stock.stock.ledger import Draft
from bindery_stock.stock.shelving import on_shelf, place_on_shelf, row_of
from bindery_stock.stock.tables import CuttingRow, PieceRow, ReservationRow
from bindery_stock.stock.values import Cutting, NewPiece, Piece, PieceState
from bindery_stock.trade.vocabulary import Form

_SLACK_MM = 1e-6
"""Rounding of the geometry, far below what a knife can do."""
_SLACK_MM2 = 0.01
_SMALLEST_FLAW_MM2 = 0.01


def cut(draft: Draft, cutting: Cutting, *, fulfils: int | None = None) -> None:
    """Record a cut, which fulfils the reservation of that id besides that of the same purpose.

    Raises ``ShapeError`` where part, offcuts and piece do not agree.
    """
    piece = on_shelf(asking.piece(draft.session.connection(), cutting.code))
    part = _part(cutting)
    _agree(piece, part, cutting)
    row = row_of(draft, piece.code)
    row.state = PieceState.CUT_UP.value
    row.fate = entry.words(cutting.purpose, "Purpose")
    draft.touches(piece.code)
    draft.session.add(
        CuttingRow(
            piece_id=row.id,
            purpose=row.fate,
            width=entry.size(cutting.width, "Width"),
            height=entry.size(cutting.height, "Height"),
            corners=rows.ring_text(cutting.corners, "Part"),
            discarded=rows.outlines_text(cutting.discarded),
        )
    )
    born = [
        place_on_shelf(draft, offcut_of(piece, outline, largest=number == 0))
        for number, outline in enumerate(cutting.offcuts)
    ]
    _pass_on_reservations(draft, row, list(zip(born, cutting.offcuts, strict=True)), fulfils)


def _part(cutting: Cutting) -> Polygon:
    part = Polygon(entry.points(cutting.corners, "Part"))
    if not part.is_valid or part.area <= 0.0:
        raise ShapeError("The part to be cut is not a simple shape. Place it again.")
    return part


def _agree(piece: Piece, part: Polygon, cutting: Cutting) -> None:
    """Part, offcuts and slivers lie in the piece and nowhere on one another."""
    whole = piece.outline.polygon.buffer(_SLACK_MM, join_style="mitre")
    shapes = [part, *(left.polygon for left in (*cutting.offcuts, *cutting.discarded))]
    if not all(whole.covers(shape) for shape in shapes):
        raise ShapeError(
            f"The part and what is left do not lie within {piece.code}. Place the part again."
        )
    if sum(shape.area for shape in shapes) - unary_union(shapes).area > _SLACK_MM2:
        raise ShapeError(
            f"What is left of {piece.code} overlaps itself or the part. Place the part again."
        )


def offcut_of(piece: Piece, outline: Outline, *, largest: bool) -> NewPiece:
    """What an offcut takes from its piece: all but the price, the note and the flaws outside it.

    The rest of a roll or sheet stays one as long as it is a plain rectangle.
    """
    stays = largest and not outline.holes and _is_rectangle(outline.polygon)
    return NewPiece(
        kind=piece.kind,
        outline=outline,
        form=piece.form if stays else Form.SCRAP,
        pattern=piece.pattern,
        backing=piece.backing,
        fibre=piece.fibre,
        flaws=tuple(clipped(piece.flaws, outline)),
        colours=piece.colours,
        marks=piece.marks,
        source=piece.source,
        source_date=piece.source_date,
        place=piece.place,
        parent=piece.code,
        colour_family=piece.colour_family,
        properties=piece.properties,
        lab_results=piece.lab_results,
    )


def _is_rectangle(polygon: Polygon) -> bool:
    return abs(polygon.envelope.area - polygon.area) <= _SLACK_MM2


def clipped(flaws: Iterable[Flaw], outline: Outline) -> Iterator[Flaw]:
    """The parts of the flaws that lie within an outline."""
    for flaw in flaws:
        shared = flaw.polygon.intersection(outline.polygon)
        for polygon in _polygons(shared):
            if polygon.area >= _SMALLEST_FLAW_MM2:
                yield Flaw(flaw.kind, tuple((x, y) for x, y in polygon.exterior.coords[:-1]))


def _polygons(shape: BaseGeometry) -> Iterator[Polygon]:
    if isinstance(shape, Polygon):
        yield shape
    for inner in getattr(shape, "geoms", ()):
        yield from _polygons(inner)


def _pass_on_reservations(
    draft: Draft, row: PieceRow, born: list[tuple[PieceRow, Outline]], fulfils: int | None
) -> None:
    """The reservation that the cut fulfils ends; any other goes to the offcut it lies in."""
    held = draft.session.scalars(
        select(ReservationRow).where(ReservationRow.piece_id == row.id).order_by(ReservationRow.id)
    )
    for reservation in held.all():
        if reservation.id == fulfils or reservation.purpose == row.fate:
            _cut_out(draft, reservation, row)
            continue
        corners = rows.ring_of(reservation.corners)
        heir = next((offcut for offcut, shape in born if corners and _holds(shape, corners)), None)
        if heir is None:
            raise StockError(
                f"{row.code} is also reserved for {reservation.purpose}, which this cut would "
                "spoil. Release that first, or place the part elsewhere."
            )
        reservation.piece_id = heir.id
    draft.session.flush()


def _cut_out(draft: Draft, reservation: ReservationRow, piece: PieceRow) -> None:
    """End a reservation by its cut; the part of a repair that held it is cut now."""
    for part in draft.session.scalars(
        select(PartRow).where(PartRow.reservation_id == reservation.id)
    ):
        part.reservation_id, part.state, part.cut_from = None, PartState.CUT.value, piece.id
    draft.session.delete(reservation)


def _holds(shape: Outline, corners: tuple[tuple[float, float], ...]) -> bool:
    return bool(shape.polygon.buffer(_SLACK_MM, join_style="mitre").covers(Polygon(corners)))
