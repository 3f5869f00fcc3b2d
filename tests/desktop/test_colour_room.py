"""Judging photographs of a target by hand and by keyboard, and lending a correction."""

import json
import os
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from bindery_stock.bench.colour_room.sitting import editions, kept_target
from bindery_stock.colour import BEFORE_2014, SINCE_2014, PhotoVerdict
from bindery_stock.desktop.colour_room.screen import ColourRoomScreen
from bindery_stock.desktop.colours.archive_picker import ArchivePicker
from bindery_stock.desktop.session import Session
from tests.desktop.charts import CORNERS, photograph_target
from tests.desktop.shelving import shelve_cloth

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def room(qtbot: QtBot, session: Session) -> ColourRoomScreen:
    place = ColourRoomScreen(session)
    place.stock_opened()
    qtbot.addWidget(place)
    place.resize(1100, 740)
    place.show()
    qtbot.waitExposed(place)
    return place


def look_at(qtbot: QtBot, room: ColourRoomScreen, photo: Path) -> None:
    room.look_at(photo)
    qtbot.waitUntil(lambda: room._path == photo and not room.session.jobs.busy)
    if room.found.strip.isVisible():  # marked by hand in these tests
        qtbot.keyClick(room.canvas, Qt.Key.Key_Escape)


def spot(room: ColourRoomScreen, point: tuple[float, float]) -> QPoint:
    return room.canvas.to_widget(point).toPoint()


def drag(
    qtbot: QtBot, room: ColourRoomScreen, start: tuple[float, float], end: tuple[float, float]
) -> None:
    qtbot.mousePress(room.canvas, LEFT, pos=spot(room, start))
    qtbot.mouseMove(room.canvas, spot(room, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    qtbot.mouseMove(room.canvas, spot(room, end))
    qtbot.mouseRelease(room.canvas, LEFT, pos=spot(room, end))


def mark(qtbot: QtBot, room: ColourRoomScreen) -> None:
    """Drag from the first corner patch to the opposite one, and wait for the judgement."""
    drag(qtbot, room, CORNERS[0], CORNERS[2])
    judged(qtbot, room)


def judged(qtbot: QtBot, room: ColourRoomScreen) -> None:
    qtbot.waitUntil(lambda: not room.session.jobs.busy)


def test_one_drag_over_a_sound_target_brings_the_verdict_and_the_fit(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "target.png"))
    mark(qtbot, room)
    fit = room.panel.fit
    assert fit.isVisible()
    assert fit.verdict.text() == "Good"
    assert "A patch left out is found to ΔE00" in fit.sentence.text()
    assert "chosen" in " ".join(label.text() for label in fit.models.findChildren(type(fit.patch)))
    assert "the worst of all" in fit.patch.text()
    assert fit.trust.text().startswith("A colour read by it is good to ±")
    assert room._fit is not None
    assert room._fit.report.verdict is PhotoVerdict.GOOD


def test_a_target_photographed_on_its_side_is_found_whichever_corner_the_drag_begins_at(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "turned.png", quarter_turns=2))
    width, height = room._size
    drag(
        qtbot,
        room,
        (width - CORNERS[0][0], height - CORNERS[0][1]),
        (width - CORNERS[2][0], height - CORNERS[2][1]),
    )
    judged(qtbot, room)
    assert room.panel.fit.verdict.text() == "Good"


def test_a_finger_over_a_patch_is_dropped_and_named_with_why(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "finger.png", finger_over=13))
    mark(qtbot, room)
    assert "Green, foreign" in room.panel.fit.dropped.text()
    assert "Uncover the target" in room.panel.fit.advice.text()


def test_a_photograph_in_dappled_light_must_be_retaken_and_is_not_lent(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "dappled.png", dappled=0.35))
    mark(qtbot, room)
    assert room.panel.fit.verdict.text() == "Retake"
    assert "One soft light" in room.panel.fit.advice.text()
    assert not room.panel.sitting.use_button.isEnabled()
    assert room.panel.sitting.use_button.toolTip() == "Retake the photograph first."


def test_a_burnt_out_target_says_how_many_patches_are_left(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "burnt.png", cast=(4.0, 4.0, 3.5)))
    mark(qtbot, room)
    assert "Only 6 of the target's 24 patches can be used" in room.panel.trouble.text()
    assert not room.panel.sitting.use_button.isEnabled()


def test_corners_off_the_target_are_refused_in_words_and_can_be_dragged_right(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "target.png"))
    drag(qtbot, room, (20.0, 20.0), (34.0, 28.0))
    judged(qtbot, room)
    assert room.panel.trouble.isVisible()
    assert room.panel.trouble.text().startswith("△")
    qtbot.keyClick(room.canvas, Qt.Key.Key_Delete)
    mark(qtbot, room)
    assert room.panel.fit.verdict.text() == "Good"


def test_a_corner_is_set_right_with_the_arrow_keys_alone(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "target.png"))
    mark(qtbot, room)
    before = room.tool.corners
    qtbot.keyClick(room.canvas, Qt.Key.Key_Period)
    qtbot.keyClick(room.canvas, Qt.Key.Key_Right)
    judged(qtbot, room)
    assert room.tool.corners[0][0] > before[0][0]
    assert room.tool.corners[1:] == before[1:]


def test_the_arrow_keys_tell_of_each_patch_in_turn(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "target.png"))
    mark(qtbot, room)
    chart = room.panel.fit.chart
    chart.setFocus()
    for _ in range(8):
        qtbot.keyClick(chart, Qt.Key.Key_Up)
    for _ in range(8):
        qtbot.keyClick(chart, Qt.Key.Key_Left)
    assert chart.current == 0
    qtbot.mouseClick(chart, LEFT, pos=chart._cell(0).center().toPoint())
    assert room.panel.fit.patch.text().startswith("Dark skin: found to ΔE00")


