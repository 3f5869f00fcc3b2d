"""Cutting parts from a piece: the piece is cut up, its offcuts go on the shelf.

A length taken off a roll or sheet leaves it one piece under its own code.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry
from sqlalchemy import select

from bindery_stock import shape
from bindery_stock.errors import ShapeError, StockError
from bindery_stock.shape import Flaw, Outline
from bindery_stock.stock import checks
from bindery_stock.stock.books.kept_shade import KeptShade
from bindery_stock.stock.books.tables import PartRow
from bindery_stock.stock.books.values import PartState
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.pieces.changes import on_shelf, place_on_shelf, row_of
from bindery_stock.stock.pieces.tables import CuttingRow, PieceRow, ReservationRow
from bindery_stock.stock.pieces.values import CutPart, Cutting, NewPiece, PieceState, StockPiece
from bindery_stock.stock.stored import made_of
from bindery_stock.trade.vocabulary import Form
from bindery_stock.units import LengthStyle

_SLACK_MM = 1e-6
"""Rounding of the geometry, far below what a knife can do."""
_SLACK_MM2 = 0.01
_SMALLEST_FLAW_MM2 = 0.01


def cut(
    draft: Draft,
    cutting: Cutting,
    *,
    fulfils: int | None = None,
    shades: Mapping[int, KeptShade] | None = None,
) -> None:
    """Record a cut, which fulfils the reservation of that id besides that of the same purpose.

    ``shades``, by id of the part, are of the cloth where parts of volumes are cut. Raises
    ``ShapeError`` where part, offcuts and piece do not agree.
    """
    piece = on_shelf(piece_questions.piece(draft.session.connection(), cutting.code))
    _agree(piece, [_polygon(part) for part in cutting.parts], cutting)
    purposes = [checks.words(part.purpose, "Purpose") for part in cutting.parts]
    row = row_of(draft, piece.code)
    row.state = PieceState.CUT_UP.value
    row.fate = "; ".join(dict.fromkeys(purposes))
    draft.touches(piece.code)
    draft.session.add(
        CuttingRow(
            piece_id=row.id,
            purpose=purposes[0],
            width=checks.size(cutting.width, "Width"),
            height=checks.size(cutting.height, "Height"),
            corners=piece_rows.ring_text(cutting.corners, "Part"),
            discarded=piece_rows.outlines_text(cutting.discarded),
            also=piece_rows.cut_parts_text(cutting.also),
        )
    )
    born = [
        place_on_shelf(draft, offcut_of(piece, outline, largest=number == 0))
        for number, outline in enumerate(cutting.offcuts)
    ]
    heirs = list(zip(born, cutting.offcuts, strict=True))
    for reservation in _held(draft, row):
        if reservation.id == fulfils or reservation.purpose in purposes:
            _cut_out(draft, reservation, row, shades or {})
        else:
            _pass_on(reservation, row, heirs)
    draft.session.flush()


def _polygon(part: CutPart) -> Polygon:
    polygon = Polygon(checks.points(part.corners, "Part"))
    if not polygon.is_valid or polygon.area <= 0.0:
        raise ShapeError("The part to be cut is not a simple shape. Place it again.")
    return polygon


def _agree(piece: StockPiece, parts: Iterable[Polygon], cutting: Cutting) -> None:
    """Parts, offcuts and slivers lie in the piece and nowhere on one another."""
    whole = piece.outline.polygon.buffer(_SLACK_MM, join_style="mitre")
    shapes = [*parts, *(left.polygon for left in (*cutting.offcuts, *cutting.discarded))]
    if not all(whole.covers(each) for each in shapes):
        raise ShapeError(
            f"The part and what is left do not lie within {piece.code}. Place the part again."
        )
    if sum(each.area for each in shapes) - unary_union(shapes).area > _SLACK_MM2:
        raise ShapeError(
            f"What is left of {piece.code} overlaps itself or the part. Place the part again."
        )


def cut_words(cutting: Cutting) -> str:
    """The step's name: ``Cut 3 of spine strip 58 × 228 mm and corner 30 × 30 mm from C-0042``."""
    counts: dict[str, int] = {}
    for part in cutting.parts:
        told = f"{part.purpose.strip()} {LengthStyle().pair(part.width, part.height)}"
        counts[told] = counts.get(told, 0) + 1
    each = [told if count == 1 else f"{count} of {told}" for told, count in counts.items()]
    listed = " and ".join(part for part in (", ".join(each[:-1]), each[-1]) if part)
    return f"Cut {listed} from {cutting.code}"


