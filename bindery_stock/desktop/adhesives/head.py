"""The head of the Adhesives place: its pages, and entering a lot."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QMenu, QToolButton, QWidget

from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.look import GRID, TypeSize, sized

PAGES = ("On the shelf", "Wanted", "Old finds")
_NEW = {
    LotStart.BOUGHT: "Bought…",
    LotStart.MADE: "Cooked or made…",
    LotStart.MIXED: "Mixed or diluted from lots…",
}


class Head(QWidget):
    """Emits ``page_chosen(int)``, and ``lot_wanted(LotStart)`` for a new lot."""

    page_chosen = Signal(int)
    lot_wanted = Signal(object)

    def __init__(self) -> None:
        """Begin with the first page."""
        super().__init__()
        heading = QLabel("Adhesives")
        sized(heading, TypeSize.TITLE)
        self._pages = QButtonGroup(self)
        self._pages.idClicked.connect(self.page_chosen)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
        row.setSpacing(GRID * 2)
        row.addWidget(heading)
        row.addSpacing(GRID * 4)
        for number, name in enumerate(PAGES):
            button = QToolButton()
            button.setText(name)
            button.setCheckable(True)
            button.setChecked(number == 0)
            self._pages.addButton(button, number)
            row.addWidget(button)
        row.addStretch(1)
        self.new_button = QToolButton()
        self.new_button.setText("Enter a lot")
        self.new_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self.new_button)
        for start, text in _NEW.items():
            menu.addAction(text).triggered.connect(partial(self._wanted, start))
        self.new_button.setMenu(menu)
        row.addWidget(self.new_button)

    def _wanted(self, start: LotStart, _checked: bool = False) -> None:
        self.lot_wanted.emit(start)

    @property
    def page(self) -> int:
        """The number of the page in front."""
        return self._pages.checkedId()

    def choose(self, page: int) -> None:
        """Bring a page forward without telling."""
        self._pages.button(page).setChecked(True)
