"""A table comes in: what its columns are, how it begins, what taking it in would do."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QProgressBar,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.exchange.import_table import Subject, Trial, try_rows
from bindery_stock.desktop.entry_dialog import EntryDialog
from bindery_stock.desktop.exchange.import_choices import ImportChoices
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.records.counted import counted
from bindery_stock.records.table_in import (
    Delimiter,
    Encoding,
    IncomingTable,
    certain_encoding,
    csv_sheet,
    decoded,
    likely_delimiter,
    offered,
    read_bytes,
    sheet_names,
    xlsx_sheet,
)

_PREVIEWED = 8
_STEPS = 1000
T = TypeVar("T")


class ImportDialog(EntryDialog):
    """Reads one file. Emits ``taken_in(Trial)`` when what it holds is to be shelved.

    Whoever hears it shelves it and accepts the dialog, or says in it what was refused; what was
    chosen stays.
    """

    taken_in = Signal(object)

    def __init__(self, session: Session, path: Path, parent: QWidget | None) -> None:
        """Read the file; what is certain about it is filled in, the rest is asked."""
        super().__init__(parent)
        self.setWindowTitle(f"Take in {path.name}")
        self._session = session
        self._is_book = path.suffix.lower() in (".xlsx", ".xlsm")
        self._data = read_bytes(path)
        self._sheet: IncomingTable | None = None
        self._trial: Trial | None = None
        self._job: Job | None = None
        certain = None if self._is_book else certain_encoding(self._data)
        asked = {} if self._is_book or certain else offered(self._data)
        self.choices = ImportChoices(is_book=self._is_book, certain=certain, encodings=asked)
        self.preview = QTableWidget()
        self.said = QLabel()
        self.faults = QListWidget()
        self.bar = QProgressBar()
        self.stop = QPushButton("Stop")
        self.take = next_button("Take in")
        self._lay_out()
        self.choices.file_changed.connect(self.read)
        self.choices.changed.connect(self.try_it)
        self.stop.clicked.connect(self._stopped)
        self.take.clicked.connect(self._take)
        self.resize(GRID * 250, GRID * 170)
        self.read(guess=True)

    def _lay_out(self) -> None:
        upper = QHBoxLayout()
        upper.setSpacing(GRID * 3)
        upper.addWidget(self.choices)
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
        self.faults.setWordWrap(True)
        self.faults.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.bar.setTextVisible(False)
        self.bar.setRange(0, _STEPS)
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

    # Reading

    def read(self, guess: bool) -> None:
        """Read the file as chosen, in the background, and show how it begins."""
        self._stop()
        self._sheet = self._trial = None
        self.take.setEnabled(False)
        encoding: Encoding | None = self.choices.encoding.value()
        if encoding is None and not self._is_book:
            self._say(
                "The file is not UTF-8. Choose its encoding: the tip of each shows how the file "
                "would begin."
            )
            return
        data, is_book = self._data, self._is_book
        chosen: Delimiter = self.choices.delimiter.value()
        name: str = self.choices.sheet.value() or ""

        def work(job: Job) -> tuple[IncomingTable, Delimiter | None]:
            if is_book or encoding is None:
                return xlsx_sheet(data, job.check, name), None
            text = decoded(data, encoding)
            delimiter = likely_delimiter(text) if guess else chosen
            return csv_sheet(text, delimiter, job.check), delimiter

        self.bar.setRange(0, 0)
        if is_book and not name:
            self._run(lambda _job: sheet_names(data), self._offer_sheets)
        else:
            self._run(work, self._read_it)

    def _offer_sheets(self, names: list[str]) -> None:
        self.choices.offer_sheets(names)
        self.read(guess=True)

    def _read_it(self, found: tuple[IncomingTable, Delimiter | None]) -> None:
        self._sheet, delimiter = found
        self.choices.show_sheet(self._sheet, delimiter)
        self._show_beginning()
        self.begin()
        self.try_it()

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

    def try_it(self) -> None:
        """Read every row in the background and say what taking them in would do."""
        self._stop()
        self._trial = None
        self.take.setEnabled(False)
        sheet = self._sheet
        if sheet is None:
            return
        subject, reading = self.choices.reading()
        stockroom = self._session.stockroom
        rules = self._session.rules

        def work(job: Job) -> Trial:
            if subject is Subject.PIECES:
                known = {piece.code for piece in stockroom.pieces.listed(gone=True)}
            else:
                known = {lot.code for lot in stockroom.lots.listed(finished=True)}
            return try_rows(sheet, reading, known, rules, subject, tell=job.report, check=job.check)

        self.bar.setRange(0, _STEPS)
        self._run(work, self._tried)

    def _run(self, work: Callable[[Job], T], done: Callable[[T], None]) -> None:
        self._working(on=True)
        self._job = self._session.jobs.run(
            work,
            owner=self,
            done=done,
            failed=lambda error: self._say(str(error)),
            progress=lambda share, _words: self.bar.setValue(round(share * _STEPS)),
        )

    def _tried(self, trial: Trial) -> None:
        self._trial = trial
        self._say(trial.words)
        for fault in trial.faults:
            self.faults.addItem(f"Line {fault.line}. {fault.sentence}")
        self.faults.setVisible(bool(trial.faults))
        may = trial.good and not self._session.stockroom.read_only
        self.take.setEnabled(may)
        what = counted(trial.count, trial.subject.word)
        self.take.setText(f"Take in {what}" if may else "Take in")

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

    def _stopped(self) -> None:
        self._stop()
        self._say("Stopped before every row was tried. Change a choice to try them again.")

    def _take(self) -> None:
        if self._trial is not None and self._trial.good:
            self.taken_in.emit(self._trial)

    def say_wrong(self, words: str, field: str = "") -> None:  # noqa: ARG002 - no entry is at fault
        """Say why it was not taken in; it may be tried again."""
        self.said.setText(words)

    def done(self, result: int) -> None:
        """Stop what is under way before the dialog goes."""
        self._stop()
        super().done(result)
