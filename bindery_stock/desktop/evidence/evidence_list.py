"""What was tested, stated or seen, a line each, with the photograph that shows it."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QDialog, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.colour_room.archive_photos import archived_draft
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.forms.form_dialog import open_over
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.pictures import qimage
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.trade import LabResult, Property, PropertyKind

_LONGEST = 900
"""A photograph of evidence is shown at most so many pixels long."""


class EvidenceList(QWidget):
    """Shows the records of one lot or piece; a photograph opens from its line."""

    def __init__(self, session: Session) -> None:
        """Begin with none."""
        super().__init__()
        self._session = session
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID * 3)
        self._grid.setVerticalSpacing(GRID)
        self._grid.setColumnStretch(0, 1)
        self._lines: list[QLabel] = []
        self.buttons: list[QPushButton] = []
        self.picture: EvidencePhoto | None = None

    @property
    def words(self) -> str:
        """All that is shown."""
        return "\n".join(line.text() for line in self._lines)

    def show_records(
        self,
        found: Sequence[Property],
        kinds: Mapping[str, PropertyKind],
        results: Sequence[LabResult] = (),
    ) -> None:
        """Show these, and that there is none where there is none."""
        for widget in (*self._lines, *self.buttons):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._lines, self.buttons = [], []
        for one in found:
            kind = kinds.get(one.name)
            words = kind.words if kind is not None else one.name
            self._add(f"{words}: {one.words}", one.photo)
        for result in results:
            self._add(f"Laboratory, {result.words}", None)
        if not self._lines:
            self._add("Nothing was tested yet.", None)

    def _add(self, words: str, photo: str | None) -> None:
        row = len(self._lines)
        line = plain_label(words)
        self._grid.addWidget(line, row, 0)
        self._lines.append(line)
        if photo is not None:
            button = quiet_button("Photograph")
            button.setAccessibleName(f"Photograph of {words}")
            button.clicked.connect(lambda: self._show_photo(words, photo))
            self._grid.addWidget(button, row, 1, Qt.AlignmentFlag.AlignTop)
            self.buttons.append(button)

    def _show_photo(self, words: str, sha256: str) -> None:
        self.picture = EvidencePhoto(words, sha256, self._session, self)
        open_over(self.picture)


class EvidencePhoto(QDialog):
    """One photograph with what it is evidence of."""

    def __init__(self, words: str, sha256: str, session: Session, parent: QWidget) -> None:
        """Have the photograph read off the window's thread."""
        super().__init__(parent)
        self.setWindowTitle("Photograph of a test")
        self.picture = QLabel("Reading the photograph…")
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 2)
        column.addWidget(self.picture, 1)
        column.addWidget(plain_label(words))
        stockroom = session.stockroom

        def read() -> QImage:
            return qimage(archived_draft(stockroom, sha256, _LONGEST).image)

        self._session = session
        session.jobs.run(lambda _job: read(), owner=self, done=self._show, failed=self._fail)

    def _show(self, image: QImage) -> None:
        self.picture.setPixmap(QPixmap.fromImage(image))
        self.adjustSize()

    def _fail(self, error: Exception) -> None:
        self.picture.setText("The photograph cannot be shown.")
        self._session.tell(error)
