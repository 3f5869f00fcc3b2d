"""Colour-science is a test's yardstick only; importing it warns about parts not installed."""

import json
import os
import warnings
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from PIL import Image

from bindery_stock.colour import SINCE_2014
from bindery_stock.colour.space import XYZ_TO_SRGB, apply_matrix, lab_to_xyz, srgb_encode


@pytest.fixture(scope="session")
def science() -> ModuleType:
    """The colour-science library."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


@pytest.fixture(scope="session")
def skimage() -> ModuleType:
    """The colour module of scikit-image, or a skip that says so."""
    return pytest.importorskip("skimage.color", reason="scikit-image is not installed here")


@pytest.fixture(scope="session")
def target_photos() -> dict[str, Any]:
    """Real photographs of a target with their marked patches, or a skip that says so."""
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    folder = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    marks = folder / "patches.json"
    if not marks.is_file():
        pytest.skip("no photographs of a target here: set BINDERY_TARGET_PHOTOS to their folder")
    photos = json.loads(marks.read_text(encoding="utf-8"))
    return {name: {**mark, "path": folder / name} for name, mark in photos.items()}


@pytest.fixture(scope="session")
def square() -> Callable[[float, float, float], list[tuple[float, float]]]:
    """A square patch about a point, by half its side."""

    def corners(x: float, y: float, half: float) -> list[tuple[float, float]]:
        return [
            (x - half, y - half),
            (x + half, y - half),
            (x + half, y + half),
            (x - half, y + half),
        ]

    return corners


@pytest.fixture(scope="session")
def painted_target() -> Callable[..., Image.Image]:
    """Paints a target: 24 even patches of 32 pixels on black, 40 apart, as sRGB.

    ``light`` changes the linear channels (4 × 6 × 3) as a camera or a lamp would. The centres of
    patches 1, 6, 19, 24 are (20, 20), (220, 20), (20, 140), (220, 140).
    """

    def paint(labs=SINCE_2014.array, light=lambda linear: linear, noise=0.0) -> Image.Image:
        linear = np.clip(apply_matrix(XYZ_TO_SRGB, lab_to_xyz(labs)), 0, None).reshape(4, 6, 3)
        seen = np.clip(light(linear), 0, 1)
        picture = np.full((160, 240, 3), 0.01)
        for row in range(4):
            for column in range(6):
                y, x = row * 40 + 4, column * 40 + 4
                picture[y : y + 32, x : x + 32] = seen[row, column]
        codes = srgb_encode(picture) * 255
        codes = codes + np.random.default_rng(3).normal(0, noise, codes.shape)
        return Image.fromarray(np.clip(np.round(codes), 0, 255).astype(np.uint8))

    return paint
