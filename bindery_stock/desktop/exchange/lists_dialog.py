"""The lists that leave the program: on paper, as CSV, as a workbook."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.exchange.lists import Listing, listing
from bindery_stock.clock import system_clock
from bindery_stock.desktop.exchange.rectangles_first import measure_first
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.flow import LIST_POINTS, Flowing
from bindery_stock.desktop.printing.paper_box import PAPER_KEY, may_be_narrow, paper_box
from bindery_stock.desktop.printing.paper_panel import PaperPanel, ask_save
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records import html
from bindery_stock.records.counted import counted
from bindery_stock.records.csv_text import CsvStyle, Signs, csv_bytes
from bindery_stock.records.files import write_whole
from bindery_stock.records.table import Table
from bindery_stock.records.xlsx import xlsx_bytes

_NAMES = {
    Listing.STOCK: "Stock on the shelf",
    Listing.WANTED: "Wanted",
    Listing.EXPIRING: "Adhesives by what ends first",
    Listing.REMAINING: "Cloth and other stock remaining",
    Listing.COST: "Cost",
    Listing.VOLUMES: "Volumes and their bindings",
}
_SIGNS, _MARK = "lists/signs", "lists/mark"


class ListsDialog(QDialog):
    """Choose a list, see it, and take it out of the program."""

    def __init__(self, session: Session, parent: QWidget | None) -> None:
        """Begin with the stock list."""
        super().__init__(parent)
        self.setWindowTitle("Lists")
        self._session = session
        self.which = QComboBox()
        for one, name in _NAMES.items():
            self.which.addItem(name, one)
        self.paper_box = paper_box(session)
        self.signs = QComboBox()
        for signs in Signs:
            self.signs.addItem(signs.value.capitalize(), signs)
        self.signs.setCurrentIndex(max(0, self.signs.findData(_signs(session))))
        self.mark = QCheckBox("Mark the file as UTF-8 for spreadsheets")
        self.mark.setToolTip("Begins the file with a byte order mark. Leave it off for scripts.")
        self.mark.setChecked(session.settings.text(_MARK, "yes") == "yes")
        self.csv_button = QPushButton("Save as &CSV…")
        self.xlsx_button = QPushButton("Save as &XLSX…")
        self.paper = PaperPanel(session, file_name="list.pdf")
        for box in (self.which, self.signs):
            may_be_narrow(box)
        self._lay_out()
        self.which.currentIndexChanged.connect(lambda _row: self.refresh())
        self.paper_box.currentIndexChanged.connect(lambda _row: self.refresh())
        self.csv_button.clicked.connect(lambda: self._ask("csv", "CSV (*.csv)"))
        self.xlsx_button.clicked.connect(lambda: self._ask("xlsx", "Workbook (*.xlsx)"))
        self.resize(GRID * 250, GRID * 170)
        self.refresh()
        measure_first(session, self, session.pieces, self.refresh)

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setVerticalSpacing(GRID * 2)
        form.addRow("&List", self.which)
        form.addRow("&Paper", self.paper_box)
        form.addRow("CSV &signs", self.signs)
        form.addRow("", self.mark)
        note = QLabel(
            "Texts that a spreadsheet would run as a formula are made harmless: in a CSV by an "
            "apostrophe before them, in a workbook by being text."
        )
        note.setWordWrap(True)
        note.setProperty("role", "muted")
        close = QPushButton("Close")
        close.clicked.connect(self.accept)
        for button in (self.csv_button, self.xlsx_button, close):
            button.setAutoDefault(False)
        side = QVBoxLayout()
        side.setSpacing(GRID * 3)
        side.addLayout(form)
        side.addWidget(self.csv_button)
        side.addWidget(self.xlsx_button)
        side.addWidget(note)
        side.addStretch(1)
        side.addWidget(close, alignment=Qt.AlignmentFlag.AlignLeft)
        panel = QWidget()
        panel.setLayout(side)
        panel.setFixedWidth(GRID * 90)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        row.addWidget(panel)
        row.addWidget(self.paper, 1)

    def table(self) -> Table:
        """The list chosen, as it stands now."""
        return listing(
            Listing(self.which.currentData()), self._session.stockroom, self._session.usable
        )

    def refresh(self) -> None:
        """Set the list anew."""
        try:
            table = self.table()
        except BinderyError as error:
            self.paper.show_sheaf(None, str(error))
            return
        self._session.settings.set_text(PAPER_KEY, self.paper_box.currentText())
        point = self._session.settings.lengths.point
        body = html.table_body(table, point=point)
        paper = self.paper_box.currentData()
        self.paper.show_sheaf(Flowing(body, paper, table.title, landscape=True, points=LIST_POINTS))

    def _ask(self, ending: str, kinds: str) -> None:
        name = f"{self.which.currentData()}.{ending}"
        folder = Path(self._session.settings.text("papers/folder") or str(Path.home()))
        ask_save(self, f"Save as {ending.upper()}", folder / name, kinds, self.save)

    def save(self, path: Path) -> None:
        """Write the list as CSV, or as a workbook where the name ends so."""
        settings = self._session.settings
        style = CsvStyle(Signs(self.signs.currentData()), self.mark.isChecked())
        settings.set_text(_SIGNS, style.signs.name)
        settings.set_text(_MARK, "yes" if style.mark else "no")
        try:
            table = self.table()
            if path.suffix.lower() == ".xlsx":
                write_whole(path, xlsx_bytes(table, system_clock()))
            else:
                write_whole(path, csv_bytes(table, style))
        except BinderyError as error:
            self.paper.say(str(error))
            return
        settings.set_text("papers/folder", str(path.parent))
        self.paper.say(f"Saved {counted(len(table.rows), 'line')} as {path}.")


def _signs(session: Session) -> Signs:
    """The signs chosen last; at first those of the locale."""
    point = session.settings.lengths.point
    first = Signs.SEMICOLON if point == "," else Signs.COMMA
    name = session.settings.text(_SIGNS, first.name)
    return Signs[name] if name in Signs.__members__ else first
