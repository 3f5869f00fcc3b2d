"""Every dialog of the desktop, refused once: it stands there, says why, and all typed is there."""

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from shutil import copytree

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QDialog,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from bindery_stock import desktop
from bindery_stock.desktop.books.card_sheet import CardSheet
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.entries import Entry
from bindery_stock.desktop.exchange.import_dialog import ImportDialog
from bindery_stock.desktop.exchange.labels_dialog import LabelsDialog
from bindery_stock.desktop.forms.form_dialog import DayLine
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.unkept import LEAVE_AGAIN
from bindery_stock.errors import StockError
from bindery_stock.stock import Stockroom
from tests.bench.small_stock import BenchClock, SmallStock, small_stock
from tests.desktop.refusal_rows import ROWS, Bench

WHY = "The drawer is locked. Unlock it first."
MADE_OF = {
    "EntryDialog": "what asks before what was entered is lost is made of",
    "StockDialog": "what the dialogs that hand something over are made of",
    "FormDialog": "what the small forms are made of",
    "PhotoDialog": "what the dialogs over a photograph are made of",
}
NOTHING_TO_REFUSE = {
    "ArchivePicker": "a list of photographs, one of which is chosen; it changes nothing",
    "BackupsDialog": "a list of copies; nothing is typed, and what is refused is said under it",
    "CutPaperDialog": "a plan to be printed; nothing is typed",
    "EvidencePhoto": "a photograph, looked at",
    "ListsDialog": "lists to be printed or saved; it hands nothing to the stockroom",
    "PatchPicker": "tells a colour to the form it stands over, which hands it on or is refused",
    "RecordDialog": "a record to be printed or saved; it hands nothing to the stockroom",
    "WeightsDialog": "prices kept by this machine; it hands nothing to the stockroom",
    "Transfer": "shows how far something has come",
    "CoveringForm": "a page of the survey, which is kept or refused as one",
    "DescriptionForm": "a page of the survey, which is kept or refused as one",
    "MeasuresForm": "a page of the survey, which is kept or refused as one",
    "PartForm": "what is sought in Match; it never closes",
    "SeenForm": "what is seen on a book, in Match; it never closes",
}
LABELS = ("tests.desktop.test_every_dialog_refused", "test_a_sheet_without_a_name_stays_measured")
ELSEWHERE = {
    "LabelsDialog": LABELS,
    "SheetForm": LABELS,
    "SurveyForm": (
        "tests.desktop.test_survey_colours",
        "test_a_survey_the_stockroom_refuses_stays_filled_in_and_says_why",
    ),
}
"""Refused in a test of its own."""


def kinds(base: type) -> Iterator[type]:
    """Every class of the desktop under this one."""
    for kind in base.__subclasses__():
        if kind.__module__.startswith(f"{desktop.__name__}."):
            yield kind
        yield from kinds(kind)


def test_every_dialog_and_form_has_a_refusal_or_a_reason_for_none() -> None:
    for module in walk_packages(desktop.__path__, f"{desktop.__name__}."):
        import_module(module.name)
    dialogs = {kind.__name__ for kind in kinds(QDialog)}
    forms = {kind.__name__ for kind in kinds(QWidget) if kind.__name__.endswith("Form")}
    refused = {kind.__name__ for kind, _row in ROWS.values()}
    listed = [*refused, *MADE_OF, *NOTHING_TO_REFUSE, *ELSEWHERE]
    assert sorted(listed) == sorted(dialogs | forms), "each once, and none that is gone"
    for module_name, test in ELSEWHERE.values():
        assert callable(getattr(import_module(module_name), test))


@pytest.fixture(scope="module")
def laid_out(tmp_path_factory: pytest.TempPathFactory) -> SmallStock:
    """The small stock as it lies in its folder, closed."""
    with small_stock(tmp_path_factory.mktemp("small")) as stock:
        pass
    with closing(Stockroom.open(stock.room.folder, clock=BenchClock())):
        return stock  # the copy of the day is made


@pytest.fixture
def bench(qtbot: QtBot, session: Session, laid_out: SmallStock, tmp_path: Path) -> Bench:
    over = QWidget()
    qtbot.addWidget(over)
    over.resize(900, 700)
    over.show()
    folder = copytree(laid_out.room.folder, tmp_path / "small")
    session.close_stockroom()
    session.use(Stockroom.open(folder, clock=BenchClock()))
    stock = replace(laid_out, room=session.stockroom)
    return Bench(qtbot, session, over, stock, tmp_path)


def entries(dialog: QDialog) -> list[QLineEdit | QPlainTextEdit]:
    """Everything in a dialog that can be typed in now."""
    found: list[QLineEdit | QPlainTextEdit] = [
        *dialog.findChildren(QLineEdit),
        *dialog.findChildren(QPlainTextEdit),
    ]
    return [e for e in found if e.isVisible() and e.isEnabled() and not e.isReadOnly()]


