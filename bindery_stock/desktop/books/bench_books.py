"""What every part of the Books place shares: the sets, volumes and parts as last read."""

from PySide6.QtCore import QObject, Signal

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.desktop.session import Session
from bindery_stock.errors import NotFound
from bindery_stock.stock import (
    BookPart,
    BookSet,
    Changes,
    Repair,
    RepairState,
    StockPiece,
)
from bindery_stock.trade import Allowances, Hours, hours_for

_OURS = frozenset(
    {"book_set", "repair", "repair_photo", "target_colour", "part", "allowance", "treatment"}
)


class BenchBooks(QObject):
    """The volumes on the bench. Emits ``changed()`` when any of them did."""

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin empty; read when a stockroom is opened."""
        super().__init__(session)
        self.session = session
        self.sets: list[BookSet] = []
        self.repairs: list[Repair] = []
        self._parts: dict[str, list[BookPart]] = {}
        self._gone: dict[str, StockPiece] = {}

    def reload(self) -> None:
        """Read everything again."""
        room = self.session.stockroom
        self.sets = room.books.book_sets()
        self.repairs = room.books.repairs()
        self._parts = {repair.code: [] for repair in self.repairs}
        self._gone = {}
        for part in room.books.parts():
            self._parts[part.repair].append(part)
        self.changed.emit()

    def heard(self, changes: Changes) -> None:
        """Read again where a step touched the bench, or cloth that is kept for it."""
        if _OURS & set(changes.touched) or "reservation" in changes.touched:
            self.reload()
        elif "piece" in changes.touched:
            self._gone = {}
            self.changed.emit()

    def volumes(self, book_set: str | None) -> list[Repair]:
        """The volumes of a set in their order, or those that belong to none."""
        return [repair for repair in self.repairs if repair.book_set == book_set]

    def repair(self, code: str) -> Repair | None:
        """A volume, or None once its entry has been taken back."""
        return next((repair for repair in self.repairs if repair.code == code), None)

    def book_set(self, code: str | None) -> BookSet | None:
        """A set, or None."""
        return next((one for one in self.sets if one.code == code), None)

    def parts(self, volume: str) -> list[BookPart]:
        """The parts of a volume, in the order of the work."""
        return self._parts.get(volume, [])

    def set_parts(self, book_set: str | None) -> list[BookPart]:
        """The parts of all volumes of a set."""
        return [part for repair in self.volumes(book_set) for part in self.parts(repair.code)]

    def parts_in_work(self, book_set: str | None) -> list[BookPart]:
        """The parts of the volumes of a set that are not done: what still needs cloth."""
        at_work = [one for one in self.volumes(book_set) if one.state is not RepairState.DONE]
        return [part for repair in at_work for part in self.parts(repair.code)]

    def part(self, part_id: int) -> BookPart | None:
        """A part by its id, or None."""
        every = (part for parts in self._parts.values() for part in parts)
        return next((part for part in every if part.id == part_id), None)

    def piece(self, code: str) -> StockPiece | None:
        """A piece, on the shelf or cut up since."""
        if not code:
            return None
        if code not in self._gone:
            try:
                self._gone[code] = self.session.piece(code)
            except NotFound:
                return None
        return self._gone[code]

    def allowances(self, repair: Repair) -> Allowances:
        """The allowances in force for a volume."""
        room = self.session.stockroom
        return allowances_for(room.books.overrides(volume=repair.code), room.rules)

    def hours(self, repair: Repair) -> Hours:
        """What the rules estimate for a volume."""
        return hours_for(repair.survey, rules=self.session.stockroom.rules)

    def estimate(self, repair: Repair) -> tuple[float, float]:
        """Least and most hours: the binder's own estimate, else that of the rules."""
        if repair.hours_estimated is not None:
            return (repair.hours_estimated, repair.hours_estimated)
        hours = self.hours(repair)
        return (hours.low, hours.high)
