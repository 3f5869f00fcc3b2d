"""Holding a part against the shelf, off the window's thread, in steps."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from bindery_stock.bench.match.candidates import (
    Judge,
    MatchAnswer,
    answered,
    hoard_of,
    others_placed,
    placed_best,
)
from bindery_stock.colour import ColourMap
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Part
from bindery_stock.trade import Use

NEAR_MISSES = 8
"""As many as a hand will look at; what each lacks takes many trial fits."""


class Seeker(QObject):
    """Emits ``answered(MatchAnswer)`` when the pieces that serve are known, and ``placed`` with the
    same by the cloth under the part, the leading ones placed for the offcut, and again with all
    others so placed. Then the usable rectangles and colour maps of the whole shelf are made, which
    makes the next answers quicker.
    """

    answered = Signal(object)
    placed = Signal(object)

    def __init__(self, session: Session, parent: QObject) -> None:
        """Seek in the session's stockroom."""
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None

    def stop(self) -> None:
        """Give up what is under way."""
        if self._job is not None:
            self._job.stop()

    def seek(
        self, part: Part, *, use: Use | None = None, reserved: bool, in_hand: str = ""
    ) -> None:
        """Hold the part against the shelf; with ``reserved`` also against what is spoken for.

        ``use`` is what the part is for; ``in_hand`` the code of the piece reserved for it.
        """
        self.stop()
        pieces, usable = self._session.pieces, self._session.usable
        judge = Judge(self._session.stockroom.today, self._session.rules, use)

        def work(job: Job) -> MatchAnswer:
            hoard = hoard_of(pieces, reserved=reserved, in_hand=in_hand, usable=usable)
            by_code = {piece.code: piece for piece in pieces}
            answer = answered(
                part, hoard, by_code, judge, near=NEAR_MISSES, stop=lambda: job.stopped
            )
            ranking = answer.ranking
            for match in ranking.matches:
                job.check()
                _ = match.left  # worked out here, as it takes too long for the GUI thread
            for miss in ranking.near_misses:
                job.check()
                _ = miss.lack
            return answer

        self._job = self._session.jobs.run(work, owner=self, done=self._answered)

    def _answered(self, answer: MatchAnswer) -> None:
        self.answered.emit(answer)
        ranking = answer.ranking
        if not ranking.matches:
            self._measure_shelf()
            return
        maps = self._session.maps
        shelved = {piece.code: piece for piece in self._session.pieces}

        def seen(code: str) -> ColourMap | None:
            return maps.of(shelved[code]) if code in shelved else None

        def work(job: Job) -> MatchAnswer:
            placed = placed_best(ranking, job.check, seen)
            for match in placed.matches:
                job.check()
                _ = match.left
            for miss in placed.near_misses:
                job.check()
                _ = miss.lack
            return replace(answer, ranking=placed, looked=True)

        self._job = self._session.jobs.run(work, owner=self, done=self._placed)

    def _placed(self, answer: MatchAnswer) -> None:
        self.placed.emit(answer)
        if all(match.leaves_most for match in answer.ranking.matches):
            self._measure_shelf()
            return

        def work(job: Job) -> MatchAnswer:
            return replace(answer, ranking=others_placed(answer.ranking, job.check))

        self._job = self._session.jobs.run(work, owner=self, done=self._placed)

    def _measure_shelf(self) -> None:
        pieces, usable = self._session.pieces, self._session.usable
        stockroom = self._session.stockroom

        maps = self._session.maps
        unmapped = [] if stockroom.read_only else [p for p in pieces if not maps.is_known(p)]

        def work(job: Job) -> None:
            try:
                for piece in pieces:
                    job.check()
                    usable.measure(piece)
            finally:
                if not stockroom.read_only:
                    usable.keep(Path(stockroom.folder))
            for piece in unmapped:
                job.check()
                maps.of(piece)

        if unmapped or not all(usable.is_known(piece) for piece in pieces):
            self._job = self._session.jobs.run(work, owner=self, done=lambda _nothing: None)
