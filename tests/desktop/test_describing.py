"""A volume described in its survey, handed on by its set, and its examination written."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.enter_set import enter_set
from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.desktop.books.care_dialog import CareDialog
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.books.set_facts import SetFacts
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.stock import NewBookSet, NewRepair
from bindery_stock.trade import Survey
from bindery_stock.trade.care import CareOption
from bindery_stock.trade.description import Description

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def books(qtbot: QtBot, session: Session, previews: Previews) -> BooksScreen:
    screen = BooksScreen(session, previews)
    qtbot.addWidget(screen)
    screen.resize(1104, 740)
    screen.stock_opened()
    screen.show()
    return screen


def settle(qtbot: QtBot, books: BooksScreen) -> None:
    qtbot.waitUntil(lambda: not books.session.jobs.busy)


def test_a_volume_is_described_with_its_survey_and_nothing_of_the_one_before_stays(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    books.survey_new()
    form = books.survey_form
    qtbot.keyClicks(form.name, "Nine Weirs")
    for name, text in (("board_height", "210"), ("board_width", "133"), ("spine_width", "33")):
        qtbot.keyClicks(form.measures.entries[name], text)
    copy = form.description
    qtbot.keyClicks(copy.imprint, "Wexcombe: Tarn & Daughter")
    qtbot.keyClicks(copy.imprint_date, "1858")
    qtbot.keyClicks(copy.shelfmark, "B 12")
    sewing = copy.features["sewing"]
    sewing.setCurrentIndex(sewing.findText("on tapes"))
    copy.features["edges"].setCurrentText("uncut, spotted at the head")
    qtbot.keyClicks(copy.former_repairs, "Tape at the upper joint.")
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(books.volume_view.isVisible)
    settle(qtbot, books)
    (repair,) = session.stockroom.books.repairs()
    kept = repair.description
    assert (kept.imprint, kept.imprint_date) == ("Wexcombe: Tarn & Daughter", "1858")
    assert (kept.sewing, kept.edges) == ("on tapes", "uncut, spotted at the head")
    assert "on tapes; uncut, spotted at the head" in books.volume_view.condition.text()
    assert "Former repairs: Tape at the upper joint." in books.volume_view.condition.text()
    assert "B 12" in books.volume_view.title.text()
    books.survey_new()
    assert not copy.description().told, "nothing of the volume before stays"
    books._edit_survey(repair.code)
    assert copy.description() == kept


def test_what_is_said_of_a_set_is_handed_on_to_the_next_volume_surveyed(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    session.do(lambda room: enter_set(room, new=NewBookSet(title="Hollin Vale")))
    settle(qtbot, books)
    (book_set,) = session.stockroom.books.book_sets()
    books.tasks.edit_set(book_set.code)
    facts = books.tasks.dialog
    assert isinstance(facts, SetFacts)
    qtbot.keyClicks(facts.owner, "the reading room")
    facts.family.setCurrentText("vivid green")
    qtbot.keyClicks(facts.dated, "c. 1858")
    facts.description.features["covering"].setCurrentText("full cloth")
    qtbot.keyClicks(facts.description.imprint, "Wexcombe: Tarn & Daughter")
    assert not facts.description.shelfmark.isVisible(), "that is each copy's own"
    qtbot.mouseClick(facts.keep_button, LEFT)
    settle(qtbot, books)
    books._show_set(book_set.code)
    books.survey_new()
    form = books.survey_form
    assert form.owner.text() == "the reading room"
    assert (form.covering.colour_family(), form.covering.dated.text()) == (
        "vivid green",
        "c. 1858",
    )
    assert "△ Stop: arsenical green" in form.covering.caution.text()
    assert form.description.description() == Description(
        imprint="Wexcombe: Tarn & Daughter", covering="full cloth"
    )


def test_examination_options_and_consent_are_written_in_one_form_and_undone_in_one_step(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    new = NewRepair(name="Nine Weirs", survey=Survey(spine_width=33, board_height=210))
    session.do(lambda room: survey(room, new=new))
    settle(qtbot, books)
    books.show_volume("V-0001")
    qtbot.mouseClick(books.volume_view.care_button, LEFT)
    dialog = books.tasks.dialog
    assert isinstance(dialog, CareDialog)
    qtbot.keyClicks(dialog.examiner, "I. Fell")
    qtbot.keyClicks(dialog.examined_on, "yesterday")
    qtbot.keyClicks(dialog.texts["aims"], "To be read again.")
    second = dialog.options.blocks[1]
    qtbot.keyClicks(second.entries["what"], "Tissue over the joint")
    qtbot.keyClicks(second.hours, "1,5")
    dialog.options.recommended.choose(0)
    qtbot.mouseClick(dialog.keep_button, LEFT)
    assert dialog.wrong.text() == "Recommended: nothing was entered under option 1."
    dialog.options.recommended.choose(1)
    qtbot.keyClicks(dialog.consent, "E. Marsh, spoken")
    qtbot.mouseClick(dialog.keep_button, LEFT)
    settle(qtbot, books)
    care = session.stockroom.books.repair("V-0001").care
    assert care.examined_on is not None
    assert (care.examiner, care.aims, care.consent) == (
        "I. Fell",
        "To be read again.",
        "E. Marsh, spoken",
    )
    assert care.course == CareOption(what="Tissue over the joint", hours=1.5)
    session.stockroom.ledger.undo()
    assert not session.stockroom.books.repair("V-0001").care.told
