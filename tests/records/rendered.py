"""Pages read back by programs that are not ours: PDFium paints them, zxing reads their codes."""

import numpy as np
import pypdfium2
from PIL import Image

DOTS_PER_INCH = 600
MM_PER_DOT = 25.4 / DOTS_PER_INCH
_POINTS_PER_INCH = 72


def paint(pdf: bytes, page: int = 1) -> Image.Image:
    """A page as PDFium paints it at 600 dots to the inch, in grey."""
    with pypdfium2.PdfDocument(pdf) as document:
        painted = document[page - 1].render(scale=DOTS_PER_INCH / _POINTS_PER_INCH, grayscale=True)
        return painted.to_pil().copy()


def dark_runs(line: np.ndarray) -> list[tuple[float, float]]:
    """Start and end in mm of each dark stretch along a line of pixels."""
    dark = np.concatenate(([False], line < 128, [False])).astype(np.int8)
    steps = np.diff(dark)
    starts, ends = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    return [(a * MM_PER_DOT, b * MM_PER_DOT) for a, b in zip(starts, ends, strict=True)]
