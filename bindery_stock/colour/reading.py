"""From a patch on a photograph to a colour reading that says how far to trust it."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.patch import patch_codes, patch_mean
from bindery_stock.colour.space import Lab

U_BARE: Final = 15.0
"""95 % of colours read from ordinary photographs without any reference lie within this ΔE00 of the
truth: our own measurement over 15 ordinary photographs of a 24-patch target with published
values."""


@dataclass(frozen=True, slots=True)
class ColourReading:
    """A colour read from a photograph: CIELAB D50, 2° observer."""

    lab: Lab
    spread: float
    """Root mean square ΔE00 of the accepted pixels about the mean."""
    u: float
    """95 % uncertainty as ΔE00."""
    method: str
    """How it was obtained, in words."""
    profile: str
    """Which colour profile was used or assumed."""
    rejected: float
    """Share of the patch rejected as outliers, 0..1."""
    pixels: int
    """Pixels inside the patch."""
    warnings: tuple[str, ...] = ()


def measure(photo: Path, patch: Sequence[tuple[float, float]]) -> ColourReading:
    """Read the colour of a patch (a polygon in upright pixels of the photograph).

    Raises ``PhotoError`` for a file that cannot be read and ``ColourError`` for a patch that leaves
    the photograph or has under 50 pixels.
    """
    opened = open_negative(Path(photo))
    encoding = opened.encoding
    mean = patch_mean(patch_codes(opened, patch), encoding)
    warnings = list(opened.notes)
    if mean.clipped > 0.05:
        warnings.append(
            f"{mean.clipped:.0%} of the patch is clipped: too bright, too dark or too vivid for "
            "the photograph. Expose again."
        )
    if mean.rejected > 0.05:
        warnings.append(
            f"{mean.rejected:.0%} of the patch was left out as unlike the rest: it may hold more "
            "than one colour."
        )
    return ColourReading(
        lab=mean.lab,
        spread=mean.spread,
        u=U_BARE,
        method="bare photograph, no reference",
        profile=encoding.name,
        rejected=mean.rejected,
        pixels=mean.pixels,
        warnings=tuple(warnings),
    )
