"""How far an order of matches can be trusted, and where the words for a difference come from."""

from collections.abc import Mapping

from bindery_stock.colour.words import BEYOND, THRESHOLDS
from bindery_stock.matching import Match, Ranking
from bindery_stock.stock import StockPiece

_ORIGINS = (
    ("bare photograph", "bare photographs"),
    ("white paper", "photographs with white paper in them"),
    ("one neutral patch", "photographs with a grey card in them"),
)


def order_note(ranking: Ranking, pieces: Mapping[str, StockPiece]) -> str:
    """What to say where the bands of the first matches swamp the differences between them.

    Empty where the first can be told from the second.
    """
    tied = [m for m in ranking.matches if m.tie == 0 and m.delta_e is not None]
    if len(tied) < 2 or not ranking.part.shown:
        return ""
    widest = max(match.u or 0.0 for match in tied)
    origin = _origin(tied, pieces)
    which = "these" if len(tied) == len(ranking.matches) else "the first"
    source = f"from {origin}, " if origin else ""
    return (
        f"Order only: {source}good to ± {widest:.0f} ΔE00, {which} {len(tied)} cannot be told "
        "apart. The order is the likeliest; hold the first few beside the book in one photograph."
    )


def _origin(matches: list[Match], pieces: Mapping[str, StockPiece]) -> str:
    """The poorest way in which one of the matches was read, in words."""
    methods = {
        colour.method
        for match in matches
        if match.code in pieces
        for colour in pieces[match.code].colours
        if colour.face.value == match.face
    }
    for start, said in _ORIGINS:
        if any(method.startswith(start) for method in methods):
            return said
    return ""


def threshold_words() -> str:
    """Every word for a difference with its limit and where that comes from, a line each."""
    lines = [f"up to ΔE00 {bound:g}: {text} ({source})" for bound, text, source in THRESHOLDS]
    return "\n".join([*lines, f"beyond: {BEYOND}"])
