"""Book and scrap side by side in one photograph: the most trustworthy comparison there is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from bindery_stock.colour.corrections import reader_for
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.difference import SignedDifference, delta_e00, step
from bindery_stock.colour.neutral import Neutral
from bindery_stock.colour.patch import Polygon
from bindery_stock.colour.reading import ColourReading, polygons, read_patches
from bindery_stock.colour.target import Target
from bindery_stock.colour.uncertainty import InPhoto, combine, differs_in_photo
from bindery_stock.colour.words import words


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two patches of one photograph held against each other."""

    delta_e: float
    """ΔE00."""
    u: float
    """Its 95 % band."""
    step: SignedDifference
    """From the first to the second."""
    first: ColourReading
    second: ColourReading
    different: bool
    """Whether the two are told apart in this photograph: a test of its own, not of the band."""
    way: str
    """Whose band it is, in words."""

    @property
    def words(self) -> str:
        """The difference and its band in plain words, and whether the two are told apart."""
        told = "told apart" if self.different else "not told apart"
        return f"{words(self.delta_e, self.u)}; {told} {self.way}"


def compare_in_photo(
    photo: Path,
    patch_a: Polygon | Sequence[Polygon],
    patch_b: Polygon | Sequence[Polygon],
    *,
    neutral: Neutral | Sequence[Neutral] | None = None,
    target: Target | None = None,
    sheet: Polygon | None = None,
) -> Comparison:
    """ΔE00 ± u between two patches (or sets of patches) of one photograph.

    Light, camera and correction are shared, so their error is one of scale: a share of the
    difference, not a band about each colour. The same patches given twice share their noise as
    well: nothing is between them. Raises as ``measure`` does.
    """
    opened = open_negative(Path(photo))
    reader, warnings = reader_for(opened, neutral, target, sheet)
    first = read_patches(opened, reader, polygons(patch_a), [*opened.notes, *warnings])
    second = read_patches(opened, reader, polygons(patch_b))
    found = between(first, second, reader.in_photo)
    return replace(found, u=0.0) if polygons(patch_a) == polygons(patch_b) else found


def between(first: ColourReading, second: ColourReading, in_photo: InPhoto) -> Comparison:
    """Two readings of one photograph held against each other."""
    de = float(delta_e00(first.lab, second.lab))
    noise = (first.noise, second.noise)
    return Comparison(
        delta_e=de,
        u=in_photo.band(de, *noise),
        step=step(first.lab, second.lab),
        first=first,
        second=second,
        different=differs_in_photo(de, *noise),
        way=in_photo.way,
    )


@dataclass(frozen=True, slots=True)
class Confirmation:
    """A match seen by eye or camera under one light."""

    light: str
    """In the binder's words: daylight, reading lamp."""
    delta_e: float
    u: float


def metamerism_caution(one: Confirmation, other: Confirmation) -> str:
    """A caution where two lights disagree about a match by more than their bands, or nothing.

    Two cloths that match under one light and part under another are metameric: their dyes differ.
    """
    if one.light.strip().lower() == other.light.strip().lower():
        return ""
    if abs(one.delta_e - other.delta_e) <= combine(one.u, other.u):
        return ""
    better, worse = sorted((one, other), key=lambda c: c.delta_e)
    return (
        f"Under {better.light} the two are ΔE00 {better.delta_e:.1f} apart, under {worse.light} "
        f"{worse.delta_e:.1f}: they match in one light and part in another (metamerism). Look at "
        "them where the book will be read."
    )
