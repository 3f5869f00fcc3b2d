"""The covering of a volume: surveyed, cautioned of, and asked about before anything is done wet."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox, QDialog
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.desktop.books import share_view
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.books.work_note import WorkNote
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.stock import (
    BookSpot,
    Colour,
    ColourSought,
    NewRepair,
    PartState,
    PlannedPlacement,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Backing
from tests.desktop.shelving import box, shelve_cloth

LEFT = Qt.MouseButton.LeftButton
RED = (33.0, 38.0, 24.0)


@pytest.fixture
def books(
    qtbot: QtBot, session: Session, previews: Previews, monkeypatch: pytest.MonkeyPatch
) -> BooksScreen:
    monkeypatch.setattr(share_view, "SECONDS", 2.0)
    screen = BooksScreen(session, previews)
    qtbot.addWidget(screen)
    screen.resize(1104, 740)
    screen.stock_opened()
    screen.show()
    return screen


def settle(qtbot: QtBot, books: BooksScreen) -> None:
    qtbot.waitUntil(lambda: not books.session.jobs.busy)


def entered(qtbot: QtBot, books: BooksScreen, **more: object) -> str:
    measured = Survey(
        spine_width=33.0,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        damage=(Damage(Harm.SPINE_LOST),),
        old_spine=False,
    )
    new = NewRepair(
        name="Nine Weirs",
        survey=measured,
        targets=(ColourSought(BookSpot.SPINE, Colour(RED, u=1.0)),),
        **more,  # type: ignore[arg-type]
    )
    codes: list[str] = []
    books.session.do(
        lambda room: survey(room, new=new), done=lambda changes: codes.append(changes.born[0])
    )
    settle(qtbot, books)
    return codes[0]


def noting(books: BooksScreen, code: str) -> WorkNote:
    books.show_volume(code)
    books.tasks.note_work(code, None)
    dialog = books.tasks.dialog
    assert isinstance(dialog, WorkNote)
    return dialog


def test_a_green_covering_of_1858_raises_its_caution_while_it_is_surveyed_and_is_kept(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    books.survey_new()
    form = books.survey_form
    qtbot.keyClicks(form.name, "Nine Weirs")
    for name, text in (("board_height", "210"), ("board_width", "133"), ("spine_width", "33")):
        qtbot.keyClicks(form.measures.entries[name], text)
    covering = form.covering
    assert "arsenical green, likely" not in covering.caution.text()
    covering.family.setCurrentText("vivid green")
    qtbot.keyClicks(covering.dated, "1858")
    assert "△ Stop: arsenical green, likely by colour and date" in covering.caution.text()
    assert "Follow your local rules and licensed practice" in covering.caution.text()
    qtbot.mouseClick(covering.add_button, LEFT)
    lab = covering.dialog
    assert lab is not None
    lab.substance.setCurrentText("arsenic")
    lab.outcome.choose(True)
    qtbot.keyClicks(lab.laboratory, "a county laboratory")
    lab.method.setCurrentText("XRF")
    qtbot.keyClicks(lab.on, "yesterday")
    qtbot.mouseClick(lab.go, LEFT)
    assert lab.result() == QDialog.DialogCode.Accepted
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(books.volume_view.isVisible)
    settle(qtbot, books)
    (repair,) = session.stockroom.books.repairs()
    assert (repair.colour_family, repair.dated) == ("vivid green", "1858")
    (result,) = repair.lab_results
    assert (result.substance, result.found, result.complete) == ("arsenic", True, True)
    books._edit_survey(repair.code)
    assert (covering.colour_family(), covering.dated.text()) == ("vivid green", "1858")
    assert covering.results.count() == 1
    books.survey_new()
    assert (covering.colour_family(), covering.dated.text()) == ("", "")
    assert covering.lab_results() == ()


def test_a_poultice_on_a_green_volume_is_told_of_beforehand_and_refused_with_all_still_there(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered(qtbot, books, colour_family="vivid green", dated="1858")
    note = noting(books, code)
    assert not note.ruling.isVisible()
    qtbot.keyClicks(note.what, "A damp poultice on the joints")
    qtbot.keyClicks(note.reason, "It must be done.")
    assert note.wet.isChecked()
    assert note.ruling.text().startswith("△ Stopped: no reason lets it pass. Nine Weirs: no wet")
    qtbot.mouseClick(note.note_button, LEFT)
    settle(qtbot, books)
    assert note.isVisible()
    assert "no wet work: arsenical green" in note.ruling.text()
    assert note.wrong.text().startswith("Not noted: the rules stop it"), "and not all of it twice"
    assert (note.what.text(), note.reason.text()) == (
        "A damp poultice on the joints",
        "It must be done.",
    )
    assert session.stockroom.books.treatments(code) == []


def test_what_the_rules_say_to_noted_work_leaves_the_entries_their_room(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered(qtbot, books, colour_family="vivid green", dated="1858")
    note = noting(books, code)
    qtbot.waitExposed(note)
    qtbot.keyClicks(note.what, "A damp poultice on the joints")
    assert note.ruling.isVisible()
    QApplication.processEvents()
    for entry in (note.what, note.hours, note.undo, note.reason):
        assert entry.height() >= entry.minimumSizeHint().height()
    assert note.ruling.height() >= note.ruling.heightForWidth(note.ruling.width())
    note.reject()


@pytest.mark.parametrize("words", ["Pasted the reback strip in", "Pasted {piece} in"])
def test_paste_noted_on_a_strip_that_must_stay_dry_is_stopped_with_all_still_there(
    qtbot: QtBot, session: Session, books: BooksScreen, words: str
) -> None:
    code = entered(qtbot, books)
    dry = shelve_cloth(
        session, outline=box(200, 260), lab=RED
    )  # may be vermilion: never to be wetted
    part = next(one for one in session.stockroom.books.parts(volume=code) if one.shown)
    right, top = 2 + part.width, 2 + part.height
    placement = PlannedPlacement(
        part=part.id, code=dry, corners=((2, 2), (right, 2), (right, top), (2, top))
    )
    session.heard(session.stockroom.books.accept_plan([placement]))
    note = noting(books, code)
    qtbot.keyClicks(note.what, words.format(piece=dry.lower()))
    assert note.wet.isChecked()
    assert note.part.currentText() == f"reback strip, {dry}"
    assert note.ruling.text().startswith(f"△ Stopped: no reason lets it pass. {dry}: no wet work")
    steps = session.stockroom.ledger.steps()
    qtbot.mouseClick(note.note_button, LEFT)
    settle(qtbot, books)
    assert note.isVisible()
    assert note.wrong.text().startswith("Not noted: the rules stop it")
    assert note.what.text() == words.format(piece=dry.lower())
    assert session.stockroom.ledger.steps() == steps
    note.part.choose(None)
    named_by_code = "{piece}" in words
    assert (f"{dry}: " in note.ruling.text()) is named_by_code, "a code in the words counts"
    note.reject()


def test_a_poultice_of_a_past_day_is_noted_with_what_the_rules_say_against_it(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered(qtbot, books, colour_family="vivid green", dated="1858")
    note = noting(books, code)
    qtbot.keyClicks(note.what, "A damp poultice on the joints")
    note.wet.setChecked(True)
    note.on.setFocus()
    qtbot.keyClicks(note.on, "yesterday")
    qtbot.keyClicks(note.reason, "Done before its colour was known.")
    note.reason.setFocus()
    assert note.ruling.text().startswith("△ It is noted with what the rules say against it.")
    qtbot.mouseClick(note.note_button, LEFT)
    settle(qtbot, books)
    (line,) = session.stockroom.books.treatments(code)
    assert line.wet
    (kept,) = session.stockroom.rulings.listed(volume=code)
    assert (kept.leave, kept.reason) == (Leave.STOPPED, "Done before its colour was known.")


def test_cloth_left_out_of_a_sharing_is_taken_in_once_a_reason_is_written(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered(qtbot, books, colour_family="red")
    piece = shelve_cloth(session, outline=box(75, 252), lab=RED)
    session.heard(
        session.stockroom.pieces.correct(
            piece, backing=Backing.PYROXYLIN, colour_family="red", source_date="1880"
        )
    )
    books._show_set(None)
    settle(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert f"△ {piece} was left out where it needs a written reason." in view.doing.text()
    assert view.shared is not None
    assert view.shared.placements() == ()
    assert view.override.isVisible()
    qtbot.keyClicks(view.override, "The owner asks for it.")
    qtbot.keyClick(view.override, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bool(view.shared.placements()) and view.accept_button.isEnabled())
    settle(qtbot, books)
    qtbot.mouseClick(view.accept_button, LEFT)
    settle(qtbot, books)
    parts = session.stockroom.books.parts(volume=code)
    assert [part.piece for part in parts if part.state is PartState.RESERVED] == [piece]
    (kept,) = session.stockroom.rulings.listed(volume=code)
    assert (kept.piece, kept.reason) == (piece, "The owner asks for it.")


def test_a_green_covering_of_1858_raises_its_caution_before_the_back_is_measured(
    books: BooksScreen,
) -> None:
    books.survey_new()
    form = books.survey_form
    form.covering.family.choose("vivid green")
    form.covering.dated.setText("1858")
    assert form.measures.entries["spine_width"].text() == ""
    assert "Stop: arsenical green" in form.covering.caution.text()


def test_the_next_survey_begins_at_its_head(books: BooksScreen) -> None:
    books.survey_new()
    bar = books.survey_form.entries_view.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    books.survey_form.leave_button.click()
    books.survey_new()
    assert bar.value() == 0


def test_scrolling_past_a_list_of_the_survey_chooses_nothing_in_it(books: BooksScreen) -> None:
    books.survey_new()
    form = books.survey_form
    lists = [one for one in form.entries_view.findChildren(QComboBox) if one.count() > 1]
    assert len(lists) > 3
    was = [one.currentText() for one in lists]
    for one in lists:
        turned = wheel_down(one)
        QApplication.sendEvent(one, turned)
        assert not turned.isAccepted()  # so it goes on to the column
    assert [one.currentText() for one in lists] == was
    assert not any(one.hasFocus() for one in lists)


def wheel_down(choices: QComboBox) -> QWheelEvent:
    middle = QPointF(choices.rect().center())
    return QWheelEvent(
        middle,
        choices.mapToGlobal(middle),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )


def test_a_poultice_told_in_words_counts_as_wet_until_the_binder_says_otherwise(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered(qtbot, books, colour_family="vivid green", dated="1858")
    note = noting(books, code)
    qtbot.keyClicks(note.what, "Lifted the cloth with a poultice")
    assert note.wet.isChecked()
    assert "Stopped" in note.ruling.text()
    note.wet.setChecked(False)
    qtbot.keyClicks(note.what, ", kept off the green")
    assert not note.wet.isChecked()
    assert not note.ruling.isVisible(), "dry, as the binder says"
