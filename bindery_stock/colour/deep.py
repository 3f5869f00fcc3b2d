"""Pictures of 16 bits a channel: what Pillow leaves out of them, and what it would misread.

Source: TIFF 6.0 (tags 258 BitsPerSample, 262 PhotometricInterpretation, 284 PlanarConfiguration).
"""

import sys

from PIL import ExifTags, Image, ImageFile

GREY_16 = frozenset(("I;16", "I;16L", "I;16B"))
"""Pillow's modes for grey of 16 bits, which it keeps whole."""
_COLOUR = frozenset(("RGB", "RGBA", "CMYK"))
_APART = 2
"""PlanarConfiguration: a plane for each channel."""
_OTHER_END = {"L": "B", "B": "L", "N": "B" if sys.byteorder == "little" else "L"}
"""The byte order that takes the lower byte of a channel for its upper one."""


def is_deep(image: Image.Image) -> bool:
    """Whether a colour file holds 16 bits a channel, of which Pillow decodes the upper eight.

    To be asked before the picture is decoded.
    """
    return image.mode in ("RGB", "RGBA") and _read_as_16(image)


def set_to_lower_bytes(image: ImageFile.ImageFile) -> bool:
    """Make a picture of 16 bits a channel, not yet decoded, give the lower eight of each.

    Pillow unpacks the upper bytes alone; told the other byte order it unpacks these. False where
    the way its channels are stored does not allow it.
    """
    tags = getattr(image, "tag_v2", {})
    if tags.get(ExifTags.Base.PlanarConfiguration) == _APART:
        return False
    tiles = []
    for codec, extents, offset, args in image.tile:
        form, *further = args if isinstance(args, tuple) else (args,)
        channels, mark, order = str(form).partition(";16")
        if not mark or channels not in ("RGB", "RGBA") or order not in _OTHER_END:
            return False
        swapped = f"{channels};16{_OTHER_END[order]}"
        tiles.append((codec, extents, offset, (swapped, *further) if further else swapped))
    image.tile = [type(was)(*new) for was, new in zip(image.tile, tiles, strict=True)]
    return bool(tiles)


def misread(image: Image.Image) -> str:
    """What in a TIFF of 16 bits would be decoded wrongly, or nothing; asked before decoding."""
    tags = getattr(image, "tag_v2", None)
    if tags is None:
        return ""
    if image.mode in GREY_16 and tags.get(ExifTags.Base.PhotometricInterpretation) == 0:
        # With 8 bits Pillow turns such a picture round, with 16 it leaves it a negative.
        return "is grey of 16 bits stored as a negative, white as zero"
    bits = max(tags.get(ExifTags.Base.BitsPerSample, (8,)))
    if image.mode in _COLOUR and bits > 8 and not _read_as_16(image):
        # Uncompressed planes: Pillow takes them for twice as many codes of 8 bits.
        return "keeps its channels of 16 bits apart (planar)"
    return ""


def _read_as_16(image: Image.Image) -> bool:
    return any(";16" in str(tile[3]) for tile in getattr(image, "tile", ()))
