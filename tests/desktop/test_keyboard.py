"""Every place is walked through by Tab alone, and each of its entries is come to once a round."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QRadioButton,
    QScrollArea,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from bindery_stock.bench.photo_table.found_outline import FoundOutline
from bindery_stock.bench.photo_table.marks import KnownLength
from bindery_stock.desktop.app import build
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from tests.desktop.conftest import MM_PER_PX
from tests.desktop.hands import write
from tests.desktop.shelving import shelve_cloth

MOST_STROKES = 200


@pytest.fixture
def window(session: Session, photo_of_cloth: Path, qtbot: QtBot) -> Iterator[Window]:
    shelve_cloth(session, photo_of_cloth)
    made, _desk = build(session)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    session.opened.emit()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    qtbot.waitUntil(lambda: not session.jobs.busy)


def to_be_reached(window: Window) -> set[QWidget]:
    """What a mouse can use in the window as it stands: each must be in reach of Tab."""
    return {
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget.focusProxy() is None
        # The line of an editable choice takes its focus through the choice.
        and not isinstance(widget.parent(), QComboBox)
        and not _is_view_of_its_own(widget)
    }


def _is_view_of_its_own(widget: QWidget) -> bool:
    """A scroll area that only carries other widgets need not be stopped at."""
    return isinstance(widget, QScrollArea)


def a_round(window: Window, qtbot: QtBot, *, back: bool = False) -> list[QWidget]:
    """What Tab comes to, from one widget until that widget again."""
    first = QApplication.focusWidget()
    assert first is not None
    visited = [first]
    modifier = Qt.KeyboardModifier.ShiftModifier if back else Qt.KeyboardModifier.NoModifier
    key = Qt.Key.Key_Backtab if back else Qt.Key.Key_Tab
    for _ in range(MOST_STROKES):
        focus = QApplication.focusWidget()
        assert focus is not None
        qtbot.keyClick(focus, key, modifier)
        now = QApplication.focusWidget()
        assert now is not None
        if now is first:
            return visited
        assert now not in visited, f"{told(now)} is come to twice before the round is done"
        visited.append(now)
    pytest.fail(f"Tab never comes back to {told(first)}")


def told(widget: QWidget) -> str:
    """A widget in words."""
    text = getattr(widget, "text", lambda: "")()
    parents = []
    parent = widget.parentWidget()
    while parent is not None and len(parents) < 3:
        parents.append(type(parent).__name__)
        parent = parent.parentWidget()
    return f"{type(widget).__name__} {widget.accessibleName() or text!r} in {'/'.join(parents)}"


def missed(wanted: set[QWidget], visited: list[QWidget]) -> list[str]:
    """What Tab did not come to; of the choices one of a group of radio buttons is enough."""
    seen = set(visited)
    groups = {w.parentWidget() for w in visited if isinstance(w, QRadioButton)}
    return sorted(
        told(widget)
        for widget in wanted - seen
        if not (isinstance(widget, QRadioButton) and widget.parentWidget() in groups)
    )


def walk(window: Window, qtbot: QtBot) -> None:
    window.activateWindow()
    window.side.setFocus()
    qtbot.waitUntil(window.side.hasFocus)
    there = a_round(window, qtbot)
    assert missed(to_be_reached(window), there) == []
    assert [w for w in there if not w.isVisible()] == []
    back = a_round(window, qtbot, back=True)
    assert [told(w) for w in back[1:]] == [told(w) for w in reversed(there[1:])]


TITLES = ("Shelf", "Photo table", "Match", "Books", "Adhesives", "Colour", "Ledger")


@pytest.mark.parametrize("title", TITLES)
def test_tab_comes_to_everything_in_a_place_once_and_shift_tab_goes_the_same_way_back(
    window: Window, session: Session, title: str, qtbot: QtBot
) -> None:
    place = next(place for place in window.places if place.title == title)
    window.go_to(place)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    walk(window, qtbot)


def test_every_place_of_the_window_is_walked_through(window: Window) -> None:
    assert {place.title for place in window.places} == set(TITLES)


def test_tab_comes_to_everything_on_the_sheet_of_a_piece(
    window: Window, session: Session, qtbot: QtBot
) -> None:
    session.show_code(session.pieces[0].code)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    walk(window, qtbot)


@pytest.mark.parametrize("step", range(6))
def test_tab_comes_to_everything_at_each_step_of_the_photo_table(
    window: Window, session: Session, photo_of_cloth: Path, step: int, qtbot: QtBot
) -> None:
    session.photos_offered.emit([photo_of_cloth])
    table = next(place for place in window.places if isinstance(place, PhotoTableScreen))
    qtbot.waitUntil(lambda: table.draft is not None)
    table.marking.go_to_step(step)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    walk(window, qtbot)


def test_a_list_or_a_table_hands_tab_on(window: Window) -> None:
    for view in window.findChildren(QAbstractItemView):
        if not isinstance(view.parent(), QComboBox | QTabBar):
            assert not view.tabKeyNavigation() or view.focusPolicy() == Qt.FocusPolicy.NoFocus


def test_a_scrap_is_shelved_found_matched_and_reserved_without_a_mouse(
    window: Window, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    def strike(*keys: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        for key in keys:
            focus = QApplication.focusWidget()
            assert focus is not None
            qtbot.keyClick(focus, key, held)

    def settled() -> None:
        qtbot.waitUntil(lambda: not session.jobs.busy)

    control = Qt.KeyboardModifier.ControlModifier
    table = next(place for place in window.places if isinstance(place, PhotoTableScreen))
    match = next(place for place in window.places if isinstance(place, MatchScreen))
    QApplication.clipboard().setImage(QImage(str(photo_of_cloth)))
    strike(Qt.Key.Key_2, held=control)
    strike(Qt.Key.Key_V, held=control)
    qtbot.waitUntil(lambda: table.draft is not None)
    assert table.draft is not None
    strike(Qt.Key.Key_Insert)  # a line across the ruler, in the middle of what is seen
    known = table.draft.marks.scale
    assert isinstance(known, KnownLength)
    (left, _y), (right, _y2) = known.line
    write(qtbot, f"{(right - left) * MM_PER_PX:.1f} mm")
    strike(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: isinstance(table.draft.found, FoundOutline))
    strike(*[Qt.Key.Key_Return] * 2)  # the outline found, the weave
    settled()
    strike(*[Qt.Key.Key_Return] * 3)  # the colour, the flaws, the facts
    assert table.marking.panel.shelve_button.hasFocus()
    before = len(session.pieces)
    with qtbot.waitSignal(session.changed):
        strike(Qt.Key.Key_Return)
    assert len(session.pieces) == before + 1
    new = session.pieces[-1]
    assert new.outline.width == pytest.approx(200, rel=0.02)

    strike(Qt.Key.Key_1, held=control)
    strike(Qt.Key.Key_End)  # from piece to piece with the arrows, to the last with End
    settled()
    strike(Qt.Key.Key_M, held=control)
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rowCount() > 0)
    strike(Qt.Key.Key_3, held=control)
    assert match.list.hasFocus()
    strike(Qt.Key.Key_Space)
    assert match.lay_over.isVisible()
    strike(Qt.Key.Key_Escape)
    with qtbot.waitSignal(session.changed):
        strike(Qt.Key.Key_Return)
    assert [piece.reserved_for for piece in session.pieces].count("a part") == 1
    strike(Qt.Key.Key_Z, held=control)
    qtbot.waitUntil(lambda: not any(piece.reserved_for for piece in session.pieces))
    settled()
