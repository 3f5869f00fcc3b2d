"""The program's one decoder of photographs: upright, whole, and honest about what it did.

Everything that opens a picture goes through here, so that a broken, hostile or misleading file is
met once. The limit on pixels is checked on the header, before anything is decoded.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import (
    ExifTags,
    Image,
)

from bindery_stock.colour.deep import GREY_16, is_deep, set_to_lower_bytes
from bindery_stock.colour.photo_file import DECODER_FAULTS, header_of
from bindery_stock.colour.profiles import LightEncoding, encoding_of, shown_as_srgb, to_display
from bindery_stock.errors import PhotoError

_MODES: Final = frozenset(("RGB", "L", "CMYK")) | GREY_16

_BLENDED: Final = "The picture is partly transparent; it was laid on white."
_EIGHT_READ: Final = "16 bits a channel were read as 8, which changes a colour by about ΔE00 0.1."

_TURNS: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What makes a picture upright, by EXIF orientation (CIPA DC-008, tag 274)."""

_TURNED: Final[dict[int, Callable[[NDArray[np.uint8]], NDArray[np.uint8]]]] = {
    1: lambda codes: codes,
    2: np.fliplr,
    3: lambda codes: np.rot90(codes, 2),
    4: np.flipud,
    5: lambda codes: np.swapaxes(codes, 0, 1),
    6: lambda codes: np.rot90(codes, -1),
    7: lambda codes: np.swapaxes(np.rot90(codes, 2), 0, 1),
    8: np.rot90,
}
"""The same for codes (rows × columns × channels), without copying them."""
_STRIP: Final = 128

Box = tuple[int, int, int, int]
"""Left, top, right, bottom in pixels."""


