"""Checks at the door for sets, repairs, parts and treatment."""

import math
from collections.abc import Mapping
from dataclasses import fields

from bindery_stock.errors import EntryError
from bindery_stock.stock import checks
from bindery_stock.stock.books.values import NewPart, NewRepair, NewTreatment, Shared
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.trade import Survey

LAYERS = frozenset({"", "band", "beneath"})
_SHARED = {field.name for field in fields(Survey)} - {"damage"}
_MOST_HOURS = 10_000.0


def shared(values: Mapping[str, Shared]) -> dict[str, Shared]:
    """What the volumes of a set have in common. Raises ``EntryError`` naming what cannot be."""
    unknown = sorted(set(values) - _SHARED)
    if unknown:
        raise EntryError(
            "Shared measurements",
            f"Shared measurements: there is nothing called {', '.join(unknown)} in a survey.",
        )
    Survey(**{"spine_width": 1.0, "board_height": 1.0, **values})  # type: ignore[arg-type]
    return dict(values)


def repair(new: NewRepair) -> NewRepair:
    """The repair itself, every text and number of it checked."""
    checks.words(new.name, "Name")
    for name in (
        "title",
        "author",
        "owner",
        "pattern",
        "condition",
        "note",
        "colour_family",
        "dated",
    ):
        checks.text(getattr(new, name), name.capitalize())
    evidence.checked((), new.lab_results)
    if new.volume is not None and new.volume < 0:
        raise EntryError("Volume", "Volume: a number of 0 or more, or nothing.")
    if new.tolerance is not None and checks.number(new.tolerance, "Tolerance") < 0.0:
        raise EntryError("Tolerance", "Tolerance: cannot be less than zero.")
    if new.hours_estimated is not None:
        hours(new.hours_estimated, "Estimated hours")
    return new


def part(new: NewPart) -> NewPart:
    """The part itself, checked."""
    for name in ("role", "name"):
        checks.words(getattr(new, name), name.capitalize())
    checks.size(new.width, f"Width of the {new.name}")
    checks.size(new.height, f"Height of the {new.name}")
    if not 1 <= new.number <= new.of:
        raise EntryError("Number", f"{new.name}: {new.number} of {new.of} cannot be.")
    if new.layer not in LAYERS:
        raise EntryError("Layer", f"{new.name}: “{new.layer}” is no layer of a part.")
    if not new.turns:
        raise EntryError("Turns", f"{new.name}: say how it may be turned, at the least 0°.")
    for turn in new.turns:
        checks.number(turn, "Turn")
    for _, *sides in new.zones:
        for side in sides:
            checks.number(side, "Zone")
    return new


def treatment(new: NewTreatment) -> NewTreatment:
    """The line of treatment itself, checked."""
    checks.words(new.what, "What was done")
    for name in ("undo", "amount", "override"):
        checks.text(getattr(new, name), name.capitalize())
    hours(new.hours, "Hours")
    return new


def hours(value: float, field: str) -> float:
    """A number of hours, 0 or more."""
    if not (math.isfinite(value) and 0.0 <= value <= _MOST_HOURS):
        raise EntryError(field, f"{field}: {value:g} is no number of hours for a book.")
    return float(value)
