"""Which pieces are chosen, shared by the hoard, the table and the sheet."""

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal


class ChosenPieces(QObject):
    """Knows the chosen pieces by id, and which of them was chosen last.

    Emits ``changed()`` when either becomes another.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with nothing chosen."""
        super().__init__(parent)
        self._ids: frozenset[int] = frozenset()
        self._current: int | None = None

    @property
    def ids(self) -> frozenset[int]:
        """All chosen pieces."""
        return self._ids

    @property
    def current(self) -> int | None:
        """The piece chosen last, whose sheet is shown."""
        return self._current

    def set(self, ids: Iterable[int], current: int | None) -> None:
        """Choose these and no others."""
        chosen = frozenset(ids)
        if (chosen, current) != (self._ids, self._current):
            self._ids, self._current = chosen, current
            self.changed.emit()

    def only(self, piece: int | None) -> None:
        """Choose one piece, or none."""
        self.set(() if piece is None else (piece,), piece)

    def toggle(self, piece: int) -> None:
        """Take a piece into the choice, or out of it."""
        if piece in self._ids and len(self._ids) > 1:
            rest = self._ids - {piece}
            current = self._current if self._current != piece else min(rest)
            self.set(rest, current)
        else:
            self.set(self._ids | {piece}, piece)

    def keep(self, present: Iterable[int]) -> None:
        """Drop what is no longer there."""
        there = self._ids.intersection(present)
        gone = self._current is not None and self._current not in there
        self.set(there, (min(there) if there else None) if gone else self._current)
