"""Questions about sets, repairs, parts and treatment: plain values come back."""

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import Connection, func, select
from sqlalchemy.orm import aliased

from bindery_stock.errors import NotFound
from bindery_stock.stock.books import rows as book_rows
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
    Overrides,
    Repair,
    Treatment,
)
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.pieces.tables import CuttingRow, PieceRow, ReservationRow

_PHOTO = (PhotoRow.sha256, PhotoRow.name, PhotoRow.width, PhotoRow.height, PhotoRow.suffix)


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
        raise NotFound(f"There is no volume {code} on the bench. Check the code in its record.")
    return found[0]


def parts(
    connection: Connection,
    *,
    volume: str | None = None,
    volumes: Collection[str] | None = None,
    book_set: str | None = None,
    ids: Collection[int] | None = None,
) -> list[BookPart]:
    """The parts of repairs, of a set or of all, volume by volume in the order of the work."""
    kept, came = aliased(PieceRow), aliased(PieceRow)
    asked = (
        select(
            PartRow.__table__,
            RepairRow.code.label("repair_code"),
            RepairRow.name.label("repair_name"),
            func.coalesce(ReservationRow.corners, CuttingRow.corners).label("corners"),
            kept.code.label("kept_in"),
            came.code.label("came_from"),
        )
        .join(RepairRow, RepairRow.id == PartRow.repair_id)
        .outerjoin(BookSetRow, BookSetRow.id == RepairRow.set_id)
        .outerjoin(ReservationRow, ReservationRow.id == PartRow.reservation_id)
        .outerjoin(kept, kept.id == ReservationRow.piece_id)
        .outerjoin(came, came.id == PartRow.cut_from)
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


def overrides(
    connection: Connection, *, book_set: str | None = None, volume: str | None = None
) -> Overrides:
    """The allowances set for all work, for a set, and for a volume (whose set is found)."""
    if volume is not None:
        book_set = repair(connection, volume).book_set
    return _overrides(_levels(connection), book_set, volume)


def overrides_by_volume(connection: Connection) -> dict[str, Overrides]:
    """The allowances in force for every volume, by its code, in two statements."""
    levels = _levels(connection)
    asked = select(RepairRow.code, BookSetRow.code.label("set_code")).outerjoin(
        BookSetRow, BookSetRow.id == RepairRow.set_id
    )
    return {
        row.code: _overrides(levels, row.set_code, row.code) for row in connection.execute(asked)
    }


_Levels = dict[tuple[str | None, str | None], dict[str, float]]
"""By code of set and of volume; both None for all work."""


def _levels(connection: Connection) -> _Levels:
    asked = (
        select(
            AllowanceRow.key,
            AllowanceRow.value,
            BookSetRow.code.label("set_code"),
            RepairRow.code.label("repair_code"),
        )
        .outerjoin(BookSetRow, BookSetRow.id == AllowanceRow.set_id)
        .outerjoin(RepairRow, RepairRow.id == AllowanceRow.repair_id)
        .order_by(AllowanceRow.id)
    )
    levels: _Levels = {}
    for row in connection.execute(asked):
        levels.setdefault((row.set_code, row.repair_code), {})[row.key] = row.value
    return levels


def _overrides(levels: _Levels, book_set: str | None, volume: str | None) -> Overrides:
    of_set = levels.get((book_set, None), {}) if book_set is not None else {}
    of_volume = levels.get((None, volume), {}) if volume is not None else {}
    return Overrides(levels.get((None, None), {}), of_set, of_volume)
