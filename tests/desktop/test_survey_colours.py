"""Colours typed in a survey: what was not set by its button counts, or is asked about."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.books.survey_form import SurveyForm
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.stock import BookSpot
from bindery_stock.trade import Harm

LEFT = Qt.MouseButton.LeftButton


def filled_in(qtbot: QtBot, session: Session, previews: Previews) -> tuple[BooksScreen, SurveyForm]:
    """A survey with its name, its boards and its lost spine; nothing is kept yet."""
    place = BooksScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1104, 740)
    place.stock_opened()
    place.show()
    place.survey_new()
    form = place.survey_form
    qtbot.keyClicks(form.name, "Hollin Vale vol. 4")
    for name, text in (("board_height", "210"), ("board_width", "133"), ("spine_width", "33")):
        qtbot.keyClicks(form.measures.entries[name], text)
    form.ticks.lines[Harm.SPINE_LOST].tick.setChecked(True)
    return place, form


def test_colour_figures_typed_and_not_set_count_when_the_survey_is_kept(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    _place, form = filled_in(qtbot, session, previews)
    for entry, text in zip(form.targets.entries, ("33", "38", "24"), strict=True):
        qtbot.keyClicks(entry, text)
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    (repair,) = session.stockroom.books.repairs()
    (target,) = repair.targets
    assert (target.spot, target.colour.lab) == (BookSpot.SPINE, (33.0, 38.0, 24.0))


def test_half_a_colour_is_asked_about_and_nothing_typed_is_lost(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    _place, form = filled_in(qtbot, session, previews)
    qtbot.keyClicks(form.targets.lightness, "33")
    steps = session.stockroom.ledger.steps()
    qtbot.mouseClick(form.save_button, LEFT)
    assert session.stockroom.ledger.steps() == steps
    assert not session.jobs.busy
    assert form.isVisible()
    assert form.targets.wrong.isVisible()
    assert "all three of L*, a* and b*" in form.targets.wrong.text()
    assert form.focusWidget() is form.targets.a, form.focusWidget()
    assert (form.name.text(), form.targets.lightness.text()) == ("Hollin Vale vol. 4", "33")
    form.targets.lightness.clear()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    (repair,) = session.stockroom.books.repairs()
    assert repair.targets == ()


def test_what_is_wanting_of_a_colour_is_seen_whole_wherever_the_column_stood(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    _place, form = filled_in(qtbot, session, previews)
    bar, wrong = form.entries_view.verticalScrollBar(), form.targets.wrong
    qtbot.keyClicks(form.targets.lightness, "33")
    bar.setValue(0)
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(
        lambda: wrong.visibleRegion().boundingRect().height() >= wrong.heightForWidth(wrong.width())
    )


def test_what_is_wrong_is_ticked_in_rows_of_one_height(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    _place, form = filled_in(qtbot, session, previews)
    grid = form.ticks.layout()
    assert isinstance(grid, QGridLayout)
    lines = form.ticks.lines.values()
    qtbot.waitUntil(lambda: len({grid.cellRect(line.row, 0).height() for line in lines}) == 1)


def test_what_was_half_typed_for_one_volume_is_not_there_for_the_next(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    place, form = filled_in(qtbot, session, previews)
    qtbot.keyClicks(form.targets.lightness, "33")
    qtbot.keyClicks(form.targets.a, "x")
    form.targets.spot.setCurrentIndex(2)
    line = form.ticks.lines[Harm.SPINE_LOST]
    typed = [entry for entry in (line.count, line.extent, line.across) if entry is not None]
    for entry in typed:
        entry.setText("7")
    qtbot.mouseClick(form.leave_button, LEFT)
    assert form.isVisible()
    assert "not kept" in form.outcome.text()
    assert form.targets.lightness.text() == "33"
    qtbot.mouseClick(form.leave_button, LEFT)
    assert not form.isVisible(), "asked twice, it is let go"
    place.survey_new()
    form.name.setFocus()
    qtbot.keyClick(form.name, Qt.Key.Key_Escape)
    assert not form.isVisible(), "with nothing entered Esc leaves at once"
    place.survey_new()
    assert [entry.text() for entry in form.targets.entries] == ["", "", ""]
    assert form.targets.a.property("wrong") is False
    assert form.targets.spot.currentIndex() == 0
    assert not form.targets.wrong.isVisible()
    left = [e.text() for e in form.measures.entries.values()]
    left += [e.text() for line in form.ticks.lines.values() for e in entries_of(line)]
    assert set(left) == {""}


def entries_of(line: object) -> list[object]:
    """The entries beside a tick."""
    found = [getattr(line, name) for name in line.__dataclass_fields__]  # type: ignore[attr-defined]
    return [entry for entry in found if hasattr(entry, "check")]


def test_a_survey_the_stockroom_refuses_stays_filled_in_and_says_why(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    _place, form = filled_in(qtbot, session, previews)
    form.name.clear()
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert form.isVisible()
    assert form.outcome.text().startswith("Name: must not be empty")
    assert form.name.hasFocus()
    assert form.measures.entries["board_height"].text() == "210"
