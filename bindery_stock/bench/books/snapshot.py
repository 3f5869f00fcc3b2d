"""What the Books screen shows, read at once: sets, volumes, parts, allowances, and their cloth."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.question import Question
from bindery_stock.errors import NotFound
from bindery_stock.stock import (
    BookPart,
    BookSet,
    EveryOverride,
    Repair,
    Reservation,
    StockPiece,
    Stockroom,
)
from bindery_stock.trade import Allowances, Rules


@dataclass(frozen=True, slots=True)
class BooksView:
    """All books on the bench as they stood when it was read."""

    sets: tuple[BookSet, ...]
    repairs: tuple[Repair, ...]
    """The volumes, those of a set by their numbers."""
    by_volume: Mapping[str, tuple[BookPart, ...]]
    """The parts of each volume by its code, in the order of the work."""
    overrides: EveryOverride
    reservations: tuple[Reservation, ...]
    cut: Mapping[str, StockPiece]
    """The pieces that parts were cut from, and all that those were cut from, by their codes."""

    def repair(self, code: str) -> Repair:
        """The volume with this code. Raises ``NotFound``."""
        for one in self.repairs:
            if one.code == code:
                return one
        raise NotFound(f"There is no volume {code} on the bench. Check the code in its record.")

    def volumes(self, book_set: str | None) -> list[Repair]:
        """The volumes of a set in their order, or those that belong to none."""
        return [repair for repair in self.repairs if repair.book_set == book_set]

    def book_set(self, code: str | None) -> BookSet | None:
        """A set, or None."""
        return next((one for one in self.sets if one.code == code), None)

    def parts(self, volume: str) -> tuple[BookPart, ...]:
        """The parts of a volume, in the order of the work."""
        return self.by_volume.get(volume, ())

    def part(self, part_id: int) -> BookPart | None:
        """A part by its id, or None."""
        every = (part for parts in self.by_volume.values() for part in parts)
        return next((part for part in every if part.id == part_id), None)

    def allowances(self, repair: Repair, rules: Rules) -> Allowances:
        """The allowances in force for a volume."""
        return allowances_for(self.overrides.of(repair.code, repair.book_set), rules)

    def lineage(self, code: str) -> list[StockPiece]:
        """A piece that a part was cut from, what that was cut from, and so on to the first."""
        line: list[StockPiece] = []
        at: str | None = code
        while at is not None and at in self.cut:
            line.append(self.cut[at])
            at = self.cut[at].parent
        return line


NO_BOOKS = BooksView((), (), {}, EveryOverride(), (), {})
"""While there is no stockroom."""


def snapshot(room: Stockroom) -> BooksView:
    """Read it: twelve statements, however many books there are."""
    by_volume: defaultdict[str, list[BookPart]] = defaultdict(list)
    for part in room.books.parts():
        by_volume[part.repair].append(part)
    return BooksView(
        sets=tuple(room.books.book_sets()),
        repairs=tuple(room.books.repairs()),
        by_volume={code: tuple(parts) for code, parts in by_volume.items()},
        overrides=room.books.every_override(),
        reservations=tuple(room.pieces.reservations()),
        cut={piece.code: piece for piece in room.books.cut_for_parts()},
    )


_WHOLE = frozenset({"book_set", "repair", "repair_photo", "target_colour", "part", "reservation"})
BOOKS = Question(
    snapshot,
    # A colour read on a piece may raise a caution against what it is reserved for.
    tables=_WHOLE | {"allowance", "treatment", "piece", "colour_reading", "cutting"},
    whole=_WHOLE,
)
