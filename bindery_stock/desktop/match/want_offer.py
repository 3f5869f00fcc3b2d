"""The way on where nothing serves: the part is put on the wanted list."""

from PySide6.QtWidgets import QPushButton

from bindery_stock.bench.adhesives.wants import want
from bindery_stock.bench.match.want import wanted_for
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Part, Ranking


class WantOffer:
    """A button that is hidden while something serves, or nothing is sought."""

    def __init__(self, session: Session) -> None:
        """Begin hidden."""
        self._session = session
        self.button: QPushButton = quiet_button("Put it on the wanted list")
        self.button.hide()

    def show_answer(self, ranking: Ranking | None) -> None:
        """Offer it where nothing serves."""
        may = ranking is not None and not self._session.stockroom.read_only
        self.button.setVisible(may and ranking is not None and not ranking.matches)

    def put(self, part: Part, purpose: str) -> None:
        """Put the part on the wanted list."""
        new = wanted_for(part, purpose)
        self._session.do(lambda room: want(room, new=new))
