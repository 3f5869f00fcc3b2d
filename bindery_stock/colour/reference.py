"""Reference colours of a target of 24 patches, CIELAB D50, 2° observer.

The layout is the common one of six columns and four rows: two rows of natural and moderate
colours, one of primaries, one of six greys from white to black. The two built-in sets are the
values its maker published for charts made before and since November 2014, in the order of the
layout, rounded to two decimals.

Source: the maker's published L*a*b* D50 data, as carried by colour-science 0.4
(``CCS_COLOURCHECKERS``); C. S. McCamy, H. Marcus, J. G. Davidson, "A Color-Rendition Chart",
J. Appl. Photogr. Eng. 2(3), 1976, 95-99, for layout and patch names. They are nominal: a chart of
one's own, measured, goes in as a file.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from bindery_stock.colour.published import table
from bindery_stock.colour.space import Array, Lab, check_lab
from bindery_stock.errors import ColourError

_COLUMNS: Final = ("since L", "since a", "since b", "before L", "before a", "before b")
_PUBLISHED: Final = table("target_patches.csv", *_COLUMNS, rows=24)
PATCHES: Final = tuple(name for name, _ in _PUBLISHED)
"""Patch names in order: six columns, then the next row."""
COLUMNS: Final = 6
ROWS: Final = 4
GREYS: Final = range(18, 24)
"""The grey row, white to black."""


@dataclass(frozen=True, slots=True)
class Reference:
    """What the 24 patches really are. Raises ``ColourError`` for other than 24 sound colours."""

    labs: tuple[Lab, ...]
    source: str
    """Where the values come from, in words for the user."""

    def __post_init__(self) -> None:
        """Refuse what is not 24 colours in range."""
        if len(self.labs) != len(PATCHES):
            raise ColourError(
                f"A target has {len(PATCHES)} patches; {len(self.labs)} colours were given."
            )
        object.__setattr__(self, "labs", tuple(check_lab(lab) for lab in self.labs))

    @property
    def array(self) -> Array:
        """The colours as 24 × 3."""
        return np.array(self.labs)


def _edition(first: int, words: str) -> Reference:
    labs = (figures[first : first + 3] for _, figures in _PUBLISHED)
    return Reference(tuple(check_lab(lab) for lab in labs), words)


SINCE_2014: Final = _edition(0, "published values, charts made since November 2014")
BEFORE_2014: Final = _edition(3, "published values, charts made before November 2014")
EDITIONS: Final = (SINCE_2014, BEFORE_2014)
