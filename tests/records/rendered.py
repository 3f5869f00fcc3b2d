"""Pages read back by programs that are not ours: poppler paints them, zxing reads their codes."""

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

DOTS_PER_INCH = 600
MM_PER_DOT = 25.4 / DOTS_PER_INCH

needs_poppler = pytest.mark.skipif(
    shutil.which("pdftoppm") is None,
    reason="pdftoppm (poppler-utils) is not installed: pages are NOT read back",
)


def paint(pdf: bytes, folder: Path, page: int = 1) -> Image.Image:
    """A page as poppler paints it at 600 dots to the inch, in grey."""
    source = folder / "page.pdf"
    source.write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", "-f", str(page), "-l", str(page),
         "-singlefile", str(source), str(folder / "page")],
        check=True,
    )  # fmt: skip
    return Image.open(folder / "page.pgm")


def dark_runs(line: np.ndarray) -> list[tuple[float, float]]:
    """Start and end in mm of each dark stretch along a line of pixels."""
    dark = np.concatenate(([False], line < 128, [False])).astype(np.int8)
    steps = np.diff(dark)
    starts, ends = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    return [(a * MM_PER_DOT, b * MM_PER_DOT) for a, b in zip(starts, ends, strict=True)]
