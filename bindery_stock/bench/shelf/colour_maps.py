"""The colour map of each piece, made at first need and kept while nothing it rests on changes.

The maps lie among the previews of the stock folder, a small file each, and may be deleted at any
time: they are made again from the photographs. Any thread may ask; making one takes about as long
as opening its photograph.
"""

import os
import zlib
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Self
from zipfile import BadZipFile

import numpy as np

from bindery_stock.colour import ColourMap, colour_map
from bindery_stock.colour.colour_map import CELL_MM
from bindery_stock.colour.decode import open_negative
from bindery_stock.errors import BinderyError
from bindery_stock.stock import Colour, FaceName, StockPiece, Stockroom

FOLDER = "previews/colour-maps"
_REMEMBERED = 256
"""So many maps are kept in the hand, about 60 kB each."""
_WAY = "1"  # of making them: what was kept by another way is made again


class ColourMaps:
    """The maps of one stock folder."""

    def __init__(self, folder: Path, photo_at: Callable[[str], Path], *, keep: bool = True) -> None:
        """``photo_at`` tells where the photograph of a SHA-256 lies; ``keep`` may write files."""
        self._folder, self._photo_at, self._keep = folder / FOLDER, photo_at, keep
        self._recent: dict[Path, ColourMap] = {}
        self._turn = Lock()

    @classmethod
    def of_room(cls, room: Stockroom) -> Self:
        """Those of an open stockroom; where it is open for reading none are written."""
        return cls(Path(room.folder), room.photos.path, keep=not room.read_only)

    def is_known(self, piece: StockPiece) -> bool:
        """Whether its map is kept, or there can be none."""
        told = self._told(piece)
        return told is None or told.path.exists()

    def known(self, piece: StockPiece) -> ColourMap | None:
        """Its map where that is kept: nothing is made, so a window may ask."""
        told = self._told(piece)
        return None if told is None else self._recall(told.path)

    def of(self, piece: StockPiece) -> ColourMap | None:
        """The map; nothing where its colour was not read from the photograph of its outline.

        Nothing either where that photograph can no longer be read: the piece then has its reading
        alone, as before.
        """
        told = self._told(piece)
        if told is None:
            return None
        found = self._recall(told.path)
        if found is not None:
            return found
        outline, colour = piece.outline, told.colour
        try:
            photo = open_negative(self._photo_at(told.photo))
            rings = outline.exterior, outline.holes
            made = colour_map(photo, told.to_mm, *rings, colour.patch, colour.lab)
        except BinderyError:
            return None
        # As it will be read again: a figure must not change by having been kept.
        found = replace(made, xyz=made.xyz.astype(np.float16).astype(np.float32))
        self._remember(told.path, found)
        if self._keep:
            _write(told.path, found)
        return found

    def _recall(self, path: Path) -> ColourMap | None:
        found = self._recent.get(path) or _read(path)
        if found is not None:
            self._remember(path, found)
        return found

    def _remember(self, path: Path, found: ColourMap) -> None:
        with self._turn:
            while len(self._recent) >= _REMEMBERED:
                del self._recent[next(iter(self._recent))]
            self._recent[path] = found

    def _told(self, piece: StockPiece) -> "_MapSource | None":
        """What the map rests on; nothing where there can be none."""
        colour = next((c for c in piece.colours if c.face is FaceName.SHOWN), None)
        if colour is None or colour.photo is None or not colour.patch:
            return None
        mark = next((mark for mark in piece.marks if mark.photo.sha256 == colour.photo), None)
        if mark is None:
            return None
        outline = piece.outline
        told = (_WAY, CELL_MM, colour.photo, mark.to_mm, outline.exterior, outline.holes)
        key = sha256(repr((*told, colour.patch, colour.lab)).encode()).hexdigest()[:32]
        return _MapSource(self._folder / f"{key}.npz", colour, colour.photo, mark.to_mm)


@dataclass(frozen=True, slots=True)
class _MapSource:
    """Where a map is kept, and what it is made from."""

    path: Path
    colour: Colour
    photo: str
    to_mm: tuple[float, ...]


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
