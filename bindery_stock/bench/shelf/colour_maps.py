"""The colour map of each piece, made at first need and kept while nothing it rests on changes.

The maps lie among the previews of the stock folder, a small file each, and may be deleted at any
time: they are made again from the photographs. Any thread may ask; making one takes about as long
as opening its photograph.
"""

import os
import zlib
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from zipfile import BadZipFile

import numpy as np

from bindery_stock.colour import ColourMap, colour_map
from bindery_stock.colour.colour_map import CELL_MM
from bindery_stock.colour.decode import open_negative
from bindery_stock.errors import BinderyError
from bindery_stock.stock import FaceName, StockPiece

FOLDER = "previews/colour-maps"
_WAY = "1"  # of making them: what was kept by another way is made again


class ColourMaps:
    """The maps of one stock folder."""

    def __init__(self, folder: Path, photo_at: Callable[[str], Path], *, keep: bool = True) -> None:
        """``photo_at`` tells where the photograph of a SHA-256 lies; ``keep`` may write files."""
        self._folder, self._photo_at, self._keep = folder / FOLDER, photo_at, keep

    def of(self, piece: StockPiece) -> ColourMap | None:
        """The map; nothing where its colour was not read from the photograph of its outline.

        Nothing either where that photograph can no longer be read: the piece then has its reading
        alone, as before.
        """
        colour = next((c for c in piece.colours if c.face is FaceName.SHOWN), None)
        if colour is None or colour.photo is None or not colour.patch:
            return None
        mark = next((mark for mark in piece.marks if mark.photo.sha256 == colour.photo), None)
        if mark is None:
            return None
        outline = piece.outline
        told = (_WAY, CELL_MM, colour.photo, mark.to_mm, outline.exterior, outline.holes)
        key = sha256(repr((*told, colour.patch, colour.lab)).encode()).hexdigest()[:32]
        path = self._folder / f"{key}.npz"
        found = _read(path)
        if found is not None:
            return found
        try:
            photo = open_negative(self._photo_at(colour.photo))
            rings = outline.exterior, outline.holes
            found = colour_map(photo, mark.to_mm, *rings, colour.patch, colour.lab)
        except BinderyError:
            return None
        if self._keep:
            _write(path, found)
        return found


def _read(path: Path) -> ColourMap | None:
    """What was kept; nothing where it is missing or not as it was written."""
    with suppress(OSError, ValueError, KeyError, EOFError, BadZipFile, zlib.error):
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            cell, x, y = (float(v) for v in kept["grid"])
            xyz = np.asarray(kept["xyz"], dtype=np.float32)
        if xyz.ndim == 3 and xyz.shape[2] == 3 and cell == CELL_MM:
            return ColourMap(cell, (x, y), xyz)
    return None


def _write(path: Path, found: ColourMap) -> None:
    """In half precision, which halves the file and moves a colour by some hundredths of a ΔE00."""
    half_written = path.with_suffix(f".{os.getpid()}.part")
    with suppress(OSError):  # a cache that cannot be written costs only time
        path.parent.mkdir(parents=True, exist_ok=True)
        with half_written.open("wb") as file:
            grid = np.array((found.cell, *found.origin))
            np.savez_compressed(file, grid=grid, xyz=found.xyz.astype(np.float16))
        half_written.replace(path)
