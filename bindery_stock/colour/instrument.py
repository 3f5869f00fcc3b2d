"""Readings typed or pasted from a colour instrument, brought to D50 and the 2° observer.

Readings under another illuminant are adapted by the Bradford transform (ICC.1:2022 annex E); those
of the 10° observer have no exact counterpart for the 2° one, are adapted from their own white and
said to be approximate.

White points: CIE 15:2018 tables T.3 and CIE 15:2004 T.8, as carried by colour-science 0.4.
"""

import re
from dataclasses import dataclass
from typing import Final

import numpy as np

from bindery_stock.colour.published import table
from bindery_stock.colour.read_by import ReadBy
from bindery_stock.colour.space import (
    D50,
    Array,
    Lab,
    adaptation,
    apply_matrix,
    check_lab,
    lab_to_xyz,
    xyz_to_lab,
)
from bindery_stock.colour.uncertainty import U_INSTRUMENT
from bindery_stock.errors import ColourError

WHITES: Final[dict[tuple[str, int], tuple[float, float]]] = {
    (name.partition("/")[0], int(name.partition("/")[2])): (x, y)
    for name, (x, y) in table("whites.csv", "x", "y", rows=18)
}
"""Chromaticity x, y by illuminant and observer in degrees."""

_APPROXIMATE: Final = 1.5
"""Factor on the band of a reading of the 10° observer (common practice, no source)."""
_NUMBER: Final = r"([+\-−]?\d+(?:[.,]\d+)?)"
_PASTED: Final = re.compile(
    rf"L\*?\s*[:=]?\s*{_NUMBER}[\s;,]*a\*?\s*[:=]?\s*{_NUMBER}[\s;,]*b\*?\s*[:=]?\s*{_NUMBER}",
    re.IGNORECASE,
)
_BARE: Final = re.compile(rf"^\s*{_NUMBER}[\s;]+{_NUMBER}[\s;]+{_NUMBER}")
_ILLUMINANT: Final = re.compile(r"\b(A|C|D50|D55|D65|D75|F2|F7|F11)\s*/\s*(2|10)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class InstrumentReading:
    """A reading brought to CIELAB D50, 2° observer."""

    lab: Lab
    u: float
    """95 % band, ΔE00."""
    method: str
    """Says what was typed and whether it was adapted."""
    read_by: ReadBy = ReadBy.INSTRUMENT


def from_instrument(
    lab: Lab, illuminant: str = "D50", observer: int = 2, u: float = U_INSTRUMENT
) -> InstrumentReading:
    """Bring a typed reading to D50, 2°.

    ``illuminant`` is one of A, C, D50, D55, D65, D75, F2, F7, F11; ``observer`` 2 or 10 degrees.
    Raises ``ColourError`` for others and for colours out of range.
    """
    typed = check_lab(lab)
    name = illuminant.strip().upper()
    white = WHITES.get((name, observer))
    if white is None:
        known = ", ".join(sorted({n for n, _ in WHITES}))
        raise ColourError(
            f"“{illuminant}/{observer}°” is not an illuminant and observer this program knows. "
            f"Choose one of {known} and 2° or 10°."
        )
    if (name, observer) == ("D50", 2):
        return InstrumentReading(typed, u, "instrument reading, D50/2°")
    source = _white_xyz(white)
    # CIELAB is relative: the same figures times the other white, then adapted to D50.
    xyz = lab_to_xyz(typed) / D50 * source
    adapted = xyz_to_lab(apply_matrix(adaptation(source, D50), xyz))
    approximate = observer != 2
    said = f"instrument reading, {name}/{observer}° adapted to D50/2°"
    found = (float(adapted[0]), float(adapted[1]), float(adapted[2]))
    if approximate:
        return InstrumentReading(found, u * _APPROXIMATE, f"{said} (approximate: other observer)")
    return InstrumentReading(found, u, said)


def parse_reading(text: str, u: float = U_INSTRUMENT) -> InstrumentReading:
    """Read ``L* 43.1 a* 22.0 b* 11.4 D65/10`` or three plain figures, as pasted.

    The decimal sign is a point or a comma; without an illuminant D50/2° is meant. Raises
    ``ColourError`` where no colour is found or an illuminant is not known.
    """
    match = _PASTED.search(text) or _BARE.match(text)
    if match is None:
        raise ColourError(
            f"No colour was found in “{text.strip()[:60]}”. Write L* 43.1 a* 22.0 b* 11.4 D65/10."
        )
    l_star, a, b = (float(v.replace(",", ".").replace("−", "-")) for v in match.groups())
    named = _ILLUMINANT.search(text[match.end() :]) or _ILLUMINANT.search(text[: match.start()])
    if named is None:
        return from_instrument((l_star, a, b), u=u)
    return from_instrument((l_star, a, b), named[1], int(named[2]), u)


def _white_xyz(xy: tuple[float, float]) -> Array:
    x, y = xy
    return np.array([x / y, 1.0, (1 - x - y) / y])
