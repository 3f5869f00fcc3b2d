"""A target or a card found in a photograph by itself: shown, kept with one key, or left out.

The photographs are real JPEG files with a painted target; that targets are found in photographs of
the world is held by ``tests/colour/test_found_references.py``.
"""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.bench.photo_table.readings import samples
from bindery_stock.colour import delta_e00
from bindery_stock.desktop.colour_room.screen import ColourRoomScreen
from bindery_stock.desktop.photo_table.colour_step import ColourStep
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from tests.desktop.charts import CLOTH, CORNERS, photograph_target
from tests.desktop.test_photo_table_colour import choose, drag, offer, settle, table

__all__ = ["table"]


@pytest.fixture
def room(qtbot: QtBot, session: Session) -> ColourRoomScreen:
    place = ColourRoomScreen(session)
    place.stock_opened()
    qtbot.addWidget(place)
    place.resize(1100, 740)
    place.show()
    qtbot.waitExposed(place)
    return place


def marked(table: PhotoTableScreen) -> object:
    assert table.draft is not None
    return table.draft.marks.reference


def with_a_card(path: Path, *, grey: bool = True) -> Path:
    """A red scrap on brown, and a grey card beside it."""
    picture = np.full((480, 560, 3), (120, 80, 40), np.uint8)
    picture[330:440, 100:230] = (132, 42, 38)
    if grey:
        picture[60:200, 300:480] = (119, 119, 119)
    Image.fromarray(picture).save(path, quality=95)
    return path


def test_a_target_in_a_dropped_photograph_stands_marked_and_one_key_reads_the_cloth_by_it(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.jpg"))
    found = marked(table)
    assert isinstance(found, Patches)
    assert np.abs(np.array(found.corners) - CORNERS).max() < 6
    assert step.found_mark.strip.isVisible()
    assert "Found a target; the fit agrees (left-out ΔE00" in step.found_mark.strip.words.text()
    assert table.draft is not None
    assert table.draft.may_undo  # the outline, and not the target
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    settle(table, qtbot)
    assert table.marking.step == 4
    assert not step.found_mark.strip.isVisible()
    (sample,) = samples(table.draft.marks)
    reading = table.draft.readings[sample]
    assert "24-patch target" in reading.method
    assert float(delta_e00(CLOTH, reading.lab)) < 2.0
    table.marking.undo_mark()
    table.marking.undo_mark()
    assert table.draft.marks.outline == ()
    assert marked(table) == found


def test_a_target_left_out_stays_out_and_comes_back_with_undo(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.jpg"))
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Escape)
    settle(table, qtbot)
    assert marked(table) is None
    assert step.references.kind.currentData() == "none"
    assert not step.found_mark.strip.isVisible()
    table.marking.undo_mark()
    assert isinstance(marked(table), Patches)


def test_a_doubtful_target_is_asked_about_and_marked_by_one_key_only(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, with_a_card(tmp_path / "scrap.jpg", grey=False))
    assert table.draft is not None
    table.draft.looked_for_reference = False
    step.found_mark.search.found.emit(FoundReference(CORNERS))
    strip = step.found_mark.strip
    assert strip.words.text().startswith("Is this the target?")
    assert marked(table) is None
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    assert isinstance(marked(table), Patches)
    assert table.marking.step == 3
    settle(table, qtbot)


def test_what_the_hand_has_marked_is_not_overwritten_by_what_is_found_later(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, with_a_card(tmp_path / "scrap.jpg", grey=False))
    choose(qtbot, step, "target")
    drag(table, qtbot, (60.0, 60.0), (300.0, 220.0))
    by_hand = marked(table)
    assert isinstance(by_hand, Patches)
    step.found_mark.search.found.emit(FoundReference(CORNERS))
    assert marked(table) == by_hand
    assert not step.found_mark.strip.isVisible()
    settle(table, qtbot)


def test_of_a_photograph_without_target_and_card_nothing_is_said(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, with_a_card(tmp_path / "scrap.jpg", grey=False))
    assert table.draft is not None
    assert table.draft.looked_for_reference
    assert marked(table) is None
    assert not step.found_mark.strip.isVisible()


def test_a_grey_card_is_offered_and_enter_does_not_apply_it_but_its_own_key_does(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, with_a_card(tmp_path / "scrap.jpg"))
    assert step.found_mark.strip.words.text().startswith("This may be a grey card.")
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    assert marked(table) is None
    table.marking.go_to_step(3)
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_K)
    card = marked(table)
    assert isinstance(card, Grey)
    assert np.mean(card.ring, axis=0) == pytest.approx((390, 130), abs=4)
    assert not step.found_mark.strip.isVisible()
    settle(table, qtbot)


def test_the_search_ends_when_the_photograph_is_set_aside(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    table.session.photos_offered.emit([photograph_target(tmp_path / "scrap.jpg")])
    step = table.marking.steps[3]
    assert isinstance(step, ColourStep)
    qtbot.waitUntil(lambda: table.draft is not None)
    draft = table.draft
    assert draft is not None
    assert step.found_mark.search.is_under_way
    table.set_aside()
    assert not step.found_mark.search.is_under_way
    settle(table, qtbot)
    assert not draft.looked_for_reference
    assert draft.marks.reference is None


def test_in_the_colour_room_the_target_is_found_and_judged_without_a_stroke(
    room: ColourRoomScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    room.look_at(photograph_target(tmp_path / "target.jpg"))
    qtbot.waitUntil(room.found.strip.isVisible)
    assert room.panel.fit.verdict.text() == "Good"
    assert "the fit agrees" in room.found.strip.words.text()
    qtbot.keyClick(room.canvas, Qt.Key.Key_Escape)
    assert room.tool.corners == ()
    assert not room.found.strip.isVisible()
    assert not room.panel.fit.isVisible()


def test_a_card_and_nothing_says_nothing_in_the_colour_room(
    room: ColourRoomScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    room.look_at(with_a_card(tmp_path / "card.jpg"))
    qtbot.waitUntil(lambda: room._path is not None and not room.session.jobs.busy)
    assert not room.found.strip.isVisible()
    assert room.tool.corners == ()
