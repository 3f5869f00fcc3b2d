"""Lending the correction of a target to the other photographs of its sitting."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QVBoxLayout

from bindery_stock.bench.colour_room.sitting import LIGHTS, KeptTarget
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button, quiet_button
from bindery_stock.desktop.tips import plain_tip

_WHAT_FOR = (
    "Lent at the photo table to photographs of the same camera and light, as long as a grey card "
    "or the target in each proves that nothing has changed. A photograph that proves otherwise is "
    "refused, with the reason."
)


class SittingBox(QFrame):
    """Emits ``use_wanted(str)`` with the light in words, ``end_wanted()`` to lend no longer."""

    use_wanted = Signal(str)
    end_wanted = Signal()

    def __init__(self) -> None:
        """Begin with nothing to lend."""
        super().__init__()
        heading = QLabel("This sitting")
        sized(heading, TypeSize.BODY, bold=True)
        head = QHBoxLayout()
        head.addWidget(heading, 1)
        self.state = QLabel()
        self.state.setTextFormat(Qt.TextFormat.PlainText)
        self.state.setWordWrap(True)
        self.what_for = QLabel(_WHAT_FOR)
        self.what_for.setTextFormat(Qt.TextFormat.PlainText)
        self.what_for.setProperty("role", "muted")
        self.what_for.setWordWrap(True)
        self.light = QComboBox()
        self.light.setEditable(True)
        self.light.addItems(LIGHTS)
        self.light.setAccessibleName("Light")
        label = QLabel("&Light")
        label.setBuddy(self.light)
        self.use_button = next_button("Use for this sitting")
        self.use_button.setEnabled(False)
        self.use_button.clicked.connect(lambda: self.use_wanted.emit(self.light.currentText()))
        self.end_button = quiet_button("End the sitting")
        self.end_button.clicked.connect(self.end_wanted)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(label)
        row.addWidget(self.light, 1)
        row.addWidget(self.use_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 3)
        column.setSpacing(GRID)
        head.addWidget(self.end_button)
        column.addLayout(head)
        column.addWidget(self.state)
        column.addLayout(row)
        column.addWidget(self.what_for)
        self.show_kept(None)

    def show_kept(self, kept: KeptTarget | None) -> None:
        """Say which target is lent, or that none is."""
        self.state.setText(
            f"In use: {kept.words}." if kept else "No target is kept for this sitting."
        )
        self.end_button.setVisible(kept is not None)

    def offer(self, *, can: bool, why_not: str = "") -> None:
        """Whether the target on the table may be kept."""
        self.use_button.setEnabled(can)
        self.use_button.setToolTip(plain_tip(why_not or _WHAT_FOR))
        self.what_for.setVisible(not can)
