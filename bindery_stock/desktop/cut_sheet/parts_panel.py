"""The parts of a sitting: which one is in hand, one more, one less, laid anew, turned."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import BinderyError
from bindery_stock.units import LengthStyle

_ROWS_SHOWN = 3


class PartsPanel(QWidget):
    """Emits ``chosen(int)``, ``add_wanted(width, height)`` in mm, ``out_wanted()`` for the part in
    hand, ``anew_wanted()``, ``turn_wanted()`` for the next way it may lie and
    ``small_turn_wanted(degrees)``.
    """

    chosen = Signal(int)
    add_wanted = Signal(float, float)
    out_wanted = Signal()
    anew_wanted = Signal()
    turn_wanted = Signal()
    small_turn_wanted = Signal(float)

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin without parts."""
        super().__init__()
        self._lengths = lengths
        self.list = QListWidget()
        self.list.setAccessibleName("Parts in this sitting")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        height = self.list.fontMetrics().height() + GRID
        self.list.setFixedHeight(height * _ROWS_SHOWN + GRID)
        self.list.currentRowChanged.connect(self._row_chosen)
        self.across = LengthEntry("Across the warp, of another part", lengths)
        self.along = LengthEntry("Along the warp, of another part", lengths)
        self.add_button = QPushButton("&Add another")
        self.add_button.clicked.connect(self._add)
        self.out_button = QPushButton("Take &out")
        self.out_button.clicked.connect(self.out_wanted)
        self.anew_button = QPushButton("Lay a&new")
        self.anew_button.setToolTip("Lay all parts again, to take as little room as can be found.")
        self.anew_button.clicked.connect(self.anew_wanted)
        self.turn_button = QPushButton("&Turn")
        self.turn_button.clicked.connect(self.turn_wanted)
        self.left_button = _small_turn("↺ 1°", "Turn counter-clockwise by a degree")
        self.left_button.clicked.connect(lambda: self.small_turn_wanted.emit(1.0))
        self.right_button = _small_turn("↻ 1°", "Turn clockwise by a degree")
        self.right_button.clicked.connect(lambda: self.small_turn_wanted.emit(-1.0))
        self._lay_out()

    def _lay_out(self) -> None:
        size = QHBoxLayout()
        size.setSpacing(GRID)
        size.addWidget(self.across)
        size.addWidget(QLabel("×"))
        size.addWidget(self.along)
        size.addWidget(self.add_button)
        deeds = QHBoxLayout()
        deeds.setSpacing(GRID)
        for button in (self.turn_button, self.left_button, self.right_button):
            deeds.addWidget(button)
        deeds.addStretch(1)
        deeds.addWidget(self.anew_button)
        deeds.addWidget(self.out_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.list)
        column.addLayout(deeds)
        column.addLayout(size)

    def show_plan(self, plan: CutPlan, active: int, *, turn: float | None) -> None:
        """Show the parts; ``turn`` is how far the one in hand may be turned next, in degrees."""
        self.list.blockSignals(True)
        self.list.clear()
        for number, laid in enumerate(plan.laid, start=1):
            size = self._lengths.pair(laid.part.width, laid.part.height)
            name = laid.part.name or "a part"
            bad = "" if plan.lies[number - 1].fits else "  – does not fit"
            self.list.addItem(f"{number}:  {name}, {size}{bad}")
        self.list.setCurrentRow(active)
        self.list.blockSignals(False)
        part = plan.laid[active].part
        self.out_button.setEnabled(len(plan.laid) > 1)
        self.anew_button.setEnabled(not (part.free or part.triangular))
        self.turn_button.setEnabled(turn is not None)
        self.turn_button.setText("&Turn" if turn is None else f"&Turn {turn:.0f}°")
        self.left_button.setVisible(bool(part.free))
        self.right_button.setVisible(bool(part.free))
        if self.across.text() == "":
            self.across.show_length(part.width)
            self.along.show_length(part.height)

    def _row_chosen(self, row: int) -> None:
        if row >= 0:
            self.chosen.emit(row)

    def _add(self) -> None:
        wrong: BinderyError | None = self.across.check() or self.along.check()
        if wrong is not None:
            return
        width, height = self.across.value(), self.along.value()
        if width and height:
            self.add_wanted.emit(width, height)


def _small_turn(text: str, name: str) -> QPushButton:
    button = QPushButton(text)
    button.setAccessibleName(name)
    button.setToolTip(plain_tip(name))
    return button
