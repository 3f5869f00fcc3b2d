"""Questions about sets, repairs, parts and treatment: plain values come back."""

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import Connection, func, select
from sqlalchemy.orm import aliased

from bindery_stock.errors import NotFound
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.books.overrides import EveryOverride, Overrides
from bindery_stock.stock.books.tables import (
    AllowanceRow,
    BookPhotoRow,
    BookSetRow,
    PartRow,
    RepairRow,
    TargetRow,
    TreatmentRow,
)
from bindery_stock.stock.books.values import (
    BookPart,
    BookPhoto,
    BookSet,
    ColourSought,
    Repair,
    Treatment,
)
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.tables import CuttingRow, PieceRow, ReservationRow
from bindery_stock.stock.pieces.values import StockPiece

_PHOTO = (PhotoRow.sha256, PhotoRow.name, PhotoRow.width, PhotoRow.height, PhotoRow.suffix)
# Made once: to make them takes longer than most questions.
_KEPT, _CAME, _OF_SET = aliased(PieceRow), aliased(PieceRow), aliased(BookSetRow)


def book_sets(connection: Connection) -> list[BookSet]:
    """Every set, in the order of entry."""
    asked = select(BookSetRow.__table__).order_by(BookSetRow.id)
    return [book_rows.set_of(row) for row in connection.execute(asked)]


def book_set(connection: Connection, code: str) -> BookSet:
    """The set with this code, or ``NotFound``."""
    row = connection.execute(select(BookSetRow.__table__).where(BookSetRow.code == code)).first()
    if row is None:
        raise NotFound(f"There is no set {code} in this stockroom. Choose one from the list.")
    return book_rows.set_of(row)


def repairs(
    connection: Connection, *, book_set: str | None = None, code: str | None = None
) -> list[Repair]:
    """The repairs, those of a set by their volume, others in the order of entry."""
    photos: defaultdict[int, list[BookPhoto]] = defaultdict(list)
    targets: defaultdict[int, list[ColourSought]] = defaultdict(list)
    for row in connection.execute(
        select(BookPhotoRow.__table__, *_PHOTO, RepairRow.code.label("owner_code"))
        .join(PhotoRow, PhotoRow.sha256 == BookPhotoRow.photo)
        .join(RepairRow, RepairRow.id == BookPhotoRow.repair_id)
        .order_by(BookPhotoRow.repair_id, BookPhotoRow.position)
    ):
        photos[row.repair_id].append(book_rows.photo_of(row))
    for row in connection.execute(
        select(TargetRow.__table__, RepairRow.code.label("owner_code"))
        .join(RepairRow, RepairRow.id == TargetRow.repair_id)
        .order_by(TargetRow.repair_id, TargetRow.position)
    ):
        targets[row.repair_id].append(book_rows.target_of(row))
    spent: dict[int, float] = {
        row.repair_id: row.hours
        for row in connection.execute(
            select(TreatmentRow.repair_id, func.sum(TreatmentRow.hours).label("hours")).group_by(
                TreatmentRow.repair_id
            )
        )
    }
    asked = (
        select(RepairRow.__table__, BookSetRow.code.label("set_code"))
        .outerjoin(BookSetRow, BookSetRow.id == RepairRow.set_id)
        .order_by(RepairRow.set_id, RepairRow.volume, RepairRow.id)
    )
    if book_set is not None:
        asked = asked.where(BookSetRow.code == book_set)
    if code is not None:
        asked = asked.where(RepairRow.code == code)
    return [
        book_rows.repair_of(
            row,
            photos=photos.get(row.id, ()),
            targets=targets.get(row.id, ()),
            hours_spent=spent.get(row.id, 0.0),
        )
        for row in connection.execute(asked)
    ]


def repair(connection: Connection, code: str) -> Repair:
    """The repair with this code, or ``NotFound``."""
    found = repairs(connection, code=code)
    if not found:
        raise _no_volume(code)
    return found[0]


def _no_volume(code: str) -> NotFound:
    return NotFound(f"There is no volume {code} on the bench. Check the code in its record.")


