"""The proposal and the record of a volume: seen, printed, saved as PDF or as one HTML file."""

from enum import StrEnum
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
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.flow import Flowing
from bindery_stock.desktop.printing.paper_box import may_be_narrow, paper_box
from bindery_stock.desktop.printing.paper_panel import PaperPanel, ask_save
from bindery_stock.desktop.printing.paper_style import dots_per_mm
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records.files import write_whole
from bindery_stock.records.proposal import (
    proposal_body,
    proposal_gaps,
    proposal_page,
    proposal_title,
)
from bindery_stock.records.treatment_record import record_body, record_page
from bindery_stock.records.volume_facts import TreatmentRecord

PICTURE_MM = 57.0
"""Three of them go beside one another on A4 and on Letter."""
SIGNED_MM = 70.0
"""So much at least stands on the last page: a signature and something above it to sign."""


class VolumePaper(StrEnum):
    """What is printed of a volume."""

    RECORD = "Treatment record"
    PROPOSAL = "Proposal"


class RecordDialog(QDialog):
    """Choose a volume and take its proposal or its record out of the program."""

    def __init__(self, session: Session, code: str, parent: QWidget | None) -> None:
        """Begin with the volume of this code, or with the first where it is empty."""
        super().__init__(parent)
        self.setWindowTitle("Proposal and treatment record")
        self._session = session
        self.which = Chooser([(one.value, one) for one in VolumePaper], VolumePaper.RECORD)
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
        self.which.currentIndexChanged.connect(lambda _row: self.refresh())
        self.volume.currentIndexChanged.connect(lambda _row: self.refresh())
        self.paper_box.currentIndexChanged.connect(lambda _row: self.refresh())
        self.html_button.clicked.connect(self._ask_html)
        self.resize(GRID * 250, GRID * 180)
        self.refresh()

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setVerticalSpacing(GRID * 2)
        form.addRow("&Write", self.which)
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
        proposed = self.which.value() is VolumePaper.PROPOSAL
        missing = ", ".join(proposal_gaps(record) if proposed else record.missing)
        self.missing.setText(f"Not written yet: {missing}." if missing else "")
        written = proposal_body if proposed else record_body
        body = written(record, picture_mm=PICTURE_MM, dots_per_mm=dots_per_mm())
        title = proposal_title(record) if proposed else record.title
        paper = self.paper_box.currentData()
        self.paper.file_name = f"{self.which.value().lower().replace(' ', '-')}.pdf"
        self.paper.show_sheaf(Flowing(body, paper, title, last_page_mm=SIGNED_MM))

    def _ask_html(self) -> None:
        folder = Path(self._session.settings.text("papers/folder") or str(Path.home()))
        suggested = folder / Path(self.paper.file_name).with_suffix(".html")
        ask_save(self, "Save as HTML", suggested, "HTML (*.html)", self.save_html)

    def save_html(self, path: Path) -> None:
        """Write what is shown as one HTML file."""
        try:
            record = self.record()
            if record is None:
                return
            proposed = self.which.value() is VolumePaper.PROPOSAL
            page = proposal_page(record) if proposed else record_page(record)
            write_whole(path, page.encode())
        except BinderyError as error:
            self.paper.say(str(error))
            return
        self.paper.say(f"Saved as {path}.")