def test_the_other_edition_is_held_against_when_it_is_chosen(
    qtbot: QtBot, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "old.png", reference=BEFORE_2014))
    mark(qtbot, room)
    assert room._fit is not None
    newer = room._fit.report.mean
    room.panel.editions.box.setFocus()
    qtbot.keyClick(room.panel.editions.box, Qt.Key.Key_Down)
    judged(qtbot, room)
    assert room._fit is not None
    assert "before November 2014" in room.panel.fit.trust.text()
    assert room._fit.report.mean < newer


def test_values_of_ones_own_come_from_a_file_and_stay_with_the_stockroom(
    qtbot: QtBot, session: Session, room: ColourRoomScreen, tmp_path: Path
) -> None:
    lines = ["L*,a*,b*", *(",".join(f"{v:.2f}" for v in lab) for lab in BEFORE_2014.labs)]
    file = tmp_path / "mine.csv"
    file.write_text("\n".join(lines), encoding="utf-8")
    room.panel.editions.read_file(file)
    judged(qtbot, room)
    assert room.panel.editions.box.currentText() == "Values from mine.csv"
    assert editions(session.stockroom)[-1].labs == BEFORE_2014.labs


def test_a_file_without_24_rows_is_refused_and_the_edition_stays(
    qtbot: QtBot, session: Session, room: ColourRoomScreen, tmp_path: Path
) -> None:
    file = tmp_path / "short.csv"
    file.write_text("L*,a*,b*\n50,0,0\n", encoding="utf-8")
    with qtbot.waitSignal(session.trouble) as told:
        room.panel.editions.read_file(file)
    assert "1 rows; a target has 24 patches" in told.args[0]
    assert room.panel.editions.reference is SINCE_2014


def test_a_target_is_kept_for_the_sitting_and_the_sitting_is_ended(
    qtbot: QtBot, session: Session, room: ColourRoomScreen, tmp_path: Path
) -> None:
    look_at(qtbot, room, photograph_target(tmp_path / "target.png"))
    assert not room.panel.sitting.use_button.isEnabled()
    mark(qtbot, room)
    room.panel.sitting.light.setCurrentText("")
    qtbot.keyClicks(room.panel.sitting.light, "north window")
    qtbot.mouseClick(room.panel.sitting.use_button, LEFT)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    kept = kept_target(session.stockroom)
    assert kept is not None
    assert kept.light == "north window"
    assert kept.photo.read_bytes() == (tmp_path / "target.png").read_bytes()
    assert "north window" in room.panel.sitting.state.text()
    qtbot.mouseClick(room.panel.sitting.end_button, LEFT)
    qtbot.waitUntil(lambda: kept_target(session.stockroom) is None)
    judged(qtbot, room)
    assert room.panel.sitting.state.text() == "No target is kept for this sitting."


def test_a_photograph_from_the_archive_is_found_by_the_code_it_shows(
    qtbot: QtBot, session: Session, room: ColourRoomScreen, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session, photo_of_cloth)
    room.choose_archived()
    picker = room._picker
    assert isinstance(picker, ArchivePicker)
    qtbot.waitUntil(lambda: picker.list.count() == 1 and not session.jobs.busy)
    qtbot.keyClicks(picker.search, "no such")
    assert picker.list.item(0).isHidden()
    picker.search.clear()
    qtbot.keyClicks(picker.search, code.lower())
    assert not picker.list.item(0).isHidden()
    qtbot.mouseClick(picker.take_button, LEFT)
    qtbot.waitUntil(lambda: room._path is not None and not session.jobs.busy)
    assert room._name == photo_of_cloth.name


def test_an_empty_archive_says_how_photographs_come_into_it(
    qtbot: QtBot, session: Session, room: ColourRoomScreen
) -> None:
    room.choose_archived()
    picker = room._picker
    assert picker is not None
    qtbot.waitUntil(picker.empty.isVisible)
    picker.reject()


def test_a_file_that_is_no_photograph_is_told_and_nothing_changes(
    qtbot: QtBot, session: Session, room: ColourRoomScreen, tmp_path: Path
) -> None:
    bad = tmp_path / "notes.jpg"
    bad.write_text("not a picture", encoding="utf-8")
    with qtbot.waitSignal(session.trouble) as told:
        room.look_at(bad)
    assert "notes.jpg" in told.args[0]
    assert room.empty.isVisible()


def test_choosing_opens_a_dialog_that_does_not_block(qtbot: QtBot, room: ColourRoomScreen) -> None:
    room.choose()
    dialog = room.findChild(QFileDialog)
    assert dialog is not None
    dialog.reject()


@pytest.mark.parametrize("name", ["col_1.jpg", "mac_1.jpg"])
def test_real_photographs_of_a_target_are_judged(
    qtbot: QtBot, room: ColourRoomScreen, name: str
) -> None:
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    folder = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    marks = folder / "patches.json"
    if not marks.is_file():
        pytest.skip("no photographs of a target here: set BINDERY_TARGET_PHOTOS to their folder")
    centres = json.loads(marks.read_text(encoding="utf-8"))[name]["centres"]
    look_at(qtbot, room, folder / name)
    for number in (0, 5, 23, 18):
        qtbot.mouseClick(room.canvas, LEFT, pos=spot(room, tuple(centres[number])))
    judged(qtbot, room)
    assert room.panel.fit.verdict.text() == {"col_1.jpg": "Good", "mac_1.jpg": "Usable"}[name]
