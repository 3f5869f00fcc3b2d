"""Which pieces of a shortlist are laid beside the book, to be told apart in one photograph."""

from collections.abc import Container
from dataclasses import dataclass

from bindery_stock.matching.ranking import Match, Ranking

MOST_LAID = 6
"""So many lie round one book and are still large enough in the photograph."""


@dataclass(frozen=True)
class LineUp:
    """The pieces to lay out, and those that would be laid if there were room."""

    laid: tuple[Match, ...]
    """In the order of the ranking, at most six."""
    waiting: tuple[Match, ...]
    """Not laid, though colour cannot tell them from the first: for a second photograph."""
    kept_for_others: tuple[Match, ...]
    """Left out, as they are reserved for other parts."""


def line_up(ranking: Ranking, *, reserved: Container[str] = (), after: int = 0) -> LineUp:
    """The first of a ranking that are not ``reserved`` for something else, by code.

    Those that colour cannot tell from the best come before the next by themselves, as the ranking
    runs that way. ``after`` leaves out so many that were laid in a photograph before.
    """
    free = [match for match in ranking.matches if match.code not in reserved]
    laid = free[after : after + MOST_LAID]
    best = ranking.matches[0].tie if ranking.matches else 0
    return LineUp(
        laid=tuple(laid),
        waiting=tuple(m for m in free[after + MOST_LAID :] if m.tie == best),
        kept_for_others=tuple(m for m in ranking.matches if m.code in reserved),
    )
