"""Sets and volumes: entered, corrected, copied; the allowances set for them."""

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

from sqlalchemy import select

from bindery_stock.errors import EntryError, Unchanged
from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.books.tables import (
    AllowanceRow,
    BookPhotoRow,
    BookSetRow,
    RepairRow,
    TargetRow,
)
from bindery_stock.stock.books.values import NewBookSet, NewRepair, Repair, RepairState
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.pieces.changes import next_code
from bindery_stock.trade import default_allowances
from bindery_stock.trade.care import CarePlan
from bindery_stock.trade.found_damage import found_damage

SET_LETTER, REPAIR_LETTER = "U", "V"
"""The letters with which the codes of sets (uniform bindings) and volumes begin."""

_MOVED = {
    RepairState.SURVEYED: "Took {} off the bench again",
    RepairState.ON_BENCH: "Took {} to the bench",
    RepairState.DONE: "Finished {}",
}
_SET_FIELDS = {field.name for field in fields(NewBookSet)}
_REPAIR_FIELDS = {field.name for field in fields(NewRepair)}


def add_set(draft: Draft, new: NewBookSet) -> str:
    """Enter a set and return its code."""
    columns = book_rows.set_columns(new)
    code = next_code(draft, SET_LETTER)
    draft.session.add(BookSetRow(**columns, code=code))
    draft.born.append(code)
    draft.touches(code)
    return code


def correct_set(draft: Draft, code: str, changes: Mapping[str, Any]) -> None:
    """Put right what is known of a set. Raises ``EntryError`` where nothing would change."""
    was = book_questions.book_set(draft.session.connection(), code)
    wanted = replace(was, **_only(changes, _SET_FIELDS, "a set"))
    if wanted == was:
        raise _unchanged(was.title)
    row = set_row(draft, code)
    for name, value in book_rows.set_columns(wanted).items():
        setattr(row, name, value)
    draft.touches(code)


def add_repair(draft: Draft, new: NewRepair) -> str:
    """Enter a volume and return its code."""
    columns = book_rows.repair_columns(new)
    _name_is_free(draft, columns["name"])
    code = next_code(draft, REPAIR_LETTER)
    row = RepairRow(
        **columns, code=code, set_id=_set_id(draft, new.book_set), begun=draft.at.isoformat()
    )
    draft.session.add(row)
    draft.session.flush()
    _hang(draft, row, new)
    draft.born.append(code)
    draft.touches(code)
    return code


def correct_repair(draft: Draft, code: str, changes: Mapping[str, Any]) -> Repair:
    """Put right what is known of a volume; returns it as it was."""
    was = book_questions.repair(draft.session.connection(), code)
    wanted = replace(was, **_only(changes, _REPAIR_FIELDS, "a volume"))
    if wanted == was:
        raise _unchanged(was.name)
    columns = book_rows.repair_columns(wanted)
    if columns["name"] != was.name:
        _name_is_free(draft, columns["name"])
    row = repair_row(draft, code)
    for name, value in columns.items():
        setattr(row, name, value)
    row.set_id = _set_id(draft, wanted.book_set)
    if (wanted.photos, wanted.targets) != (was.photos, was.targets):
        for hung in (BookPhotoRow, TargetRow):
            for old in draft.session.scalars(select(hung).where(hung.repair_id == row.id)):
                draft.session.delete(old)
        draft.session.flush()
        _hang(draft, row, wanted)
    draft.touches(code)
    return was


def corrected_words(was: Repair, changes: Mapping[str, Any]) -> str:
    """What was put right of a volume, for the ledger."""
    if changes.keys() == {"state"}:
        return _MOVED[changes["state"]].format(was.name)
    care = changes.get("care")
    if care is not None and changes.keys() <= {"care", "survey"}:
        if care.damages != was.care.damages and not care.choices:
            return f"Noted the damage of {was.name} by its places"
        if care.choices and care.choices != was.care.choices:
            return f"Chose the treatments of {was.name}"
    if changes.keys() == {"care"}:
        return f"Wrote the examination and the options of {was.name}"
    return f"Corrected {', '.join(changes).replace('_', ' ')} of {was.name}"


