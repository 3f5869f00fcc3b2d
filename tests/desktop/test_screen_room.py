"""The window opens whole on its screen, with its foot."""

import pytest
from PySide6.QtCore import QMargins, QSize
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.app import build
from bindery_stock.desktop.screen_room import frame_of, opening_size
from bindery_stock.desktop.session import Session

WANTED, LEAST = QSize(1280, 800), QSize(960, 640)
FRAME = QMargins(1, 20, 1, 5)


@pytest.mark.parametrize(
    ("room", "opened"),
    [
        (QSize(1920, 1080), QSize(1280, 800)),
        (QSize(1280, 800), QSize(1278, 775)),
        (QSize(1366, 768), QSize(1280, 743)),
        (QSize(1280, 753), QSize(1278, 728)),  # a panel of the desktop takes the rest
        (QSize(800, 600), QSize(960, 640)),
    ],
)
def test_a_window_opens_as_large_as_its_screen_has_room(room: QSize, opened: QSize) -> None:
    assert opening_size(WANTED, LEAST, room, FRAME) == opened


def test_the_window_at_the_first_start_fits_its_screen_with_its_frame(
    qtbot: QtBot, session: Session
) -> None:
    window, _desk = build(session)
    qtbot.addWidget(window)
    room, frame = window.screen().availableSize(), frame_of(window)
    assert frame.top() > 0
    window.show()
    assert window.height() + frame.top() + frame.bottom() <= max(room.height(), 640)
    assert window.foot.mapTo(window, window.foot.rect().bottomLeft()).y() < window.height()
    window.resize(1200, 790)  # chosen by the user: it stays
    window.move(3, 3)
    assert window.size() == QSize(1200, 790)
    window.close()
