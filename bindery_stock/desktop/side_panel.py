"""The side of the window: which stockroom it is, the screens, and where a code is typed."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop import icons
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import Screen
from bindery_stock.desktop.tips import plain_tip

_WIDTH = 176


class SidePanel(QWidget):
    """The list of screens under the name of the stockroom. Emits ``code_typed(str)``."""

    code_typed = Signal(str)

    def __init__(self, screens: Sequence[Screen]) -> None:
        """List these screens, in their order."""
        super().__init__()
        self._screens = screens
        self.places = QListWidget()
        self.places.setProperty("role", "places")
        self.places.setAccessibleName("Places")
        self.places.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.places.setIconSize(QSize(20, 20))
        for number, screen in enumerate(screens, start=1):
            item = QListWidgetItem(icons.icon(screen.icon), screen.title)
            item.setToolTip(plain_tip(f"Ctrl+{number}"))
            item.setSizeHint(QSize(0, GRID * 10))
            self.places.addItem(item)
        self.name = QLabel()
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.name.setWordWrap(True)
        sized(self.name, TypeSize.HEAD)
        self.code = QLineEdit()
        self.code.setPlaceholderText("Type or scan a code")
        self.code.setAccessibleName("Go to a piece by its code")
        self.code.returnPressed.connect(self._take_code)
        self.setFixedWidth(_WIDTH)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 4, GRID * 3, GRID * 3)
        column.setSpacing(GRID * 3)
        column.addWidget(self.name)
        column.addWidget(self.places, 1)
        column.addWidget(self.code)

    def _take_code(self) -> None:
        code = self.code.text().strip().upper()
        self.code.clear()
        if code:
            self.code_typed.emit(code)

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icons anew in the other palette."""
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "code"):
            for row, screen in enumerate(self._screens):
                self.places.item(row).setIcon(icons.icon(screen.icon))
        super().changeEvent(event)
