"""Confirming a match by book and scrap in one photograph."""

from bindery_stock.stock.doing import Doing
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.pieces import confirmations
from bindery_stock.stock.pieces.confirmation import KeptConfirmation, NewConfirmation


class ConfirmVerbs(Doing):
    """The verb, and the questions that go with it; see ``Stockroom``."""

    def confirm(self, code: str, new: NewConfirmation) -> Changes:
        """Keep what one photograph of book and piece said (``archive_photo`` it first).

        Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a piece or photograph that
        is not there.
        """

        def work(draft: Draft) -> str:
            confirmations.confirm(draft, code, new)
            return (
                f"Held {code} against {new.purpose.strip()}, {new.light.strip()}: "
                f"ΔE00 {new.delta_e:.1f} ± {new.u:.1f}"
            )

        return self._do(Verb.CONFIRMED, work)

    def confirmations(self, code: str | None = None) -> list[KeptConfirmation]:
        """What was confirmed of one piece, or of all, the first first."""
        found: list[KeptConfirmation] = self._ask(confirmations.confirmations, code)
        return found

    def photos(self) -> list[Photo]:
        """Every photograph in the archive, the latest first."""
        found: list[Photo] = self._ask(photo_questions.photos)
        return found
