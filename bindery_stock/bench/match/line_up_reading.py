"""What one photograph of a line-up says: every scrap held against the book, the closest first."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry

from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.bench.photo_table.marks import Grey, Patches, crosses_itself, patches_within
from bindery_stock.bench.photo_table.readings import known_colours
from bindery_stock.colour import Comparison
from bindery_stock.colour.line_up import read_line_up
from bindery_stock.errors import ColourError
from bindery_stock.shape import Ring

_OFFERED = 9
"""Patches on one cloth, those on gilt or a stain left out. Own measurement, real pairs of patches
scaled to ΔE00 3 in a bare photograph with the unevenness of the sample's cloths laid on: told apart
in 61 of 100 with three patches a cloth, in 94 with five, in 96 with nine; one cloth is taken for
two in fewer than 1 (``tests/benchmarks/bench_line_up.py``)."""
_AROUND_SYMBOL = 1.6
"""Times its symbol that a label covers at the least."""


@dataclass(frozen=True, slots=True)
class HeldScrap:
    """One scrap held against the book."""

    number: int
    """Its number in the photograph."""
    code: str
    """Empty where it is not told."""
    comparison: Comparison
    patches: tuple[Ring, ...]
    tied: bool
    """Whether it cannot be told from the closest."""
    keeps: bool
    """Whether it is kept as a confirmation: told, and the right side up."""

    @property
    def figure(self) -> str:
        """``ΔE00 1.2 ± 1.6``, to stand beside the scrap."""
        return f"ΔE00 {self.comparison.delta_e:.1f} ± {self.comparison.u:.1f}"


@dataclass(frozen=True, slots=True)
class LineUpAnswer:
    """The scraps of a line-up in the order of their colour, as one photograph has it."""

    book_patches: tuple[Ring, ...]
    held: tuple[HeldScrap, ...]
    """The closest first."""
    refused: tuple[tuple[int, str], ...] = ()
    """Scraps that could not be read, by their number, with the reason."""
    warnings: tuple[str, ...] = ()

    @property
    def kept(self) -> tuple[HeldScrap, ...]:
        """What a confirmation is kept of."""
        return tuple(one for one in self.held if one.keeps)

    def told_as(self, seen: LineUpPhoto) -> "LineUpAnswer":
        """The same figures after the binder has pointed at scraps: nothing is read again."""
        held = (
            replace(one, code=scrap.code, keeps=scrap.is_read)
            for one, scrap in ((one, seen.scraps[one.number]) for one in self.held)
        )
        return replace(self, held=tuple(held))

    @property
    def words(self) -> str:
        """``C-0042 is the closest.`` or which cannot be told from it."""
        first = [one.code or "?" for one in self.held if one.tied]
        if not first:
            return ""
        if len(first) == 1:
            return f"{first[0]} is the closest in this photograph."
        return (
            f"{', '.join(first[:-1])} and {first[-1]} are the closest; this photograph cannot tell "
            "which of them is."
        )


def read_scraps(
    seen: LineUpPhoto,
    *,
    reference: Grey | Patches | None = None,
    sheet: Ring = (),
    book: Sequence[Ring] = (),
) -> LineUpAnswer:
    """Read every scrap and the book, and rank the scraps by their ΔE00 from the book.

    The patches place themselves, up to nine a cloth, clear of the edge and the label; ``book`` are
    patches drawn on the book instead. Raises ``ColourError`` and ``PhotoError`` with what to do.
    """
    lying = seen.book
    if not book and lying is None:
        raise ColourError("Point at the book in the photograph first, or draw a patch on it.")
    offered = tuple(book) or _places(lying)
    numbers = [n for n, scrap in enumerate(seen.scraps) if not scrap.is_book]
    neutrals, target = known_colours(reference)
    said = read_line_up(
        seen.photo,
        offered,
        [_places(seen.scraps[n]) for n in numbers],
        neutral=neutrals or None,
        target=target,
        sheet=sheet or None,
    )
    held = []
    for one in said.ranked:
        number = numbers[one.key]
        scrap = seen.scraps[number]
        patches = tuple(_ring(patch) for patch in one.patches)
        held.append(HeldScrap(number, scrap.code, one.comparison, patches, one.tied, scrap.is_read))
    return LineUpAnswer(
        tuple(_ring(patch) for patch in said.book_patches),
        tuple(held),
        tuple((numbers[key], why) for key, why in said.refused.items()),
        said.warnings,
    )


def _places(scrap: LineUpScrap | None) -> tuple[Ring, ...]:
    """Where a cloth may be read."""
    if scrap is None or len(scrap.ring) < 3 or crosses_itself(scrap.ring):
        return ()
    free: BaseGeometry = Polygon(scrap.ring)
    covered = [Polygon(hole) for hole in scrap.holes if not crosses_itself(hole)]
    covered += [
        affinity.scale(Polygon(label.ring), _AROUND_SYMBOL, _AROUND_SYMBOL)
        for label in scrap.labels
    ]
    return patches_within(free.difference(shapely.union_all(covered)), _OFFERED)


def _ring(patch: Sequence[tuple[float, float]]) -> Ring:
    return tuple((float(x), float(y)) for x, y in patch)
