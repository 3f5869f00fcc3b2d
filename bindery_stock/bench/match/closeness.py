"""How far an order of matches can be trusted, and where the words for a difference come from."""

from bindery_stock.colour import ReadBy
from bindery_stock.colour.words import BEYOND, THRESHOLDS
from bindery_stock.matching import Match, Ranking

_WAYS = {
    ReadBy.INSTRUMENT: "read by an instrument",
    ReadBy.TARGET: "read by a target",
    ReadBy.LENT: "read by a target lent from another photograph",
    ReadBy.CARD: "read by a grey card",
    ReadBy.STATED: "taken as stated",
}


def order_note(ranking: Ranking) -> str:
    """What to say where colour cannot tell the first matches apart, and how they were read.

    Empty where the first can be told from the second.
    """
    tied = [match for match in ranking.matches if match.tie == 0]
    if len(tied) < 2 or not ranking.part.shown or ranking.part.lab is None:
        return ""
    which = "these" if len(tied) == len(ranking.matches) else "the first"
    if tied[0].is_seen:
        return (
            f"Seen, not measured: {which} {len(tied)} are of the colour family sought, and no "
            "figure ranks them. Hold the first few beside the book in one photograph."
        )
    widest = max(match.u or 0.0 for match in tied)
    return (
        f"Order only: {_how_read(ranking, tied)}, good to ± {widest:.0f} ΔE00, {which} {len(tied)} "
        "cannot be told apart. The order is the likeliest; hold the first few beside the book in "
        "one photograph."
    )


def _how_read(ranking: Ranking, tied: list[Match]) -> str:
    """Every way in which one of the colours compared was read; a colour typed is exact."""
    ways = {match.read_by for match in tied}
    if ranking.part.u:
        ways.add(ranking.part.read_by)
    return " and ".join(said for way, said in _WAYS.items() if way in ways)


def threshold_words() -> str:
    """Every word for a difference with its limit and where that comes from, a line each."""
    lines = [f"up to ΔE00 {bound:g}: {text} ({source})" for bound, text, source in THRESHOLDS]
    return "\n".join([*lines, f"beyond: {BEYOND}"])
