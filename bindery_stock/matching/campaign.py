"""Every part of every open repair against the whole hoard: what each choice would cost.

The cost of cutting a part from a piece is its visibility × the difference to be expected: the root
of ΔE00² and of the square of its standard uncertainty (half of the 95 % figure). A piece whose
reading has no uncertainty is taken to be no better than the worst that has one; where one of the
two colours was seen and not measured, only a part that takes any shade is served, as by another
colour (``ANOTHER_COLOUR``). A part left out
costs its visibility × ``Prices.left_out``. What volumes, lots and whole cloth cost stands in
``extra`` and in ``volumes.py``, jumps on the shelf in ``shelf.py``.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from bindery_stock.errors import EntryError
from bindery_stock.matching.closest_place import by_closest_place
from bindery_stock.matching.fits import Lying
from bindery_stock.matching.hoard import Floats, Hoard, face_of
from bindery_stock.matching.packer import Packer
from bindery_stock.matching.prices import Prices
from bindery_stock.matching.shelf import Face, Row, Shelf
from bindery_stock.matching.sizes import Content, Sizes, size_in
from bindery_stock.matching.values import ANOTHER_COLOUR, Part, Piece
from bindery_stock.matching.volumes import Volumes, shades_of
from bindery_stock.matching.whole_cloth import WholeCloth
from bindery_stock.shape.ground import ground

_ROUNDING = 1e-6  # mm
SHEET = 10_000.0  # mm², which the price of whole cloth is for
_POORER_FIRST = 1e-6  # settles between equals only


@dataclass(frozen=True, slots=True)
class Pin:
    """A choice the binder has made: the part of that number comes from the piece of that code."""

    part: int
    """Its place in the list of parts, from 0."""
    code: str
    placement: Lying | None = None
    """Where it must lie, or nothing where it may lie anywhere in the piece."""


class Campaign:
    """The parts, the pieces, and what each pairing costs. Numbers of parts and pieces are indices.

    Raises ``EntryError`` for a pin that names no part or piece, or the same part twice.
    """

    def __init__(
        self,
        parts: Sequence[Part],
        pieces: Sequence[Piece],
        pins: Sequence[Pin],
        prices: Prices = Prices(),  # noqa: B008 - frozen
        knife: float = 0.0,
        shelf: Sequence[Row] = (),
    ) -> None:
        """Price every pairing; packing waits until it is asked for.

        ``knife`` is the least distance in mm between parts of one piece; ``shelf`` are rows of
        volumes as they stand.
        """
        self.prices = prices
        self.parts = tuple(parts)
        self.pieces = tuple(pieces)
        self.pins = self._checked(pins)
        self._hoard = hoard = Hoard.of(self.pieces)
        shape = (len(self.parts), len(self.pieces))
        self.delta_e, self.u = np.full(shape, np.nan), np.full(shape, np.nan)
        self.possible = np.zeros(shape, dtype=np.bool_)
        self._sieves: dict[tuple[object, bytes], NDArray[np.intp]] = {}
        for number, part in enumerate(self.parts):
            self._survey(number, part, hoard)
        self.left_out = np.array([prices.left_out * part.visibility for part in self.parts])
        """What leaving each part out costs."""
        self.cost = self._costs()
        self.sizes = Sizes()
        self._size_numbers = [[-1] * len(self.pieces) for _ in self.parts]
        self.packers = [
            Packer(piece, self.sizes, self._fixed(piece), knife) for piece in self.pieces
        ]
        self._whole: dict[int, WholeCloth] = {}
        self._lost: dict[tuple[int, Content], float] = {}
        self.shelf = Shelf.of(self.parts, shelf, self._faces)
        self._served: dict[int, bool] = {}
        self.shades = shades_of(self.parts)
        """For each part the number of its shade in its volume, or -1 where it is in no lot."""
        self._fixed_shades = [self._fixed_in(piece) for piece in self.pieces]

    def _faces(self, part: int) -> list[Face]:
        """What each piece would show as this part: the colour of its best face."""
        other = self._hoard.differences(self.parts[part])[1]
        return [_shown(piece, other.get(number)) for number, piece in enumerate(self.pieces)]

    def _survey(self, number: int, part: Part, hoard: Hoard) -> None:
        """Which pieces may serve the part, and how far their colours are."""
        may = hoard.of_the_sort(part) & hoard.may_hold(part)
        alone, other_face = hoard.differences(part)
        delta_e = by_closest_place(part, self.pieces, alone, np.flatnonzero(may), other_face)
        self.delta_e[number] = delta_e
        if part.lab is not None:
            for index in range(len(self.pieces)):
                if np.isnan(delta_e[index]):
                    continue
                u = face_of(self.pieces[index], other_face.get(index)).u
                self.u[number, index] = np.nan if u is None else np.hypot(u, part.u)
        if part.lab is not None:
            may &= (delta_e <= part.farthest) | (hoard.alike(part) & math.isinf(part.farthest))
        self.possible[number, self._sieved(part, np.flatnonzero(may))] = True

    def _sieved(self, part: Part, indices: NDArray[np.intp]) -> NDArray[np.intp]:
        """Those that may still hold the part: asked once for parts alike, as of four corners."""
        shape = (part.width, part.height, part.margin, part.turns, part.free, part.triangular)
        key = (shape, indices.tobytes())
        if key not in self._sieves:
            self._sieves[key] = self._hoard.sieve(part, indices)
        return self._sieves[key]

    def _costs(self) -> Floats:
        worst = np.nanmax(self.u) if np.isfinite(self.u).any() else 0.0
        u = np.where(np.isnan(self.u), worst, self.u)
        expected = np.hypot(np.nan_to_num(self.delta_e), u / 2)
        coloured = _column([part.lab is not None for part in self.parts]) > 0
        visibility = _column([part.visibility for part in self.parts])
        cost = np.where(coloured, visibility * expected, 0.0)
        left_out = self.left_out.reshape(-1, 1)
        any_shade = _column([math.isinf(part.farthest) for part in self.parts]) > 0
        unknown = np.where(any_shade, visibility * ANOTHER_COLOUR, left_out)
        cost = np.where(coloured & np.isnan(self.delta_e), unknown, cost)
        # What costs as much as leaving the part out is no gain.
        result = np.where(self.possible & (cost < left_out), cost, np.inf)
        for number, pin in self.pins.items():
            piece = self.piece_number(pin.code)
            result[number] = np.inf
            result[number, piece] = min(cost[number, piece], self.left_out[number])
        return result

    @cached_property
    def candidates(self) -> list[list[int]]:
        """For each part the pieces that may serve it: cheapest first, of equals the poorest."""
        areas = np.array([piece.outline.area for piece in self.pieces])
        poorer = _POORER_FIRST * areas / max(areas.max(initial=0.0), 1.0)
        order = np.argsort(self.cost + poorer, axis=1, kind="stable")
        ways = np.isfinite(self.cost).sum(axis=1)
        return [row[:count].tolist() for row, count in zip(order, ways.tolist(), strict=True)]

    def size(self, part: int, piece: int) -> int:
        """The number of the part's size as it may lie in the piece."""
        found = self._size_numbers[part][piece]
        if found < 0:
            size = size_in(self.parts[part], self.pieces[piece])
            found = self._size_numbers[part][piece] = self.sizes.number(size)
        return found

    def extra(self, piece: int, content: Content, parts: Iterable[int]) -> float:
        """What a load costs beside its parts: a piece more for a volume, and whole cloth lost."""
        if not content:
            return 0.0
        return self.lots(piece, parts) + self.cloth(piece, content)

    def lots(self, piece: int, parts: Iterable[int]) -> float:
        """What the piece costs as one more lot for the volumes of these parts."""
        return self.prices.lot * self.more_lots(piece, parts)

    def more_lots(self, piece: int, parts: Iterable[int]) -> int:
        """For how many volumes the piece is one more lot, given these parts."""
        fixed = self._fixed_shades[piece]
        shades = {self.shades[part] for part in parts}
        return len(shades - fixed - {-1})

    @property
    def paid_shades(self) -> frozenset[int]:
        """Shades that parts fixed in some piece have, whose lot is no more there."""
        return frozenset().union(*self._fixed_shades)

    def cloth(self, piece: int, content: Content) -> float:
        """What is lost of the piece's largest usable rectangle, priced."""
        return self.lost(piece, content) * self.prices.cloth / SHEET

    def lost(self, piece: int, content: Content) -> float:
        """Square millimetres lost of the piece's largest usable rectangle."""
        if (piece, content) not in self._lost:
            whole, laid = self.whole(piece), self.packers[piece].laid(content)
            self._lost[piece, content] = max(whole.best - whole.left(laid.placements), 0.0)
        return self._lost[piece, content]

    def least_cloth(self, piece: int, area: float) -> float:
        """What any parts of that area in all lose of the piece's largest rectangle, priced."""
        whole = self.whole(piece)
        return max(whole.best - (whole.area - area), 0.0) * self.prices.cloth / SHEET

    def whole(self, piece: int) -> WholeCloth:
        """The piece's whole cloth, before anything but fixed parts is laid in it."""
        if piece not in self._whole:
            of = self.pieces[piece]
            self._whole[piece] = WholeCloth(of, self._fixed(of))
        return self._whole[piece]

    def served_by_something(self, part: int) -> bool:
        """Whether any piece would serve the part if it were alone, or it is pinned."""
        if part not in self._served:
            fits = (self.fits_alone(part, piece) for piece in self.candidates[part])
            self._served[part] = part in self.pins or any(fits)
        return self._served[part]

    @cached_property
    def volumes(self) -> Volumes:
        """The volumes that can be finished, and what is missing for certain."""
        return Volumes.of(self)

    def fits_alone(self, part: int, piece: int) -> bool:
        """Whether the part has a place in the piece, given all of it but the fixed parts."""
        possible = bool(np.isfinite(self.cost[part, piece]))
        return possible and self.packers[piece].extends((), self.size(part, piece))

    def known(self, table: Floats, part: int, piece: int) -> float | None:
        """The figure of a table of parts by pieces, or nothing where it is not known."""
        value = float(table[part, piece])
        return None if np.isnan(value) else value

    def _fixed(self, piece: Piece) -> list[Lying]:
        pins = self.pins.values()
        return [pin.placement for pin in pins if pin.code == piece.code and pin.placement]

    def _fixed_in(self, piece: Piece) -> frozenset[int]:
        pins = self.pins.values()
        laid = [pin.part for pin in pins if pin.code == piece.code and pin.placement]
        return frozenset(self.shades[part] for part in laid)

    def _checked(self, pins: Sequence[Pin]) -> dict[int, Pin]:
        found: dict[int, Pin] = {}
        by_code = {piece.code: piece for piece in self.pieces}
        for pin in pins:
            if not 0 <= pin.part < len(self.parts):
                raise EntryError("Pinned part", f"There is no part number {pin.part} to pin.")
            if pin.part in found:
                raise EntryError("Pinned part", f"{self.name(pin.part)} is pinned twice. Keep one.")
            if pin.code not in by_code:
                raise EntryError(
                    "Pinned piece",
                    f"{self.name(pin.part)} is pinned to {pin.code}, which is not in the hoard.",
                )
            if pin.placement is not None:
                _check_lies(self.name(pin.part), pin.placement, by_code[pin.code])
            found[pin.part] = pin
        return found

    def name(self, part: int) -> str:
        """What the part is for, or its number."""
        return self.parts[part].name or f"Part {part + 1}"

    def piece_number(self, code: str) -> int:
        """The number of the piece with this code."""
        return next(i for i, piece in enumerate(self.pieces) if piece.code == code)


def _column(values: Sequence[float]) -> Floats:
    return np.array(values, dtype=np.float64).reshape(-1, 1)


def _check_lies(name: str, placement: Lying, piece: Piece) -> None:
    usable = ground(piece.outline)
    if not usable.proves_shape(shapely.buffer(placement.polygon, -_ROUNDING, join_style="mitre")):
        raise EntryError(
            "Pinned piece", f"{name} is pinned to a place outside {piece.code}. Place it again."
        )


def _shown(piece: Piece, number: int | None) -> Face:
    """The colour of a face and its uncertainty; nothing where it was seen and not measured."""
    if number is None and piece.lab is None:
        return None, None
    face = face_of(piece, number)
    return (face.lab, face.u) if face.read_by.is_measured else (None, None)
