"""A photograph of a target judged: the correction found, where it was read, and what to say."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from bindery_stock.colour import Reference, Sitting, Target, TargetReport, begin_sitting
from bindery_stock.colour.report import report_of
from bindery_stock.colour.target import homography, project
from bindery_stock.shape import Ring

_COLUMNS, _ROWS = 6, 4
_SHARE: Final = 0.44
"""The middle of a patch that is read, as a share of the pitch."""


@dataclass(frozen=True)
class TargetFit:
    """What one photograph of a target came to."""

    report: TargetReport
    sitting: Sitting
    """The correction with the camera and time it belongs to."""
    squares: tuple[Ring, ...]
    """24: where each patch was read, upright pixels."""


def judge(photo: Path, corners: Ring, reference: Reference) -> TargetFit:
    """Judge a photograph of a target; takes a second or two beyond decoding it.

    ``corners`` are the centres of the four corner patches, once round. Raises ``PhotoError`` and
    ``ColourError`` where the file or the target cannot be read.
    """
    target = target_at(corners, reference)
    sitting = begin_sitting(photo, target)
    report = report_of(sitting.correction, target.known.source)
    to_photo = np.linalg.inv(sitting.correction.seen.to_grid)
    return TargetFit(report, sitting, _squares(to_photo))


def target_at(corners: Ring, reference: Reference) -> Target:
    """The target whose corner patches lie at ``corners``, once round from patch 1 where known.

    Raises ``ColourError`` where they make no four-sided figure.
    """
    first, second, *rest = corners if len(corners) == 4 else (*corners, *corners)[:4]
    return Target((first, second, *reversed(rest)), reference)


def likely_squares(corners: Ring) -> tuple[Ring, ...]:
    """Where the patches lie if the longer side of the four corners has six of them.

    None where the corners are not four or lie on a line.
    """
    if len(corners) != 4:
        return ()
    ring = np.asarray(corners, dtype=np.float64)
    sides = np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1)
    if sides[1] + sides[3] > sides[0] + sides[2]:
        ring = np.roll(ring, -1, axis=0)
    grid = [(0, 0), (_COLUMNS - 1, 0), (_COLUMNS - 1, _ROWS - 1), (0, _ROWS - 1)]
    try:
        return _squares(homography(grid, ring))
    except np.linalg.LinAlgError:
        # Corners on a line span no plane; the measuring says so in words.
        return ()


def _squares(to_photo: np.ndarray) -> tuple[Ring, ...]:
    half = _SHARE / 2
    around = ((-half, -half), (half, -half), (half, half), (-half, half))
    squares = []
    for row in range(_ROWS):
        for column in range(_COLUMNS):
            corners = project(to_photo, [(column + x, row + y) for x, y in around])
            squares.append(tuple((float(x), float(y)) for x, y in corners))
    return tuple(squares)


def worst_patch(report: TargetReport) -> int:
    """The number from 0 of the patch that was predicted worst."""
    return int(np.nanargmax(report.left_out))


def patch_words(report: TargetReport, number: int) -> str:
    """All that is known of one patch, in a sentence or two. ``number`` from 0."""
    name = report.names[number].capitalize()
    alone = f"The photograph alone is ΔE00 {report.uncorrected[number]:.1f} off."
    fault = report.faults[number]
    if fault:
        return f"{name}: dropped, {fault}. {alone}"
    worst = ", the worst of all" if number == worst_patch(report) else ""
    return f"{name}: found to ΔE00 {report.left_out[number]:.1f} from the others{worst}. {alone}"


def dropped_words(report: TargetReport) -> tuple[str, ...]:
    """One line for each patch that could not serve, with why."""
    return tuple(
        f"{name.capitalize()}, {fault}"
        for name, fault in zip(report.names, report.faults, strict=True)
        if fault
    )


def trust_words(report: TargetReport) -> tuple[str, ...]:
    """What a colour corrected by this target is worth, and what that was tried on."""
    used = sum(not fault for fault in report.faults)
    within = round(report.covered * used)
    said = [
        f"A colour read by it is good to ± {report.u:.1f} ΔE00 (95 %); {within} of {used} patches "
        f"({report.covered:.0%}) lie within the band stated from the others.",
        f"The photograph alone would be off by {float(np.mean(report.uncorrected)):.1f} in the "
        "mean.",
        f"Held against {report.source}.",
    ]
    if report.turned:
        said.append("It lies another way round than its corners were drawn; that was found.")
    return tuple(said)


def model_words(report: TargetReport) -> tuple[tuple[str, float, bool], ...]:
    """Every correction tried: its name, its mean left-out ΔE00, and whether it was chosen."""
    ordered: Sequence[tuple[str, float]] = sorted(report.compared.items(), key=lambda one: one[1])
    return tuple((name, error, name == report.model) for name, error in ordered)
