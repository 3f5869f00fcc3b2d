"""What must be heeded when a piece is in the hand, in words short enough to stand beside it."""

from bindery_stock.stock import AdhesiveLot, StockPiece
from bindery_stock.trade import Hazard, Level, Rules, hazards

SIGN = "△"
"""The sign of a caution; a word always stands with it."""


def cautions(item: StockPiece | AdhesiveLot, rules: Rules | None = None) -> list[Hazard]:
    """Every caution and note on a piece or a lot, the gravest first.

    By the shipped rules, or by ``rules`` where they are handed in.
    """
    return hazards(item, rules=rules)


def gravest(piece: StockPiece, rules: Rules | None = None) -> Level | None:
    """The gravest level raised by a piece; plain notes, which most old cloth has, do not count."""
    found = [hazard.level for hazard in cautions(piece, rules) if hazard.level is not Level.INFO]
    return found[0] if found else None


def sign_words(piece: StockPiece, rules: Rules | None = None) -> str:
    """``△ stop``, ``△ caution``, or empty."""
    level = gravest(piece, rules)
    return f"{SIGN} {level}" if level else ""


def caution_line(piece: StockPiece, rules: Rules | None = None) -> str:
    """The gravest caution on a piece in one line, for its match; empty where none is raised.

    ``△ Stop: arsenical green, likely by colour and date (and 2 more). Do not cut, … Not a test …``
    """
    grave = [hazard for hazard in cautions(piece, rules) if hazard.level is not Level.INFO]
    if not grave:
        return ""
    more = f" (and {len(grave) - 1} more)" if len(grave) > 1 else ""
    return f"{headline(grave[0])}{more}. {grave[0].caution} {grave[0].closing}"


def families_by_care(rules: Rules) -> tuple[str, ...]:
    """The words for a colour judged by eye, those that raise the gravest caution first.

    Where nothing was measured the word is all that the cautions go by; of two words that fit, the
    upper one answers as gravely as a reading that might be either.
    """

    def gravity(family: str) -> int:
        raised = [h.level.rank for h in rules.hazards.values() if family in h.families]
        return max(raised, default=-1)

    return tuple(sorted(rules.families, key=gravity, reverse=True))


def headline(hazard: Hazard) -> str:
    """``△ Stop: arsenical green, likely by colour and date``."""
    sign = "" if hazard.level is Level.INFO else f"{SIGN} "
    return f"{sign}{str(hazard.level).capitalize()}: {hazard.name}"


def at_length(hazard: Hazard) -> str:
    """All that is said of a caution: what to do, why it was raised, and where that comes from."""
    lines = [*(f"• {line}" for line in hazard.advice), f"Raised by {hazard.reason}."]
    if hazard.would_change:
        lines.append(f"What would change this: {hazard.would_change}")
    marked = str(hazard.provenance.mark)
    if hazard.provenance.caveat:
        marked += f"; {hazard.provenance.caveat}"
    sources = "; ".join(source.citation for source in hazard.provenance.sources)
    lines.append(f"Source ({marked}): {sources}." if sources else f"Source: {marked}.")
    lines.append(hazard.closing)
    return "\n".join(lines)
