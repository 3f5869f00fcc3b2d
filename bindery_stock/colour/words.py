"""ΔE00 in plain words, from thresholds published for ΔE00 itself.

A threshold of one formula is never turned into one of another: no factor between them exists.
None of the figures was found on bookcloth; weave, sheen and pile move the eye's judgement, so the
words say what to look at, and the eye decides.
"""

from typing import Final

from bindery_stock.errors import ColourError

THRESHOLDS: Final[tuple[tuple[float, str, str], ...]] = (
    (
        0.8,
        "no visible difference",
        "50:50 perceptibility, ΔE00, 175 observers: Paravina et al., J. Esthet. Restor. Dent. 27 "
        "(2015) S1; taken into ISO/TR 28642:2016",
    ),
    (
        1.8,
        "very close",
        "50:50 acceptability, ΔE00, the same observers (Paravina et al. 2015)",
    ),
    (
        3.5,
        "close, seen side by side",
        "deviation for chromatic print solids, ΔE00, ISO 12647-2:2013 as reported in TAGA 2015",
    ),
    (
        5.0,
        "a plain difference",
        "deviation for the black print solid, ΔE00, ISO 12647-2:2013 as reported in TAGA 2015",
    ),
    (
        10.0,
        "another shade",
        "no published figure: our own mark for the end of what a binder would call the same shade",
    ),
)
"""Upper bound in ΔE00, the words up to it, and where the bound comes from."""
BEYOND: Final = "another colour"


def words(de: float, u: float | None = None) -> str:
    """ΔE00 in plain words; with its 95 % uncertainty ``u``, the range of words it allows.

    Raises ``ColourError`` where ``de`` or ``u`` is negative or not a number.
    """
    if not de >= 0 or (u is not None and not u >= 0):
        raise ColourError("A colour difference and its uncertainty are figures from 0 upward.")
    if u is None:
        return _words(de)
    low, high = _words(max(de - u, 0.0)), _words(de + u)
    return low if low == high else f"between “{low}” and “{high}”"


def _words(de: float) -> str:
    for bound, text, _source in THRESHOLDS:
        if de <= bound:
            return text
    return BEYOND
