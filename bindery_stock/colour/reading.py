"""From patches on a photograph to a colour reading that says how far to trust it."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, cast

import numpy as np

from bindery_stock.colour.clusters import Cluster, clusters, only_meant
from bindery_stock.colour.corrections import Reader, reader_for
from bindery_stock.colour.decode import Negative, open_negative
from bindery_stock.colour.light import light_differs, uneven_warning
from bindery_stock.colour.neutral import Neutral
from bindery_stock.colour.patch import PatchMean, Polygon, patch_mean, patch_pixels
from bindery_stock.colour.plausible import cloth_colour
from bindery_stock.colour.read_by import ReadBy
from bindery_stock.colour.space import Lab, lab_to_xyz, xyz_to_lab
from bindery_stock.colour.target import Target
from bindery_stock.colour.uncertainty import U_UNSEEN, combine, mean_band
from bindery_stock.errors import ColourError

_MARKED_SHARE: Final = 0.05
_CLIPPED_SHARE: Final = 0.10
"""Of a patch: from here on what was clipped has moved its mean."""
ASKED_PATCHES: Final = 3
ONE_PATCH: Final = "One patch cannot see uneven dye or light: mark three, apart from each other."


@dataclass(frozen=True, slots=True)
class ColourReading:
    """A colour read from a photograph: CIELAB D50, 2° observer."""

    lab: Lab
    spread: float
    """Root mean square ΔE00 of the accepted pixels about the mean of their patch."""
    u: float | None
    """95 % uncertainty as ΔE00; None where it was seen and not measured."""
    method: str
    """How it was obtained, in words."""
    read_by: ReadBy
    """What vouches for it."""
    profile: str
    """Which colour profile was used or assumed."""
    rejected: float
    """Share of the pixels left out of the mean, as outliers or clipped, 0..1."""
    pixels: int
    """Pixels inside the patches."""
    warnings: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()
    """What would make the reading better, though nothing is wrong with it."""
    patches: tuple[Lab, ...] = ()
    """Each patch's own colour."""
    clusters: tuple[Cluster, ...] = ()
    """Where a patch holds more than one colour: its colours, uncorrected."""
    noise: float = 0.0
    """95 % band of the cloth's own (weave, patches), without the correction's."""


def measure(
    photo: Path,
    patch: Polygon | Sequence[Polygon],
    *,
    neutral: Neutral | Sequence[Neutral] | None = None,
    target: Target | None = None,
    sheet: Polygon | None = None,
    outline: Polygon | None = None,
    meant: Lab | None = None,
) -> ColourReading:
    """Read the colour of one patch or of several of the same cloth.

    All polygons are in pixels of the upright photograph. A ``target`` of known colours in the
    photograph is better than a ``neutral`` patch (or several, which also tell of uneven light), and
    that than nothing. A plain ``sheet`` levels the light. The ``outline`` of the piece, where
    given, has the ground around it checked for uneven light. Where a patch holds two colours,
    ``meant`` is the one to read, as its cluster has it.

    Raises ``PhotoError`` for a file that cannot be read and ``ColourError`` for a patch or a
    reference that leaves the photograph, is too small or is clipped.
    """
    opened = open_negative(Path(photo))
    reader, warnings = reader_for(opened, neutral, target, sheet)
    if outline is not None and sheet is None:
        warnings += light_warnings(opened, outline)
    said = [*opened.notes, *warnings]
    return read_patches(opened, reader, polygons(patch), said, meant=meant)


def light_warnings(photo: Negative, outline: Polygon) -> list[str]:
    """What is to be said of the light around an outline, also where it cannot be judged."""
    try:
        said = uneven_warning(light_differs(photo, outline))
    except ColourError as error:
        # The cloth fills the photograph: its colour can be read all the same.
        return [str(error)]
    return [said] if said else []


