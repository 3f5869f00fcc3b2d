"""How much of a piece its parts use, in words, and the refusal of parts that were not all laid."""

import math

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Layout

_ROUNDING = 1e-6  # of one in a hundred
_PROVED = 1e-5  # what a bound may be out by


class PartsLeftOutError(ShapeError):
    """Not all parts were laid; carries the best layout found."""

    def __init__(self, words: str, layout: Layout) -> None:
        """Say so in ``words``."""
        super().__init__(words)
        self.layout = layout


def used_words(used: float) -> str:
    """``62 % used.``, of the ground clear of flaws and margins; never more than there is."""
    return f"{_floor(used)} % used."


def layout_words(layout: Layout) -> str:
    """``93 % used, at most 97 % possible.``: the first rounded down, the other up."""
    used, most = _floor(layout.used), math.ceil(100.0 * layout.at_most - _ROUNDING)
    if layout.at_most <= layout.used * (1.0 + _PROVED):
        return f"{used} % used; no layout of these parts uses more."
    return f"{used} % used, at most {most} % possible."


def laid_anew_words(error: ShapeError) -> str:
    """`` Laid anew: 93 % used…``, where it tells of parts that were left out; else nothing."""
    return (
        f" Laid anew: {layout_words(error.layout)}" if isinstance(error, PartsLeftOutError) else ""
    )


def _floor(share: float) -> int:
    return math.floor(100.0 * share + _ROUNDING)
