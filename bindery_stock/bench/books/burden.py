"""What giving a piece to one part would cost the other parts that wait, in words."""

from collections.abc import Iterable, Sequence

from bindery_stock import matching
from bindery_stock.bench.books.part_list import as_matched, needs_colour
from bindery_stock.bench.books.share_out import OPEN
from bindery_stock.bench.match.candidates import as_matched as piece_as_matched
from bindery_stock.matching import Burden
from bindery_stock.stock import BookPart, StockPiece

_NOTHING = 0.05
_NAMED = 2


def burden_words(
    part: BookPart, parts: Iterable[BookPart], pieces: Sequence[StockPiece]
) -> dict[str, str]:
    """For each piece that holds the part, what the others would lose by it; takes seconds."""
    waiting = [
        other
        for other in parts
        if other.id != part.id
        and other.state in OPEN
        and other.kind is part.kind
        and not needs_colour(other)
    ]
    free = [piece for piece in pieces if not piece.reserved_for and piece.kind is part.kind]
    found = matching.burdens(
        as_matched(part),
        [piece_as_matched(piece) for piece in free],
        [as_matched(other) for other in waiting],
    )
    return {
        code: _words(burden, [part.purpose for part in waiting]) for code, burden in found.items()
    }


def _words(burden: Burden, names: Sequence[str]) -> str:
    if burden.stranded:
        return f"It may leave without cloth: {_named(burden.stranded, names)}."
    if burden.cost < _NOTHING or not burden.losers:
        return "No other part that waits would lose by it."
    who = _named(burden.losers, names)
    return f"{who} would have to take cloth {burden.cost:.1f} ΔE00 further off in all."


def _named(numbers: Sequence[int], names: Sequence[str]) -> str:
    more = f" and {len(numbers) - _NAMED} more" if len(numbers) > _NAMED else ""
    return "; ".join(names[number] for number in numbers[:_NAMED]) + more
