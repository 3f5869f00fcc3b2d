"""The covering of a volume as it is surveyed: its colour, its date, what a laboratory found."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.shelf.cautions import families_by_care, headline
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.evidence.lab_dialog import LabDialog
from bindery_stock.desktop.forms.form_dialog import Chooser, open_over
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.stock import ColourSought
from bindery_stock.trade import Hazard, LabResult, Level
from bindery_stock.trade.covering import CoveringCloth


class CoveringForm(QWidget):
    """Filled in with the survey. Emits ``changed()``."""

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with nothing said."""
        super().__init__()
        self._session = session
        self._results: list[LabResult] = []
        self.dialog: LabDialog | None = None
        self.family = Chooser([("not said", "")])
        self.family.setAccessibleName("Colour of the covering")
        self.dated = QLineEdit()
        self.dated.setPlaceholderText("as written: c. 1868")
        self.dated.setAccessibleName("When it was bound")
        self.results = QListWidget()
        self.results.setAccessibleName("Laboratory results")
        self.results.setFixedHeight(GRID * 14)
        self.add_button = QPushButton("Laboratory result…")
        self.remove_button = quiet_button("Take out")
        self.caution = plain_label()
        self.caution.setAccessibleName("Cautions on the covering")
        buttons = QHBoxLayout()
        buttons.addWidget(self.add_button)
        buttons.addStretch(1)
        buttons.addWidget(self.remove_button)
        form = QFormLayout()
        form.setHorizontalSpacing(GRID * 3)
        form.setVerticalSpacing(GRID + 2)
        form.addRow("Co&lour, by eye", self.family)
        form.addRow("&Bound", self.dated)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addLayout(form)
        column.addWidget(self.results)
        column.addLayout(buttons)
        column.addWidget(self.caution)
        self.family.currentIndexChanged.connect(self._touched)
        self.dated.textChanged.connect(self._touched)
        self.add_button.clicked.connect(self._ask_result)
        self.remove_button.clicked.connect(self._take_out)

    def show_covering(self, family: str, dated: str, results: Sequence[LabResult] = ()) -> None:
        """Show what is known of a covering; nothing of the one before stays."""
        words = list(families_by_care(self._session.rules))
        if family and family not in words:
            words.append(family)
        self.family.offer([("not said", ""), *((word, word) for word in words)], family)
        self.dated.setText(dated)
        self._results = list(results)
        self._show_results()

    def colour_family(self) -> str:
        """The word chosen, or empty."""
        found: str = self.family.value() or ""
        return found

    def lab_results(self) -> tuple[LabResult, ...]:
        """What a laboratory found, in the order of entry."""
        return tuple(self._results)

    def cloth(self, targets: Sequence[ColourSought]) -> CoveringCloth:
        """The covering as it is filled in, with the colours sought; it needs no measurement."""
        return CoveringCloth(
            colour_family=self.colour_family(),
            source_date=self.dated.text().strip(),
            colours=tuple(target.colour for target in targets),
            lab_results=self.lab_results(),
        )

    def show_cautions(self, found: Sequence[Hazard]) -> None:
        """Show these, the gravest first; notes by their names."""
        lines = [
            f"{headline(hazard)}. {hazard.caution}"
            for hazard in found
            if hazard.level is not Level.INFO
        ]
        notes = "; ".join(hazard.name for hazard in found if hazard.level is Level.INFO)
        if notes:
            lines.append(f"Note: {notes}")
        if found:
            lines.append(found[0].closing)
        self.caution.setText("\n".join(lines))
        self.caution.setVisible(bool(lines))

    def _ask_result(self) -> None:
        self.dialog = LabDialog("the covering", self._session, self.window())
        self.dialog.recorded.connect(self._record)
        open_over(self.dialog)

    def _record(self, result: LabResult) -> None:
        self._results.append(result)
        self._show_results()
        self.changed.emit()

    def _take_out(self) -> None:
        row = self.results.currentRow()
        if 0 <= row < len(self._results):
            del self._results[row]
            self._show_results()
            self.changed.emit()

    def _show_results(self) -> None:
        self.results.clear()
        self.results.addItems([result.words for result in self._results])
        self.results.setVisible(bool(self._results))
        self.remove_button.setVisible(bool(self._results))

    def _touched(self) -> None:
        self.changed.emit()
