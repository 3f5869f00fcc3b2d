"""From the patches of a target to a correction whose error is known.

Patches that cannot be used, and those that a robust fit finds foreign (a finger, a leaf, glare),
are dropped. Every model is then judged by leaving one patch out at a time and predicting it: the
error of a fit on its own patches flatters, the left-out error is what a cloth will meet.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.difference import delta_e00, pairwise
from bindery_stock.colour.models import (
    TONED,
    Chain,
    Sightings,
    candidates,
    grey_curve,
    grey_tone,
)
from bindery_stock.colour.reference import PATCHES
from bindery_stock.colour.space import Array, Lab
from bindery_stock.colour.target import Target, TargetSeen, damped, find_patches, places, project
from bindery_stock.colour.uncertainty import target_band
from bindery_stock.errors import ColourError

if TYPE_CHECKING:
    from scipy.spatial import Delaunay

LEAST_PATCHES: Final = 10
"""Fewer cannot tell nine numbers of a matrix and the tone curve from noise."""
MOST_DROPPED: Final = 8
"""With more patches dropped than these the rest no longer vouches for a colour: own measurement,
corners off by a third of the pitch, which drops twelve, still looked like a usable target."""
_FOREIGN: Final = 15.0
"""ΔE00 from the robust fit at which a patch cannot be what the reference says."""
_FOREIGN_TIMES: Final = 4.0
"""… or this multiple of the median, so that a poor photograph is not called foreign all over;"""
_FOREIGN_MOST: Final = 25.0
"""… but from here on in any case."""


@dataclass(frozen=True)
class Judged:
    """One model and how it predicts patches it has not seen."""

    name: str
    chain: Chain
    left_out: Array
    """ΔE00 of each used patch, predicted from the others."""
    predicted: Array
    """The same as CIELAB (n × 3)."""
    without: tuple[Chain, ...]
    """The model fitted without each of the used patches."""


@dataclass(frozen=True)
class Correction:
    """How to bring the colours of one photograph to those of its target's reference."""

    model: str
    chain: Chain
    seen: TargetSeen
    used: tuple[bool, ...]
    """24: which patches served."""
    faults: tuple[str, ...]
    """24: why a patch was dropped, or nothing."""
    left_out: Array
    """24 ΔE00 of patches predicted from the others; not a number where dropped."""
    predicted: Array
    """24 × 3 CIELAB as predicted from the others; not a number where dropped."""
    known: Array
    """24 × 3 reference CIELAB."""
    compared: dict[str, float]
    """Mean left-out ΔE00 of every model tried, over the patches that served."""
    found_to: Array
    """24 ΔE00: as ``left_out``, and a dropped patch by the fit to those that served."""
    without: tuple[Chain, ...]
    """The chosen model, fitted without each of the patches that served."""
    rivals: tuple[Chain, ...]
    """The other models of the tone curve of the grey row, which might have been chosen."""

    @property
    def dropped(self) -> int:
        """How many patches did not serve."""
        return self.used.count(False)

    @cached_property
    def rms(self) -> float:
        """Root mean square of the left-out ΔE00s."""
        return _rms(self.left_out[list(self.used)])

    @cached_property
    def u(self) -> float:
        """95 % band of a colour corrected this way: the middling one of the target's own."""
        return float(np.median(self.bands()))

    def bands(self) -> Array:
        """95 % bands of the colours of the patches that served, as if cloth were seen there.

        No patch vouches for itself: each one's left-out error is kept out of its own band.
        """
        used = list(self.used)
        linear, where = self.seen.linear[used], self.seen.where[used]
        bands = []
        for i, (one, there) in enumerate(zip(linear, where, strict=True)):
            others = self.without[:i] + self.without[i + 1 :]
            rms = _rms(np.delete(self.left_out[used], i))
            bands.append(target_band(rms, *self._doubt(one[None], there[None], others)))
        return np.array(bands)

    def band(self, linear: Array, at: tuple[float, float], *, clipped: bool = False) -> float:
        """95 % band of linear channels (3,) seen at a place (upright pixels), as ΔE00.

        ``clipped``: a good part of the cloth was too bright or too dark for the photograph.
        """
        where = places(project(self.seen.to_grid, [at]))
        doubt = self._doubt(np.asarray(linear)[None], where, self.without)
        return target_band(self.rms, *doubt, clipped=clipped)

    def _doubt(self, linear: Array, where: Array, without: Sequence[Chain]) -> tuple[float, float]:
        """How far one colour moves where a patch is left out, and where another model is taken."""
        lab = self.chain.predict(linear, where)[0]

        def away(chains: Sequence[Chain]) -> Array:
            return delta_e00(lab, [chain.predict(linear, where)[0] for chain in chains])

        n = len(without)
        jackknife = float(np.sqrt((n - 1) / n * np.sum(np.square(away(without)))))
        return jackknife, float(np.mean(away(self.rivals)))

    @cached_property
    def _hull(self) -> "Delaunay":
        from scipy.spatial import Delaunay  # noqa: PLC0415 - at first use

        return Delaunay(self.known[list(self.used)])

    def covers(self, lab: Lab) -> bool:
        """Whether a colour lies within the colours of the target that served."""
        return bool(self._hull.find_simplex(np.array([lab]))[0] >= 0)

    def apply(self, linear: Array, at: tuple[float, float]) -> Lab:
        """CIELAB of linear channels (3,) seen at a place of the photograph (upright pixels)."""
        where = places(project(self.seen.to_grid, [at]))
        lab = self.chain.predict(np.asarray(linear)[None], where)[0]
        return (float(lab[0]), float(lab[1]), float(lab[2]))


