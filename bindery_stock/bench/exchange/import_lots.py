"""A row of a table read as a tin, jar or batch of adhesive."""

import re
from enum import StrEnum

from bindery_stock.bench.exchange.import_cells import Cells, Field, number
from bindery_stock.bench.exchange.import_dates import DayOrder, read_day
from bindery_stock.errors import EntryError
from bindery_stock.stock import Measure, NewAdhesiveLot
from bindery_stock.stock.lots.changes import CODE_LETTER
from bindery_stock.trade import Rules, Store

FIELDS = (
    Field.CODE, Field.CLASS, Field.NAME, Field.QUANTITY, Field.UNIT, Field.BOUGHT, Field.RECEIVED,
    Field.OPENED, Field.MADE, Field.EXPIRES, Field.PLACE, Field.STORAGE, Field.FROZEN, Field.PH,
    Field.SUPPLIER, Field.REFERENCE, Field.NOTE,
)  # fmt: skip
NEEDED = (Field.CLASS, Field.NAME)
DATES = (Field.BOUGHT, Field.RECEIVED, Field.OPENED, Field.MADE, Field.EXPIRES)
_WITH_UNIT = re.compile(r"([-+\d.,\s'’]*\d[.,]?)\s*(g|ml|kg|l)", re.IGNORECASE)
_UNITS = {
    "g": (Measure.GRAM, 1.0),
    "kg": (Measure.GRAM, 1000.0),
    "ml": (Measure.MILLILITRE, 1.0),
    "l": (Measure.MILLILITRE, 1000.0),
    "share": (Measure.SHARE, 1.0),
}


class _YesNo(StrEnum):
    YES = "yes"
    NO = "no"


def lot_of(row: Cells, order: DayOrder | None, rules: Rules) -> tuple[NewAdhesiveLot, str]:
    """The lot, and its code or nothing where it is to be given. Raises ``EntryError``."""
    bought, received, opened, made, expires = (
        read_day(row.text(field), field.words, order) for field in DATES
    )
    name = row.text(Field.NAME)
    if not name:
        raise EntryError("Name", "Name: is empty. Write what the label says.")
    unit, left, words = _quantity(row)
    new = NewAdhesiveLot(
        kind=_class(row.text(Field.CLASS), rules),
        name=name,
        supplier=row.text(Field.SUPPLIER),
        reference=row.text(Field.REFERENCE),
        bought=bought,
        received=received,
        opened=opened,
        made=made,
        expires=expires,
        quantity=words,
        unit=unit,
        held=1.0 if unit is Measure.SHARE else left,
        left=left,
        place=row.text(Field.PLACE),
        storage=row.word(Field.STORAGE, Store, Store.ROOM).value,
        frozen_once=row.word(Field.FROZEN, _YesNo, _YesNo.NO) is _YesNo.YES,
        ph=_ph(row),
        note=row.note(),
    )
    return new, row.code(CODE_LETTER, "an adhesive")


def _class(typed: str, rules: Rules) -> str:
    """The key of an adhesive class, from its key or its name."""
    wanted = typed.casefold()
    for key, kind in rules.adhesives.items():
        if wanted in (key.casefold(), kind.name.casefold()):
            return key
    names = sorted((kind.name for kind in rules.adhesives.values()), key=str.casefold)
    raise EntryError(
        "Class", f"Class: “{typed}” is none of the classes there are: {'; '.join(names)}."
    )


def _quantity(row: Cells) -> tuple[Measure | None, float | None, str]:
    """In what it is counted, how much is left, and the words where it was not measured."""
    field = Field.QUANTITY.words
    typed, unit = row.text(Field.QUANTITY), row.text(Field.UNIT).casefold()
    if not typed:
        return None, None, ""
    if unit:
        if unit not in _UNITS:
            some = ", ".join(_UNITS)
            raise EntryError("Counted in", f"Counted in: “{unit}” is none of {some}.")
        return _measured(number(typed, field, row.reading.point), unit, typed)
    if named := _WITH_UNIT.fullmatch(typed):
        figure = number(named[1], field, row.reading.point)
        return _measured(figure, named[2].casefold(), typed)
    if re.fullmatch(r"[-+]?[\d.,\s]+", typed):
        raise EntryError(
            field, f"{field}: “{typed}” of what? Write {typed} g or {typed} ml, or name the column."
        )
    return None, None, typed


def _measured(figure: float, unit: str, typed: str) -> tuple[Measure, float, str]:
    measure, times = _UNITS[unit]
    most = 1.0 if measure is Measure.SHARE else float("inf")
    if not 0.0 <= figure <= most:
        raise EntryError(
            Field.QUANTITY.words, f"{Field.QUANTITY.words}: {typed} {unit} cannot be left of a lot."
        )
    return measure, figure * times, ""


def _ph(row: Cells) -> float | None:
    figure = row.number(Field.PH)
    if figure is not None and not 0.0 <= figure <= 14.0:
        raise EntryError("pH", f"pH: {figure:g} is outside 0 to 14.")
    return figure
