"""What the codes of a photograph mean: from codes to linear light and to XYZ (D50)."""

import io
from dataclasses import dataclass
from typing import Any, Final, Protocol

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from bindery_stock.colour.space import SRGB_TO_XYZ, Array, srgb_decode


class Encoding(Protocol):
    """How a photograph's codes stand for light."""

    @property
    def name(self) -> str:
        """In words, for the reading: which profile was used or assumed."""

    @property
    def matrix(self) -> Array:
        """3 × 3, from the linear channels to XYZ (D50, Y = 1)."""

    def linear(self, codes: NDArray[Any]) -> Array:
        """Codes as decoded (n × channels, 8 or 16 bit) to linear channels (n × 3, 0..1)."""


@dataclass(frozen=True)
class AssumedSrgb:
    """A photograph without a profile is read as sRGB (IEC 61966-2-1)."""

    name: str = "no profile in the file: sRGB assumed"

    @property
    def matrix(self) -> Array:
        """Linear sRGB to XYZ (D50)."""
        return SRGB_TO_XYZ

    def linear(self, codes: NDArray[Any]) -> Array:
        """Codes to linear sRGB by a table; grey stands for all three channels."""
        table = _TABLE_16 if codes.dtype.itemsize > 1 else _TABLE_8
        light = table[codes]
        return light if light.shape[-1] == 3 else np.repeat(light, 3, axis=-1)


_TABLE_8: Final = srgb_decode(np.arange(256) / 255)
_TABLE_16: Final = srgb_decode(np.arange(65536) / 65535)


def to_display(image: Image.Image) -> Image.Image:
    """The picture as 8-bit sRGB for the screen, through its profile where it carries one.

    Raises ``ImageCms.PyCMSError`` for a profile that cannot be used.
    """
    if image.mode.startswith("I;16"):
        image = Image.fromarray((np.asarray(image) / 257 + 0.5).astype(np.uint8))
    embedded = image.info.get("icc_profile")
    if not embedded:
        return image.convert("RGB")
    shown = ImageCms.profileToProfile(
        image,
        ImageCms.ImageCmsProfile(io.BytesIO(embedded)),
        ImageCms.createProfile("sRGB"),
        outputMode="RGB",
    )
    assert shown is not None
    return shown