def _rms(errors: Array) -> float:
    return float(np.sqrt(np.mean(np.square(errors))))


def calibrate(photo: Negative, target: Target) -> Correction:
    """Find the target's patches, drop the bad ones, and choose the model that predicts best.

    Raises ``ColourError`` where too few patches can be used.
    """
    seen = find_patches(photo, target)
    known = target.known
    everything = seen.sightings(photo.encoding.matrix, known)
    usable = np.array([not fault for fault in seen.faults])
    _enough(usable, seen.faults)
    foreign = _foreign(everything.only(usable), damped(seen.lab[usable], known.array[usable]))
    faults = list(seen.faults)
    for index in np.flatnonzero(usable)[foreign]:
        faults[index] = "foreign: not the colour it should be"
        usable[index] = False
    _enough(usable, faults)
    used = everything.only(usable)
    judged = _judge(used)
    best = min(judged, key=lambda one: float(one.left_out.mean()))
    left_out, predicted = np.full(len(PATCHES), np.nan), np.full((len(PATCHES), 3), np.nan)
    left_out[usable], predicted[usable] = best.left_out, best.predicted
    # No fit has seen a dropped patch, so the fit to all the others leaves it out already.
    found = pairwise(best.chain.predict(everything.linear, everything.where), known.array)
    return Correction(
        model=best.name,
        chain=best.chain,
        seen=seen,
        used=tuple(bool(v) for v in usable),
        faults=tuple(faults),
        left_out=left_out,
        predicted=predicted,
        known=known.array,
        compared={one.name: float(one.left_out.mean()) for one in judged},
        found_to=np.where(usable, left_out, found),
        without=best.without,
        rivals=tuple(one.chain for one in judged if one.name in TONED and one is not best),
    )


def _enough(usable: Array, faults: Sequence[str]) -> None:
    count = int(np.sum(usable))
    if count < LEAST_PATCHES:
        most = max(set(faults) - {""}, key=list(faults).count)
        raise ColourError(
            f"Only {count} of the target's {len(PATCHES)} patches can be used (mostly {most}). "
            "Check the corner points, or photograph the target again."
        )


def _foreign(used: Sightings, start: Array) -> Array:
    """Indices of patches that a fit to the others cannot explain.

    ``start`` holds how far each lies from a first, damped fit; from there fit and judgement take
    turns until they agree, so that a patch may also be taken back.
    """
    keep = start <= _FOREIGN_MOST
    for _ in range(8):
        if int(keep.sum()) < LEAST_PATCHES:
            break
        chain = grey_tone(used.only(keep))
        away = pairwise(chain.predict(used.linear, used.where), used.labs)
        better = away <= _limit(away[keep])
        if (better == keep).all():
            break
        keep = better
    return np.asarray(np.flatnonzero(~keep))


def _limit(away: Array) -> float:
    return min(max(_FOREIGN, _FOREIGN_TIMES * float(np.median(away))), _FOREIGN_MOST)


def _judge(used: Sightings) -> list[Judged]:
    """All models, each patch predicted from a fit to the others."""
    count = len(used.linear)
    toned = grey_curve(used)
    whole = candidates(used, toned)
    predicted = {name: np.empty((count, 3)) for name in whole}
    without: dict[str, list[Chain]] = {name: [] for name in whole}
    for i in range(count):
        others = used.without(i)
        curve = grey_curve(others) if used.greys[i] else toned
        for name, chain in candidates(others, curve).items():
            predicted[name][i] = chain.predict(used.linear[i : i + 1], used.where[i : i + 1])[0]
            without[name].append(chain)
    return [
        Judged(
            name,
            chain,
            pairwise(predicted[name], used.labs),
            predicted[name],
            tuple(without[name]),
        )
        for name, chain in whole.items()
    ]
