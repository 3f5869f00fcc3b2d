"""The largest free rectangle of each piece, measured once and remembered while it is unchanged.

What was measured is also kept among the previews of the stock folder, so that the next day begins
with it, a line for each measurement; what is new is written behind the rest. That file may be
deleted at any time: it costs only the time to measure again.
"""

import json
from contextlib import suppress
from hashlib import sha256
from math import isfinite
from pathlib import Path

from bindery_stock.bench.shelf.piece_words import usable_words
from bindery_stock.shape import Flaw, Outline, Placement, largest_rectangle
from bindery_stock.shape.placement import placement_at
from bindery_stock.stock import StockPiece
from bindery_stock.units import LengthStyle

SQUARE = 1.0
"""The proportion of a square, as for a corner."""
FILE = "previews/usable.jsonl"
_WAY = "1"  # of measuring: what was kept by another way is measured again

_Known = tuple[Outline, tuple[Flaw, ...], Placement | None]
_Box = tuple[float, float, float, float]


class UsableRectangles:
    """Remembers the usable rectangles of every piece that was measured.

    Along the warp and clear of flaws; ``proportion`` is width over height where it is given, else
    the area decides. Any thread may ask and measure; at worst two measure the same piece at once,
    to the same end.
    """

    def __init__(self) -> None:
        """Begin with nothing measured."""
        self._known: dict[tuple[int, float | None], _Known] = {}
        self._kept: dict[str, _Box | None] = {}
        self._new: dict[str, _Box | None] = {}
        """What is not in the file yet."""

    def is_known(self, piece: StockPiece, proportion: float | None = None) -> bool:
        """Whether the piece was measured as it is now."""
        found = self._known.get((piece.id, proportion))
        return found is not None and found[0] == piece.outline and found[1] == piece.flaws

    def known(self, piece: StockPiece, proportion: float | None = None) -> Placement | None:
        """Its rectangle; nothing where there is or is known none."""
        return self._known[piece.id, proportion][2] if self.is_known(piece, proportion) else None

    def measure(self, piece: StockPiece, proportion: float | None = None) -> Placement | None:
        """The same, measured now where that was not done yet. Takes some hundredths of a second."""
        if not self.is_known(piece, proportion):
            found = self._measured(piece, proportion)
            self._known[piece.id, proportion] = (piece.outline, piece.flaws, found)
        return self._known[piece.id, proportion][2]

    def words(self, piece: StockPiece, lengths: LengthStyle) -> str:
        """What can be had from the piece in one piece; empty where that was not measured yet."""
        if not self.is_known(piece):
            return ""
        return usable_words(self.known(piece), self.known(piece, SQUARE), lengths)

    def measure_both(self, piece: StockPiece) -> None:
        """Measure the largest rectangle and the largest square."""
        self.measure(piece)
        self.measure(piece, SQUARE)

    def _measured(self, piece: StockPiece, proportion: float | None) -> Placement | None:
        key = _key(piece, proportion)
        if key in self._kept:
            box = self._kept[key]
            return None if box is None else placement_at(*box, 0.0, tight=True)
        found = largest_rectangle(piece.outline, proportion=proportion, flaws=piece.flaws)
        box = None if found is None else (*found.corners[0], found.width, found.height)
        self._kept[key] = self._new[key] = box
        return found

    def begin(self, folder: Path) -> None:
        """Another stockroom: nothing measured before holds, but what its folder has kept does."""
        self._known.clear()
        self._new.clear()
        self._kept = _read(folder / FILE)

    def keep(self, folder: Path) -> None:
        """Write what was measured since the last time into the stock folder, for the next time."""
        path = folder / FILE
        entries = self._new.copy() if path.exists() else self._kept.copy()
        if not entries:
            return
        # Each line begins with its own break, so that one cut short spoils no other.
        text = "".join(f"\n{json.dumps([key, box])}" for key, box in entries.items())
        with suppress(OSError):  # a cache that cannot be written costs only time
            path.parent.mkdir(exist_ok=True)
            with path.open("a", encoding="utf-8") as file:
                file.write(text)
            for key in entries:
                self._new.pop(key, None)


def _key(piece: StockPiece, proportion: float | None) -> str:
    outline = piece.outline
    flaws = [(flaw.kind.value, flaw.ring) for flaw in piece.flaws]
    told = repr((_WAY, proportion, outline.exterior, outline.holes, flaws))
    return sha256(told.encode()).hexdigest()[:32]


def _read(path: Path) -> dict[str, _Box | None]:
    """What was kept; nothing where the file is missing, and no line that is not as it was written.

    Of two lines about one piece the later counts.
    """
    try:
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return {}
    found: dict[str, _Box | None] = {}
    for line in lines:
        with suppress(ValueError, RecursionError):
            match json.loads(line):
                case [str(key), box] if _is_box(box):
                    found[key] = tuple(box) if box else None
    return found


def _is_box(box: object) -> bool:
    if box is None:
        return True
    return (
        isinstance(box, list)
        and len(box) == 4
        and all(isinstance(side, float) and isfinite(side) for side in box)
        and min(box[2:]) > 0.0
    )