def polygons(patch: Polygon | Sequence[Polygon]) -> list[Polygon]:
    """One polygon or several, as a list. Raises ``ColourError`` for neither."""
    given = list(cast("Sequence[Any]", patch))
    if not given:
        raise ColourError("Mark a patch on the cloth first.")
    depth = np.ndim(given[0])
    if depth == 1:
        return [cast("Polygon", given)]
    if depth == 2:
        return cast("list[Polygon]", given)
    raise ColourError("A patch is a list of corners, each with x and y.")


def read_patches(
    photo: Negative,
    reader: Reader,
    patches: Sequence[Polygon],
    warnings: Sequence[str] = (),
    *,
    meant: Lab | None = None,
) -> ColourReading:
    """The colour of the patches of one cloth through one correction.

    Raises ``ColourError`` where it comes out as none that cloth can have.

    ``meant`` chooses one of two colours in a patch; see ``measure``.
    """
    said = list(warnings)
    means: list[PatchMean] = []
    labs: list[Lab] = []
    bands: list[float | None] = []
    several: tuple[Cluster, ...] = ()
    for number, polygon in enumerate(patches, 1):
        pixels = patch_pixels(
            photo, polygon, "The patch" if len(patches) == 1 else f"Patch {number}"
        )
        if meant is not None:
            pixels = only_meant(pixels, photo.encoding, meant)
        mean = patch_mean(pixels, photo.encoding)
        x, y = np.asarray(polygon, dtype=np.float64).mean(axis=0)
        at = (float(x), float(y))
        means.append(mean)
        labs.append(cloth_colour(reader.lab(mean.linear, at)))
        bands.append(reader.u(mean.linear, at, clipped=mean.clipped > _CLIPPED_SHARE))
        found = clusters(pixels, photo.encoding)
        several = several or (found if len(found) > 1 else ())
    said += _remarks(means, several)
    lab = cloth_colour(_mean_lab(labs))
    caution = reader.caution(lab)
    said += [caution] if caution else []
    noise = combine(_between(labs), *(m.band / len(means) for m in means))
    return ColourReading(
        lab=lab,
        spread=float(np.sqrt(np.mean([m.spread**2 for m in means]))),
        u=_whole_band(bands, noise),
        method=reader.method,
        read_by=reader.read_by,
        profile=photo.encoding.name,
        rejected=float(np.average([m.rejected for m in means], weights=[m.pixels for m in means])),
        pixels=sum(m.pixels for m in means),
        warnings=tuple(said),
        advice=(ONE_PATCH,) if len(patches) < ASKED_PATCHES else (),
        patches=tuple(labs),
        clusters=several,
        noise=noise,
    )


def _whole_band(bands: Sequence[float | None], noise: float) -> float | None:
    """The correction's band, the mean of its patches', with the cloth's own."""
    known = [band for band in bands if band is not None]
    return combine(float(np.mean(known)), noise) if len(known) == len(bands) else None


def _mean_lab(labs: Sequence[Lab]) -> Lab:
    """The mean in linear light."""
    mean = xyz_to_lab(lab_to_xyz(labs).mean(axis=0))
    return (float(mean[0]), float(mean[1]), float(mean[2]))


def _between(labs: Sequence[Lab]) -> float:
    """What patches say of the cloth beyond their own pixels; one says nothing."""
    return U_UNSEEN if len(labs) == 1 else mean_band(labs)


def _remarks(means: Sequence[PatchMean], several: Sequence[Cluster]) -> list[str]:
    said = []
    clipped = max(mean.clipped for mean in means)
    if clipped > _MARKED_SHARE:
        said.append(
            f"{clipped:.0%} of a patch is clipped: too bright, too dark or too vivid for the "
            "photograph. Expose differently."
        )
    unlike = max(mean.rejected - mean.clipped for mean in means)
    if several:
        shares = " and ".join(f"{one.share:.0%}" for one in several)
        said.append(
            f"A patch holds more than one colour ({shares}): stamping, a stain or coloured "
            "threads? Mark the colour meant."
        )
    elif unlike > _MARKED_SHARE:
        said.append(
            f"{unlike:.0%} of a patch was left out as unlike the rest; it may hold more than one "
            "colour, a shadow or glare."
        )
    return said
