"""The pieces of a hoard in columns, so that one part is held against all of them at once.

Everything here only orders pieces or refuses what cannot possibly serve; whether a part fits is
settled by an exact fit alone.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from operator import attrgetter

import numpy as np
import shapely
from numpy.typing import NDArray

from bindery_stock.colour import delta_e00, family
from bindery_stock.errors import ColourError
from bindery_stock.matching.sieve import SLACK, may_hold_upright
from bindery_stock.matching.values import SHOWN_FACE, Face, Part, Piece
from bindery_stock.shape.turns import cosine_and_sine

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Hoard:
    """Pieces in columns. Worth keeping between rankings; each column is made when first needed."""

    pieces: tuple[Piece, ...]

    @classmethod
    def of(cls, pieces: "Sequence[Piece] | Hoard") -> "Hoard":
        """The hoard itself, or one made of these pieces."""
        return pieces if isinstance(pieces, Hoard) else cls(tuple(pieces))

    def __len__(self) -> int:
        """How many pieces there are."""
        return len(self.pieces)

    @cached_property
    def _coloured(self) -> tuple[NDArray[np.intp], Floats]:
        """Which pieces have a measured colour on their shown face, and those colours (k × 3)."""
        labs = [piece.lab if piece.read_by.is_measured else None for piece in self.pieces]
        known = [lab for lab in labs if lab is not None]
        where = np.flatnonzero(np.fromiter((lab is not None for lab in labs), bool, len(labs)))
        flat = np.fromiter(chain.from_iterable(known), np.float64, 3 * len(known))
        return where, flat.reshape(-1, 3)

    @cached_property
    def _other_faces(self) -> list[tuple[int, int]]:
        """Further faces that were measured, as (piece, number of the face)."""
        return [
            (index, number)
            for index, faces in enumerate(map(attrgetter("faces"), self.pieces))
            if faces
            for number, face in enumerate(faces)
            if face.read_by.is_measured
        ]

    @cached_property
    def polygons(self) -> NDArray[np.object_]:
        """The outlines as shapely polygons."""
        column = np.empty(len(self.pieces), dtype=object)
        column[:] = list(map(attrgetter("outline.polygon"), self.pieces))
        return column

    @cached_property
    def areas(self) -> Floats:
        """Square millimetres of each outline, flaws included."""
        return np.asarray(shapely.area(self.polygons), dtype=np.float64)

    @cached_property
    def extents(self) -> tuple[Floats, Floats]:
        """Width and height of each outline's box, mm."""
        box = shapely.bounds(self.polygons).reshape(-1, 4)
        return box[:, 2] - box[:, 0], box[:, 3] - box[:, 1]

    def of_the_sort(self, part: Part) -> Truths:
        """Which pieces are of the material and grain pattern the part asks for, or plain.

        Those that are refused for it are not.
        """
        fits = np.ones(len(self.pieces), dtype=np.bool_)
        for name, wanted in (("kind", part.kind), ("pattern", part.pattern or None)):
            if wanted is not None:
                column = map(attrgetter(name), self.pieces)
                fits &= np.fromiter((value == wanted for value in column), bool, len(fits))
        if part.plain:
            fits &= np.fromiter(map(attrgetter("plain"), self.pieces), bool, len(fits))
        if part.refused:
            fits &= np.fromiter((p.code not in part.refused for p in self.pieces), bool, len(fits))
        return fits

    def differences(self, part: Part) -> tuple[Floats, dict[int, int]]:
        """ΔE00 of each piece's best face, and for which pieces that is a further face.

        ``nan`` where no colour is sought, or where that or the piece's has not been measured.
        """
        result = np.full(len(self.pieces), np.nan)
        best: dict[int, int] = {}
        if part.lab is None or not part.read_by.is_measured:
            return result, best
        where, labs = self._coloured
        result[where] = delta_e00(part.lab, labs)
        others = self._other_faces
        if others:
            further = delta_e00(part.lab, [self.pieces[i].faces[k].lab for i, k in others])
            for (index, number), value in zip(others, further.tolist(), strict=True):
                if not result[index] <= value:
                    result[index] = value
                    best[index] = number
        return result, best

    def alike(self, part: Part) -> Truths:
        """Which pieces are of the colour family sought, where no ΔE00 can be given.

        The family is what was judged by eye, or else what the colour seen is called. A part that
        takes any shade takes any family, too.
        """
        if part.lab is None:
            return np.zeros(len(self.pieces), dtype=np.bool_)
        sought, book_measured = family(part.lab), part.read_by.is_measured
        any_shade = math.isinf(part.farthest)
        return np.fromiter(
            (
                not (book_measured and piece.read_by.is_measured)
                and piece.lab is not None
                and (any_shade or (piece.family or family(piece.lab)) == sought)
                for piece in self.pieces
            ),
            bool,
            len(self.pieces),
        )

    def may_hold(self, part: Part) -> Truths:
        """Which pieces are large enough by area and extent, turned as the part may be.

        False means that no placement exists; true means nothing yet.
        """
        margin = part.margin
        need = part.area + margin * part.perimeter + math.pi * margin * margin
        room = self.areas >= need - SLACK * (part.width + part.height)
        across, along = self.extents
        if part.free or (part.triangular and any(turn % 90 for turn in part.turns)):
            least = part.narrowest + 2 * margin - SLACK
            return np.asarray(room & (across >= least) & (along >= least))
        turned = np.zeros(len(self.pieces), dtype=np.bool_)
        for width, height in {spans(part.width, part.height, turn) for turn in part.turns}:
            turned |= (across >= width + 2 * margin - SLACK) & (
                along >= height + 2 * margin - SLACK
            )
        return np.asarray(room & turned)

    def sieve(self, part: Part, indices: NDArray[np.intp]) -> NDArray[np.intp]:
        """Those of the pieces that may still hold the part when their true outlines are looked at.

        What is left out has no placement; what is kept may have.
        """
        slanting = part.free or part.triangular or any(turn % 90 for turn in part.turns)
        if not len(indices) or slanting:
            return indices
        polygons = self.polygons[indices]
        kept = np.zeros(len(indices), dtype=np.bool_)
        for width, height in {spans(part.width, part.height, turn) for turn in part.turns}:
            kept |= may_hold_upright(polygons, width, height, part.margin)
        return indices[kept]


def spans(width: float, height: float, turn: float) -> tuple[float, float]:
    """Width and height (mm) of the upright box about a rectangle turned by ``turn`` degrees."""
    cosine, sine = cosine_and_sine(turn)
    c, s = abs(cosine), abs(sine)
    return width * c + height * s, width * s + height * c


def face_of(piece: Piece, number: int | None) -> Face:
    """A piece's shown face, or the further face of that number. Its colour must be known."""
    if number is not None:
        return piece.faces[number]
    if piece.lab is None:
        raise ColourError(f"The colour of {piece.code} is not known.")
    return Face(SHOWN_FACE, piece.lab, piece.u, piece.read_by)
