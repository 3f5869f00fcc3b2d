"""The strip over the hoard: how many pieces are shown, how they are arranged, how they are seen."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QToolButton, QWidget

from bindery_stock.bench.shelf.search import Order
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip


class ShelfStrip(QWidget):
    """Emits ``order_chosen(Order)``, ``table_wanted(bool)``, ``stop_wanted()``, ``zoom_in()``,
    ``zoom_out()`` and ``whole()`` for its controls.
    """

    order_chosen = Signal(object)
    table_wanted = Signal(bool)
    stop_wanted = Signal()
    zoom_in = Signal()
    zoom_out = Signal()
    whole = Signal()

    def __init__(self) -> None:
        """Begin with nothing counted, the hoard seen by colour."""
        super().__init__()
        self.count = QLabel()
        self.count.setTextFormat(Qt.TextFormat.PlainText)
        self.stop = quiet_button("Stop")
        self.stop.setToolTip("Stop trying which pieces are large enough.")
        self.stop.clicked.connect(self.stop_wanted)
        self.stop.hide()
        self.order = QComboBox()
        self.order.addItems([str(order) for order in Order])
        self.order.activated.connect(lambda at: self.order_chosen.emit(list(Order)[at]))
        self.order_label = QLabel("Arranged &by")
        self.order_label.setBuddy(self.order)
        self.table = _tool("Table", "The same pieces as a table, and back (Ctrl+T).")
        self.table.setCheckable(True)
        self.table.clicked.connect(self.table_wanted)
        self.near = _tool("+", "Nearer (+)", name="Zoom in")
        self.near.clicked.connect(self.zoom_in)
        self.far = _tool("−", "Further off (−)", name="Zoom out")
        self.far.clicked.connect(self.zoom_out)
        self.all = _tool("Whole", "The whole hoard in view (0).")
        self.all.clicked.connect(self.whole)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID * 2)
        row.addWidget(self.count)
        row.addWidget(self.stop)
        row.addStretch(1)
        for widget in (self.order_label, self.order, *self._zooms, self.table):
            row.addWidget(widget)

    @property
    def _zooms(self) -> Sequence[QToolButton]:
        return (self.far, self.near, self.all)

    def say(self, words: str, *, working: bool = False) -> None:
        """How many pieces are shown; while sizes are tried, that can be stopped."""
        self.count.setText(words)
        self.stop.setVisible(working)

    def show_order(self, order: Order) -> None:
        """The order in use."""
        self.order.setCurrentIndex(list(Order).index(order))

    def show_table(self, on: bool) -> None:
        """Whether the table is in front; the hoard's own controls are idle then."""
        self.table.setChecked(on)
        for widget in (self.order_label, self.order, *self._zooms):
            widget.setEnabled(not on)


def _tool(text: str, tip: str, *, name: str = "") -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setToolTip(plain_tip(tip))
    button.setAccessibleName(name or text)
    return button
