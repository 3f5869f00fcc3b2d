"""The scale set by the counted squares of a grid, such as a cutting mat's."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.photo_table.grid_size import GridSize
from bindery_stock.desktop.photo_table.scale_step import ScaleStep
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from bindery_stock.errors import EntryError
from tests.desktop.hands import draw, press, write

# Squares of 40 px: twenty across and twenty-five down in the photograph of the fixture.
CORNERS = ((100.0, 80.0), (900.0, 1080.0))


@pytest.fixture
def table(session: Session, photo_of_cloth: Path, qtbot: QtBot) -> PhotoTableScreen:
    place = PhotoTableScreen(session)
    window = Window(session, [place], [])
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    session.photos_offered.emit([photo_of_cloth])
    qtbot.waitUntil(lambda: place.draft is not None)
    place.setProperty("kept", window)  # the window lives as long as the place is tested
    return place


def test_counted_squares_set_the_scale_and_the_middles_of_their_sides_tell_the_lens_error(
    table: PhotoTableScreen, session: Session, qtbot: QtBot
) -> None:
    scale = table.marking.steps[0]
    assert isinstance(scale, ScaleStep)
    dot = QPoint(8, scale.by_grid.height() // 2)
    qtbot.mouseClick(scale.by_grid, Qt.MouseButton.LeftButton, pos=dot)
    canvas = table.marking.canvas
    draw(qtbot, canvas, *CORNERS)
    for text in ("20", "25", "10 mm"):
        write(qtbot, text)
        press(qtbot, Qt.Key.Key_Tab)
    header = table.marking.panel.headers[0]
    assert "rectangle of 200 × 250 mm; lens error unseen" in header.finding.words
    for middle in ((500.0, 80.0), (900.0, 580.0), (500.0, 1080.0), (100.0, 580.0)):
        at = canvas.to_widget(middle).toPoint()
        qtbot.mouseDClick(canvas, Qt.MouseButton.LeftButton, pos=at)
    assert "lens error 0." in header.finding.words
    scale.accept()
    assert table.draft is not None
    again = ScaleStep(session)
    qtbot.addWidget(again)
    again.by_corners.setChecked(True)
    again.show_draft(table.draft)
    assert again.by_grid.isChecked()


def test_half_a_square_is_refused_by_name(session: Session, qtbot: QtBot) -> None:
    grid = GridSize(session)
    qtbot.addWidget(grid)
    grid.across.setText("10.5")
    with pytest.raises(EntryError, match="whole squares"):
        grid.measures()
