"""Whether a part of a given size can be cut from a piece: exact, clear of every hole and flaw."""

from collections.abc import Callable, Iterable

from bindery_stock.shape import place
from bindery_stock.stock import StockPiece

NARROWEST = 10.0
"""Where only one side is asked for, the other is taken as this, mm: less is a thread, not a strip.
Our own choice."""


def asked_size(width: float, height: float) -> tuple[float, float]:
    """Width and height in mm of the part that is tried, where one of them may be zero."""
    return (width or NARROWEST, height or NARROWEST)


def may_hold(piece: StockPiece, width: float, height: float) -> bool:
    """Whether the piece's box is large enough. False means that no such part can be cut."""
    slack = 0.1  # a tight fit is found with a little less than nothing to spare
    outline = piece.outline
    return outline.width >= width - slack and outline.height >= height - slack


class Proofs:
    """Remembers which pieces can yield which part, for as long as the piece is unchanged."""

    def __init__(self) -> None:
        """Begin with nothing proved."""
        self._known: dict[tuple[int, float, float], tuple[StockPiece, bool]] = {}

    def known(self, piece: StockPiece, width: float, height: float) -> bool | None:
        """Whether a part ``width`` × ``height`` mm can be cut, or ``None`` if not yet tried."""
        found = self._known.get((piece.id, width, height))
        if found is not None and found[0] is piece:
            return found[1]
        return None if may_hold(piece, width, height) else False

    def prove(
        self,
        pieces: Iterable[StockPiece],
        width: float,
        height: float,
        check: Callable[[], None] = lambda: None,
    ) -> None:
        """Try an upright exact fit on every piece that needs one; ``check`` may stop the work.

        Only one thread proves at a time; any thread may ask what is known meanwhile.
        """
        for piece in pieces:
            check()
            if self.known(piece, width, height) is None:
                found = place(piece.outline, width, height, turns=(0,), flaws=piece.flaws)
                self._known[piece.id, width, height] = (piece, found is not None)
