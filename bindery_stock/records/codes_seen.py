"""The codes of labels read in a photograph, with where they lie: QR symbols (ISO/IEC 18004)."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bindery_stock.shape import Ring
from bindery_stock.shape.photo_pixels import upright_grey

if TYPE_CHECKING:
    from zxingcpp import Position


@dataclass(frozen=True, slots=True)
class CodeSeen:
    """One symbol."""

    text: str
    ring: Ring
    """Its four corners in pixels of the upright photograph, without the quiet zone."""


def codes_seen(photo: Path) -> tuple[CodeSeen, ...]:
    """Every symbol that can be read, from left to right. Raises ``PhotoError``."""
    import zxingcpp  # noqa: PLC0415 - at first use

    formats = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    found = zxingcpp.read_barcodes(upright_grey(photo), formats=formats)
    seen = [CodeSeen(one.text.strip(), _ring(one.position)) for one in found if one.valid]
    return tuple(sorted(seen, key=lambda one: one.ring))


def _ring(at: "Position") -> Ring:
    corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
    return tuple((float(corner.x), float(corner.y)) for corner in corners)
