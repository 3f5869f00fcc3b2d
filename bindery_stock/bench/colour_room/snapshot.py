"""What a stockroom keeps for reading colours, read at once: the sitting, the values of targets."""

from dataclasses import dataclass

from bindery_stock.bench.colour_room.sitting import (
    OWN_VALUES,
    SITTING,
    KeptTarget,
    editions_in,
    target_in,
)
from bindery_stock.bench.question import Question
from bindery_stock.colour import Reference
from bindery_stock.stock import Stockroom


@dataclass(frozen=True, slots=True)
class ColourRoomView:
    """What is kept in the settings of the stockroom."""

    kept: KeptTarget | None
    """The target whose correction is lent, if there is one."""
    editions: tuple[Reference, ...]
    """The values a target may be held against: the published ones, then the binder's own."""


def snapshot(room: Stockroom) -> ColourRoomView:
    """Read it: two statements at most."""
    settings = room.keeping.settings()
    return ColourRoomView(
        kept=target_in(room, settings.get(SITTING)), editions=editions_in(settings.get(OWN_VALUES))
    )


COLOUR_ROOM = Question(snapshot, tables=frozenset())
"""Settings are no steps: whoever keeps one reads the snapshot again."""
