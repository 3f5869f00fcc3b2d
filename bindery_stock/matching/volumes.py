"""Which parts a volume is made of, as sharing out counts them: whether it is finished, its lots.

A volume is finished where none of its shown parts is left out. One that lacks a part which nothing
in the hoard serves cannot be, so it yields to one that can.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from bindery_stock.colour import delta_e00
from bindery_stock.matching.prices import Prices
from bindery_stock.matching.values import Lab, Part

LIKE = 1.0
"""ΔE00 within which two colours sought in one volume count as one: hardly anyone sees less."""


class Served(Protocol):
    """The parts of a campaign, what they cost, and whether the hoard serves them."""

    @property
    def parts(self) -> Sequence[Part]:
        """All parts sought."""

    @property
    def prices(self) -> Prices:
        """What things count."""

    @property
    def left_out(self) -> np.ndarray:
        """What each part costs where it is left out."""

    def served_by_something(self, part: int) -> bool:
        """Whether any piece would serve the part if it were alone."""


@dataclass(frozen=True, slots=True)
class Volumes:
    """The volumes of a campaign that can be finished."""

    of_part: tuple[int, ...]
    """For each part the number of its volume, or -1 where it does not count for one."""
    members: tuple[tuple[int, ...], ...]
    """The parts of each volume that count."""
    price: float
    """Of a volume that is not finished."""
    broken: int
    """How many more cannot be finished, as nothing serves one of their parts."""
    unserved: frozenset[int]
    """The parts that nothing serves."""
    to_buy: float
    """What those parts and volumes cost in any plan."""

    @classmethod
    def of(cls, campaign: Served) -> "Volumes":
        """The volumes of these parts; asks of each part whether anything serves it."""
        counted = [n for n, part in enumerate(campaign.parts) if part.visibility > 0]
        unserved = {n for n in counted if not campaign.served_by_something(n)}
        by_name: dict[str, list[int]] = {}
        for number in counted:
            part = campaign.parts[number]
            if part.volume and part.shown:
                by_name.setdefault(part.volume, []).append(number)
        able = [tuple(parts) for parts in by_name.values() if not unserved.intersection(parts)]
        of_part = [-1] * len(campaign.parts)
        for volume, parts in enumerate(able):
            for number in parts:
                of_part[number] = volume
        price = campaign.prices.volume
        missing = sum(float(campaign.left_out[n]) for n in sorted(unserved))
        broken = len(by_name) - len(able)
        to_buy = missing + price * broken
        return cls(tuple(of_part), tuple(able), price, broken, frozenset(unserved), to_buy)

    def unfinished(self, where: Sequence[int]) -> int:
        """How many lack a part, ``where`` telling of each part which piece it is in."""
        return sum(any(where[part] < 0 for part in parts) for parts in self.members)

    def relief(self, over: np.ndarray) -> float:
        """What leaving parts out saves at most, each part saving ``over`` its own price by it.

        No more than nothing: a volume is left unfinished only where that pays.
        """
        return sum(
            min(self.price - float(np.maximum(over[list(parts)], 0.0).sum()), 0.0)
            for parts in self.members
        )


def shades_of(parts: Sequence[Part]) -> tuple[int, ...]:
    """Which shown parts of a volume are sought in one colour: numbers alike, or -1 for no lot."""
    leaders: list[tuple[str, Lab]] = []
    return tuple(_shade(part, leaders) for part in parts)


def _shade(part: Part, leaders: list[tuple[str, Lab]]) -> int:
    if not (part.volume and part.shown and part.lab is not None):
        return -1
    for number, (volume, lab) in enumerate(leaders):
        if volume == part.volume and _alike(lab, part.lab):
            return number
    leaders.append((part.volume, part.lab))
    return len(leaders) - 1


def _alike(one: Lab, other: Lab) -> bool:
    return one == other or float(delta_e00(one, [other])[0]) <= LIKE
