"""The ledger: what happened, and the way back."""

from datetime import datetime

from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger import questions as ledger_questions
from bindery_stock.stock.ledger import undo
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.undo import Check, Tell
from bindery_stock.stock.ledger.values import Changes, Step, Verb


def _silent(_share: float, _words: str) -> None:
    """Nobody listens."""


def _on() -> None:
    """Nobody stops it."""


class Ledger(Group):
    """The steps that were made, and undo and redo."""

    def steps(
        self, *, code: str | None = None, limit: int | None = None, before: int | None = None
    ) -> list[Step]:
        """The ledger, newest first: of one piece or lot, at most ``limit``, below a number."""
        with self._door.connection() as connection:
            return ledger_questions.steps(
                connection, self._door.standing(connection), code=code, limit=limit, before=before
            )

    def newest(self, limit: int) -> tuple[list[Step], Step | None, Step | None]:
        """The newest steps, and what could be undone and done again: as ``steps``, ``ways_back``.

        In three statements, all of the same moment.
        """
        with self._door.connection() as connection:
            stands = self._door.standing(connection)
            steps = ledger_questions.steps(connection, stands, code=None, limit=limit, before=None)
            return steps, *ledger_questions.ways_back(connection, stands)

    def latest(self) -> datetime | None:
        """When the last step was made, in UTC; None where none was."""
        if self._door.latest is None:  # open for reading only: another may go on writing
            found: datetime | None = self._ask(ledger_questions.latest)
            return found
        return self._door.latest

    def undoable(self) -> Step | None:
        """The step that ``undo`` would take back."""
        return self.ways_back()[0]

    def redoable(self) -> Step | None:
        """The step that ``redo`` would do again."""
        return self.ways_back()[1]

    def ways_back(self) -> tuple[Step | None, Step | None]:
        """The step that ``undo`` would take back, and the one that ``redo`` would do again."""
        with self._door.connection() as connection:
            return ledger_questions.ways_back(connection, self._door.standing(connection))

    def undo(self, step: int | None = None, *, tell: Tell = _silent, check: Check = _on) -> Changes:
        """Take back a step by a new one: the latest that stands, or the one with this number.

        ``tell`` hears how far a long one is, and ``check`` may raise to stop: nothing is changed
        then. Raises ``UndoRefused`` where there is none, or later steps rest on it (naming them).
        """

        def work(draft: Draft) -> str:
            return f"Undo: {undo.undo(draft, step, tell, check).name}"

        return self._do(Verb.UNDONE, work)

    def redo(self, *, tell: Tell = _silent, check: Check = _on) -> Changes:
        """Do again what was taken back last. Raises ``UndoRefused`` where there is nothing."""

        def work(draft: Draft) -> str:
            return f"Redo: {undo.redo(draft, tell, check).name}"

        return self._do(Verb.REDONE, work)
