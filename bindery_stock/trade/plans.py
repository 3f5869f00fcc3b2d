"""A part to cut: its size with the sum that made it, its zones, its grain, and what goes on it."""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.trade.measures import Measures
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.sizing_rules import Grain, Role
from bindery_stock.trade.sums import Sum, Term, of
from bindery_stock.trade.vocabulary import Kind

Zone = tuple[str, float, float, float, float]
"""``"shown"`` or ``"hidden"``, then left, low, right, high in mm from the lower-left corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPlan:
    """One part of a repair.

    Width lies across the spine, height along it, both in mm.
    """

    role: Role
    name: str
    count: int
    width_sum: Sum
    height_sum: Sum
    stock: Kind
    material: str
    adhesives: tuple[str, ...]
    """Keys of adhesive classes, first choice first; each is still judged by its own verdict."""
    grain: Grain
    zones: tuple[Zone, ...]
    provenance: Provenance
    rule: str
    estimated: bool = False
    """Whether the back must be measured again, with its linings on, before this is cut."""
    warnings: tuple[str, ...] = ()
    note: str = ""

    @property
    def width(self) -> float:
        """Across the spine, mm."""
        return self.width_sum.total

    @property
    def height(self) -> float:
        """Along the spine, mm."""
        return self.height_sum.total

    @property
    def turns(self) -> tuple[float, ...]:
        """Turns in degrees that keep to the grain."""
        return self.grain.turns

    @property
    def shown(self) -> bool:
        """Whether any of it is seen on the finished book."""
        return any(zone[0] == "shown" for zone in self.zones)

    @property
    def shown_area(self) -> float:
        """Area seen, mm²."""
        return sum(
            (right - left) * (high - low)
            for sight, left, low, right, high in self.zones
            if sight == "shown"
        )


@dataclass(frozen=True, slots=True)
class Strip:
    """A stretch of a part in one direction, and whether it is seen there."""

    sight: str
    length: float


def hidden(length: float) -> Strip:
    """A stretch that is not seen."""
    return Strip("hidden", length)


def shown(length: float) -> Strip:
    """A stretch that is seen."""
    return Strip("shown", length)


def grid(across: Sequence[Strip], along: Sequence[Strip]) -> tuple[Zone, ...]:
    """Zones of a part cut into stretches both ways: seen only where both stretches are seen."""
    zones: list[Zone] = []
    left = 0.0
    whole = [hidden(sum(row.length for row in along))]
    for column in across:
        low = 0.0
        for row in along if column.sight == "shown" else whole:
            if column.length > 0 and row.length > 0:
                seen = column.sight == row.sight == "shown"
                right, high = left + column.length, low + row.length
                zones.append(("shown" if seen else "hidden", left, low, right, high))
            low += row.length
        left += column.length
    return tuple(zones)


def all_shown(width: Sequence[Term], height: Sequence[Term]) -> tuple[Zone, ...]:
    """The one zone of a part that is seen throughout."""
    return (("shown", 0.0, 0.0, of(width).total, of(height).total),)


def plan(
    measures: Measures,
    role: Role,
    width: Sequence[Term],
    height: Sequence[Term],
    *,
    count: int = 1,
    zones: Sequence[Zone] | None = None,
    note: str = "",
    warnings: Sequence[str] = (),
) -> PartPlan:
    """A part of that role; without ``zones`` it is hidden throughout."""
    rule = measures.rules.parts[role.value]
    width_sum, height_sum = of(width), of(height)
    if zones is None:
        zones = (("hidden", 0.0, 0.0, width_sum.total, height_sum.total),)
    by_spine = any(term.symbol in {"A", "θt"} for term in width_sum.terms)
    return PartPlan(
        role=role,
        name=rule.name,
        count=count,
        width_sum=width_sum,
        height_sum=height_sum,
        stock=rule.stock,
        material=rule.material,
        adhesives=rule.adhesives,
        grain=rule.grain,
        zones=tuple(zones),
        provenance=rule.provenance,
        rule=rule.rule,
        estimated=by_spine and measures.estimated,
        warnings=tuple(warnings),
        note=note,
    )
