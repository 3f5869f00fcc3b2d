"""A photograph of a piece, laid flat: cut to its outline, in millimetres, warp upright."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from bindery_stock.colour import draft_photo
from bindery_stock.shape import Outline
from bindery_stock.stock import Matrix

_FINER = 3
"""The cloth is laid flat this much larger and reduced by a filter that leaves out what the picture
cannot hold: picked pixel by pixel, an upright rib would show as a twill that is not there."""
_SUPERSAMPLE = 2
"""The mask is drawn this much larger and reduced, so that frayed edges do not look like stairs."""


def flatten(
    photo: Path, size: tuple[int, int], to_mm: Matrix, outline: Outline, px_per_mm: float
) -> Image.Image:
    """The part of a photograph inside an outline, as an RGBA picture.

    ``size`` is the upright photograph's width and height in pixels, to which ``to_mm`` belongs.
    The picture covers the outline's bounds at ``px_per_mm``, top row at the greatest y. What lies
    outside the outline, and its holes, is transparent.
    """
    min_x, min_y, max_x, max_y = outline.bounds
    width = max(1, round((max_x - min_x) * px_per_mm))
    height = max(1, round((max_y - min_y) * px_per_mm))
    finer = _FINER if _photo_px_per_mm(size, to_mm) > px_per_mm else 1
    fine = (width * finer, height * finer)
    draft = draft_photo(photo, max(1, _needed(size, to_mm, px_per_mm * finer))).image
    shrink = draft.width / size[0]
    laid = draft.transform(
        fine,
        Image.Transform.PERSPECTIVE,
        _coefficients(to_mm, (min_x, max_y), px_per_mm * finer, shrink),
        resample=Image.Resampling.BICUBIC,
    )
    flat = laid.resize((width, height), Image.Resampling.LANCZOS).convert("RGBA")
    flat.putalpha(_mask(outline, (width, height), px_per_mm))
    return flat


def _needed(size: tuple[int, int], to_mm: Matrix, px_per_mm: float) -> int:
    """The longest side a draft needs for the picture to be as sharp as asked."""
    return int(max(size) * min(1.0, px_per_mm * 1.2 / _photo_px_per_mm(size, to_mm)))


def _photo_px_per_mm(size: tuple[int, int], to_mm: Matrix) -> float:
    """How sharp the photograph is in its middle."""
    matrix = np.array(to_mm).reshape(3, 3)
    centre = np.array([size[0] / 2, size[1] / 2])
    here, beside = (_apply(matrix, point) for point in (centre, centre + np.array([1.0, 0.0])))
    return 1.0 / float(np.hypot(*(beside - here)))


def _apply(matrix: np.ndarray, point: np.ndarray) -> np.ndarray:
    x, y = point
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    return np.array([u / w, v / w])


def _coefficients(
    to_mm: Matrix, top_left: tuple[float, float], px_per_mm: float, shrink: float
) -> Sequence[float]:
    """Pillow's eight numbers: from a pixel of the flat picture to a pixel of the draft."""
    flat_to_mm = np.array(
        [[1 / px_per_mm, 0, top_left[0]], [0, -1 / px_per_mm, top_left[1]], [0, 0, 1]]
    )
    mm_to_px = np.linalg.inv(np.array(to_mm, dtype=float).reshape(3, 3))
    to_draft = np.diag([shrink, shrink, 1.0]) @ mm_to_px @ flat_to_mm
    return [float(value) for value in (to_draft / to_draft[2, 2]).ravel()[:8]]


def _mask(outline: Outline, size: tuple[int, int], px_per_mm: float) -> Image.Image:
    min_x, _, _, max_y = outline.bounds
    scale = px_per_mm * _SUPERSAMPLE
    mask = Image.new("L", (size[0] * _SUPERSAMPLE, size[1] * _SUPERSAMPLE), 0)
    draw = ImageDraw.Draw(mask)

    def pixels(ring: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        return [((x - min_x) * scale, (max_y - y) * scale) for x, y in ring]

    draw.polygon(pixels(outline.exterior), fill=255)
    for hole in outline.holes:
        draw.polygon(pixels(hole), fill=0)
    return mask.resize(size, Image.Resampling.BOX)
