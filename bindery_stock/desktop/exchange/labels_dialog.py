"""Labels: which, on which sheet, from which label on; seen before they are printed."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.bench.exchange.label_words import lot_label, piece_label
from bindery_stock.desktop.entry_dialog import EntryDialog
from bindery_stock.desktop.exchange.rectangles_first import measure_first
from bindery_stock.desktop.exchange.sheet_form import SheetForm
from bindery_stock.desktop.exchange.sheet_shelf import SheetShelf
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.paper_box import may_be_narrow
from bindery_stock.desktop.printing.paper_panel import PaperPanel
from bindery_stock.desktop.printing.sheaf import LaidOut
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.unkept import all_entered
from bindery_stock.errors import BinderyError
from bindery_stock.records.label_face import LabelFacts
from bindery_stock.records.label_sheets import LabelSheet
from bindery_stock.records.labels import label_pages, trial_page

_CHOSEN, _PIECES, _LOTS = range(3)
_SHIFT = "labels/shift"


class LabelsDialog(EntryDialog):
    """Labels for what was chosen, or for everything."""

    def __init__(self, session: Session, codes: Sequence[str], parent: QWidget | None) -> None:
        """Begin with the codes chosen; without any, with every piece on the shelf."""
        super().__init__(parent)
        self.setWindowTitle("Labels")
        self._session = session
        self._codes = tuple(codes)
        self.shelf = SheetShelf(session.settings)
        self.which = QComboBox()
        if codes:
            what = codes[0] if len(codes) == 1 else f"{len(codes)} chosen"
            self.which.addItem(f"What is chosen: {what}", _CHOSEN)
        self.which.addItem("Every piece on the shelf", _PIECES)
        self.which.addItem("Every lot of adhesive", _LOTS)
        self.sheet_box = QComboBox()
        self.start = QSpinBox()
        self.start.lineEdit().setTextMargins(GRID, 0, 0, 0)
        self.shift = tuple(self._shift_box(name) for name in ("right", "down"))
        self.form = SheetForm(session.settings.lengths)
        self.own = QPushButton("A sheet of your own…")
        self.own.setCheckable(True)
        self.test = QPushButton("&Test page")
        self.test.setCheckable(True)
        self.paper = PaperPanel(session, file_name="labels.pdf")
        for box in (self.which, self.sheet_box):
            may_be_narrow(box)
        self._fill_sheets(self.shelf.last)
        self._lay_out()
        self._listen()
        self.resize(GRID * 250, GRID * 180)
        self._sheet_chosen()
        measure_first(session, self, session.pieces, self.refresh)

    def _shift_box(self, way: str) -> QDoubleSpinBox:
        box = QDoubleSpinBox()
        box.setRange(-20.0, 20.0)
        box.lineEdit().setTextMargins(GRID, 0, 0, 0)  # as far in as other entries
        box.setSingleStep(0.5)
        box.setDecimals(1)
        box.setSuffix(" mm")
        box.setValue(float(self._session.settings.text(f"{_SHIFT}-{way}", "0")))
        return box

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setVerticalSpacing(GRID * 2)
        form.addRow("&Labels for", self.which)
        form.addRow("&Sheet", self.sheet_box)
        form.addRow("&First label", self.start)
        form.addRow("Printer off, &right", self.shift[0])
        form.addRow("Printer off, &down", self.shift[1])
        hint = QLabel(
            "Try the test page on plain paper and hold it against the light with a sheet of "
            "labels. Write above by how much the print must move."
        )
        hint.setWordWrap(True)
        hint.setProperty("role", "muted")
        side = QVBoxLayout()
        side.setSpacing(GRID * 3)
        side.addLayout(form)
        side.addWidget(self.test)
        side.addWidget(hint)
        side.addWidget(self.own)
        side.addWidget(self.form)
        side.addStretch(1)
        panel = QWidget()
        panel.setLayout(side)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(panel)
        scroll.setFixedWidth(GRID * 96)
        close = QPushButton("Close")
        for button in (close, self.test, self.own, self.form.keep):
            button.setAutoDefault(False)  # Enter ends an entry here, and nothing else
        close.clicked.connect(self.accept)
        left = QVBoxLayout()
        left.addWidget(scroll, 1)
        left.addWidget(close, alignment=Qt.AlignmentFlag.AlignLeft)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        row.setSpacing(GRID * 3)
        row.addLayout(left)
        row.addWidget(self.paper, 1)
        self.form.hide()

    def _listen(self) -> None:
        self.which.currentIndexChanged.connect(lambda _row: self.refresh())
        self.sheet_box.currentIndexChanged.connect(lambda _row: self._sheet_chosen())
        self.start.valueChanged.connect(lambda _value: self.refresh())
        for box in self.shift:
            box.valueChanged.connect(lambda _value: self.refresh())
        self.test.toggled.connect(lambda _on: self.refresh())
        self.own.toggled.connect(self._own_toggled)
        self.form.changed.connect(self.refresh)
        self.form.kept.connect(self._keep)

    def _fill_sheets(self, chosen: str) -> None:
        self.sheet_box.blockSignals(True)
        self.sheet_box.clear()
        for sheet in self.shelf.sheets:
            self.sheet_box.addItem(sheet.name, sheet)
        self.sheet_box.setCurrentIndex(max(0, self.sheet_box.findText(chosen)))
        self.sheet_box.blockSignals(False)

    def _sheet_chosen(self) -> None:
        sheet = self.sheet_box.currentData()
        if isinstance(sheet, LabelSheet):
            self.shelf.last = sheet.name
            self.form.show_sheet(sheet)
        self.refresh()

    def at_stake(self) -> object:
        """A sheet of one's own, until it is kept: all else is chosen again at once."""
        return all_entered(self.form) if self.own.isChecked() else ()

    def say_wrong(self, words: str, field: str = "") -> None:  # noqa: ARG002 - no entry is at fault
        """Say it under the paper."""
        self.paper.say(words)

    def _own_toggled(self, on: bool) -> None:
        self.form.setVisible(on)
        self.sheet_box.setEnabled(not on)
        self.begin()
        self.refresh()

    def _keep(self) -> None:
        try:
            sheet = self.form.sheet()
        except BinderyError as error:
            self.paper.say(str(error))
            return
        self.shelf.keep(sheet)
        self._fill_sheets(sheet.name)
        self.own.setChecked(False)
        self._sheet_chosen()

    def sheet(self) -> LabelSheet:
        """The sheet chosen, moved by the printer's correction. Raises ``EntryError``."""
        across, down = (box.value() for box in self.shift)
        for box, way in zip(self.shift, ("right", "down"), strict=True):
            self._session.settings.set_text(f"{_SHIFT}-{way}", f"{box.value():g}")
        chosen = self.form.sheet() if self.own.isChecked() else self.sheet_box.currentData()
        moved: LabelSheet = replace(chosen, shift_across=across, shift_down=down)
        return moved

    def labels(self) -> list[LabelFacts]:
        """What the labels say. Raises ``NotFound`` for a code that is gone."""
        stockroom, rules = self._session.stockroom, self._session.rules
        lengths = self._session.settings.lengths
        which = self.which.currentData()
        if which == _PIECES:
            usable = self._session.usable
            return [piece_label(piece, lengths, rules, usable) for piece in self._session.pieces]
        today, adhesives = stockroom.today, self._session.snapshot(ADHESIVES).view
        if which == _LOTS:
            return [lot_label(lot, today, rules) for lot in adhesives.lots]
        return [
            lot_label(adhesives.lot(code) or stockroom.lots.get(code), today, rules)
            if code.startswith("A-")
            else piece_label(self._session.piece(code), lengths, rules, self._session.usable)
            for code in self._codes
        ]

    def refresh(self) -> None:
        """Lay the labels out anew."""
        try:
            sheet = self.sheet()
            if self.start.maximum() != sheet.on_sheet:
                self.start.blockSignals(True)
                self.start.setRange(1, sheet.on_sheet)
                self.start.blockSignals(False)
            pages = (
                (trial_page(sheet),)
                if self.test.isChecked()
                else label_pages(self.labels(), sheet, start=self.start.value())
            )
        except BinderyError as error:
            self.paper.show_sheaf(None, str(error))
            return
        self.paper.show_sheaf(LaidOut(pages, "Labels"))
