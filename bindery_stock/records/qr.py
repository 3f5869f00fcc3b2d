"""A code as a QR symbol (ISO/IEC 18004), drawn as squares.

Never the micro form, which most telephones cannot read; level M of error correction or better; a
quiet zone of four modules, as the standard asks; no module under 0.4 mm, since a hand scanner and a
cheap printer both blur less than that (common practice, no source).
"""

import segno

from bindery_stock.errors import EntryError
from bindery_stock.records.page import Squares

QUIET = 4
LEAST_MODULE_MM = 0.4


def least_side(text: str) -> float:
    """The smallest side in mm, quiet zone included, at which the symbol may be printed."""
    return _modules(text) * LEAST_MODULE_MM


def symbol(text: str, x: float, y: float, side: float) -> Squares:
    """The symbol in the square whose upper left corner is x, y, its quiet zone within ``side`` mm.

    Raises ``EntryError`` where a module would be smaller than can be read.
    """
    module = side / _modules(text)
    if module < LEAST_MODULE_MM - 1e-9:
        raise EntryError(
            "Label",
            f"The code of {text} needs a square of {least_side(text):.1f} mm; there is room for "
            f"{side:.1f} mm. Choose a larger label.",
        )
    dark = tuple(
        (x + (column + QUIET) * module, y + (row + QUIET) * module)
        for row, line in enumerate(_made(text).matrix)
        for column, value in enumerate(line)
        if value
    )
    return Squares(corners=dark, side=module)


def _made(text: str) -> segno.QRCode:
    return segno.make(text, micro=False, error="m", boost_error=True)


def _modules(text: str) -> int:
    """Modules along a side, quiet zone included."""
    return len(_made(text).matrix) + 2 * QUIET