def parts(
    connection: Connection,
    *,
    volume: str | None = None,
    volumes: Collection[str] | None = None,
    book_set: str | None = None,
    ids: Collection[int] | None = None,
) -> list[BookPart]:
    """The parts of repairs, of a set or of all, volume by volume in the order of the work."""
    asked = (
        select(
            PartRow.__table__,
            RepairRow.code.label("repair_code"),
            RepairRow.name.label("repair_name"),
            func.coalesce(ReservationRow.corners, CuttingRow.corners).label("corners"),
            _KEPT.code.label("kept_in"),
            _CAME.code.label("came_from"),
        )
        .join(RepairRow, RepairRow.id == PartRow.repair_id)
        .outerjoin(BookSetRow, BookSetRow.id == RepairRow.set_id)
        .outerjoin(ReservationRow, ReservationRow.id == PartRow.reservation_id)
        .outerjoin(_KEPT, _KEPT.id == ReservationRow.piece_id)
        .outerjoin(_CAME, _CAME.id == PartRow.cut_from)
        .outerjoin(CuttingRow, CuttingRow.piece_id == PartRow.cut_from)
        .order_by(RepairRow.set_id, RepairRow.volume, RepairRow.id, PartRow.position, PartRow.id)
    )
    if volume is not None:
        asked = asked.where(RepairRow.code == volume)
    if volumes is not None:
        asked = asked.where(RepairRow.code.in_(volumes))
    if book_set is not None:
        asked = asked.where(BookSetRow.code == book_set)
    if ids is not None:
        asked = asked.where(PartRow.id.in_(ids))
    return [book_rows.part_of(row) for row in connection.execute(asked)]


def part(connection: Connection, part_id: int) -> BookPart:
    """The part with this id, or ``NotFound``."""
    found = parts(connection, ids=[part_id])
    if not found:
        raise NotFound("This part is no longer wanted: its survey was changed. Open it again.")
    return found[0]


def treatments(connection: Connection, volume: str) -> list[Treatment]:
    """What was done to a volume, oldest first."""
    asked = (
        select(
            TreatmentRow.__table__,
            RepairRow.code.label("repair_code"),
            PieceRow.code.label("piece_code"),
            AdhesiveLotRow.code.label("lot_code"),
        )
        .join(RepairRow, RepairRow.id == TreatmentRow.repair_id)
        .outerjoin(PieceRow, PieceRow.id == TreatmentRow.piece_used)
        .outerjoin(AdhesiveLotRow, AdhesiveLotRow.id == TreatmentRow.lot_used)
        .where(RepairRow.code == volume)
        .order_by(TreatmentRow.id)
    )
    return [book_rows.treatment_of(row) for row in connection.execute(asked)]


def every_override(connection: Connection) -> EveryOverride:
    """The allowances set anywhere, in one statement."""
    all_work: dict[str, float] = {}
    sets: defaultdict[str, dict[str, float]] = defaultdict(dict)
    volumes: defaultdict[str, dict[str, float]] = defaultdict(dict)
    asked = (
        select(
            AllowanceRow.key,
            AllowanceRow.value,
            _OF_SET.code.label("set_code"),
            RepairRow.code.label("repair_code"),
        )
        .outerjoin(_OF_SET, _OF_SET.id == AllowanceRow.set_id)
        .outerjoin(RepairRow, RepairRow.id == AllowanceRow.repair_id)
        .order_by(AllowanceRow.id)
    )
    for row in connection.execute(asked):
        if row.repair_code is not None:
            volumes[row.repair_code][row.key] = row.value
        elif row.set_code is not None:
            sets[row.set_code][row.key] = row.value
        else:
            all_work[row.key] = row.value
    return EveryOverride(all_work, dict(sets), dict(volumes))


def overrides(
    connection: Connection, *, book_set: str | None = None, volume: str | None = None
) -> Overrides:
    """The allowances set for all work, for a set, and for a volume (whose set is found)."""
    if volume is not None:
        found = connection.execute(
            select(BookSetRow.code)
            .select_from(RepairRow)
            .outerjoin(BookSetRow, BookSetRow.id == RepairRow.set_id)
            .where(RepairRow.code == volume)
        ).first()
        if found is None:
            raise _no_volume(volume)
        book_set = found.code
    return every_override(connection).of(volume, book_set)


def cut_for_parts(connection: Connection) -> list[StockPiece]:
    """The pieces that parts were cut from, with all that each of those was ever cut from."""
    cut = select(PartRow.cut_from).where(PartRow.cut_from.is_not(None))
    return piece_questions.pieces(connection, piece_questions.with_line(PieceRow.id.in_(cut)))
