"""Asking the stockroom about the volumes on the bench."""

from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books.values import BookPart, BookSet, Overrides, Repair, Treatment
from bindery_stock.stock.reading import Questions


class BookReading(Questions):
    """Questions about sets, repairs, parts and treatment; see ``Reading``."""

    def book_sets(self) -> list[BookSet]:
        """Every set, in the order of entry."""
        found: list[BookSet] = self._ask(book_questions.book_sets)
        return found

    def book_set(self, code: str) -> BookSet:
        """The set with this code. Raises ``NotFound``."""
        found: BookSet = self._ask(book_questions.book_set, code)
        return found

    def repairs(self, *, book_set: str | None = None) -> list[Repair]:
        """The volumes on the bench, of one set by their numbers, or all."""
        found: list[Repair] = self._ask(book_questions.repairs, book_set=book_set)
        return found

    def repair(self, code: str) -> Repair:
        """The volume with this code. Raises ``NotFound``."""
        found: Repair = self._ask(book_questions.repair, code)
        return found

    def parts(self, *, volume: str | None = None, book_set: str | None = None) -> list[BookPart]:
        """The parts of one volume, of one set, or of all, in the order of the work."""
        found: list[BookPart] = self._ask(book_questions.parts, volume=volume, book_set=book_set)
        return found

    def part(self, part_id: int) -> BookPart:
        """One part. Raises ``NotFound``."""
        found: BookPart = self._ask(book_questions.part, part_id)
        return found

    def treatments(self, volume: str) -> list[Treatment]:
        """What was done to a volume, oldest first."""
        found: list[Treatment] = self._ask(book_questions.treatments, volume)
        return found

    def overrides(self, *, book_set: str | None = None, volume: str | None = None) -> Overrides:
        """The allowances set for all work, for a set, and for a volume with its set."""
        found: Overrides = self._ask(book_questions.overrides, book_set=book_set, volume=volume)
        return found
