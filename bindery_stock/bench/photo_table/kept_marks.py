"""Unfinished marks and facts as plain JSON values, so that they outlive the program's closing."""

from collections.abc import Iterable
from dataclasses import asdict
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from bindery_stock.bench.colour_room.sitting import KeptTarget
from bindery_stock.bench.photo_table.marks import (
    Facts,
    FlawMark,
    Grey,
    KnownLength,
    KnownRectangle,
    Line,
    Marks,
    Patches,
    PatchMark,
    TypedColour,
)
from bindery_stock.colour import Reference
from bindery_stock.errors import ColourError, EntryError
from bindery_stock.shape import FlawKind, Point, Ring
from bindery_stock.stock import FaceName, Lab
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind

Plain = dict[str, Any]
"""What JSON can hold."""


def marks_to_plain(marks: Marks) -> Plain:
    """The marks for keeping."""
    plain = asdict(marks)
    if marks.lent is not None:
        plain["lent"]["photo"] = str(marks.lent.photo)
    return plain


def marks_from_plain(kept: Plain) -> Marks:
    """The marks as they were. Raises ``EntryError`` where they cannot be read."""
    try:
        return Marks(
            scale=_scale(kept["scale"]),
            outline=_ring(kept["outline"]),
            warp=None if kept["warp"] is None else _line(kept["warp"]),
            patches=tuple(
                PatchMark(_ring(one["ring"]), FaceName(one["face"]), _lab(one.get("meant")))
                for one in kept["patches"]
            ),
            reference=_reference(kept["reference"]),
            sheet=_ring(kept.get("sheet", ())),
            lent=_lent(kept.get("lent")),
            typed=tuple(_typed(one) for one in kept.get("typed", ())),
            flaws=tuple(
                FlawMark(_ring(one["ring"]), FlawKind(one["kind"])) for one in kept["flaws"]
            ),
            without_colour=bool(kept["without_colour"]),
        )
    except (KeyError, TypeError, ValueError, ColourError) as error:
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
            colour_family=str(kept.get("colour_family", "")),
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
        return Patches(_ring(kept["corners"]), _values(kept["reference"]))
    return Grey(_ring(kept["ring"]), _number(kept["lightness"]), _ring(kept.get("second", ())))


def _values(kept: Plain) -> Reference:
    labs = [_lab(lab) for lab in kept["labs"]]
    return Reference(tuple(lab for lab in labs if lab is not None), str(kept["source"]))


def _lent(kept: Plain | None) -> KeptTarget | None:
    if kept is None:
        return None
    return KeptTarget(
        Path(kept["photo"]),
        str(kept["name"]),
        _ring(kept["corners"]),
        _values(kept["reference"]),
        str(kept["light"]),
        str(kept["camera"]),
    )


def _typed(kept: Plain) -> TypedColour:
    lab = _lab(kept["lab"])
    if lab is None:
        raise ValueError
    return TypedColour(lab, float(kept["u"]), str(kept["method"]), FaceName(kept["face"]))


def _lab(kept: Iterable[float] | None) -> Lab | None:
    if kept is None:
        return None
    lightness, a, b = kept
    return (float(lightness), float(a), float(b))


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
