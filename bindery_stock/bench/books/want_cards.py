"""Looking-for cards of parts put on the wanted list."""

from collections.abc import Sequence

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, NewWanted, Stockroom, Verb


@deed(Bearing.KEEPS)
def want_cards(room: Stockroom, *, wants: Sequence[NewWanted]) -> Changes:
    """Put what is looked for on the wanted list, all in one step. Raises ``EntryError``."""
    with room.step(Verb.WANTED) as step:
        if len(wants) > 1:
            step.name = f"Put {len(wants)} cards on the wanted list"
        for want in wants:
            room.wants.add(want)
    return step.changes
