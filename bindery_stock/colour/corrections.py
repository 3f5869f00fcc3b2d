"""How the linear channels of one photograph become true colours: by what lies in the photograph."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from bindery_stock.colour.calibrate import MOST_DROPPED, Correction, calibrate
from bindery_stock.colour.decode import Negative
from bindery_stock.colour.light import Light, Point, light_between, light_from_sheet
from bindery_stock.colour.neutral import Neutral, levelled, levels
from bindery_stock.colour.patch import Polygon
from bindery_stock.colour.read_by import ReadBy
from bindery_stock.colour.space import Array, Lab
from bindery_stock.colour.target import Target
from bindery_stock.colour.uncertainty import (
    IN_PHOTO_BARE,
    IN_PHOTO_GREY,
    IN_PHOTO_TARGET,
    U_NEUTRAL,
    InPhoto,
)
from bindery_stock.errors import ReferenceRefused


class Reader(Protocol):
    """Turns linear channels seen at a place of the photograph into CIELAB."""

    @property
    def method(self) -> str:
        """How, in words for the user."""

    @property
    def read_by(self) -> ReadBy:
        """What vouches for the colours read."""

    @property
    def in_photo(self) -> InPhoto:
        """The band of a difference within the photograph."""

    def lab(self, linear: Array, at: Point) -> Lab:
        """CIELAB of three linear channels seen at a place (upright pixels)."""

    def u(self, linear: Array, at: Point, *, clipped: bool) -> float | None:
        """95 % band of the correction for what is seen at a place, ΔE00; None where none holds.

        ``clipped``: a good part of the cloth was too bright or too dark for the photograph.
        """

    def caution(self, lab: Lab) -> str:
        """What is to be said of this colour, or nothing."""


@dataclass(frozen=True)
class Gains:
    """A gain a channel, levelled across the photograph where its light is known."""

    matrix: Array
    gains: Array
    method: str
    read_by: ReadBy
    band: float | None
    light: Light | None = None
    centre: Point = (0.0, 0.0)
    in_photo: InPhoto = IN_PHOTO_BARE

    def lab(self, linear: Array, at: Point) -> Lab:
        """Levelled to the light at ``centre``, then the gains."""
        factor = self.light.factor(at, self.centre) if self.light else 1.0
        return levelled(linear * factor, self.gains, self.matrix)

    def u(self, linear: Array, at: Point, *, clipped: bool) -> float | None:  # noqa: ARG002
        """One band for all colours and places."""
        return self.band

    def caution(self, lab: Lab) -> str:  # noqa: ARG002
        """Nothing."""
        return ""


@dataclass(frozen=True)
class ByTarget:
    """The correction found from a target."""

    correction: Correction
    light: Light | None
    centre: Point
    extra: float = 0.0
    """A further band: of a correction brought from another photograph."""
    lent: bool = False
    """Found in another photograph of the sitting: read as at the middle of its target."""
    in_photo: InPhoto = IN_PHOTO_TARGET

    @property
    def read_by(self) -> ReadBy:
        """By the target in the photograph or in another of the sitting."""
        return ReadBy.LENT if self.lent else ReadBy.TARGET

    @property
    def method(self) -> str:
        """Names the model and its left-out error."""
        error = float(self.correction.found_to.mean())
        said = f"24-patch target: {self.correction.model} (left-out ΔE00 {error:.1f})"
        return f"{said}, from another photograph of the sitting" if self.lent else said

    def lab(self, linear: Array, at: Point) -> Lab:
        """Through the chosen model."""
        return self.correction.apply(*self._levelled(linear, at))

    def u(self, linear: Array, at: Point, *, clipped: bool) -> float:
        """By the sources of its error; what was brought from another photograph comes on top."""
        band = self.correction.band(*self._levelled(linear, at), clipped=clipped)
        return float(np.hypot(band, self.extra))

    def _levelled(self, linear: Array, at: Point) -> tuple[Array, Point]:
        """What would be seen in the light of the target's middle, and where it counts as seen."""
        if self.light:
            return linear * self.light.factor(at, self.centre), self.centre
        return linear, self.centre if self.lent else at

    def caution(self, lab: Lab) -> str:
        """Says where the colour is extrapolated."""
        if self.correction.covers(lab):
            return ""
        return "The colour lies outside those of the target: it is extrapolated."


def reader_for(
    photo: Negative,
    neutral: Neutral | Sequence[Neutral] | None,
    target: Target | None,
    sheet: Polygon | None,
) -> tuple[Reader, list[str]]:
    """The best reading the references in a photograph allow, and warnings about them.

    A target is preferred to a neutral patch, a neutral patch to nothing. Raises ``ColourError``
    where a reference given cannot be read, and ``ReferenceRefused`` where no colour may be read by
    it: what is left, the bare photograph, has no band that holds.
    """
    light = light_from_sheet(photo, sheet) if sheet else None
    if target is not None:
        correction = usable(calibrate(photo, target))
        x, y = np.asarray(target.corners, dtype=np.float64).mean(axis=0)
        return ByTarget(correction, light, (float(x), float(y))), _said(correction)
    if neutral is None:
        centre = (photo.size[0] / 2, photo.size[1] / 2)
        return _bare(photo, light, centre), []
    patches = [neutral] if isinstance(neutral, Neutral) else list(neutral)
    return _levelled(photo, patches, light), []


def usable(correction: Correction) -> Correction:
    """The correction, or ``ReferenceRefused`` where too many of its patches were dropped."""
    dropped = correction.dropped
    if dropped > MOST_DROPPED:
        raise ReferenceRefused(
            f"The target was refused: {dropped} of its patches could not be used, and more than "
            f"{MOST_DROPPED} leave too little to judge by. No colour is read by it. Photograph it "
            "again, uncovered, in one soft light and not burnt out, or check its corners; or "
            "shelve the piece without a colour and say its colour family."
        )
    return correction


def _bare(photo: Negative, light: Light | None, centre: Point) -> Gains:
    return Gains(
        photo.encoding.matrix,
        np.ones(3),
        "bare photograph, no reference",
        ReadBy.SEEN,
        None,
        light,
        centre,
    )


def _levelled(photo: Negative, patches: list[Neutral], light: Light | None) -> Reader:
    read = [levels(photo, patch) for patch in patches]
    if light is None and len(read) > 1:
        light = light_between([one.centre for one in read], [one.gains for one in read])
    x, y = np.mean([one.centre for one in read], axis=0)
    gains = np.exp(np.mean([np.log(one.gains) for one in read], axis=0))
    method = "one neutral patch in the photograph"
    if len(read) > 1:
        method = f"{len(read)} neutral patches"
    centre = (float(x), float(y))
    matrix = photo.encoding.matrix
    return Gains(matrix, gains, method, ReadBy.CARD, U_NEUTRAL, light, centre, IN_PHOTO_GREY)


def _said(correction: Correction) -> list[str]:
    if correction.dropped < 5:
        return []
    return [
        f"{correction.dropped} of the target's patches could not be used; see the target's report."
    ]
