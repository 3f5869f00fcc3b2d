"""How a photograph's scale is first offered to be set."""

from pathlib import Path

from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.photo_table.found import Sureness, scale_found
from bindery_stock.bench.photo_table.marks import KnownRectangle, Marks
from bindery_stock.desktop.photo_table.scale_step import ScaleStep
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings


def test_four_corners_are_offered_first_and_the_ruler_is_remembered_once_chosen(
    qtbot: QtBot, qapp: object, tmp_path: Path
) -> None:
    session = Session(Settings(tmp_path / "fresh.ini"))
    step = ScaleStep(session)
    qtbot.addWidget(step)
    step.show()
    assert step.by_corners.isChecked()
    assert step.tool is step.corner_tool
    middle = QPoint(8, step.by_ruler.height() // 2)
    qtbot.mouseClick(step.by_ruler, Qt.MouseButton.LeftButton, pos=middle)
    again = ScaleStep(Session(Settings(tmp_path / "fresh.ini")))
    qtbot.addWidget(again)
    assert again.by_ruler.isChecked()


def test_the_step_says_the_tilt_and_the_trust_over_200_mm() -> None:
    """A 200 × 200 mm sheet whose far side looks shorter by a tenth."""
    corners = ((120.0, 100.0), (880.0, 100.0), (920.0, 900.0), (80.0, 900.0))
    found = scale_found(Marks(scale=KnownRectangle(corners, 200.0, 200.0)))
    assert found.standing is Sureness.FOUND
    assert "mm over 200 mm" in found.words
    assert "° aslant" in found.words


def test_a_photograph_taken_too_much_from_the_side_is_refused_with_advice() -> None:
    corners = ((400.0, 700.0), (600.0, 700.0), (900.0, 900.0), (100.0, 900.0))
    found = scale_found(Marks(scale=KnownRectangle(corners, 200.0, 200.0)))
    assert found.standing is Sureness.WRONG
    assert "straight above" in found.words
