"""How the volumes of a set stand on the shelf, and what one of them is called there."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bindery_stock.stock import Repair

Rows = tuple[tuple[str, ...], ...]
"""Codes of volumes side by side, from the left."""


@dataclass(frozen=True, slots=True)
class SetOnShelf:
    """What a sharing-out minds beside the parts that wait."""

    rows: Rows = ()
    to_come: int = 0
    """Volumes not surveyed yet, for which cloth is kept free."""
    spare: bool = False
    """Whether cloth is kept for a spare strip, too."""


def rows(volumes: Iterable[Repair]) -> Rows:
    """By their numbers: where a number is missing another volume stands between."""
    numbered = sorted(
        ((volume.volume, volume.code) for volume in volumes if volume.volume is not None),
    )
    found: list[list[str]] = []
    last = None
    for number, code in numbered:
        if last is None or number != last + 1:
            found.append([])
        found[-1].append(code)
        last = number
    return tuple(tuple(row) for row in found)


def names(volumes: Iterable[Repair]) -> Mapping[str, str]:
    """``vol. 3``, or its name where it has no number, by code."""
    return {one.code: f"vol. {one.volume}" if one.volume else one.name for one in volumes}
