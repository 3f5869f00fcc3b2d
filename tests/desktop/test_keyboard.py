"""Every place is walked through by Tab alone, and each of its entries is come to once a round."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
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

from bindery_stock.desktop.app import build
from bindery_stock.desktop.photo_table.place import PhotoTable
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
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
    qtbot.waitUntil(lambda: not session.jobs.busy, timeout=10000)


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
    qtbot.waitUntil(lambda: not session.jobs.busy, timeout=10000)
    walk(window, qtbot)


def test_every_place_of_the_window_is_walked_through(window: Window) -> None:
    assert {place.title for place in window.places} == set(TITLES)


def test_tab_comes_to_everything_on_the_sheet_of_a_piece(
    window: Window, session: Session, qtbot: QtBot
) -> None:
    session.show_code(session.pieces[0].code)
    qtbot.waitUntil(lambda: not session.jobs.busy, timeout=10000)
    walk(window, qtbot)


@pytest.mark.parametrize("step", range(6))
def test_tab_comes_to_everything_at_each_step_of_the_photo_table(
    window: Window, session: Session, photo_of_cloth: Path, step: int, qtbot: QtBot
) -> None:
    session.photos_offered.emit([photo_of_cloth])
    table = next(place for place in window.places if isinstance(place, PhotoTable))
    qtbot.waitUntil(lambda: table.draft is not None, timeout=10000)
    table.marking.go_to_step(step)
    qtbot.waitUntil(lambda: not session.jobs.busy, timeout=20000)
    walk(window, qtbot)


def test_a_list_or_a_table_hands_tab_on(window: Window) -> None:
    for view in window.findChildren(QAbstractItemView):
        if not isinstance(view.parent(), QComboBox | QTabBar):
            assert not view.tabKeyNavigation() or view.focusPolicy() == Qt.FocusPolicy.NoFocus
