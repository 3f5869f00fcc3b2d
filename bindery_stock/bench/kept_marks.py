"""Unfinished marks and facts as plain JSON values, so that they outlive the program's closing."""

from collections.abc import Iterable
from dataclasses import asdict
from decimal import Decimal, InvalidOperation
from typing import Any

from bindery_stock.bench.marks import (
    Facts,
    FlawMark,
    Grey,
    KnownLength,
    KnownRectangle,
    Line,
    Marks,
    Patches,
    PatchMark,
)
from bindery_stock.errors import EntryError
from bindery_stock.shape import FlawKind, Point, Ring
from bindery_stock.stock import FaceName
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind

Plain = dict[str, Any]
"""What JSON can hold."""


def marks_to_plain(marks: Marks) -> Plain:
    """The marks for keeping."""
    return asdict(marks)


def marks_from_plain(kept: Plain) -> Marks:
    """The marks as they were. Raises ``EntryError`` where they cannot be read."""
    try:
        return Marks(
            scale=_scale(kept["scale"]),
            outline=_ring(kept["outline"]),
            warp=None if kept["warp"] is None else _line(kept["warp"]),
            patches=tuple(
                PatchMark(_ring(one["ring"]), FaceName(one["face"])) for one in kept["patches"]
            ),
            reference=_reference(kept["reference"]),
            flaws=tuple(
                FlawMark(_ring(one["ring"]), FlawKind(one["kind"])) for one in kept["flaws"]
            ),
            without_colour=bool(kept["without_colour"]),
        )
    except (KeyError, TypeError, ValueError) as error:
        raise EntryError("Marks", "The kept marks cannot be read. Mark it again.") from error


def facts_to_plain(facts: Facts) -> Plain:
    """The facts for keeping."""
    return asdict(facts) | {"price": None if facts.price is None else str(facts.price)}


def facts_from_plain(kept: Plain) -> Facts:
    """The facts as they were. Raises ``EntryError`` where they cannot be read."""
    try:
        texts = {name: str(kept[name]) for name in _TEXTS}
        return Facts(
            kind=Kind(kept["kind"]),
            form=Form(kept["form"]),
            backing=Backing(kept["backing"]),
            fibre=Fibre(kept["fibre"]),
            price=None if kept["price"] is None else Decimal(kept["price"]),
            **texts,
        )
    except (KeyError, TypeError, ValueError, InvalidOperation) as error:
        raise EntryError("Facts", "The kept facts cannot be read. Enter them again.") from error


_TEXTS = ("pattern", "source", "source_date", "place", "note")


def _scale(kept: Plain | None) -> KnownLength | KnownRectangle | None:
    if kept is None:
        return None
    if "line" in kept:
        return KnownLength(_line(kept["line"]), _number(kept["mm"]))
    return KnownRectangle(_ring(kept["corners"]), _number(kept["width"]), _number(kept["height"]))


def _reference(kept: Plain | None) -> Grey | Patches | None:
    if kept is None:
        return None
    if "corners" in kept:
        return Patches(_ring(kept["corners"]), since_2014=bool(kept["since_2014"]))
    return Grey(_ring(kept["ring"]), _number(kept["lightness"]))


def _number(kept: float | None) -> float | None:
    return None if kept is None else float(kept)


def _point(kept: Iterable[float]) -> Point:
    x, y = kept
    return (float(x), float(y))


def _line(kept: Iterable[Iterable[float]]) -> Line:
    start, end = kept
    return (_point(start), _point(end))


def _ring(kept: Iterable[Iterable[float]]) -> Ring:
    return tuple(_point(point) for point in kept)
