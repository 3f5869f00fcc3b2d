"""A correction kept for the photographs of one sitting: one camera, one light.

A correction carried to another light is worse than none: reused within a set-up it costs little,
after the light changed its error doubles to quintuples. So it is lent only to a photograph that
itself shows, by a neutral patch or the target, that camera and light are still the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

import numpy as np
from PIL import ExifTags

from bindery_stock.colour.calibrate import Correction, calibrate
from bindery_stock.colour.corrections import ByTarget, usable
from bindery_stock.colour.decode import Negative, open_negative
from bindery_stock.colour.difference import delta_e00, pairwise
from bindery_stock.colour.neutral import Neutral
from bindery_stock.colour.patch import Polygon, patch_mean, patch_pixels
from bindery_stock.colour.reading import (
    ColourReading,
    light_warnings,
    polygons,
    read_patches,
)
from bindery_stock.colour.space import Lab
from bindery_stock.colour.target import Target, find_patches
from bindery_stock.colour.uncertainty import U_LENT, combine
from bindery_stock.errors import ColourError

SITTING: Final = timedelta(hours=3)
"""Daylight changes within this; so does what lies on the bench (common practice, no source)."""
_DRIFT: Final = 3.0
"""ΔE00 a known patch may have drifted before the light or exposure counts as changed."""


@dataclass(frozen=True, slots=True)
class Camera:
    """What a photograph says of where it comes from; empty where it says nothing."""

    name: str
    taken: datetime | None


@dataclass(frozen=True, slots=True)
class Sitting:
    """A correction and the camera and light it belongs to."""

    correction: Correction
    camera: Camera
    profile: str
    centre: tuple[float, float]
    """Where the target lay, upright pixels."""


def camera_of(photo: Negative) -> Camera:
    """The camera's name and the time from EXIF (naive local time, as cameras write it)."""
    exif = photo.image.getexif()
    names = [
        str(exif.get(tag, "")).strip("\0 ") for tag in (ExifTags.Base.Make, ExifTags.Base.Model)
    ]
    details = exif.get_ifd(ExifTags.IFD.Exif)
    lens = str(details.get(ExifTags.Base.LensModel, "")).strip("\0 ")
    written = details.get(ExifTags.Base.DateTimeOriginal) or exif.get(ExifTags.Base.DateTime)
    return Camera(" ".join(n for n in (*names, lens) if n), _time(str(written or "")))


def _time(written: str) -> datetime | None:
    try:
        return datetime.strptime(written.strip("\0 "), "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007 - as written
    except ValueError:
        # Cameras whose clock was never set write zeros or blanks.
        return None


def begin_sitting(photo: Path, target: Target) -> Sitting:
    """Find the correction from a photograph with a target, to be lent to others of the sitting."""
    opened = open_negative(Path(photo))
    x, y = np.asarray(target.corners, dtype=np.float64).mean(axis=0)
    correction = calibrate(opened, target)
    return Sitting(correction, camera_of(opened), opened.encoding.name, (float(x), float(y)))


def measure_in_sitting(
    photo: Path,
    patch: Polygon | Sequence[Polygon],
    sitting: Sitting,
    *,
    neutral: Neutral | None = None,
    target: Target | None = None,
    outline: Polygon | None = None,
    meant: Lab | None = None,
) -> ColourReading:
    """Read a colour by a correction found in another photograph of the sitting.

    The photograph must show a ``neutral`` patch or the ``target`` to prove that its light is the
    same. ``outline`` and ``meant`` are as in ``measure``. Raises ``ColourError`` with the reason
    where the correction may not be lent.
    """
    correction = usable(sitting.correction)
    opened = open_negative(Path(photo))
    drift = _proved(opened, sitting, neutral, target)
    reader = ByTarget(correction, None, sitting.centre, extra=combine(drift, U_LENT), lent=True)
    warnings = light_warnings(opened, outline) if outline is not None else []
    said = [*opened.notes, *warnings]
    return read_patches(opened, reader, polygons(patch), said, meant=meant)


def _proved(
    photo: Negative, sitting: Sitting, neutral: Neutral | None, target: Target | None
) -> float:
    """How far a known patch has drifted, ΔE00; refused with the reason where too far."""
    camera = camera_of(photo)
    refused = _other_camera(camera, sitting) or _other_time(camera, sitting)
    if not refused and photo.encoding.name != sitting.profile:
        refused = "its colour profile is another one"
    drift = 0.0
    if not refused:
        drift = _drift(photo, sitting, neutral, target)
        if drift > _DRIFT:
            refused = f"a known patch has drifted by ΔE00 {drift:.1f}, so light or exposure changed"
    if refused:
        raise ColourError(
            f"The correction kept from this sitting cannot be used for “{photo.path.name}”: "
            f"{refused}. Photograph the target in the same light."
        )
    return drift


def _other_camera(camera: Camera, sitting: Sitting) -> str:
    if camera.name == sitting.camera.name:
        return ""
    return f"it was taken with {camera.name or 'an unnamed camera'}"


def _other_time(camera: Camera, sitting: Sitting) -> str:
    if camera.taken is None or sitting.camera.taken is None:
        return ""
    apart = abs(camera.taken - sitting.camera.taken)
    if apart <= SITTING:
        return ""
    return f"it was taken {apart.total_seconds() / 3600:.0f} hours from the target's photograph"


def _drift(
    photo: Negative, sitting: Sitting, neutral: Neutral | None, target: Target | None
) -> float:
    if target is not None:
        seen = find_patches(photo, target)
        centre = np.zeros((len(seen.linear), 2))
        now = sitting.correction.chain.predict(seen.linear, centre)
        then = sitting.correction.chain.predict(sitting.correction.seen.linear, centre)
        served = [
            not fault and used
            for fault, used in zip(seen.faults, sitting.correction.used, strict=True)
        ]
        if not any(served):
            raise ColourError("None of the target's patches can be used here. Photograph it again.")
        return float(pairwise(now[served], then[served]).mean())
    if neutral is not None:
        mean = patch_mean(
            patch_pixels(photo, neutral.polygon, "The reference patch"), photo.encoding
        )
        lab = sitting.correction.apply(mean.linear, sitting.centre)
        return float(delta_e00(lab, neutral.lab))
    raise ColourError(
        f"Nothing in “{photo.path.name}” proves that the light is the same. Mark a grey card or "
        "the target in it."
    )
