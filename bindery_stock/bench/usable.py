"""The largest free rectangle of each piece, measured once and remembered while it is unchanged."""

from bindery_stock.shape import Flaw, Outline, Placement, largest_rectangle
from bindery_stock.stock import Piece

_Known = tuple[Outline, tuple[Flaw, ...], Placement | None]


class UsableRectangles:
    """Remembers the usable rectangle of every piece that was measured.

    Any thread may ask and measure; at worst two measure the same piece at once, to the same end.
    """

    def __init__(self) -> None:
        """Begin with nothing measured."""
        self._known: dict[int, _Known] = {}

    def is_known(self, piece: Piece) -> bool:
        """Whether the piece was measured as it is now."""
        found = self._known.get(piece.id)
        return found is not None and found[0] == piece.outline and found[1] == piece.flaws

    def known(self, piece: Piece) -> Placement | None:
        """Its rectangle along the warp, clear of flaws; nothing where there is or is known none."""
        return self._known[piece.id][2] if self.is_known(piece) else None

    def measure(self, piece: Piece) -> Placement | None:
        """The same, measured now where that was not done yet. Takes some hundredths of a second."""
        if not self.is_known(piece):
            found = largest_rectangle(piece.outline, flaws=piece.flaws)
            self._known[piece.id] = (piece.outline, piece.flaws, found)
        return self._known[piece.id][2]

    def forget(self) -> None:
        """Another stockroom: nothing measured before holds."""
        self._known.clear()
