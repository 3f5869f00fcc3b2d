"""Recording a test, a statement or a look, with its evidence."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QWidget,
)

from bindery_stock.bench.adhesives.record_test import record_test
from bindery_stock.bench.adhesives.tests import PropertyAsked, answer_of, keep_photo, questions
from bindery_stock.bench.colour_room.archive_photos import readable_name
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.drops import PHOTO_FILTERS, TakesPhotos
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog, open_over
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.stock import AdhesiveLot, Changes, StockPiece, Stockroom
from bindery_stock.trade import Evidence, Property


class TestDialog(TakesPhotos, FormDialog):
    """Asks for one property of a lot or a piece.

    Emits ``recorded(Property, Path | None)``: the photograph of the strip, spot or lamp, if there
    is one, is still to be archived.
    """

    __test__ = False  # its name is the trade's, not a test of this program
    recorded = Signal(object, object)

    def __init__(
        self, item: AdhesiveLot | StockPiece, session: Session, parent: QWidget | None
    ) -> None:
        """Offer what the rules ask of this item, the open questions and cheapest tests first."""
        super().__init__(f"Record a test of {item.code}", "Record", parent)
        self._item, self._rules = item, session.rules
        self._photo: Path | None = None
        self.setAcceptDrops(True)
        self.questions = questions(item, self._rules)
        self.question = QComboBox()
        for one in self.questions:
            self.question.addItem(one.words + (f"  ({one.known})" if one.known else ""))
        self.add("&What", self.question)
        self.how = self.remark()
        self.choice, self.typed = QComboBox(), QLineEdit()
        self.answer = QStackedWidget()
        self.answer.addWidget(self.choice)
        self.answer.addWidget(self.typed)
        self.answer.setMaximumHeight(self.typed.sizeHint().height() + 4)
        self.add("&Answer", self.answer)
        self.evidence = Chooser([(str(e.value), e) for e in Evidence], Evidence.BENCH)
        self.add("&How known", self.evidence)
        self.method = self.line("&Method", hint="pH strip, blotter, data sheet …")
        self.by = self.line("&By", hint="who tested or stated it")
        self.on = self.day("&On", session.stockroom.today, session.stockroom.today)
        self.photo_name = plain_label("none")
        choose = QPushButton("Choose…")
        choose.clicked.connect(self._choose_photo)
        row = QHBoxLayout()
        row.addWidget(self.photo_name, 1)
        row.addWidget(choose)
        self.form.addRow("Photograph of it", row)
        self.question.currentIndexChanged.connect(self._ask)
        self._ask()

    @property
    def asked(self) -> PropertyAsked:
        """The question chosen."""
        return self.questions[self.question.currentIndex()]

    def choose(self, name: str) -> None:
        """Ask for the property of this name."""
        names = [one.kind.key for one in self.questions]
        self.question.setCurrentIndex(names.index(name))

    def _ask(self) -> None:
        asked = self.asked
        test = asked.kind.test or "Nothing need be tested."
        self.how.setText(f"{test} ({asked.kind.effort}; {asked.kind.provenance.words})")
        self.choice.clear()
        self.choice.addItems(list(asked.answers))
        self.choice.setCurrentIndex(-1)
        self.typed.clear()
        entry = self.choice if asked.answers else self.typed
        entry.setAccessibleName(asked.words)
        self.answer.setCurrentWidget(entry)
        self.answer.setFocusProxy(entry)
        self.name_field(entry, asked.kind.words, "Answer", "Value")
        self.say_wrong("")

    def take_photo(self, path: Path) -> None:
        """Keep this photograph with the test."""
        self._photo = path
        self.photo_name.setText(readable_name(path.name))

    def _choose_photo(self) -> None:
        dialog = QFileDialog(self, "The photograph of the test")
        dialog.setNameFilters(PHOTO_FILTERS)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self.take_photo(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def photos_dropped(self, paths: list[Path]) -> None:
        """Keep the photograph that was dropped."""
        self.take_photo(paths[0])

    def take(self) -> None:
        """Tell what was found. Raises ``EntryError``."""
        kind = self.asked.kind
        typed = self.choice.currentText() if self.asked.answers else self.typed.text()
        if not typed.strip():
            raise EntryError(kind.words, f"{kind.words}: give the answer.")
        evidence: Evidence = self.evidence.value()
        found = Property(
            name=kind.key,
            value=answer_of(kind, typed),
            evidence=evidence,
            on=self.on.value(),
            method=self.method.text().strip(),
            by=self.by.text().strip(),
        )
        self.recorded.emit(found, self._photo)


def record(stockroom: Stockroom, code: str, found: Property, photo: Path | None) -> Changes:
    """Archive the photograph, if there is one, and record the test as one step."""
    if photo is None:
        return record_test(stockroom, code=code, found=found)
    kept = keep_photo(stockroom, photo)
    return record_test(stockroom, code=code, found=replace(found, photo=kept.sha256))


def ask_test(item: AdhesiveLot | StockPiece, session: Session, parent: QWidget) -> TestDialog:
    """Open the dialog over ``parent``; what it is told is recorded."""
    dialog = TestDialog(item, session, parent)
    dialog.recorded.connect(
        lambda found, photo: dialog.hand(
            session, lambda stockroom: record(stockroom, item.code, found, photo)
        )
    )
    open_over(dialog)
    return dialog
