"""Lengths as binders type and read them: millimetres inside, mm or inch fractions at the edge.

What is typed is read strictly: a group separator is refused, because ``1.500`` means one and a
half to one reader and fifteen hundred to another.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from bindery_stock.errors import EntryError

MM_PER_INCH = 25.4
LONGEST_MM = 100_000.0
"""Nothing at a bench is longer than 100 m; more is a slip of the key."""

_THIRTY_SECONDS = 32  # the finest fraction a binder reads off a rule
_SIXTEENTH = MM_PER_INCH / 16
"""The fraction in which a length is offered: common practice, no source."""
_ROUNDING = 1e-6  # of a step: what is a whole step but for arithmetic is one


class Unit(StrEnum):
    """The unit in which lengths are read and, where none is typed, understood."""

    MM = "mm"
    INCH = "in"


_SUFFIXES = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    '"': MM_PER_INCH,
    "″": MM_PER_INCH,
}
_LENGTH = re.compile(
    r"^\s*(?P<whole>\d+(?:[.,]\d+)?|[.,]\d+)?"
    r"(?:(?:^|(?<=\d)[\s-]+|(?<=^)\s*)(?P<num>\d+)\s*/\s*(?P<den>\d+))?"
    r"\s*(?P<suffix>mm|cm|m|in|\"|″)?\s*$",
    re.IGNORECASE,
)


def parse_length(
    text: str, unit: Unit = Unit.MM, *, field: str = "Length", allow_zero: bool = False
) -> float:
    """Read a length and return it in millimetres.

    ``12 1/2 in``, ``31,5 cm``, ``240`` (in ``unit``), ``9/16"`` are understood. Both the point and
    the comma are decimal signs; there is no group separator. Raises ``EntryError`` naming
    ``field`` for anything else, for zero (unless ``allow_zero``) and for more than 100 m.
    """
    match = _LENGTH.match(text)
    if match is None or (match["whole"] is None and match["num"] is None):
        raise EntryError(
            field, f"{field}: “{text.strip()}” is not a length. Write 240, 31,5 cm or 9 1/2 in."
        )
    value = float(match["whole"].replace(",", ".")) if match["whole"] else 0.0
    if match["num"]:
        if int(match["den"]) == 0:
            raise EntryError(field, f"{field}: a fraction cannot have 0 below the line.")
        value += float(Fraction(int(match["num"]), int(match["den"])))
    suffix = (match["suffix"] or unit.value).lower()
    length = value * _SUFFIXES[suffix]
    if not math.isfinite(length) or length > LONGEST_MM:
        raise EntryError(field, f"{field}: {text.strip()} is more than 100 m; check the figure.")
    if length == 0.0 and not allow_zero:
        raise EntryError(field, f"{field}: must be more than zero.")
    return length


def format_mm(mm: float, decimals: int = 1, *, point: str = ".") -> str:
    """``57.5 mm``: at most ``decimals`` places, none that say nothing."""
    text = f"{mm:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return ("0" if text == "-0" else text).replace("-", "−").replace(".", point) + " mm"


def format_inches(mm: float) -> str:
    """``2 1/4 in``: to the nearest thirty-second (halves upward), reduced."""
    thirty_seconds = math.floor(abs(mm) / MM_PER_INCH * _THIRTY_SECONDS + 0.5)
    whole, rest = divmod(thirty_seconds, _THIRTY_SECONDS)
    sign = "−" if mm < 0 and thirty_seconds else ""
    if not rest:
        return f"{sign}{whole} in"
    part = Fraction(rest, _THIRTY_SECONDS)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction} in" if whole else f"{sign}{fraction} in"


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How this user reads lengths: the unit chosen and the decimal sign of their locale."""

    unit: Unit = Unit.MM
    point: str = "."

    def show(self, mm: float, decimals: int = 1) -> str:
        """The length in the chosen unit."""
        if self.unit is Unit.INCH:
            return format_inches(mm)
        return format_mm(mm, decimals, point=self.point)

    def other(self, mm: float) -> str:
        """The length in the other unit, for hovering over."""
        if self.unit is Unit.INCH:
            return format_mm(mm, point=self.point)
        return format_inches(mm)

    def pair(self, width: float, height: float) -> str:
        """``58 × 228 mm``: width across the warp first, height along it."""
        shown = f"{self.show(width)} × {self.show(height)}"
        suffix = f" {self.unit.value}"
        return shown.replace(suffix, "", 1) if shown.count(suffix) > 1 else shown

    def offered(self, mm: float) -> float:
        """The length to offer where ``mm`` is needed: in inches the next sixteenth, never less."""
        if self.unit is Unit.INCH:
            return math.ceil(mm / _SIXTEENTH - _ROUNDING) * _SIXTEENTH
        return mm

    def at_most(self, mm: float) -> float:
        """What may be told of ``mm`` that are there, never more: whole mm, or whole sixteenths."""
        step = _SIXTEENTH if self.unit is Unit.INCH else 1.0
        return math.floor(mm / step + _ROUNDING) * step

    def parse(self, text: str, *, field: str = "Length", allow_zero: bool = False) -> float:
        """Read a length; a bare number is in the chosen unit."""
        return parse_length(text, self.unit, field=field, allow_zero=allow_zero)
