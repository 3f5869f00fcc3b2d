"""Photographs of a target as a camera would take them: rendered, so that the truth is known."""

from pathlib import Path

import numpy as np
from PIL import Image

from bindery_stock.colour import SINCE_2014, Reference
from bindery_stock.colour.space import XYZ_TO_SRGB, apply_matrix, lab_to_xyz, srgb_encode

PITCH = 60
ORIGIN = (90, 80)
"""Centre of patch 1; the patches follow at ``PITCH`` pixels."""
CORNERS = ((90.0, 80.0), (390.0, 80.0), (390.0, 260.0), (90.0, 260.0))
"""Centres of patches 1, 6, 24, 19: once round."""
CLOTH = (45.0, 38.0, 22.0)
CLOTH_AT = ((100.0, 330.0), (230.0, 330.0), (230.0, 440.0), (100.0, 440.0))
OTHER = (46.5, 37.0, 23.5)
OTHER_AT = ((270.0, 330.0), (400.0, 330.0), (400.0, 440.0), (270.0, 440.0))
GREY_AT = ((440.0, 330.0), (500.0, 330.0), (500.0, 440.0), (440.0, 440.0))
GREY_L = 50.0


def photograph_target(
    path: Path,
    *,
    cast: tuple[float, float, float] = (0.86, 0.8, 0.68),
    gamma: float = 1.12,
    reference: Reference = SINCE_2014,
    finger_over: int | None = None,
    quarter_turns: int = 0,
    dappled: float = 0.0,
) -> Path:
    """A target, two cloths and a grey card under a coloured light, by a camera with its own tone.

    ``cast`` multiplies the linear channels, ``gamma`` is the camera's tone curve. A finger lies
    over one patch where ``finger_over`` numbers it from 0. ``dappled`` is how much the light
    differs from patch to patch, as through leaves.
    """
    picture = np.full((480, 560, 3), _linear((40.0, 0.0, 0.0)))
    leaves = np.random.default_rng(11)
    for number, lab in enumerate(reference.labs):
        row, column = divmod(number, 6)
        x, y = ORIGIN[0] + column * PITCH, ORIGIN[1] + row * PITCH
        _fill(picture, x, y, 24, lab)
        picture[y - 24 : y + 24, x - 24 : x + 24] *= np.exp(leaves.normal(0, dappled, 3))
    for ring, lab in ((CLOTH_AT, CLOTH), (OTHER_AT, OTHER), (GREY_AT, (GREY_L, 0.0, 0.0))):
        (left, top), (right, bottom) = ring[0], ring[2]
        picture[int(top) - 8 : int(bottom) + 8, int(left) - 8 : int(right) + 8] = _linear(lab)
    if finger_over is not None:
        row, column = divmod(finger_over, 6)
        centre = (ORIGIN[0] + column * PITCH, ORIGIN[1] + row * PITCH)
        _fill(picture, *centre, 28, (62.0, 22.0, 24.0))
    seen = np.clip(picture * np.array(cast), 0, 1) ** gamma
    codes = srgb_encode(seen) * 255 + np.random.default_rng(5).normal(0, 1.0, seen.shape)
    image = Image.fromarray(np.clip(np.round(codes), 0, 255).astype(np.uint8))
    image.rotate(90 * quarter_turns, expand=True).save(path)
    return path


def _linear(lab: tuple[float, float, float]) -> np.ndarray:
    return np.clip(apply_matrix(XYZ_TO_SRGB, lab_to_xyz(np.array([lab])))[0], 0, 1)


def _fill(picture: np.ndarray, x: int, y: int, half: int, lab: tuple[float, float, float]) -> None:
    picture[y - half : y + half, x - half : x + half] = _linear(lab)
