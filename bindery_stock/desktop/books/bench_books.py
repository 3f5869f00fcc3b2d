"""What every part of the Books place shares: the sets, volumes and parts as last read."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal

from bindery_stock.bench.books.gate_beforehand import cut_ruling, wet_ruling
from bindery_stock.bench.books.snapshot import BOOKS, NO_BOOKS, BooksView
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
from bindery_stock.trade.gate import ALLOWED, Ruling


class BenchBooks(QObject):
    """The volumes on the bench. Emits ``changed()`` when any of them did."""

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin empty; read when a stockroom is opened."""
        super().__init__(session)
        self.session = session
        self._snapshot = session.snapshot(BOOKS)
        self._said: dict[int, tuple[BookPart, StockPiece | None, Ruling]] = {}
        self._said_wet: dict[str, tuple[Repair, Ruling]] = {}

    @property
    def view(self) -> BooksView:
        """The books as last read; none while no stockroom is open."""
        return self._snapshot.view if self.session.is_open else NO_BOOKS

    @property
    def sets(self) -> Sequence[BookSet]:
        """Every set, in the order of entry."""
        return self.view.sets

    @property
    def repairs(self) -> Sequence[Repair]:
        """Every volume, those of a set by their numbers."""
        return self.view.repairs

    def heard(self, changes: Changes) -> None:
        """Tell where a step touched the bench, or cloth."""
        if self._snapshot.bears_on(changes):
            self.changed.emit()

    def volumes(self, book_set: str | None) -> list[Repair]:
        """The volumes of a set in their order, or those that belong to none."""
        return self.view.volumes(book_set)

    def repair(self, code: str) -> Repair | None:
        """A volume, or None once its entry has been taken back."""
        return next((repair for repair in self.repairs if repair.code == code), None)

    def book_set(self, code: str | None) -> BookSet | None:
        """A set, or None."""
        return self.view.book_set(code)

    def parts(self, volume: str) -> list[BookPart]:
        """The parts of a volume, in the order of the work."""
        return list(self.view.parts(volume))

    def set_parts(self, book_set: str | None) -> list[BookPart]:
        """The parts of all volumes of a set."""
        return [part for repair in self.volumes(book_set) for part in self.parts(repair.code)]

    def parts_in_work(self, book_set: str | None) -> list[BookPart]:
        """The parts of the volumes of a set that are not done: what still needs cloth."""
        at_work = [one for one in self.volumes(book_set) if one.state is not RepairState.DONE]
        return [part for repair in at_work for part in self.parts(repair.code)]

    def part(self, part_id: int) -> BookPart | None:
        """A part by its id, or None."""
        return self.view.part(part_id)

    def piece(self, code: str) -> StockPiece | None:
        """A piece, on the shelf or cut up since."""
        if not code:
            return None
        if code in self.view.cut:
            return self.view.cut[code]
        try:
            return self.session.piece(code)
        except NotFound:
            return None

    def said(self, part: BookPart) -> Ruling:
        """What the gate will say when a part is cut from the piece it is reserved in."""
        repair, piece = self.repair(part.repair), self.piece(part.piece)
        kept = self._said.get(part.id)
        if repair is None:
            return ALLOWED
        if kept is None or kept[0] is not part or kept[1] is not piece:
            room = self.session.stockroom
            kept = (part, piece, cut_ruling(part, piece, repair, room.today, room.rules))
            self._said[part.id] = kept
        return kept[2]

    def said_wet(self, repair: Repair) -> Ruling:
        """What the gate will say to wet work on the covering of a volume."""
        kept = self._said_wet.get(repair.code)
        if kept is None or kept[0] is not repair:
            room = self.session.stockroom
            kept = (repair, wet_ruling(repair, room.today, room.rules))
            self._said_wet[repair.code] = kept
        return kept[1]

    def allowances(self, repair: Repair) -> Allowances:
        """The allowances in force for a volume."""
        return self.view.allowances(repair, self.session.rules)

    def hours(self, repair: Repair) -> Hours:
        """What the rules estimate for a volume."""
        return hours_for(repair.survey, rules=self.session.stockroom.rules)

    def estimate(self, repair: Repair) -> tuple[float, float]:
        """Least and most hours: the binder's own estimate, else that of the rules."""
        if repair.hours_estimated is not None:
            return (repair.hours_estimated, repair.hours_estimated)
        hours = self.hours(repair)
        return (hours.low, hours.high)
