"""Checks at the door: nothing is written that is not a finite number or plain text."""

import math
from collections.abc import Iterable
from decimal import Decimal

from bindery_stock.errors import EntryError
from bindery_stock.stock.lots.values import Measure, NewAdhesiveLot
from bindery_stock.stock.pieces.values import Colour, NewPiece
from bindery_stock.stock.wants.values import NewWanted


def number(value: float, field: str) -> float:
    """``value`` as a float. Raises ``EntryError`` naming ``field`` where it is not finite."""
    if not math.isfinite(value):
        raise EntryError(field, f"{field}: {value} is not a number that can be kept.")
    return float(value)


def size(value: float, field: str) -> float:
    """A length in mm above zero."""
    if number(value, field) <= 0.0:
        raise EntryError(field, f"{field}: must be more than zero.")
    return float(value)


def text(value: str, field: str) -> str:
    """``value`` as it is. Raises ``EntryError`` where it cannot be written as UTF-8."""
    try:
        value.encode()
    except UnicodeEncodeError as fault:
        raise EntryError(
            field, f"{field}: holds a broken character at place {fault.start + 1}. Type it again."
        ) from fault
    return value


def words(value: str, field: str) -> str:
    """Text that may not be empty, without blanks at its ends."""
    if not value.strip():
        raise EntryError(field, f"{field}: must not be empty.")
    return text(value.strip(), field)


def money(value: Decimal | None, field: str) -> str | None:
    """An amount as decimal text."""
    if value is None:
        return None
    if not value.is_finite() or value < 0:
        raise EntryError(field, f"{field}: {value} is not an amount.")
    return str(value)


def points(ring: Iterable[tuple[float, float]], field: str) -> list[list[float]]:
    """A ring of finite points, ready for JSON."""
    return [[number(x, field), number(y, field)] for x, y in ring]


def colour(reading: Colour) -> Colour:
    """The reading itself. Raises ``EntryError`` where it is no colour."""
    lightness, a, b = (number(value, "Colour") for value in reading.lab)
    if not -0.5 <= lightness <= 100.5 or max(abs(a), abs(b)) > 200.0:
        raise EntryError(
            "Colour",
            f"Colour: L* {lightness:g}, a* {a:g}, b* {b:g} is no colour of a surface. "
            "L* lies between 0 and 100, a* and b* within ±200.",
        )
    if number(reading.spread, "Spread") < 0.0:
        raise EntryError("Spread", "Spread: cannot be less than zero.")
    if reading.u is not None and number(reading.u, "Uncertainty") < 0.0:
        raise EntryError("Uncertainty", "Uncertainty: cannot be less than zero.")
    return reading


def piece(new: NewPiece) -> NewPiece:
    """The piece itself, every text and colour of it checked."""
    for field in ("pattern", "source", "source_date", "place", "note", "colour_family"):
        text(getattr(new, field), field.replace("_", " ").capitalize())
    money(new.price, "Price")
    for reading in new.colours:
        colour(reading)
    return new


def lot(new: NewAdhesiveLot) -> NewAdhesiveLot:
    """The lot itself, checked."""
    words(new.kind, "Kind")
    words(new.name, "Name")
    for field in ("supplier", "reference", "quantity", "place", "storage", "note"):
        text(getattr(new, field), field.capitalize())
    if new.ph is not None and not 0.0 <= number(new.ph, "pH") <= 14.0:
        raise EntryError("pH", f"pH: {new.ph:g} is outside 0 to 14.")
    for value, field in ((new.held, "Held at first"), (new.left, "Left")):
        if value is None:
            continue
        if new.unit is None:
            raise EntryError(field, f"{field}: {value:g} of what? Choose g, ml or a share.")
        quantity(value, new.unit, field)
    if new.held is not None and new.left is not None and new.left > new.held:
        raise EntryError(
            "Left", f"Left: {new.left:g} is more than the {new.held:g} there was at first."
        )
    return new


def quantity(value: float, unit: Measure, field: str) -> float:
    """A quantity in its unit: zero or more, and a share at most the whole."""
    if unit is Measure.AREA:
        raise EntryError(field, f"{field}: an adhesive is counted in g, ml or as a share.")
    if number(value, field) < 0.0:
        raise EntryError(field, f"{field}: cannot be less than nothing.")
    if unit is Measure.SHARE and value > 1.0:
        raise EntryError(field, f"{field}: a share lies between 0 and 1, not at {value:g}.")
    return float(value)


def wanted(new: NewWanted) -> NewWanted:
    """The want itself, checked."""
    words(new.what, "Wanted")
    text(new.purpose, "Purpose")
    text(new.note, "Note")
    for value, field in ((new.width, "Width"), (new.height, "Height")):
        if value is not None:
            size(value, field)
    if new.lab is not None:
        colour(Colour(lab=new.lab))
    return new
