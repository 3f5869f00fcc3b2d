"""What the Adhesives screen shows, read at once: lots, wants and reorder points."""

from dataclasses import dataclass

from bindery_stock.bench.question import Question
from bindery_stock.stock import AdhesiveLot, LotUse, ReorderPoint, Step, Stockroom, Wanted

STEPS = 20
"""So many of the latest steps stand on the sheet of a lot."""


@dataclass(frozen=True, slots=True)
class AdhesivesView:
    """The adhesive shelf and the wanted list as they stood when they were read.

    How long a lot keeps and what it is fit for is not among it: that changes with the day.
    """

    every_lot: tuple[AdhesiveLot, ...]
    """Those on the shelf and those finished, in the order of entry."""
    every_want: tuple[Wanted, ...]
    """The open lines of the wanted list and the closed ones, in the order of writing."""
    points: tuple[ReorderPoint, ...]

    @property
    def lots(self) -> list[AdhesiveLot]:
        """The lots on the shelf."""
        return [lot for lot in self.every_lot if not lot.finished]

    @property
    def wants(self) -> list[Wanted]:
        """What is still to be bought or looked for."""
        return [want for want in self.every_want if not want.outcome]

    def lot(self, code: str) -> AdhesiveLot | None:
        """A lot by its code, finished or not; None where there is none."""
        return next((lot for lot in self.every_lot if lot.code == code), None)


@dataclass(frozen=True, slots=True)
class LotStory:
    """What happened with one lot."""

    uses: tuple[LotUse, ...]
    """What was taken from it, the latest first."""
    steps: tuple[Step, ...]
    """The latest steps about it, newest first."""


def story(room: Stockroom, code: str) -> LotStory:
    """Read it: three statements, however old the lot is."""
    return LotStory(
        uses=tuple(room.lots.uses(code)), steps=tuple(room.ledger.steps(code=code, limit=STEPS))
    )


def snapshot(room: Stockroom) -> AdhesivesView:
    """Read it: four statements, however many lots there are."""
    return AdhesivesView(
        every_lot=tuple(room.lots.listed(finished=True)),
        every_want=tuple(room.wants.listed(closed=True)),
        points=tuple(room.wants.reorder_points()),
    )


_WHOLE = frozenset({"adhesive_lot", "wanted", "reorder_point"})
ADHESIVES = Question(snapshot, tables=_WHOLE | {"lot_part", "lot_use"}, whole=_WHOLE)
