"""The parts of a repair: planned, reserved by a plan, cut, fitted."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from sqlalchemy import select

from bindery_stock.errors import StockError, Unchanged
from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.books.changes import repair_row
from bindery_stock.stock.books.kept_shade import NO_SHADE, KeptShade
from bindery_stock.stock.books.tables import PartRow, RepairRow
from bindery_stock.stock.books.values import (
    BookPart,
    NewPart,
    PartState,
    PlannedPlacement,
)
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.pieces import cut, reservations
from bindery_stock.stock.pieces.changes import row_of
from bindery_stock.stock.pieces.tables import ReservationRow
from bindery_stock.stock.pieces.values import Cutting

_IN_HAND = frozenset({PartState.CUT, PartState.FITTED})
_SAME_MM = 1e-6


def plan_parts(
    draft: Draft, code: str, wanted: Sequence[NewPart], again: Sequence[PlannedPlacement] = ()
) -> None:
    """Make these the parts of a volume. Raises ``Unchanged`` where nothing would change."""
    if not plan_volumes(draft, {code: wanted}, again):
        name = book_questions.repair(draft.session.connection(), code).name
        raise Unchanged(f"The parts of {name} are already as you have them; nothing was changed.")


def plan_volumes(
    draft: Draft,
    wanted: Mapping[str, Sequence[NewPart]],
    again: Sequence[PlannedPlacement] = (),
) -> list[str]:
    """Make these the parts of volumes, by their codes; returns the codes of those that changed.

    What is cut or fitted stays as it is. A reserved part keeps its cloth where its size stays, or
    where ``again`` lays the new size; otherwise it waits again. Raises ``NotFound``.
    """
    planned = _Planned(draft, wanted)
    laid = {placement.part: placement for placement in again}
    changed = [code for code, parts in wanted.items() if planned.replace(code, parts)]
    draft.session.flush()
    _lay(draft, [(part, row, laid[part.id]) for part, row in planned.freed if part.id in laid])
    draft.touches(*changed)
    draft.session.flush()
    return changed


class _Planned:
    """Parts of volumes as they stand, read in a fixed number of statements for all of them."""

    def __init__(self, draft: Draft, codes: Collection[str]) -> None:
        self._draft = draft
        session = draft.session
        if len(codes) == 1:
            repair_row(draft, *codes)  # names the one that is not there
        asked = select(RepairRow.code, RepairRow.id).where(RepairRow.code.in_(codes))
        self._ids: dict[str, int] = {row.code: row.id for row in session.execute(asked)}
        rows = session.scalars(select(PartRow).where(PartRow.repair_id.in_(self._ids.values())))
        self._rows = {row.id: row for row in rows}
        kept = [row.reservation_id for row in self._rows.values() if row.reservation_id is not None]
        held = session.scalars(select(ReservationRow).where(ReservationRow.id.in_(kept)))
        self._held = {row.id: row for row in held}
        self._there: dict[str, dict[tuple[str, str, int], BookPart]] = {code: {} for code in codes}
        for part in book_questions.parts(session.connection(), volumes=codes):
            self._there[part.repair][part.key] = part
        self.freed: list[tuple[BookPart, PartRow]] = []
        """Parts whose size changed while they were reserved, in their new size."""

    def replace(self, code: str, wanted: Sequence[NewPart]) -> bool:
        """Make these the parts of one volume; says whether anything changed."""
        keys = [new.key for new in wanted]
        if len(set(keys)) != len(keys):
            raise TypeError("two parts of one repair have the same role, layer and number")
        there = self._there[code]
        changed = False
        for position, new in enumerate(wanted):
            old = there.pop(new.key, None)
            columns = book_rows.part_columns(new, position)
            if old is None:
                self._draft.session.add(
                    PartRow(repair_id=self._ids[code], **columns, state=PartState.WANTED.value)
                )
                changed = True
            elif old.state not in _IN_HAND:
                changed |= self._renew(old, new, columns)
        for old in there.values():
            if old.state not in _IN_HAND:
                _give_up(self._draft, old, self._rows[old.id])
                self._draft.session.delete(self._rows[old.id])
                changed = True
        return changed

    def _renew(self, old: BookPart, new: NewPart, columns: dict[str, object]) -> bool:
        row = self._rows[old.id]
        resized = abs(old.width - new.width) > _SAME_MM or abs(old.height - new.height) > _SAME_MM
        before = {name: getattr(row, name) for name in columns}
        for name, value in columns.items():
            setattr(row, name, value)
        if resized and old.state is PartState.NOTHING_SERVES:
            row.state = PartState.WANTED.value
        if resized and old.state is PartState.RESERVED:
            _give_up(self._draft, old, row)
            self.freed.append((replace(old, width=new.width, height=new.height), row))
        return resized or before != columns


def accept(
    draft: Draft, layings: Sequence[PlannedPlacement], unserved: Collection[int] = ()
) -> tuple[int, int]:
    """Reserve every choice of a plan; what it could not place is marked so.

    A part that was reserved elsewhere gives that up. Returns how many parts in how many pieces.
    """
    ids = [laying.part for laying in layings]
    if len(set(ids)) != len(ids):
        raise TypeError("a plan lays one part twice")
    parts = _open_parts(draft, [*ids, *unserved])
    for part, row in parts.values():
        _give_up(draft, part, row)
    draft.session.flush()
    _lay(draft, [(*parts[laying.part], laying) for laying in layings])
    for part_id in unserved:
        parts[part_id][1].state = PartState.NOTHING_SERVES.value
    draft.session.flush()
    return len(layings), len({laying.code for laying in layings})


def release(draft: Draft, part_ids: Collection[int]) -> int:
    """Give up what these parts are reserved in; returns how many were."""
    parts = _open_parts(draft, part_ids)
    given_up = sum([_give_up(draft, part, row) for part, row in parts.values()])
    if not given_up:
        raise StockError("None of these parts is reserved, so there is nothing to release.")
    return given_up


def cut_part(
    draft: Draft, part_id: int, wanted: Cutting, shade: KeptShade | None = None
) -> BookPart:
    """Cut a part; its own reservation is fulfilled, those of others go to the offcuts."""
    part = _is_open(draft, book_questions.part(draft.session.connection(), part_id))
    if part.state is PartState.RESERVED and part.piece != wanted.code:
        _give_up(draft, part)
        draft.session.flush()
    row = part_row(draft, part_id)
    piece_id = row_of(draft, wanted.code).id
    cut.cut(draft, replace(wanted, purpose=part.purpose), fulfils=row.reservation_id)
    row.reservation_id = None
    row.state = PartState.CUT.value
    row.cut_from = piece_id
    if shade is not None:
        _keep_shade(row, shade)
    draft.touches(part.repair)
    draft.session.flush()
    return part


def fit(draft: Draft, part_ids: Iterable[int]) -> list[BookPart]:
    """Say that parts are in the book. A part that needs no cloth of the shelf may go straight in.

    Raises ``StockError`` where one is reserved but not cut, or fitted already.
    """
    fitted = []
    for part_id in part_ids:
        part = book_questions.part(draft.session.connection(), part_id)
        if part.state is PartState.FITTED:
            raise StockError(f"{part.purpose.capitalize()}: it is in the book already.")
        if part.state is PartState.RESERVED:
            raise StockError(f"{part.purpose.capitalize()}: cut it from {part.piece} first.")
        part_row(draft, part_id).state = PartState.FITTED.value
        draft.touches(part.repair)
        fitted.append(part)
    return fitted


def leave_out(draft: Draft, part_ids: Collection[int], *, out: bool) -> list[BookPart]:
    """Say that parts are not wanted after all, or (``out`` false) that they are."""
    parts = _open_parts(draft, part_ids)
    for part, row in parts.values():
        _give_up(draft, part, row)
        row.state = (PartState.LEFT_OUT if out else PartState.WANTED).value
    return [part for part, _row in parts.values()]


def _keep_shade(row: PartRow, shade: KeptShade | None) -> None:
    for name, value in (NO_SHADE if shade is None else shade.columns).items():
        setattr(row, name, value)


def part_row(draft: Draft, part_id: int) -> PartRow:
    """The row of a part for changing. Raises ``NotFound``."""
    book_questions.part(draft.session.connection(), part_id)
    return draft.session.scalars(select(PartRow).where(PartRow.id == part_id)).one()


def _open_parts(draft: Draft, part_ids: Collection[int]) -> dict[int, tuple[BookPart, PartRow]]:
    """Parts by their ids with their rows, read all at once. Raises as ``_is_open``."""
    session = draft.session
    ids = list(dict.fromkeys(part_ids))
    found = {part.id: part for part in book_questions.parts(session.connection(), ids=ids)}
    rows = {row.id: row for row in session.scalars(select(PartRow).where(PartRow.id.in_(ids)))}
    for part_id in ids:
        if part_id not in found:
            book_questions.part(session.connection(), part_id)
        _is_open(draft, found[part_id])
    return {part_id: (found[part_id], rows[part_id]) for part_id in ids}


def _is_open(draft: Draft, part: BookPart) -> BookPart:
    """The part itself. Raises ``StockError`` where it is cut or fitted already."""
    if part.state in _IN_HAND:
        raise StockError(
            f"{part.purpose.capitalize()}: it is {part.state} already. Undo that step first."
        )
    draft.touches(part.repair)
    return part


def _give_up(draft: Draft, part: BookPart, row: PartRow | None = None) -> bool:
    row = part_row(draft, part.id) if row is None else row
    if row.reservation_id is None:
        return False
    reservation = draft.session.get_one(ReservationRow, row.reservation_id)
    row.reservation_id = None
    _keep_shade(row, None)
    row.state = PartState.WANTED.value
    draft.session.delete(reservation)
    draft.touches(part.piece)
    return True


def _lay(draft: Draft, chosen: Sequence[tuple[BookPart, PartRow, PlannedPlacement]]) -> None:
    """Reserve parts where they are to lie."""
    for part, _row, laying in chosen:
        if not laying.corners:
            raise StockError(f"{part.purpose.capitalize()}: say where it lies in {laying.code}.")
    kept = reservations.reserve_all(
        draft,
        [
            reservations.NewReservation(
                laying.code, part.purpose, (part.width, part.height), laying.corners
            )
            for part, _row, laying in chosen
        ],
    )
    for (_part, row, laying), reservation in zip(chosen, kept, strict=True):
        row.reservation_id = reservation.id
        _keep_shade(row, laying.shade)
        row.state = PartState.WANTED.value
    draft.session.flush()
