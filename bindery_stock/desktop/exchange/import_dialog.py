"""A table comes in: what its columns are, how it begins, what taking it in would do."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.importing import (
    NEEDED,
    Field,
    LengthIn,
    Point,
    Reading,
    Trial,
    likely_columns,
    likely_unit,
    try_rows,
)
from bindery_stock.desktop.exchange.lists_dialog import may_be_narrow
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.place import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records.counted import counted
from bindery_stock.records.incoming import (
    Delimiter,
    Encoding,
    Sheet,
    certain_encoding,
    csv_sheet,
    decoded,
    likely_delimiter,
    offered,
    read_bytes,
    xlsx_sheet,
)
from bindery_stock.trade.vocabulary import Kind

_PREVIEWED = 8
_SIGNS = {Delimiter.COMMA: "Comma", Delimiter.SEMICOLON: "Semicolon", Delimiter.TAB: "Tab"}
_NONE = -1


class ImportDialog(QDialog):
    """Reads one file. Emits ``taken_in(Trial)`` when its pieces are to be shelved."""

    taken_in = Signal(object)

    def __init__(self, session: Session, path: Path, parent: QWidget | None) -> None:
        """Read the file; what is certain about it is filled in, the rest is asked."""
        super().__init__(parent)
        self.setWindowTitle(f"Take in {path.name}")
        self._session = session
        self._is_book = path.suffix.lower() in (".xlsx", ".xlsm")
        self._data = read_bytes(path)
        self._sheet: Sheet | None = None
        self._trial: Trial | None = None
        self._job: Job | None = None
        self.encoding = QComboBox()
        self.delimiter = QComboBox()
        self.point = QComboBox()
        self.length = QComboBox()
        self.kind = QComboBox()
        self.columns = {field: QComboBox() for field in Field}
        self.preview = QTableWidget()
        self.said = QLabel()
        self.faults = QListWidget()
        self.bar = QProgressBar()
        self.stop = QPushButton("Stop")
        self.take = next_button("Take in")
        self._lay_out()
        self._fill()
        self._listen()
        self.resize(GRID * 250, GRID * 170)
        self.read()

    def _lay_out(self) -> None:
        upper = QHBoxLayout()
        upper.setSpacing(GRID * 3)
        upper.addWidget(self._choices())
        upper.addLayout(self._findings(), 1)
        cancel = QPushButton("Leave it")
        cancel.clicked.connect(self.reject)
        for button in (cancel, self.stop, self.take):
            button.setAutoDefault(False)
        lower = QHBoxLayout()
        lower.addWidget(cancel)
        lower.addStretch(1)
        lower.addWidget(self.take)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        column.addLayout(upper, 1)
        column.addLayout(lower)

    def _choices(self) -> QWidget:
        form = QFormLayout()
        form.setVerticalSpacing(GRID)
        if not self._is_book:
            form.addRow("&Encoding", self.encoding)
            form.addRow("Between &cells", self.delimiter)
        form.addRow("&Decimal sign", self.point)
        form.addRow("&Lengths in", self.length)
        form.addRow("Kind of every row", self.kind)
        heading = QLabel("Which column is what")
        sized(heading, TypeSize.HEAD)
        form.addRow(heading)
        for field, box in self.columns.items():
            box.setAccessibleName(field.words)
            may_be_narrow(box)
            form.addRow(f"{field.words}{' *' if field in NEEDED else ''}", box)
        inner = QWidget()
        inner.setLayout(form)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(inner)
        scroll.setFixedWidth(GRID * 90)
        return scroll

    def _findings(self) -> QVBoxLayout:
        self.preview.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.preview.setAccessibleName("How the table begins")
        self.preview.verticalHeader().setVisible(False)
        self.preview.horizontalHeader().setSectionResizeMode(
            QHeaderView.ResizeMode.ResizeToContents
        )
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        sized(self.said, TypeSize.HEAD)
        self.faults.setAccessibleName("Rows that cannot be read")
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 1000)
        working = QHBoxLayout()
        working.addWidget(self.bar, 1)
        working.addWidget(self.stop)
        right = QVBoxLayout()
        right.setSpacing(GRID * 2)
        right.addWidget(self.preview, 2)
        right.addWidget(self.said)
        right.addWidget(self.faults, 2)
        right.addLayout(working)
        return right

    def _fill(self) -> None:
        certain = None if self._is_book else certain_encoding(self._data)
        if certain is not None:
            self.encoding.addItem(certain.value, certain)
        elif not self._is_book:
            self.encoding.addItem("Choose: it is not UTF-8", None)
            for one, beginning in offered(self._data).items():
                self.encoding.addItem(one.value, one)
                tip = beginning.replace("\r", "")
                self.encoding.setItemData(
                    self.encoding.count() - 1, tip, Qt.ItemDataRole.ToolTipRole
                )
        for sign, words in _SIGNS.items():
            self.delimiter.addItem(words, sign)
        for point, words in ((Point.POINT, "Point, 58.5"), (Point.COMMA, "Comma, 58,5")):
            self.point.addItem(words, point)
        for unit in LengthIn:
            self.length.addItem(unit.value, unit)
        self.kind.addItem("as its column says", None)
        for kind in Kind:
            self.kind.addItem(kind.value, kind)

    def _listen(self) -> None:
        self.encoding.currentIndexChanged.connect(lambda _row: self.read())
        self.delimiter.currentIndexChanged.connect(lambda _row: self.read(guess=False))
        for box in (self.point, self.length, self.kind, *self.columns.values()):
            box.currentIndexChanged.connect(lambda _row: self.try_it())
        self.stop.clicked.connect(self._stop)
        self.take.clicked.connect(self._take)

    # Reading

    def read(self, *, guess: bool = True) -> None:
        """Read the file as chosen, and show how it begins."""
        self._sheet = self._trial = None
        try:
            self._sheet = self._read(guess=guess)
        except BinderyError as error:
            self._say(str(error))
            return
        if self._sheet is None:
            self._say(
                "The file is not UTF-8. Choose its encoding: the tip of each shows how the file "
                "would begin."
            )
            return
        headings = self._sheet.headings
        likely = likely_columns(headings)
        self.length.blockSignals(True)
        unit = likely_unit(headings, likely)
        self.length.setCurrentIndex(self.length.findData(unit))
        self.length.blockSignals(False)
        for field, box in self.columns.items():
            box.blockSignals(True)
            box.clear()
            box.addItem("not in the file", _NONE)
            for number, name in enumerate(headings):
                box.addItem(name, number)
            box.setCurrentIndex(box.findData(likely.get(field, _NONE)))
            box.blockSignals(False)
        self._show_beginning()
        self.try_it()

    def _read(self, *, guess: bool) -> Sheet | None:
        if self._is_book:
            return xlsx_sheet(self._data)
        chosen = self.encoding.currentData()
        if chosen is None:
            return None
        text = decoded(self._data, Encoding(chosen))
        if guess:
            self.delimiter.blockSignals(True)
            self.delimiter.setCurrentIndex(self.delimiter.findData(likely_delimiter(text)))
            self.delimiter.blockSignals(False)
        return csv_sheet(text, Delimiter(self.delimiter.currentData()))

    def _show_beginning(self) -> None:
        if self._sheet is None:
            return
        self.preview.setColumnCount(len(self._sheet.headings))
        self.preview.setHorizontalHeaderLabels(list(self._sheet.headings))
        rows = self._sheet.rows[:_PREVIEWED]
        self.preview.setRowCount(len(rows))
        for row, (_line, cells) in enumerate(rows):
            for column, cell in enumerate(cells[: len(self._sheet.headings)]):
                self.preview.setItem(row, column, QTableWidgetItem(cell[:200]))

    def _reading(self) -> Reading:
        columns = {
            field: box.currentData()
            for field, box in self.columns.items()
            if box.currentData() not in (None, _NONE)
        }
        kind = self.kind.currentData()
        return Reading(
            columns,
            Point(self.point.currentData()),
            LengthIn(self.length.currentData()),
            None if kind is None else Kind(kind),
        )

    def try_it(self) -> None:
        """Read every row in the background and say what taking them in would do."""
        self._stop()
        self._trial = None
        self.take.setEnabled(False)
        sheet, reading = self._sheet, self._reading()
        if sheet is None:
            return
        stockroom = self._session.stockroom

        def work(job: Job) -> Trial:
            known = {piece.code for piece in stockroom.pieces(gone=True)}
            return try_rows(sheet, reading, known, tell=job.report, check=job.check)

        self._working(on=True)
        self._job = self._session.jobs.run(
            work,
            owner=self,
            done=self._tried,
            failed=lambda error: self._say(str(error)),
            progress=lambda share, _words: self.bar.setValue(round(share * 1000)),
        )

    def _tried(self, trial: Trial) -> None:
        self._trial = trial
        self._say(trial.words)
        for fault in trial.faults:
            self.faults.addItem(f"Line {fault.line}. {fault.sentence}")
        self.faults.setVisible(bool(trial.faults))
        may = trial.good and not self._session.stockroom.read_only
        self.take.setEnabled(may)
        self.take.setText(f"Take in {counted(len(trial.pieces), 'piece')}" if may else "Take in")

    def _say(self, words: str) -> None:
        self._working(on=False)
        self.said.setText(words)
        self.faults.clear()
        self.faults.hide()
        self.take.setEnabled(False)

    def _working(self, *, on: bool) -> None:
        self.bar.setVisible(on)
        self.faults.setVisible(self.faults.isVisible() and not on)
        self.stop.setVisible(on)
        self.bar.setValue(0)

    def _stop(self) -> None:
        if self._job is not None:
            self._job.stop()
            self._job = None
        self._working(on=False)

    def _take(self) -> None:
        if self._trial is not None and self._trial.good:
            self.taken_in.emit(self._trial)
            self.accept()

    def done(self, result: int) -> None:
        """Stop what is under way before the dialog goes."""
        self._stop()
        super().done(result)
