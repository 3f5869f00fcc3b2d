"""What a dialog hands to the stockroom and is refused stays typed, with the words beside it."""

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFormLayout, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.adhesives.actions import AdhesiveActions as LotDeeds
from bindery_stock.desktop.adhesives.lot_dialog import LotDialog, LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.adhesives.use_dialog import UseDialog
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import Barred, EntryError, StockError
from bindery_stock.stock import Measure, NewAdhesiveLot

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def over(qtbot: QtBot) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.resize(900, 700)
    widget.show()
    return widget


def refused(qtbot: QtBot, session: Session, dialog: StockDialog, button: QPushButton) -> None:
    """Press the button; the stockroom says no, and the dialog stands there as it was."""
    steps = session.stockroom.ledger.steps()
    QApplication.processEvents()
    qtbot.mouseClick(button, LEFT)
    qtbot.waitUntil(lambda: not session.jobs.busy and bool(dialog.wrong.text()))
    assert dialog.isVisible()
    assert dialog.wrong.isVisible()
    assert button.isEnabled(), "it can be mended and tried again"
    assert session.stockroom.ledger.steps() == steps


def under(form: QFormLayout, line: QLabel) -> QWidget | None:
    """The entry that a line of the form stands under."""
    row, _role = form.getWidgetPosition(line)  # type: ignore[misc]
    item = form.itemAt(row - 1, QFormLayout.ItemRole.FieldRole)
    inner = item.layout()
    return inner.itemAt(0).widget() if inner is not None else item.widget()


def test_lots_ticked_for_a_mixture_are_asked_about_before_esc_lets_them_go(
    qtbot: QtBot, session: Session, over: QWidget
) -> None:
    for name in ("Paste", "Methyl cellulose"):
        session.heard(session.stockroom.lots.enter(NewAdhesiveLot(kind="pva", name=name)))
    dialog = LotDialog(session, over, start=LotStart.MIXED, parts=("A-0001",))
    dialog.open()
    dialog.parts.item(1).setCheckState(Qt.CheckState.Checked)
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert dialog.isVisible()
    assert "not kept" in dialog.wrong.text()
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_what_speaks_against_a_mixture_is_whole_when_its_form_opens(
    qtbot: QtBot, session: Session, over: QWidget
) -> None:
    old = NewAdhesiveLot(kind="pva", name="Old white glue", opened=date(2020, 1, 1))
    session.heard(session.stockroom.lots.enter(old))
    dialog = LotDialog(session, over, start=LotStart.MIXED, parts=("A-0001",))
    dialog.open()
    qtbot.waitExposed(dialog)
    assert dialog.against.isVisible()
    assert dialog.against.height() >= dialog.against.heightForWidth(dialog.against.width())
    dialog.reject()


def test_a_lot_with_less_than_nothing_in_it_stays_typed_with_the_words_beside_the_amount(
    qtbot: QtBot, session: Session, over: QWidget
) -> None:
    deeds = LotDeeds(session, over)
    deeds.enter(LotStart.BOUGHT)
    dialog = deeds.dialog
    assert isinstance(dialog, LotDialog)
    dialog.kind.choose("wheat-starch-paste")
    qtbot.keyClicks(dialog.name, "Monday's paste")
    qtbot.keyClicks(dialog.amount, "-5")
    qtbot.keyClicks(dialog.note, "cooked twice")
    refused(qtbot, session, dialog, dialog.go)
    assert "cannot be less than nothing" in dialog.wrong.text()
    assert under(dialog.form, dialog.wrong) is dialog.amount
    assert dialog.amount.property("wrong") is True
    assert dialog.amount.hasFocus()
    assert (dialog.name.text(), dialog.note.toPlainText()) == ("Monday's paste", "cooked twice")
    dialog.amount.setCurrentText("5")
    with qtbot.waitSignal(dialog.finished):
        qtbot.mouseClick(dialog.go, LEFT)
    (lot,) = session.stockroom.lots.listed()
    assert (lot.name, lot.left, lot.note) == ("Monday's paste", 5.0, "cooked twice")


def test_more_than_is_left_of_a_lot_is_refused_beside_the_amount_and_all_stays(
    qtbot: QtBot, session: Session
) -> None:
    place = AdhesivesScreen(session)
    qtbot.addWidget(place)
    place.show()
    new = NewAdhesiveLot(
        kind="wheat-starch-paste",
        name="Cooked paste",
        made=session.stockroom.today,
        unit=Measure.GRAM,
        held=500.0,
        left=500.0,
    )
    code = session.stockroom.lots.enter(new).born[0]
    place.stock_opened()
    place.show_lot(code)
    assert place.sheet.row is not None
    place.tasks.use(place.sheet.row)
    dialog = place.tasks.dialog
    assert isinstance(dialog, UseDialog)
    qtbot.keyClicks(dialog.purpose, "spine lining, vol. 4")
    qtbot.keyClicks(dialog.amount, "9999")
    if dialog.reason.isVisible():
        qtbot.keyClicks(dialog.reason, "nothing else is at hand")
    refused(qtbot, session, dialog, dialog.go)
    assert "only 500 g" in dialog.wrong.text()
    assert under(dialog.form, dialog.wrong) is dialog.amount
    assert dialog.purpose.currentText() == "spine lining, vol. 4"
    dialog.reject()


def test_an_error_names_its_field_whatever_kind_it_is() -> None:
    assert EntryError("Width", "Width: no.").field == "Width"
    assert Barred("Stopped.", field="Reason").field == "Reason"
    assert StockError("No.").field == ""
    assert str(Barred("Stopped.", field="Reason")) == "Stopped."


def test_esc_over_something_typed_asks_first_and_over_nothing_leaves_at_once(
    qtbot: QtBot, session: Session, over: QWidget
) -> None:
    deeds = LotDeeds(session, over)
    deeds.enter(LotStart.BOUGHT)
    dialog = deeds.dialog
    assert isinstance(dialog, LotDialog)
    qtbot.keyClicks(dialog.name, "Monday's paste")
    qtbot.keyClick(dialog.name, Qt.Key.Key_Escape)
    assert dialog.isVisible()
    assert "not kept" in dialog.wrong.text()
    assert dialog.name.text() == "Monday's paste"
    qtbot.keyClicks(dialog.name, ", thick")
    qtbot.keyClick(dialog.name, Qt.Key.Key_Escape)
    assert dialog.isVisible(), "more was typed since: it is asked again"
    with qtbot.waitSignal(dialog.finished):
        qtbot.keyClick(dialog.name, Qt.Key.Key_Escape)
    deeds.enter(LotStart.BOUGHT)
    again = deeds.dialog
    assert isinstance(again, LotDialog)
    with qtbot.waitSignal(again.finished):
        qtbot.keyClick(again.name, Qt.Key.Key_Escape)
