"""The help pages: plain Markdown from resources/help, one page a place."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QTextBrowser, QWidget

from bindery_stock import places
from bindery_stock.desktop.look import GRID


class HelpWindow(QWidget):
    """A list of pages and the page."""

    def __init__(self, parent: QWidget | None) -> None:
        """Read the pages; show the first."""
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Help – Bindery Stock")
        self.resize(QSize(860, 620))
        self.pages = QListWidget()
        self.pages.setProperty("role", "places")
        self.pages.setAccessibleName("Help pages")
        self.pages.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.text = QTextBrowser()
        self.text.setAccessibleName("Help page")
        self.text.setOpenLinks(False)
        self._paths = sorted((places.resources() / "help").glob("*.md"))
        for path in self._paths:
            heading = path.read_text(encoding="utf-8").splitlines()[0]
            item = QListWidgetItem(heading.lstrip("# "))
            item.setSizeHint(QSize(0, GRID * 10))  # with the room its style asks for
            self.pages.addItem(item)
        widest = max(
            self.fontMetrics().horizontalAdvance(self.pages.item(row).text())
            for row in range(self.pages.count())
        )
        self.pages.setFixedWidth(widest + GRID * 12)
        self.pages.currentRowChanged.connect(self._show)
        row = QHBoxLayout(self)
        row.addWidget(self.pages)
        row.addWidget(self.text, 1)
        QShortcut(QKeySequence.StandardKey.Cancel, self, self.close)
        self.pages.setCurrentRow(0)

    def _show(self, row: int) -> None:
        if 0 <= row < len(self._paths):
            self.text.setMarkdown(self._paths[row].read_text(encoding="utf-8"))
