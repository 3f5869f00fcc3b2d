"""What the last volumes of a set may want: parts to keep cloth for before anyone has measured them.

Each volume to come is expected to want a spine as large as the set's largest and 3 mm more either
way, at half its weight; a spare strip is one more that counts a tenth. Their colour is that of the
spine most like all the others. They belong to no volume, so nothing is finished by them: they keep
cloth free and no more. Our own choice.
"""

from collections.abc import Iterable
from dataclasses import replace

from bindery_stock.colour import delta_e00
from bindery_stock.matching.values import Lab, Part

LARGER_MM = 3.0
_WEIGHT, _SPARE = 0.5, 0.1


def expected(parts: Iterable[Part], volumes: int, *, spare: bool = False) -> tuple[Part, ...]:
    """The parts of so many volumes to come, and of a spare strip, from the spines among ``parts``.

    None where no spine is among them to go by.
    """
    spines = [part for part in parts if part.spine and part.lab is not None]
    if not spines:
        return ()
    largest = max(spines, key=lambda part: part.area)
    one = replace(
        largest,
        width=largest.width + LARGER_MM,
        height=largest.height + LARGER_MM,
        lab=_most_alike([part.lab for part in spines if part.lab is not None]),
        weight=_WEIGHT * largest.visibility,
        zones=(),
        volume="",
        spine=False,
    )
    to_come = [
        replace(one, name=f"spine of volume {number} of {volumes} to come")
        for number in range(1, volumes + 1)
    ]
    spares = [replace(one, name="spare strip", weight=_SPARE * largest.visibility)] if spare else []
    return (*to_come, *spares)


def _most_alike(labs: list[Lab]) -> Lab:
    """The one that the others together are nearest to."""
    return min(labs, key=lambda lab: float(delta_e00(lab, labs).sum()))