@dataclass(frozen=True, slots=True)
class Negative:
    """A decoded photograph as it lies in the file; pieces of it come out upright.

    Turning 24 megapixels takes as long as decoding them, and a patch needs a few thousand.
    """

    path: Path
    image: Image.Image
    """As decoded; mode ``RGB``, ``L``, ``CMYK`` (with a usable profile) or 16-bit grey."""
    orientation: int
    encoding: LightEncoding
    notes: tuple[str, ...]
    """What bears on the colour, in words for the user."""
    lower: Image.Image | None = None
    """The lower eight bits of an ``RGB`` picture of 16 bits a channel; ``image`` is the upper."""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the upright photograph in pixels."""
        width, height = self.image.size
        return (height, width) if self.orientation > 4 else (width, height)

    def crop(self, box: Box) -> Image.Image:
        """An upright piece; ``box`` in upright pixels."""
        return self._crop(self.image, box)

    def codes(self, box: Box) -> NDArray[Any]:
        """The codes of an upright piece as they stand in the file, rows × columns × channels."""
        upper = np.asarray(self.crop(box))
        upper = upper.reshape(*upper.shape[:2], -1)
        if self.lower is None:
            return upper
        lower = np.asarray(self._crop(self.lower, box))
        return np.asarray(upper * np.uint16(256) + lower)

    def _crop(self, image: Image.Image, box: Box) -> Image.Image:
        left, top, right, bottom = box
        if self.orientation > 4:
            left, top, right, bottom = top, left, bottom, right
        # Now along the axes of the file; what remains is to count from the other end.
        width, height = image.size
        if self.orientation in (2, 3, 7, 8):
            left, right = width - right, width - left
        if self.orientation in (3, 4, 6, 7):
            top, bottom = height - bottom, height - top
        return self._turn(image.crop((left, top, right, bottom)))

    def upright(self) -> Image.Image:
        """The whole picture, upright."""
        return self._turn(self.image)

    @property
    def is_blended(self) -> bool:
        """Whether part of it was transparent, so that its codes are not those of the file."""
        return _BLENDED in self.notes

    @property
    def has_colour(self) -> bool:
        """Whether it is more than a picture in greys."""
        return self.image.mode in ("RGB", "CMYK")

    def reduced(self, factor: int) -> tuple[NDArray[np.uint8], LightEncoding]:
        """The whole picture upright, ``factor`` × ``factor`` pixels averaged into one, as 8-bit RGB
        codes (rows × columns × 3) and what they stand for: to look for things in, not to read
        colours from."""
        width, height = self.image.size
        rows, columns = -(-height // factor), -(-width // factor)
        as_read = self.image.mode == "RGB"
        codes = np.empty((rows, columns, 3), np.uint8)
        for top in range(0, rows, _STRIP):
            # By strips, so that there is never a second picture in memory.
            strip = 0, top * factor, width, min((top + _STRIP) * factor, height)
            small = self.image.reduce(factor, strip)
            codes[top : top + _STRIP] = np.asarray(small if as_read else to_display(small))
        encoding = self.encoding if as_read else shown_as_srgb()
        return _TURNED[self.orientation](codes), encoding

    def _turn(self, image: Image.Image) -> Image.Image:
        return image.transpose(_TURNS[self.orientation]) if self.orientation > 1 else image


@dataclass(frozen=True, slots=True)
class OpenPhoto:
    """A decoded photograph, upright."""

    path: Path
    image: Image.Image
    """Upright; mode ``RGB``, ``L``, ``CMYK`` or 16-bit grey; drafts are always ``RGB`` in sRGB."""
    size: tuple[int, int]
    """Width and height of the whole upright photograph in pixels, also where this is a draft."""
    notes: tuple[str, ...] = ()
    """What was done to the picture that bears on its colour, in words for the user."""


def open_negative(path: Path) -> Negative:
    """Decode a photograph whole, without turning it; raises as ``open_photo`` does."""
    with header_of(path) as image:
        deep = is_deep(image)
        _load(image, path)
        negative = _finish(path, image)
    return _with_lower_bits(negative) if deep else negative


def _with_lower_bits(upper: Negative) -> Negative:
    """The same, with the lower eight of its 16 bits a channel, for which it is decoded again."""
    with header_of(upper.path) as image:
        if upper.image.mode == "RGB" and not upper.is_blended and set_to_lower_bytes(image):
            _load(image, upper.path)
            return replace(upper, lower=image if image.mode == "RGB" else image.convert("RGB"))
    return replace(upper, notes=(*upper.notes, _EIGHT_READ))


def open_photo(path: Path) -> OpenPhoto:
    """Decode a photograph whole and turn it upright (EXIF orientation).

    Raises ``PhotoError`` naming the file and the mend where it is missing, unreadable, not a
    picture, cut short, too large, animated, one-bit, in printing colours without their profile,
    with a profile that cannot be used or in a form without a known colour.
    """
    negative = open_negative(Path(path))
    return OpenPhoto(negative.path, negative.upright(), negative.size, negative.notes)


def draft_photo(path: Path, longest: int) -> OpenPhoto:
    """A quick picture to look at: 8-bit sRGB, its longer side at most ``longest`` pixels.

    Colours are for the screen. Never measure from it: shrinking averages codes, not light.
    Raises ``PhotoError`` as ``open_photo`` does, but not for a profile: a picture may be looked at
    whose colours cannot be read.
    """
    path = Path(path)
    with header_of(path) as image:
        width, height = image.size
        scale = min(1.0, longest / max(width, height))
        image.draft(None, (max(1, int(width * scale)), max(1, int(height * scale))))
        _load(image, path)
        negative = _finish(path, image, looked_at=True)
    shown = negative.image
    if max(shown.size) > longest:
        if shown.mode.startswith("I;16"):
            shown = to_display(shown)
        shown = shown.copy()
        shown.thumbnail((longest, longest), Image.Resampling.BILINEAR, reducing_gap=2.0)
    upright = replace(negative, image=to_display(shown)).upright()
    size = (height, width) if negative.orientation > 4 else (width, height)
    return OpenPhoto(path, upright, size, negative.notes)


def _orientation(image: Image.Image) -> int:
    """EXIF orientation 1 to 8; 1 where the file says nothing usable."""
    try:
        value = image.getexif().get(ExifTags.Base.Orientation, 1)
    except DECODER_FAULTS:
        # A camera's notes may be broken while its picture is whole.
        return 1
    return value if value in _TURNS else 1


def _load(image: Image.Image, path: Path) -> None:
    """Decode every pixel."""
    try:
        image.load()
    except MemoryError as error:
        raise PhotoError(
            f"There is not enough memory to open “{path.name}”. Close other programs."
        ) from error
    except DECODER_FAULTS as error:
        raise PhotoError(
            f"“{path.name}” is cut short or damaged. Copy it from the camera once more."
        ) from error


def _finish(path: Path, image: Image.Image, *, looked_at: bool = False) -> Negative:
    """Bring the picture into one of the few modes whose colour is known, and say how it is."""
    notes: list[str] = []
    orientation = _orientation(image)
    if image.mode in ("P", "PA"):
        image = _keep_profile(image, image.convert("RGBA"))
    if image.mode in ("RGBA", "LA"):
        image = _opaque(image, notes)
    if image.mode not in _MODES:
        raise PhotoError(
            f"“{path.name}” is stored in a form whose colour is not known ({image.mode}). "
            "Save it as an ordinary 8-bit RGB picture."
        )
    encoding, warning = encoding_of(image)
    if encoding is None and looked_at and image.mode != "CMYK":
        encoding = shown_as_srgb()
    if encoding is None:
        raise PhotoError(f"“{path.name}”: {warning}")
    if warning:
        notes.append(warning)
    return Negative(path, image, orientation, encoding, tuple(notes))


def _opaque(image: Image.Image, notes: list[str]) -> Image.Image:
    """Lay a picture with transparency on white; an opaque one only loses the channel."""
    plain = "RGB" if image.mode == "RGBA" else "L"
    if image.getchannel("A").getextrema() == (255, 255):
        return _keep_profile(image, image.convert(plain))
    notes.append(_BLENDED)
    ground = Image.new(image.mode, image.size, "white")
    return _keep_profile(image, Image.alpha_composite(ground, image).convert(plain))


def _keep_profile(source: Image.Image, result: Image.Image) -> Image.Image:
    for said in ("icc_profile", "cicp", "gamma", "chromaticity", "srgb"):
        if said in source.info:
            result.info[said] = source.info[said]
    return result
