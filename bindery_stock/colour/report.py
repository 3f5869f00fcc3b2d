"""What a photograph of a target is worth: patch by patch, and a plain verdict."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Final

import numpy as np

from bindery_stock.colour.calibrate import MOST_DROPPED, Correction, calibrate
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.difference import pairwise
from bindery_stock.colour.reference import PATCHES
from bindery_stock.colour.space import Array
from bindery_stock.colour.target import Target

GOOD_MEAN: Final = 4.0
"""Mean ΔE of ISO 19264-1:2021 level A (as a secondary table gives it; the standard itself not
read). There it judges the target's own patches, here patches left out, which is stricter."""
GOOD_MOST: Final = 10.0
"""Greatest ΔE of the same level; here the 95th percentile of the left-out patches."""
USABLE_MEAN: Final = 6.5
"""Mean ΔE of FADGI 2023, one star, bound general collections (secondary table)."""
_MANY: Final = 6
_FALL: Final = 0.10
"""Light falling off across the target by more than this shows."""

CAPTURE_ADVICE: Final = (
    "One soft light: a window under an overcast sky, or two lamps at 45°; never two kinds mixed.",
    "The camera square on, the target flat beside the cloth in the same plane and light.",
    "No flash glare; portrait mode, HDR and filters off.",
    "Nothing burnt out: expose so that the white patch still shows grey.",
    "Fold thin cloth double, or lay it on the same plain backing as the stock it is held against.",
    "The same light for the book and the stock; look at the best matches under a second one.",
)
"""Common practice; angles after ISO 13655 (45°:0°) as cited by makers' guides, not read."""


class PhotoVerdict(StrEnum):
    """Whether colours may be read from the photograph."""

    GOOD = "good"
    USABLE = "usable"
    RETAKE = "retake"


@dataclass(frozen=True)
class TargetReport:
    """How well the colours of a target in a photograph are brought to what they are."""

    names: tuple[str, ...]
    """24 patch names in the order of the reference."""
    left_out: Array
    """24 ΔE00, each patch predicted from the others; not a number where dropped."""
    found_to: Array
    """24 ΔE00 from the patches that served: a dropped one counts as well."""
    predicted: Array
    """24 × 3 CIELAB as predicted from the others; not a number where dropped."""
    photographed: Array
    """24 × 3 CIELAB as the photograph alone has them."""
    known: Array
    """24 × 3 reference CIELAB."""
    uncorrected: Array
    """24 ΔE00 of the photograph alone."""
    faults: tuple[str, ...]
    """24: why a patch was dropped, or nothing."""
    covered: float
    """Share of the left-out patches within the band stated from the others, 0..1."""
    u: float
    """95 % band of a colour corrected this way."""
    model: str
    """The correction chosen."""
    compared: dict[str, float]
    """Mean left-out ΔE00 of every correction tried."""
    source: str
    """Where the reference values come from."""
    turned: bool
    """Whether the target lay another way round than its corners were given."""
    verdict: PhotoVerdict
    advice: tuple[str, ...]
    """What to change, most telling first."""

    @property
    def mean(self) -> float:
        """Mean left-out ΔE00 of all 24 patches, those dropped counted too."""
        return float(self.found_to.mean())

    @property
    def p95(self) -> float:
        """95th percentile of the left-out ΔE00 of all 24 patches."""
        return float(np.percentile(self.found_to, 95))

    @property
    def worst(self) -> str:
        """The name of the patch predicted worst, be it one that was dropped."""
        return self.names[int(np.argmax(self.found_to))]

    @property
    def sentence(self) -> str:
        """The verdict in one sentence for the user."""
        head = {
            PhotoVerdict.GOOD: "Good: colours can be read from this photograph",
            PhotoVerdict.USABLE: "Usable with care",
            PhotoVerdict.RETAKE: "Retake this photograph",
        }[self.verdict]
        return (
            f"{head}. A patch left out is found to ΔE00 {self.mean:.1f} in the mean of all "
            f"{len(self.names)} and {self.p95:.1f} at worst in 19 of 20; the worst is {self.worst}."
        )


def target_report(photo: Path, target: Target) -> TargetReport:
    """Judge the photograph of a target.

    Raises ``PhotoError`` and ``ColourError`` where the file or the target cannot be read.
    """
    opened = open_negative(Path(photo))
    return report_of(calibrate(opened, target), target.known.source)


def report_of(correction: Correction, source: str) -> TargetReport:
    """The report of a correction already found."""
    errors = correction.left_out[list(correction.used)]
    seen = correction.seen
    uncorrected = pairwise(seen.lab, correction.known)
    gain = float(uncorrected[list(correction.used)].mean() - errors.mean())
    return TargetReport(
        names=PATCHES,
        left_out=correction.left_out,
        found_to=correction.found_to,
        predicted=correction.predicted,
        photographed=seen.lab,
        known=correction.known,
        uncorrected=uncorrected,
        faults=correction.faults,
        covered=float(np.mean(errors <= correction.bands())),
        u=correction.u,
        model=correction.model,
        compared=correction.compared,
        source=source,
        turned=seen.turned,
        verdict=_verdict(correction),
        advice=_advice(correction, gain),
    )


def _verdict(correction: Correction) -> PhotoVerdict:
    """By the same figures that are shown: a dropped patch speaks against the photograph."""
    errors, dropped = correction.found_to, correction.dropped
    mean, p95 = float(errors.mean()), float(np.percentile(errors, 95))
    if mean > USABLE_MEAN or dropped > MOST_DROPPED:
        return PhotoVerdict.RETAKE
    if mean <= GOOD_MEAN and p95 <= GOOD_MOST and dropped <= _MANY:
        return PhotoVerdict.GOOD
    return PhotoVerdict.USABLE


def _advice(correction: Correction, gain: float) -> tuple[str, ...]:
    said = []
    for start, sentence in (
        ("clipped: too bright", "Expose less, patches are burnt out: {names}."),
        ("clipped: outside", "Too vivid or too dark for the file: {names}."),
        ("uneven", "Keep glare, shadows and things off the target: {names}."),
        (
            "foreign",
            "Uncover the target or check its corners; not the colours they should be: {names}.",
        ),
    ):
        faults = zip(PATCHES, correction.faults, strict=True)
        names = [patch for patch, fault in faults if fault.startswith(start)]
        if names:
            said.append(sentence.format(names=", ".join(names)))
    fall = float(np.abs(np.expm1(2 * correction.chain.fall)).max())
    if fall > _FALL:
        said.append(f"Even the light: it falls off by about {fall:.0%} across the target.")
    if gain < 1.0:
        said.append("The target hardly betters this photograph: check edition and corners.")
    return tuple(said)
