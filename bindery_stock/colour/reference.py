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

from bindery_stock.colour.space import Array, Lab, check_lab
from bindery_stock.errors import ColourError

PATCHES: Final = (
    "dark skin",
    "light skin",
    "blue sky",
    "foliage",
    "blue flower",
    "bluish green",
    "orange",
    "purplish blue",
    "moderate red",
    "purple",
    "yellow green",
    "orange yellow",
    "blue",
    "green",
    "red",
    "yellow",
    "magenta",
    "cyan",
    "white",
    "neutral 8",
    "neutral 6.5",
    "neutral 5",
    "neutral 3.5",
    "black",
)
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


_SINCE_2014: Final[tuple[Lab, ...]] = (
    (37.54, 14.37, 14.92),
    (64.66, 19.27, 17.50),
    (49.32, -3.82, -22.54),
    (43.46, -12.74, 22.72),
    (54.94, 9.61, -24.79),
    (70.48, -32.26, -0.37),
    (62.73, 35.83, 56.50),
    (39.43, 10.75, -45.17),
    (50.57, 48.64, 16.67),
    (30.10, 22.54, -20.87),
    (71.77, -24.13, 58.19),
    (71.51, 18.24, 67.37),
    (28.37, 15.42, -49.80),
    (54.38, -39.72, 32.27),
    (42.43, 51.05, 28.62),
    (81.80, 2.67, 80.41),
    (50.63, 51.28, -14.12),
    (49.57, -29.71, -28.32),
    (95.19, -1.03, 2.93),
    (81.29, -0.57, 0.44),
    (66.89, -0.75, -0.06),
    (50.76, -0.13, 0.14),
    (35.63, -0.46, -0.48),
    (20.64, 0.07, -0.46),
)
_BEFORE_2014: Final[tuple[Lab, ...]] = (
    (37.99, 13.55, 14.06),
    (65.71, 18.13, 17.81),
    (49.93, -4.88, -21.90),
    (43.14, -13.10, 21.91),
    (55.11, 8.84, -25.40),
    (70.72, -33.40, -0.20),
    (62.66, 36.07, 57.10),
    (40.02, 10.41, -45.96),
    (51.12, 48.24, 16.25),
    (30.33, 22.98, -21.59),
    (72.53, -23.71, 57.26),
    (71.94, 19.36, 67.86),
    (28.78, 14.18, -50.30),
    (55.26, -38.34, 31.37),
    (42.10, 53.38, 28.19),
    (81.73, 4.04, 79.82),
    (51.94, 49.99, -14.57),
    (51.04, -28.63, -28.64),
    (96.54, -0.43, 1.19),
    (81.26, -0.64, -0.33),
    (66.77, -0.73, -0.50),
    (50.87, -0.15, -0.27),
    (35.66, -0.42, -1.23),
    (20.46, -0.08, -0.97),
)

SINCE_2014: Final = Reference(_SINCE_2014, "published values, charts made since November 2014")
BEFORE_2014: Final = Reference(_BEFORE_2014, "published values, charts made before November 2014")
EDITIONS: Final = (SINCE_2014, BEFORE_2014)
