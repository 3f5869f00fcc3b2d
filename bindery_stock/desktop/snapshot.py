"""What a screen shows of the stock as last read: not asked for by the thread of the window.

A session answers every question when a stockroom is opened, and again, on the thread of the
change, those a step bears on. Until the new answer is there the old one stays.
"""

from collections.abc import Callable
from typing import Generic, TypeVar

from bindery_stock.bench.question import Question
from bindery_stock.stock import Changes, Stockroom

V = TypeVar("V")


class ScreenSnapshot(Generic[V]):
    """The answer to a question, kept until something it rests on is changed."""

    def __init__(self, question: Question[V], room: Callable[[], Stockroom]) -> None:
        """Ask ``room()``."""
        self.question = question
        self._room = room
        self._view: V | None = None

    @property
    def view(self) -> V:
        """As last read; read now where that has never been done."""
        if self._view is None:
            self._view = self.question.ask(self._room())
        return self._view

    def bears_on(self, changes: Changes) -> bool:
        """Whether a step may have changed what it shows."""
        return self.question.bears_on(changes)

    def take(self, view: V) -> None:
        """This was read just now."""
        self._view = view

    def forget(self) -> None:
        """Another stockroom: nothing of it has been read."""
        self._view = None
