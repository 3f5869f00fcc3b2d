"""The cut sheet: where the part lies, what is left, and the word to cut."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.cautions import caution_line
from bindery_stock.bench.cutting import plan_cut
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.match.placement_view import PlacementView
from bindery_stock.desktop.place import next_button
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.shape import Placement
from bindery_stock.stock import Cutting, Piece

_BLADE = (
    "Mind the blade: cut away from the hand, against a safety rule, on the mat. Old cloth sheds "
    "dust; follow the rules of your own bench."
)
_SLIVER_MM = 15.0
"""Remains that hold no square of this size are proposed for throwing away."""


class CutSheet(QDialog):
    """Confirms a placement. Emits ``cut_wanted(Cutting)`` when the word is given."""

    cut_wanted = Signal(object)

    def __init__(
        self,
        session: Session,
        previews: Previews,
        piece: Piece,
        placement: Placement,
        *,
        margin: float,
        purpose: str,
        parent: QWidget,
    ) -> None:
        """Show where the part lies."""
        super().__init__(parent)
        self._session = session
        self.piece = piece
        self.setWindowTitle(f"Cut from {piece.code}")
        lengths = session.settings.lengths
        self.view = PlacementView(piece, placement, margin, lengths, previews)
        self.view.moved.connect(lambda _placement, _lie: self._refresh())
        self.purpose = QLineEdit(purpose)
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.purpose.textChanged.connect(lambda _text: self._refresh())
        self.knife = LengthEntry("Lost to the knife", lengths, allow_zero=True)
        self.knife.show_length(0)
        self.knife.understood.connect(self._refresh)
        self.state = QLabel()
        self.state.setWordWrap(True)
        sized(self.state, TypeSize.HEAD)
        self.remains = QVBoxLayout()
        self.boxes: list[QCheckBox] = []
        self.cut_button = next_button("Cut")
        self.cut_button.setDefault(True)
        self.cut_button.clicked.connect(self._cut)
        self._lay_out()
        self.resize(GRID * 250, GRID * 160)
        self._refresh()
        self.view.setFocus()

    def _lay_out(self) -> None:
        cancel = QPushButton("Leave it whole")
        cancel.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addWidget(cancel)
        buttons.addStretch(1)
        buttons.addWidget(self.cut_button)
        form = QFormLayout()
        form.addRow("&For", self.purpose)
        form.addRow(self.knife.field, self.knife)
        heading = QLabel("Back on the shelf")
        sized(heading, TypeSize.HEAD)
        blade = QLabel(_BLADE)
        blade.setWordWrap(True)
        blade.setProperty("role", "muted")
        caution = QLabel(caution_line(self.piece, self._session.rules))
        caution.setTextFormat(Qt.TextFormat.PlainText)
        caution.setWordWrap(True)
        sized(caution, TypeSize.BODY, bold=True)
        hint = QLabel("Drag the part, or move it with the arrow keys (Shift: 10 mm, Home: back).")
        hint.setWordWrap(True)
        hint.setProperty("role", "muted")
        side = QVBoxLayout()
        side.setSpacing(GRID * 3)
        side.addWidget(self.state)
        side.addWidget(hint)
        side.addLayout(form)
        side.addWidget(heading)
        side.addLayout(self.remains)
        side.addStretch(1)
        if caution.text():
            side.addWidget(caution)
        side.addWidget(blade)
        side.addLayout(buttons)
        panel = QWidget()
        panel.setLayout(side)
        panel.setFixedWidth(GRID * 78)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        row.addWidget(self.view, 1)
        row.addWidget(panel)

    def cutting(self) -> Cutting:
        """The cut as the sheet stands. Raises one of our errors."""
        thrown = [n for n, box in enumerate(self.boxes) if not box.isChecked()]
        return plan_cut(
            self.piece,
            self.view.placement,
            self.purpose.text().strip() or "a part",
            knife=self.knife.value() or 0.0,
            throw_away=thrown,
        )

    def _refresh(self) -> None:
        self.state.setText(self.view.said())
        self.cut_button.setEnabled(self.view.lie.fits)
        for box in self.boxes:
            self.remains.removeWidget(box)
            box.deleteLater()
        self.boxes = []
        if not self.view.lie.fits:
            return
        try:
            whole = plan_cut(self.piece, self.view.placement, "", knife=self.knife.value() or 0.0)
        except BinderyError as error:
            self.state.setText(str(error))
            self.cut_button.setEnabled(False)
            return
        lengths = self._session.settings.lengths
        for remain in whole.offcuts:
            box = QCheckBox(f"{lengths.pair(remain.width, remain.height)} over all")
            worth = not remain.polygon.buffer(-_SLIVER_MM / 2).is_empty
            box.setChecked(worth)
            box.setToolTip(
                "Untick to throw it away."
                if worth
                else f"A sliver under {lengths.show(_SLIVER_MM)} wide; tick to keep it."
            )
            self.remains.addWidget(box)
            self.boxes.append(box)

    def _cut(self) -> None:
        try:
            cutting = self.cutting()
        except BinderyError as error:
            self.state.setText(str(error))
            return
        self.cut_wanted.emit(cutting)
        self.accept()
