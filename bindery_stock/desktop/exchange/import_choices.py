"""The mapping page: how a file is written, what each row is, and which column is what."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLabel, QScrollArea, QWidget

from bindery_stock.bench.exchange.import_cells import CellForms, Field, LengthIn, Point
from bindery_stock.bench.exchange.import_dates import EXAMPLES, DayOrder
from bindery_stock.bench.exchange.import_table import (
    Subject,
    likely_columns,
    likely_subject,
    likely_unit,
)
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.printing.paper_box import may_be_narrow
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.records.table_in import Delimiter, Encoding, IncomingTable
from bindery_stock.trade.vocabulary import Kind

NOWHERE = -1
_SIGNS = [
    ("Comma", Delimiter.COMMA),
    ("Semicolon", Delimiter.SEMICOLON),
    ("Tab", Delimiter.TAB),
]
_ROWS = [("a piece", Subject.PIECES), ("a lot of adhesive", Subject.LOTS)]
_POINTS = [("Point, 58.5", Point.POINT), ("Comma, 58,5", Point.COMMA)]


class ImportChoices(QScrollArea):
    """Emits ``file_changed(bool)`` when the file is to be read anew, and ``changed()`` its rows.

    ``file_changed`` tells whether the sign between cells may be proposed.
    """

    file_changed = Signal(bool)
    changed = Signal()

    def __init__(
        self, *, is_book: bool, certain: Encoding | None, encodings: dict[Encoding, str]
    ) -> None:
        """Offer ``encodings``, each with how the file would begin, where none is certain."""
        super().__init__()
        self._headings: tuple[str, ...] = ()
        asked = ("Choose: it is not UTF-8", None)
        offered = [(one.value, one) for one in encodings]
        self.encoding = Chooser([(certain.value, certain)] if certain else [asked, *offered])
        for row, beginning in enumerate(encodings.values(), start=1):
            tip = beginning.replace("\r", "")
            self.encoding.setItemData(row, plain_tip(tip), Qt.ItemDataRole.ToolTipRole)
        self.delimiter = Chooser(_SIGNS, Delimiter.COMMA)
        self.sheet = Chooser([])
        self.subject = Chooser(_ROWS, Subject.PIECES)
        self.point = Chooser(_POINTS, Point.POINT)
        self.length = Chooser([(unit.value, unit) for unit in LengthIn], LengthIn.MM)
        self.kind = Chooser(
            [("as its column says", None), *((kind.value, kind) for kind in Kind)], None
        )
        self.order = Chooser(_orders(), None)
        self.columns = {field: QComboBox() for field in Field}
        self.rest = QCheckBox("Write the other columns into the note")
        self._lay_out(is_book=is_book)
        self._listen()

    def _lay_out(self, *, is_book: bool) -> None:
        self._form = QFormLayout()
        self._form.setVerticalSpacing(GRID)
        if is_book:
            self._form.addRow("&Sheet", self.sheet)
        else:
            self._form.addRow("&Encoding", self.encoding)
            self._form.addRow("Between &cells", self.delimiter)
        self._form.addRow("Each &row is", self.subject)
        self._form.addRow("&Decimal sign", self.point)
        self._form.addRow("&Lengths in", self.length)
        self._form.addRow("Dates are &written", self.order)
        self._form.addRow("Kind of every row", self.kind)
        self._form.addRow(self.rest)
        heading = QLabel("Which column is what")
        sized(heading, TypeSize.HEAD)
        self._form.addRow(heading)
        for field, box in self.columns.items():
            box.setAccessibleName(field.words)
            may_be_narrow(box)
            needed = any(field in subject.needed for subject in Subject)
            self._form.addRow(f"{field.words}{' *' if needed else ''}", box)
        may_be_narrow(self.order)
        inner = QWidget()
        inner.setLayout(self._form)
        self.setWidgetResizable(True)
        self.setWidget(inner)
        self.setFixedWidth(GRID * 90)

    def _listen(self) -> None:
        self.encoding.currentIndexChanged.connect(self._file_anew)
        self.delimiter.currentIndexChanged.connect(self._file_again)
        self.sheet.currentIndexChanged.connect(self._file_again)
        self.subject.currentIndexChanged.connect(self._subject_changed)
        for box in (self.point, self.length, self.kind, self.order, *self.columns.values()):
            box.currentIndexChanged.connect(self._rows_changed)
        self.rest.toggled.connect(self._rows_changed)

    def _file_anew(self) -> None:
        self.file_changed.emit(True)

    def _file_again(self) -> None:
        self.file_changed.emit(False)

    def _rows_changed(self) -> None:
        self.changed.emit()

    def _subject_changed(self) -> None:
        self._offer_columns()
        self.changed.emit()

    def offer_sheets(self, names: list[str]) -> None:
        """The sheets of a workbook; the first is in hand until another is chosen."""
        self.sheet.blockSignals(True)
        self.sheet.offer([(name, name) for name in names])
        self.sheet.blockSignals(False)

    def show_sheet(self, sheet: IncomingTable, delimiter: Delimiter | None) -> None:
        """Propose what each row is and which column is what, from the headings."""
        self._headings = sheet.headings
        if delimiter is not None:
            _quietly(self.delimiter, delimiter)
        _quietly(self.subject, likely_subject(sheet.headings))
        self._offer_columns()

    def _offer_columns(self) -> None:
        subject: Subject = self.subject.value()
        likely = likely_columns(self._headings, subject)
        _quietly(self.length, likely_unit(self._headings, likely))
        for field, box in self.columns.items():
            box.blockSignals(True)
            box.clear()
            box.addItem("not in the file", NOWHERE)
            for number, name in enumerate(self._headings):
                box.addItem(name, number)
            box.setCurrentIndex(box.findData(likely.get(field, NOWHERE)))
            box.blockSignals(False)
            self._form.setRowVisible(box, field in subject.fields)
        for box in (self.length, self.kind):
            self._form.setRowVisible(box, subject is Subject.PIECES)

    def reading(self) -> tuple[Subject, CellForms]:
        """What each row is, and how it is to be read."""
        subject: Subject = self.subject.value()
        columns = {
            field: self.columns[field].currentData()
            for field in subject.fields
            if self.columns[field].currentData() not in (None, NOWHERE)
        }
        return subject, CellForms(
            columns,
            self.point.value(),
            self.length.value(),
            self.kind.value() if subject is Subject.PIECES else None,
            self.order.value(),
            self.rest.isChecked(),
        )


def _quietly(box: Chooser, value: object) -> None:
    box.blockSignals(True)
    box.choose(value)
    box.blockSignals(False)


def _orders() -> list[tuple[str, DayOrder | None]]:
    known = [(f"{order.value.capitalize()}, {EXAMPLES[order]}", order) for order in DayOrder]
    return [("as the table shows", None), *known]
