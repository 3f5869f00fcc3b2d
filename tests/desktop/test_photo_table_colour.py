"""The colour of a scrap: targets, cards, sheets, lent corrections, instruments."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QCheckBox, QPushButton
from pytestqt.qtbot import QtBot

from bindery_stock.bench.colour_room.sitting import keep_target
from bindery_stock.bench.colour_room.snapshot import COLOUR_ROOM
from bindery_stock.bench.photo_table.marks import Grey, KnownLength, Patches
from bindery_stock.colour import SINCE_2014, ColourReading, delta_e00
from bindery_stock.desktop.photo_table.colour_step import ColourStep
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from bindery_stock.trade import hazards, wet_work
from tests.desktop.charts import CLOTH, CLOTH_AT, CORNERS, GREY_AT, GREY_L, photograph_target

LEFT = Qt.MouseButton.LeftButton
Corner = tuple[float, float]


@pytest.fixture
def table(session: Session, qtbot: QtBot) -> Iterator[PhotoTableScreen]:
    faults: list[Exception] = []
    session.fault.connect(faults.append)
    place = PhotoTableScreen(session)
    window = Window(session, [place], [])
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    yield place
    assert faults == []


def offer(table: PhotoTableScreen, qtbot: QtBot, photo: Path) -> ColourStep:
    """Put the photograph on the table, outline the cloth, and go to its colour."""
    table.session.photos_offered.emit([photo])
    qtbot.waitUntil(lambda: table.draft is not None and not table.session.jobs.busy)
    table.marking.go_to_step(1)
    drag(table, qtbot, CLOTH_AT[0], CLOTH_AT[2])
    table.marking.go_to_step(3)
    step = table.marking.steps[3]
    assert isinstance(step, ColourStep)
    settle(table, qtbot)
    return step


def settle(table: PhotoTableScreen, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not table.session.jobs.busy)


def spot(table: PhotoTableScreen, point: Corner) -> QPoint:
    return table.marking.canvas.to_widget(point).toPoint()


def drag(table: PhotoTableScreen, qtbot: QtBot, start: Corner, end: Corner) -> None:
    canvas = table.marking.canvas
    qtbot.mousePress(canvas, LEFT, pos=spot(table, start))
    qtbot.mouseMove(canvas, spot(table, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    qtbot.mouseMove(canvas, spot(table, end))
    qtbot.mouseRelease(canvas, LEFT, pos=spot(table, end))


def choose(qtbot: QtBot, step: ColourStep, kind: str) -> None:
    box = step.references.kind
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Home)  # a target found by itself may be chosen already
    while box.currentData() != kind:
        qtbot.keyClick(box, Qt.Key.Key_Down)
    box.activated.emit(box.currentIndex())


def tick(qtbot: QtBot, box: QCheckBox) -> None:
    assert box.isVisible()
    qtbot.mouseClick(box, LEFT, pos=QPoint(8, box.height() // 2))


def take(table: PhotoTableScreen, qtbot: QtBot, step: ColourStep) -> ColourReading:
    """Take the suggested patches and wait for what is read from them."""
    settle(table, qtbot)
    step.take_suggestion()
    settle(table, qtbot)
    assert table.draft is not None
    sample = next(
        s
        for s in table.draft.readings
        if s.rings == tuple(p.ring for p in table.draft.marks.patches)
        and s.reference == table.draft.marks.reference
        and s.lent == table.draft.marks.lent
    )
    return table.draft.readings[sample]


def test_a_target_in_the_photograph_is_marked_set_right_and_corrects_the_cloth(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "with target.png"))
    choose(qtbot, step, "target")
    askew = (CORNERS[2][0] + 30, CORNERS[2][1] + 20)
    drag(table, qtbot, CORNERS[0], askew)
    drag(table, qtbot, askew, CORNERS[2])
    for place, corner in ((1, CORNERS[1]), (3, CORNERS[3])):
        assert table.draft is not None
        assert isinstance(table.draft.marks.reference, Patches)
        drag(table, qtbot, table.draft.marks.reference.corners[place], corner)
    reading = take(table, qtbot, step)
    assert float(delta_e00(CLOTH, reading.lab)) < 2.0
    assert "24-patch target" in reading.method
    assert table.draft is not None
    assert len(table.draft.marks.patches) == 3


def test_a_grey_card_proves_the_light_and_the_sittings_target_corrects(
    table: PhotoTableScreen, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    target = photograph_target(tmp_path / "target.png")
    keep_target(
        session.stockroom,
        target,
        name="target.png",
        size=(560, 480),
        corners=CORNERS,
        reference=SINCE_2014,
        light="north window",
        camera="",
    )
    session.snapshot(COLOUR_ROOM).forget()  # it was kept behind the back of the window
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.png", finger_over=3))
    choose(qtbot, step, "card")
    step.references.lightness.selectAll()
    qtbot.keyClicks(step.references.lightness, f"{GREY_L:g}")
    drag(table, qtbot, GREY_AT[0], GREY_AT[2])
    tick(qtbot, step.references.lend)
    reading = take(table, qtbot, step)
    assert "from another photograph of the sitting" in reading.method
    assert float(delta_e00(CLOTH, reading.lab)) < 2.0


def test_a_lent_correction_is_refused_with_the_reason_once_the_light_has_changed(
    table: PhotoTableScreen, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    keep_target(
        session.stockroom,
        photograph_target(tmp_path / "target.png"),
        name="target.png",
        size=(560, 480),
        corners=CORNERS,
        reference=SINCE_2014,
        light="north window",
        camera="",
    )
    session.snapshot(COLOUR_ROOM).forget()  # it was kept behind the back of the window
    lamp = photograph_target(tmp_path / "scrap.png", cast=(0.9, 0.62, 0.36))
    step = offer(table, qtbot, lamp)
    choose(qtbot, step, "card")
    step.references.lightness.selectAll()
    qtbot.keyClicks(step.references.lightness, f"{GREY_L:g}")
    drag(table, qtbot, GREY_AT[0], GREY_AT[2])
    tick(qtbot, step.references.lend)
    settle(table, qtbot)
    step.take_suggestion()
    settle(table, qtbot)
    assert "a known patch has drifted" in step.view.trust.text()
    assert "Photograph the target in the same light" in step.view.trust.text()
    tick(qtbot, step.references.lend)
    settle(table, qtbot)
    assert "one neutral patch" in step.view.trust.text()


def test_without_a_kept_target_none_is_offered(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.png"))
    choose(qtbot, step, "card")
    assert not step.references.lend.isVisible()


def test_a_refused_card_shows_its_reason_and_the_piece_is_shelved_with_its_family_by_eye(
    table: PhotoTableScreen, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    """A card of L* 36 made clear photographs worse, without a word."""
    photo = photograph_target(tmp_path / "scrap.png")
    step = offer(table, qtbot, photo)
    choose(qtbot, step, "card")
    step.references.lightness.selectAll()
    qtbot.keyClicks(step.references.lightness, "36")
    drag(table, qtbot, GREY_AT[0], GREY_AT[2])
    settle(table, qtbot)
    refusal = step.references.refusal
    assert refusal.isVisible()
    assert "its L* is 36; only from 45 to 75" in refusal.text()
    assert "±" not in step.view.reading.text()
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    assert table.marking.step == 3  # no colour is taken by it
    step.references.lightness.selectAll()
    qtbot.keyClicks(step.references.lightness, f"{GREY_L:g}")
    settle(table, qtbot)
    assert not refusal.isVisible()
    step.references.lightness.selectAll()
    qtbot.keyClicks(step.references.lightness, "36")
    settle(table, qtbot)
    assert not step.by_eye.isVisible()
    step.without.click()
    assert step.by_eye.isVisible()
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    assert table.marking.step == 3  # its family is asked for
    assert step.family.itemText(1) == "vivid green"
    step.family.setCurrentIndex(step.family.findData("bright red"))
    step.family.activated.emit(step.family.currentIndex())
    facts = table.marking.facts_step
    assert facts.family.currentData() == "bright red"
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Return)
    assert table.marking.step == 4
    assert table.draft is not None
    table.draft.marks = replace(
        table.draft.marks, scale=KnownLength((CLOTH_AT[0], CLOTH_AT[1]), 100.0)
    )
    with qtbot.waitSignal(session.changed):
        table.marking.shelve_wanted.emit(False)
    (piece,) = session.pieces
    assert piece.colours == ()
    assert piece.colour_family == "bright red"
    assert {"R34"} <= {hazard.rule for hazard in hazards(piece)}
    assert wet_work(piece) is not None


def test_a_family_said_at_the_colour_takes_nothing_typed_at_the_facts(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.png"))
    table.marking.go_to_step(5)
    qtbot.keyClicks(table.marking.facts_step.price, "4.5")
    table.marking.go_to_step(3)
    step.without.click()
    step.family.setCurrentIndex(step.family.findData("brown"))
    step.family.activated.emit(step.family.currentIndex())
    assert table.marking.facts_step.price.text() == "4.5"
    assert table.marking.facts_step.family.currentData() == "brown"


def shaded(path: Path) -> Path:
    """A scrap on a mat whose light falls off by a third from left to right."""
    picture = np.full((480, 560, 3), 150.0)
    picture[330:440, 100:230] = (132, 42, 38)
    picture *= np.linspace(1.0, 0.7, 560)[None, :, None]
    Image.fromarray(picture.astype(np.uint8)).save(path)
    return path


def test_uneven_light_is_warned_of_and_a_plain_sheet_levels_it(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, shaded(tmp_path / "shaded.png"))
    step.take_suggestion()
    settle(table, qtbot)
    assert "The light differs by" in step.view.trust.text()
    tick(qtbot, step.references.level)
    drag(table, qtbot, (20, 20), (540, 300))
    settle(table, qtbot)
    assert table.draft is not None
    assert table.draft.marks.sheet
    assert "The light differs by" not in step.view.trust.text()


def test_a_second_grey_card_is_asked_for_and_levels_the_light(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, shaded(tmp_path / "shaded.png"))
    choose(qtbot, step, "card")
    drag(table, qtbot, (20, 40), (80, 100))
    assert not step.references.is_wanted
    tick(qtbot, step.references.two)
    assert step.references.is_wanted
    drag(table, qtbot, (480, 40), (540, 100))
    assert table.draft is not None
    assert isinstance(table.draft.marks.reference, Grey)
    assert table.draft.marks.reference.second
    assert "2 neutral patches" in take(table, qtbot, step).method


def test_of_a_stamped_patch_the_cloth_is_chosen_and_read_alone(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    picture = np.full((480, 560, 3), 150, np.uint8)
    picture[330:440, 100:230] = (132, 42, 38)
    picture[330:440:2, 150:230] = (205, 170, 90)
    Image.fromarray(picture).save(tmp_path / "stamped.png")
    step = offer(table, qtbot, tmp_path / "stamped.png")
    drag(table, qtbot, (140, 350), (210, 420))
    settle(table, qtbot)
    assert "more than one colour" in step.view.trust.text()
    red = next(
        button for button in step.view.choice.findChildren(QPushButton) if "red" in button.text()
    )
    qtbot.mouseClick(red, LEFT)
    settle(table, qtbot)
    assert "more than one colour" not in step.view.trust.text()
    assert "red" in step.view.reading.text()
    assert step.view.choice.isHidden()


def test_an_instrument_reading_is_typed_adapted_and_said(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.png"))
    step.instrument.line.setFocus()
    qtbot.keyClicks(step.instrument.line, "43.1 22.0 11.4")
    assert "instrument reading, D50/2°" in step.instrument.told.text()
    step.instrument.white.setFocus()
    qtbot.keyClick(step.instrument.white, Qt.Key.Key_Down)
    step.instrument.white.activated.emit(step.instrument.white.currentIndex())
    assert "D65/10° adapted to D50/2°" in step.instrument.told.text()
    assert table.draft is not None
    (typed,) = table.draft.marks.typed
    assert typed.u == pytest.approx(4.5)
    assert "adapted" in step.view.trust.text()
    step.instrument.line.selectAll()
    qtbot.keyClicks(step.instrument.line, "reddish")
    assert table.draft.marks.typed == ()
    assert step.instrument.told.text().startswith("△ No colour was found")


def test_what_is_pasted_with_its_illuminant_goes_before_the_choice_beside_it(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    step = offer(table, qtbot, photograph_target(tmp_path / "scrap.png"))
    qtbot.keyClicks(step.instrument.line, "L* 43,1 a* 22,0 b* 11,4 C/2")
    assert "C/2° adapted" in step.instrument.told.text()


def test_a_suggested_patch_does_not_lie_on_a_stain(
    table: PhotoTableScreen, qtbot: QtBot, tmp_path: Path
) -> None:
    """The roomiest place of the cloth was suggested, stain or not."""
    photo = photograph_target(tmp_path / "stained.png")
    (left, top), _, (right, bottom), _ = CLOTH_AT
    middle = ((left + right) / 2, (top + bottom) / 2)
    stain = (middle[0] - 14, middle[1] - 14, middle[0] + 14, middle[1] + 14)
    with Image.open(photo) as picture:
        stained = picture.convert("RGB")
    stained.paste(
        stained.crop(tuple(int(v) for v in stain)).point(lambda code: code // 2),
        (int(stain[0]), int(stain[1])),
    )
    stained.save(photo)
    step = offer(table, qtbot, photo)
    step.take_suggestion()
    settle(table, qtbot)
    assert table.draft is not None
    marked = table.draft.marks.patches
    assert marked
    for patch in marked:
        (x0, y0), _, (x1, y1), _ = patch.ring
        assert x1 <= stain[0] or x0 >= stain[2] or y1 <= stain[1] or y0 >= stain[3]