def copy_survey(draft: Draft, code: str, names: Sequence[str]) -> list[str]:
    """Enter volumes like the one with this code; what was measured and ticked is taken over.

    Photographs, colours, what a laboratory found, what was agreed and hours are each volume's own
    and stay behind: a result for one cloth clears no other. Allowances set for the volume go with
    it. Returns the new codes.
    """
    connection = draft.session.connection()
    like = book_questions.repair(connection, code)
    allowances = book_questions.overrides(connection, volume=code).volume
    born = []
    for step, name in enumerate(names, start=1):
        new = replace(
            NewRepair(**{field: getattr(like, field) for field in sorted(_REPAIR_FIELDS)}),
            name=name,
            title="",
            volume=None if like.volume is None else like.volume + step,
            survey=replace(
                like.survey,
                like_volume=True,
                over_linings=False,
                damage=found_damage(like.survey, like.care),
            ),
            hours_estimated=None,
            state=RepairState.SURVEYED,
            condition="",
            lab_results=(),
            description=like.description.handed_on,
            care=CarePlan(damages=like.care.damages),
            note="",
            photos=(),
            targets=(),
        )
        born.append(add_repair(draft, new))
        if allowances:
            set_allowances(draft, allowances, volume=born[-1])
    return born


def set_allowances(
    draft: Draft,
    values: Mapping[str, float | None],
    *,
    book_set: str | None = None,
    volume: str | None = None,
) -> None:
    """Set allowances (mm) for a volume, for a set, or for all work; ``None`` sets one free again.

    Raises ``EntryError`` for a name or a value that cannot be, and where nothing would change.
    """
    if book_set is not None and volume is not None:
        raise TypeError("allowances are set for a volume or for a set, not for both")
    set_to = {key: value for key, value in values.items() if value is not None}
    known = default_allowances().having(set_to, set_by="this")
    set_id = _set_id(draft, book_set)
    repair_id = None if volume is None else repair_row(draft, volume).id
    level = select(AllowanceRow).where(
        AllowanceRow.set_id.is_(None) if set_id is None else AllowanceRow.set_id == set_id,
        AllowanceRow.repair_id.is_(None)
        if repair_id is None
        else AllowanceRow.repair_id == repair_id,
    )
    there = {row.key: row for row in draft.session.scalars(level)}
    changed = False
    for key, value in values.items():
        _ = known[key]  # names what is no allowance
        row = there.get(key)
        if value is None:
            if row is not None:
                draft.session.delete(row)
                changed = True
        elif row is None:
            draft.session.add(
                AllowanceRow(set_id=set_id, repair_id=repair_id, key=key, value=float(value))
            )
            changed = True
        elif row.value != float(value):
            row.value, changed = float(value), True
    if not changed:
        raise Unchanged("The allowances are already as you have them; nothing was changed.")
    draft.touches(*(code for code in (book_set, volume) if code is not None))


def set_row(draft: Draft, code: str) -> BookSetRow:
    """The row of a set for changing. Raises ``NotFound``."""
    book_questions.book_set(draft.session.connection(), code)
    return draft.session.scalars(select(BookSetRow).where(BookSetRow.code == code)).one()


def repair_row(draft: Draft, code: str) -> RepairRow:
    """The row of a volume for changing. Raises ``NotFound``."""
    book_questions.repair(draft.session.connection(), code)
    return draft.session.scalars(select(RepairRow).where(RepairRow.code == code)).one()


def _hang(draft: Draft, row: RepairRow, new: NewRepair) -> None:
    """Enter the photographs and colours of a volume; each photograph was archived first."""
    connection = draft.session.connection()
    read_from = {t.colour.photo for t in new.targets if t.colour.photo is not None}
    for sha256 in sorted(read_from | {shot.photo.sha256 for shot in new.photos}):
        photo_questions.photo(connection, sha256)
    for position, shot in enumerate(new.photos):
        columns = book_rows.photo_columns(shot, position)
        draft.session.add(BookPhotoRow(repair_id=row.id, **columns))
    for position, target in enumerate(new.targets):
        columns = book_rows.target_columns(target, position)
        draft.session.add(TargetRow(repair_id=row.id, **columns))
    draft.session.flush()


def _set_id(draft: Draft, code: str | None) -> int | None:
    return None if code is None else set_row(draft, code).id


def _name_is_free(draft: Draft, name: str) -> None:
    taken = draft.session.scalars(select(RepairRow.code).where(RepairRow.name == name)).first()
    if taken is not None:
        raise EntryError(
            "Name", f"Name: {taken} is called {name} already. Add a volume number or a year."
        )


def _only(changes: Mapping[str, Any], known: set[str], whose: str) -> Mapping[str, Any]:
    unknown = set(changes) - known
    if unknown:
        raise TypeError(f"{whose} has nothing called {', '.join(sorted(unknown))} to correct")
    return changes


def _unchanged(what: str) -> Unchanged:
    return Unchanged(f"{what} is already as you have it; nothing was changed.")
