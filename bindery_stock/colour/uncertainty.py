"""How far a reading may lie from the truth: 95 % bands as ΔE00, and what they do to a difference.

Four things add in quadrature: the correction (its left-out error), the spread between patches, the
weave within them (block error), and what a single patch cannot see.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.space import Array

U_NEUTRAL: Final = 14.0
"""95 % band by a grey card. Own measurement: 8 photographs of a target with published values,
levelled by each of their 14 grey patches that are accepted as a card, 23 other patches each: 96 of
100 within (78 in the worst photograph), mean 7.2; with photographs left out in turn 93, on 6 kept
out of all choices 96 to 100. A grey card repairs exposure and cast, not the camera's tone and
colour. Without any reference no band holds, and none is given."""
U_LENT: Final = 2.0
"""What a target lent from another photograph of the sitting adds, beside the drift that was seen.
Own measurement, two pairs of photographs of one camera and light, each way, every patch read by a
correction that had not seen it: with both 97 of 100 within, without them 91."""
U_INSTRUMENT: Final = 3.0
"""A reading typed from a contact instrument. Common practice, no source, leaning on: mean 1.5 and
at most 7.9 (ΔE CMC, another formula) for inexpensive ones, doi 10.3390/s18041252."""
U_UNSEEN: Final = 2.0
"""What one patch cannot see of uneven dye and light. Own measurement: disjoint windows of eleven
plain fabrics differ with a standard deviation of 0.3 to 1.0 in L*; 1.96 times the worst."""
_MOST_DOUBT: Final = 12.0
"""ΔE00: what a jackknife or another model says beyond this is no longer a measure."""
BLOCK: Final = 24
"""Pixels: the weave repeats within this, so blocks of it are nearly independent."""


@dataclass(frozen=True, slots=True)
class InPhoto:
    """The band of a difference within one photograph: light and camera are shared by the two.

    Own measurement, 8 photographs of a target fitted on and 5 held back: blends of its patches
    less than 6 apart and real patches 9 to 20 and more than 20 apart, each class held in at least
    94.5 of 100. The error stops growing, so the share is of no more than ``cap``.
    """

    way: str
    """In words, as it ends a sentence."""
    least: float
    share: float
    cap: float

    def band(self, de: float, *noise: float) -> float:
        """95 % band of ΔE00 ``de``; ``noise`` are the bands of the cloths' own noise."""
        return combine(self.least, self.share * min(de, self.cap), *noise)


IN_PHOTO_BARE: Final = InPhoto("in one bare photograph", 2.5, 0.95, 20.0)
IN_PHOTO_GREY: Final = InPhoto("in one photograph with a grey card", 1.0, 0.80, 20.0)
IN_PHOTO_TARGET: Final = InPhoto("in one photograph with a target", 1.25, 0.55, 15.0)
SAME_IN_PHOTO: Final = 1.2
"""ΔE00 that 95 of 100 pairs of one colour (truly under 0.5, of other pigments) stay below in one
photograph, with any reference and with none: own measurement, the same photographs."""


def differs_in_photo(de: float, *noise: float) -> bool:
    """Whether two cloths of one photograph are told apart, which their band does not settle: a
    small difference may be read too large or too small and still be sure to be one."""
    return de > combine(SAME_IN_PHOTO, *noise)


def target_band(rms: float, jackknife: float, rivals: float, *, clipped: bool = False) -> float:
    """95 % band of one colour by a target, ΔE00, by where its error comes from.

    ``rms`` of the left-out ΔE00s of the photograph; ``jackknife``: how far this colour moves where
    one patch is left out; ``rivals``: how far other models of the tone curve lie from it, both
    ΔE00; ``clipped``: part of the cloth itself was too bright or too dark.

    Own measurement: form and weights fitted on 6 scenes of a target with published values, one
    scene left out at a time (95 of 100 within, 92 in the worst scene, median 6.0), tried on 5 that
    no constant had seen (96 of 100, 92, median 6.3). Lightness, chroma, the distance from the
    target's colours and the number of patches dropped added nothing.
    """
    square = 1.3 * rms**2 + 0.9 * min(jackknife, _MOST_DOUBT) ** 2
    square += 6.3 * min(rivals, _MOST_DOUBT) ** 2 + (12.5 * rms**2 if clipped else 0.0)
    return float(np.sqrt(square))


def mean_band(labs: ArrayLike) -> float:
    """95 % band of the mean of n ≥ 2 colours (n × 3), from their spread.

    Hotelling's T² with one common variance: √(3 · F(3, 3(n − 1); 0.95) / n) standard deviations.
    """
    from scipy.special import fdtri  # noqa: PLC0415 - at first use

    points = np.asarray(labs, dtype=np.float64)
    n = len(points)
    away = delta_e00(points.mean(axis=0), points)
    deviation = float(np.sqrt(np.sum(away**2) / (3 * (n - 1))))
    return float(np.sqrt(3 * fdtri(3, 3 * (n - 1), 0.95) / n)) * deviation


def block_band(labs: Array, places: NDArray[np.int_]) -> float:
    """95 % band of the mean of one patch from the spread of its blocks of 24 pixels.

    ``labs`` (n × 3) and pixel ``places`` (n × 2). Pixels of a weave are not independent: their own
    standard error is two to ten times too small. With fewer than four well-filled blocks it is
    taken three times.
    """
    block = places // BLOCK
    block = block - block.min(axis=0)
    key = block[:, 0] * (int(block[:, 1].max()) + 1) + block[:, 1]
    counts = np.bincount(key)
    full = counts >= max(8, int(counts.max()) // 4)
    if int(full.sum()) < 4:
        centre = labs.mean(axis=0)
        deviation = float(np.sqrt(np.mean(delta_e00(centre, labs) ** 2) / 3))
        return 3 * 2.8 * deviation / float(np.sqrt(len(labs)))
    means = np.stack([np.bincount(key, labs[:, c]) for c in range(3)], axis=1)[full]
    return mean_band(means / counts[full][:, None])


def combine(*bands: float) -> float:
    """Independent bands in quadrature."""
    return float(np.sqrt(sum(band**2 for band in bands)))


def difference_band(u: float | None, other: float | None) -> float | None:
    """95 % band of the ΔE00 between two readings of different origin, from theirs.

    The two errors in quadrature; unknown where one of them is. It is on the safe side where the
    readings share a correction, whose error then partly cancels: compare such two in one photo.
    """
    if u is None or other is None:
        return None
    return combine(u, other)


def is_tie(de: float, u: float | None, other_de: float, other_u: float | None) -> bool:
    """Whether two matches cannot be told apart: their bands ΔE00 ± u overlap."""
    return abs(de - other_de) <= (u or 0.0) + (other_u or 0.0)
