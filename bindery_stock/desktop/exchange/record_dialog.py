"""The treatment record of a volume: seen, printed, saved as PDF or as one HTML file."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.bench.books.snapshot import BOOKS
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.flow import Flowing
from bindery_stock.desktop.printing.paper_box import may_be_narrow, paper_box
from bindery_stock.desktop.printing.paper_panel import PaperPanel, ask_save
from bindery_stock.desktop.printing.paper_style import dots_per_mm
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records.files import write_whole
from bindery_stock.records.treatment_record import TreatmentRecord, record_body, record_page

PICTURE_MM = 57.0
"""Three of them go beside one another on A4 and on Letter."""


class RecordDialog(QDialog):
    """Choose a volume and take its record out of the program."""

    def __init__(self, session: Session, code: str, parent: QWidget | None) -> None:
        """Begin with the volume of this code, or with the first where it is empty."""
        super().__init__(parent)
        self.setWindowTitle("Treatment record")
        self._session = session
        self.volume = QComboBox()
        for repair in session.snapshot(BOOKS).view.repairs:
            self.volume.addItem(f"{repair.name} ({repair.state.value})", repair.code)
        self.volume.setCurrentIndex(max(0, self.volume.findData(code)))
        may_be_narrow(self.volume)
        self.paper_box = paper_box(session)
        self.html_button = QPushButton("Save as &HTML…")
        self.html_button.setToolTip("One file with its photographs, for any browser.")
        self.missing = QLabel()
        self.missing.setWordWrap(True)
        self.missing.setTextFormat(Qt.TextFormat.PlainText)
        self.missing.setProperty("role", "muted")
        self.paper = PaperPanel(session, file_name="treatment-record.pdf")
        self._lay_out()
        self.volume.currentIndexChanged.connect(lambda _row: self.refresh())
        self.paper_box.currentIndexChanged.connect(lambda _row: self.refresh())
        self.html_button.clicked.connect(self._ask_html)
        self.resize(GRID * 250, GRID * 180)
        self.refresh()

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setVerticalSpacing(GRID * 2)
        form.addRow("&Volume", self.volume)
        form.addRow("&Paper", self.paper_box)
        close = QPushButton("Close")
        close.clicked.connect(self.accept)
        for button in (self.html_button, close):
            button.setAutoDefault(False)
        side = QVBoxLayout()
        side.setSpacing(GRID * 3)
        side.addLayout(form)
        side.addWidget(self.html_button)
        side.addWidget(self.missing)
        side.addStretch(1)
        side.addWidget(close, alignment=Qt.AlignmentFlag.AlignLeft)
        panel = QWidget()
        panel.setLayout(side)
        panel.setFixedWidth(GRID * 80)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        row.addWidget(panel)
        row.addWidget(self.paper, 1)

    def record(self) -> TreatmentRecord | None:
        """The record of the volume chosen, or None where there is no volume."""
        code = self.volume.currentData()
        if code is None:
            return None
        session = self._session
        return treatment_record(
            session.stockroom,
            code,
            session.settings.lengths,
            books=session.snapshot(BOOKS).view,
            adhesives=session.snapshot(ADHESIVES).view,
        )

    def refresh(self) -> None:
        """Set the record anew."""
        try:
            record = self.record()
        except BinderyError as error:
            self.paper.show_sheaf(None, str(error))
            return
        self.html_button.setEnabled(record is not None)
        if record is None:
            why = "No volume has been surveyed yet. Enter one under Books first."
            self.paper.show_sheaf(None, why)
            return
        missing = ", ".join(record.missing)
        self.missing.setText(f"Not written yet: {missing}." if missing else "")
        paper = self.paper_box.currentData()
        body = record_body(record, picture_mm=PICTURE_MM, dots_per_mm=dots_per_mm())
        self.paper.show_sheaf(Flowing(body, paper, record.title))

    def _ask_html(self) -> None:
        folder = Path(self._session.settings.text("papers/folder") or str(Path.home()))
        suggested = folder / "treatment-record.html"
        ask_save(self, "Save as HTML", suggested, "HTML (*.html)", self.save_html)

    def save_html(self, path: Path) -> None:
        """Write the record as one HTML file."""
        try:
            record = self.record()
            if record is None:
                return
            write_whole(path, record_page(record).encode())
        except BinderyError as error:
            self.paper.say(str(error))
            return
        self.paper.say(f"Saved as {path}.")