def text_of(entry: QLineEdit | QPlainTextEdit) -> str:
    return entry.text() if isinstance(entry, QLineEdit) else entry.toPlainText()


def type_the_rest(qtbot: QtBot, dialog: QDialog) -> None:
    """Type something wherever nothing stands yet."""
    for entry in entries(dialog):
        if not text_of(entry):
            if isinstance(entry, DayLine):
                qtbot.keyClicks(entry, "2026-03-02")
            else:
                qtbot.keyClicks(entry, "12" if isinstance(entry, Entry) else "typed here")
    assert all(text_of(entry) for entry in entries(dialog))


def filled_in(dialog: QDialog) -> list[object]:
    """All that was typed, chosen and ticked."""
    return [
        [text_of(entry) for entry in entries(dialog)],
        [box.currentText() for box in dialog.findChildren(QComboBox)],
        [b.isChecked() for b in dialog.findChildren(QAbstractButton) if b.isCheckable()],
    ]


@pytest.mark.parametrize("name", sorted(ROWS))
def test_a_dialog_that_is_refused_stands_there_with_everything_typed(
    bench: Bench, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    kind, row = ROWS[name]
    ready = row(bench)
    dialog, session = ready.dialog, bench.session
    assert type(dialog) is kind
    type_the_rest(bench.qtbot, dialog)
    before, steps = filled_in(dialog), session.stockroom.ledger.steps()

    def no(*_args: object, **_facts: object) -> None:
        raise StockError(WHY)

    group, _, verb = ready.verb.partition(".")
    monkeypatch.setattr(type(getattr(session.stockroom, group)), verb, no)
    said = ready.said or (lambda: dialog.wrong)
    QApplication.processEvents()
    bench.qtbot.mouseClick(ready.button, Qt.MouseButton.LeftButton)
    bench.qtbot.waitUntil(lambda: not session.jobs.busy and WHY in said().text())
    assert dialog.isVisible()
    assert said().isVisible()
    shown = QRect(said().mapTo(dialog, QPoint(0, 0)), said().size())
    assert dialog.rect().contains(shown), "it is said where it can be read"
    assert ready.button.isEnabled(), "it can be mended and tried again"
    assert filled_in(dialog) == before
    assert session.stockroom.ledger.steps() == steps
    dialog.done(0)


CHOSEN_ONLY = {CutSheet, ImportDialog}
"""All in it is filled in already; something else is chosen."""
NOTHING_ENTERED = {CardSheet}
"""Shows what stands in the stockroom already: it may be left at once."""


@pytest.mark.parametrize("name", sorted(ROWS))
def test_esc_over_what_was_entered_asks_first(bench: Bench, name: str) -> None:
    kind, row = ROWS[name]
    ready = row(bench)
    dialog = ready.dialog
    begun = filled_in(dialog)
    type_the_rest(bench.qtbot, dialog)
    if kind in CHOSEN_ONLY and filled_in(dialog) == begun:
        boxes = [b for b in dialog.findChildren(QComboBox) if b.isVisible() and b.count() > 1]
        box = boxes[-1]
        key = Qt.Key.Key_Up if box.currentIndex() else Qt.Key.Key_Down
        bench.qtbot.keyClick(box, key)
        bench.qtbot.waitUntil(lambda: not bench.session.jobs.busy)
    before = filled_in(dialog)
    if kind not in NOTHING_ENTERED:
        bench.qtbot.keyClick(dialog, Qt.Key.Key_Escape)
        assert dialog.isVisible()
        assert filled_in(dialog) == before
        assert any(LEAVE_AGAIN in one.text() for one in dialog.findChildren(QLabel)), "it is said"
    bench.qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_a_sheet_without_a_name_stays_measured(bench: Bench) -> None:
    dialog = LabelsDialog(bench.session, [bench.stock.codes["clean"]], bench.over)
    dialog.open()
    bench.qtbot.mouseClick(dialog.own, Qt.MouseButton.LeftButton)
    for entry in dialog.form.entries.values():
        entry.clear()
    type_the_rest(bench.qtbot, dialog)
    dialog.form.name.clear()
    before = filled_in(dialog)
    bench.qtbot.mouseClick(dialog.form.keep, Qt.MouseButton.LeftButton)
    assert dialog.isVisible()
    assert dialog.form.isVisible()
    assert dialog.paper.said.isVisible()
    assert dialog.paper.said.text().startswith("Name: give the sheet a name")
    assert filled_in(dialog) == before
    assert [one.name for one in dialog.shelf.own] == []
    bench.qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert dialog.isVisible(), "a sheet of one's own is not lost without a word"
    assert LEAVE_AGAIN in dialog.paper.said.text()
    dialog.done(0)