def take_length(
    draft: Draft, code: str, length: float, purpose: str, *, shelve: bool
) -> Outline | None:
    """Take a length (mm) off the upper end of a roll or sheet; returns what is left, if any.

    With ``shelve`` the length goes on the shelf as a sheet of its own. Raises ``ShapeError`` where
    the piece is no rectangle or too short, ``StockError`` where something is reserved there.
    """
    piece = on_shelf(piece_questions.piece(draft.session.connection(), code))
    rest = shape.cut_length(piece.outline, checks.size(length, "Length"))
    left, _low, right, high = piece.outline.bounds
    taken = Outline(((left, high - length), (right, high - length), (right, high), (left, high)))
    row = row_of(draft, code)
    draft.touches(code)
    heirs = [] if rest is None else [(row, rest)]
    if shelve:
        new = replace(offcut_of(piece, taken, largest=False), form=Form.SHEET)
        heirs.append((place_on_shelf(draft, new), taken))
    if rest is None:
        row.state, row.fate = PieceState.CUT_UP.value, checks.words(purpose, "Purpose")
    else:
        row.outline, row.area = piece_rows.outline_text(rest), rest.area
        row.flaws = piece_rows.flaws_text(clipped(piece.flaws, rest))
    for reservation in _held(draft, row):
        if rest is None or reservation.corners != "[]":
            _pass_on(reservation, row, heirs)
    draft.session.flush()
    return rest


def offcut_of(piece: StockPiece, outline: Outline, *, largest: bool) -> NewPiece:
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


def _polygons(shared: BaseGeometry) -> Iterator[Polygon]:
    if isinstance(shared, Polygon):
        yield shared
    for inner in getattr(shared, "geoms", ()):
        yield from _polygons(inner)


def _held(draft: Draft, row: PieceRow) -> list[ReservationRow]:
    """What a piece is reserved for."""
    asked = select(ReservationRow).where(ReservationRow.piece_id == row.id)
    return list(draft.session.scalars(asked.order_by(ReservationRow.id)))


def _pass_on(
    reservation: ReservationRow, row: PieceRow, heirs: Iterable[tuple[PieceRow, Outline]]
) -> None:
    """A reservation that the cut does not fulfil goes to the offcut it lies in."""
    corners = made_of(
        reservation.corners,
        piece_rows.ring_of,
        thing=f"A reservation of {row.code}",
        what="its corners",
    )
    heir = next((offcut for offcut, lies in heirs if corners and _holds(lies, corners)), None)
    if heir is None:
        raise StockError(
            f"{row.code} is also reserved for {reservation.purpose}, which this cut would "
            "spoil. Release that first, or place the part elsewhere."
        )
    reservation.piece_id = heir.id


def _cut_out(
    draft: Draft, reservation: ReservationRow, piece: PieceRow, shades: Mapping[int, KeptShade]
) -> None:
    """End a reservation by its cut; the part of a repair that held it is cut now."""
    for part in draft.session.scalars(
        select(PartRow).where(PartRow.reservation_id == reservation.id)
    ):
        part.reservation_id, part.state, part.cut_from = None, PartState.CUT.value, piece.id
        if part.id in shades:
            for name, value in shades[part.id].columns.items():
                setattr(part, name, value)
    draft.session.delete(reservation)


def _holds(outline: Outline, corners: tuple[tuple[float, float], ...]) -> bool:
    return bool(outline.polygon.buffer(_SLACK_MM, join_style="mitre").covers(Polygon(corners)))
