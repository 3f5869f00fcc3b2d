"""What is asked before an outline found by itself is taken."""

from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage

from bindery_stock.bench.photo_table.found_outline import FoundOutline, find_outline
from bindery_stock.bench.photo_table.marks import KnownRectangle, Marks


def found_in(tmp_path: Path, light: np.ndarray) -> FoundOutline:
    """What is found where the whole photograph is a sheet of half a millimetre to a pixel."""
    height, width = light.shape[:2]
    path = tmp_path / "scraps.png"
    blurred = ndimage.gaussian_filter(light, (0.8, 0.8, 0))
    Image.fromarray((255 * blurred ** (1 / 2.2)).astype(np.uint8)).save(path)
    corners = ((0.0, 0.0), (float(width), 0.0), (float(width), float(height)), (0.0, float(height)))
    return find_outline(path, Marks(scale=KnownRectangle(corners, width / 2, height / 2)))


def test_an_outline_with_clear_edges_that_may_go_round_two_scraps_is_asked_about(
    tmp_path: Path,
) -> None:
    light = np.full((180, 260, 3), 0.7)
    light[30:150, 40:120] = light[50:140, 120:220] = (0.19, 0.01, 0.01)  # no seam to be seen
    found = found_in(tmp_path, light)
    assert found.doubtful == ()
    assert found.question.startswith("does it go round one scrap, and the whole of it?")


def test_one_plain_scrap_with_clear_edges_is_not_asked_about(tmp_path: Path) -> None:
    light = np.full((180, 260, 3), 0.7)
    light[30:150, 40:220] = (0.19, 0.01, 0.01)
    assert found_in(tmp_path, light).question == ""
