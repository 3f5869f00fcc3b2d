"""Between the ticks of a survey and damage with its place: old surveys carry on.

A tick that leaves open which of several places it speaks of gets the place *not said*; nothing is
guessed.
"""

from collections.abc import Iterable

from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damages import DamageKind, DamageKinds, PlacedDamage, TickPlaces
from bindery_stock.trade.survey import Damage, Harm


def placed_damage(ticks: Iterable[Damage], kinds: DamageKinds) -> tuple[PlacedDamage, ...]:
    """Each tick as damage at its place, or at as many places as it speaks of for certain."""
    by_harm = {tick.harm: (kind, tick) for kind in kinds.by_key.values() for tick in kind.ticks}
    found: list[PlacedDamage] = []
    for tick in ticks:
        kind, where = by_harm[tick.harm]
        places, count = _places(kind, where, tick.count)
        found += [
            PlacedDamage(
                kind=kind.key,
                place=place,
                along=tick.extent if kind.along else None,
                across=tick.across if kind.across else None,
                count=count,
            )
            for place in places
        ]
    return tuple(found)


def _places(kind: DamageKind, where: TickPlaces, count: int) -> tuple[tuple[BookPlace, ...], int]:
    """The places, and how many each stands for."""
    if len(where.places) == 1:
        return where.places, count if kind.counted else 1
    if where.all or (not kind.counted and count == len(where.places)):
        return where.places, 1
    return (BookPlace.NOT_SAID,), count


def survey_ticks(damages: Iterable[PlacedDamage], kinds: DamageKinds) -> tuple[Damage, ...]:
    """Damage with its place as ticks of a survey: like ones are counted together."""
    counts: dict[tuple[Harm, float | None, float | None], int] = {}
    listed = list(damages)
    for key in dict.fromkeys(damage.kind for damage in listed):
        of_kind = [damage for damage in listed if damage.kind == key]
        kind = kinds[key]
        for tick in (one for one in kind.ticks if one.all):
            there = {damage.place for damage in of_kind}
            only = len(kind.ticks) == 1
            if only or there >= set(tick.places):
                counts[tick.harm, None, None] = 1
                of_kind = [] if only else [d for d in of_kind if d.place not in tick.places]
        for damage in of_kind:
            entry = (kind.harm_at(damage.place), damage.along, damage.across)
            counts[entry] = counts.get(entry, 0) + damage.count
    return tuple(
        Damage(harm, count, along, across) for (harm, along, across), count in counts.items()
    )
