"""Shelving a photographed scrap at the photo table, by hand and by keyboard."""

import warnings
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from scipy import ndimage

from bindery_stock.bench.photo_table.found import Sureness
from bindery_stock.bench.photo_table.found_outline import FoundOutline
from bindery_stock.bench.photo_table.marks import Grey, KnownRectangle, StepName
from bindery_stock.colour import ReadBy, family
from bindery_stock.desktop.photo_table.colour_step import ColourStep
from bindery_stock.desktop.photo_table.outline_step import OutlineStep
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from bindery_stock.shape import FlawKind
from bindery_stock.stock import Stockroom
from bindery_stock.trade import hazards
from bindery_stock.trade.vocabulary import Kind

# The photograph of the fixture: 4 px to the mm, a scrap of 200 × 250 mm from pixel (100, 80).
PX_PER_MM = 4
SCRAP = ((100.0, 80.0), (900.0, 1080.0))


@pytest.fixture
def window(session: Session, qtbot: QtBot) -> Iterator[Window]:
    faults: list[Exception] = []
    session.fault.connect(faults.append)
    made = Window(session, [PhotoTableScreen(session)], [])
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    yield made
    assert faults == []


@pytest.fixture
def table(window: Window) -> PhotoTableScreen:
    place = window.places[0]
    assert isinstance(place, PhotoTableScreen)
    return place


def offer(table: PhotoTableScreen, qtbot: QtBot, *paths: Path) -> None:
    table.session.photos_offered.emit(list(paths))
    qtbot.waitUntil(lambda: table.draft is not None and not table.session.jobs.busy)


def spot(table: PhotoTableScreen, point: tuple[float, float]) -> QPoint:
    return table.marking.canvas.to_widget(point).toPoint()


def drag(
    table: PhotoTableScreen, qtbot: QtBot, start: tuple[float, float], end: tuple[float, float]
) -> None:
    canvas = table.marking.canvas
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    left = Qt.MouseButton.LeftButton
    qtbot.mousePress(canvas, left, pos=spot(table, start))
    qtbot.mouseMove(canvas, spot(table, middle))
    qtbot.mouseMove(canvas, spot(table, end))
    qtbot.mouseRelease(canvas, left, pos=spot(table, end))


def click(table: PhotoTableScreen, qtbot: QtBot, point: tuple[float, float]) -> None:
    qtbot.mouseClick(table.marking.canvas, Qt.MouseButton.LeftButton, pos=spot(table, point))


def press(qtbot: QtBot, key: Qt.Key, times: int = 1) -> None:
    for _ in range(times):
        focus = QApplication.focusWidget()
        assert isinstance(focus, QWidget)
        qtbot.keyClick(focus, key)


def type_in(qtbot: QtBot, text: str) -> None:
    focus = QApplication.focusWidget()
    assert isinstance(focus, QWidget)
    qtbot.keyClicks(focus, text)


def set_scale(table: PhotoTableScreen, qtbot: QtBot) -> None:
    drag(table, qtbot, (100, 1150), (900, 1150))
    type_in(qtbot, "200 mm")
    press(qtbot, Qt.Key.Key_Return)


def shelve(window: Window, qtbot: QtBot) -> None:
    with qtbot.waitSignal(window.session.changed):
        qtbot.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)


def test_a_dropped_photograph_is_on_the_shelf_after_two_strokes_and_a_few_keys(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    original = photo_of_cloth.read_bytes()
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo_of_cloth))])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    over = window.rect().center()
    with warnings.catch_warnings():
        # Qt 6.12 would rather have a QPointF, which earlier versions do not take.
        warnings.simplefilter("ignore", DeprecationWarning)
        entered = QDragEnterEvent(over, copy, data, left, none)
    QApplication.sendEvent(window, entered)
    QApplication.sendEvent(window, QDropEvent(over.toPointF(), copy, data, left, none))
    qtbot.waitUntil(lambda: table.draft is not None)

    set_scale(table, qtbot)
    assert table.marking.step == 1
    drag(table, qtbot, *SCRAP)
    press(qtbot, Qt.Key.Key_Return, 4)  # outline, weave, colour, flaws
    assert table.marking.steps[table.marking.step].name is StepName.FACTS
    shelve(window, qtbot)

    (piece,) = session.pieces
    assert piece.code == "C-0001"
    assert piece.outline.width == pytest.approx(200, rel=0.01)
    assert piece.outline.height == pytest.approx(250, rel=0.01)
    colour = piece.colour
    assert colour is not None
    assert family(colour.lab) == "red"
    # The scrap is painted sRGB 132, 42, 38, which colour-science 0.4 (sRGB, Bradford to D50)
    # gives as L* 31.60, a* 39.00, b* 24.88.
    assert colour.lab == pytest.approx((31.60, 39.00, 24.88), abs=1.0)
    assert (colour.read_by, colour.u) == (ReadBy.SEEN, None), "nothing in it vouches for a colour"
    (mark,) = piece.marks
    assert "known length of 200 mm" in mark.scale_note
    kept = session.stockroom.photos.path(mark.photo.sha256)
    assert kept.read_bytes() == original
    assert photo_of_cloth.read_bytes() == original
    assert table.draft is None


def test_the_outline_is_found_by_itself_and_taken_only_with_enter(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    draft = table.draft
    assert draft is not None
    qtbot.waitUntil(lambda: isinstance(draft.found, FoundOutline))
    assert draft.marks.outline == ()
    press(qtbot, Qt.Key.Key_Return, 4)  # outline, weave, colour, flaws
    shelve(window, qtbot)
    (piece,) = session.pieces
    # A clean edge: inside it by some tenths, since there is no fray to leave out.
    assert piece.outline.width == pytest.approx(199.4, abs=0.7)
    assert piece.outline.height == pytest.approx(249.4, abs=0.7)


def test_an_outline_found_in_the_wrong_place_is_found_again_by_pointing_at_the_scrap(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    qtbot.waitUntil(lambda: not table.session.jobs.busy)
    drag(table, qtbot, (20, 20), (60, 60))
    draft = table.draft
    assert draft is not None
    assert len(draft.marks.outline) == 4
    step = table.marking.steps[1]
    assert isinstance(step, OutlineStep)
    qtbot.mouseClick(step.point_button, Qt.MouseButton.LeftButton)
    click(table, qtbot, (500, 500))
    assert draft.marks.outline == ()
    qtbot.waitUntil(lambda: isinstance(draft.found, FoundOutline))
    assert isinstance(draft.found, FoundOutline)
    xs = [x for x, _ in draft.found.ring]
    assert min(xs) == pytest.approx(104, abs=4)
    assert max(xs) == pytest.approx(896, abs=4)


def test_every_scrap_of_a_photograph_is_offered_and_a_doubtful_edge_is_asked_about(
    window: Window, table: PhotoTableScreen, tmp_path: Path, qtbot: QtBot
) -> None:
    # Two scraps on a sheet; a soft shadow lies along the right side of the larger one.
    light = np.full((600, 900), 205.0)
    light[150:450, 440:458] = np.linspace(70, 190, 18)
    light = ndimage.gaussian_filter(light, 0.8)
    photo = np.repeat(light[:, :, None], 3, axis=2)
    photo[150:450, 80:440] = (120, 20, 20)
    photo[200:400, 600:780] = (120, 20, 20)
    path = tmp_path / "two scraps.png"
    Image.fromarray(np.clip(photo, 0, 255).astype(np.uint8)).save(path)
    offer(table, qtbot, path)
    drag(table, qtbot, (50, 550), (650, 550))
    type_in(qtbot, "300")
    press(qtbot, Qt.Key.Key_Return)
    draft = table.draft
    assert draft is not None
    qtbot.waitUntil(lambda: isinstance(draft.found, FoundOutline))
    step = table.marking.steps[1]
    assert isinstance(step, OutlineStep)
    large = draft.found
    assert isinstance(large, FoundOutline)
    assert len(large.others) == 1
    assert step.ring_tool.doubtful == large.doubtful
    assert all(x > 420 for line in large.doubtful for x, _ in line)
    assert "shadow" in step.state.text()
    assert "up to 84 mm too long" in step.state.text()
    press(qtbot, Qt.Key.Key_Return)
    assert draft.marks.outline == ()
    assert "does the cloth end at the dotted edge" in table.marking.panel.problem(1)
    qtbot.mouseClick(step.next_button, Qt.MouseButton.LeftButton)
    assert table.marking.panel.problem(1) == "", "it was asked about the one before"
    small = draft.found
    assert isinstance(small, FoundOutline)
    assert min(x for x, _ in small.ring) == pytest.approx(602, abs=3)
    assert [other.ring for other in small.others] == [large.ring]
    assert step.ring_tool.doubtful == ()
    qtbot.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: draft.found is not small)
    press(qtbot, Qt.Key.Key_Return, 2)  # asked once for each time it is suggested
    assert draft.marks.outline == large.ring


def test_two_scraps_that_touch_are_offered_each_with_the_seam_in_doubt(
    window: Window, table: PhotoTableScreen, tmp_path: Path, qtbot: QtBot
) -> None:
    light = np.full((300, 500, 3), 0.7)
    light[40:260, 60:220] = light[80:250, 221:420] = (0.19, 0.01, 0.01)
    light = ndimage.gaussian_filter(light, (0.8, 0.8, 0))
    path = tmp_path / "touching.png"
    Image.fromarray((255 * light ** (1 / 2.2)).astype(np.uint8)).save(path)
    offer(table, qtbot, path)
    drag(table, qtbot, (50, 280), (450, 280))
    type_in(qtbot, "200")
    press(qtbot, Qt.Key.Key_Return)
    draft = table.draft
    assert draft is not None
    qtbot.waitUntil(lambda: isinstance(draft.found, FoundOutline))
    step = table.marking.steps[1]
    assert isinstance(step, OutlineStep)
    for low, high in ((60, 221), (220, 420)):
        found = draft.found
        assert isinstance(found, FoundOutline)
        assert len(found.others) == 1
        xs = [x for x, _ in found.ring]
        assert low <= min(xs)
        assert max(xs) <= high
        (seam,) = step.ring_tool.doubtful
        assert all(abs(x - 220.5) < 4 for x, _ in seam)
        assert "the seam that is seen" in step.state.text()
        press(qtbot, Qt.Key.Key_Return)
        assert draft.marks.outline == ()
        assert "against something else" in table.marking.panel.problem(1)
        qtbot.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
        qtbot.waitUntil(lambda shown=found: draft.found is not shown)


def test_a_grey_card_in_the_photograph_is_marked_and_named_in_the_reading(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    table.marking.go_to_step(3)
    step = table.marking.steps[3]
    assert isinstance(step, ColourStep)
    step.references.kind.setFocus()
    press(qtbot, Qt.Key.Key_Down)
    step.references.kind.activated.emit(step.references.kind.currentIndex())
    drag(table, qtbot, (920, 200), (1080, 400))  # the mat serves as the card
    assert table.draft is not None
    assert isinstance(table.draft.marks.reference, Grey)
    qtbot.waitUntil(lambda: not table.session.jobs.busy)
    (reading,) = [r for s, r in table.draft.readings.items() if s.reference is not None]
    assert "neutral" in reading.method or "grey" in reading.method
    assert step.tool is step.both_tool


def test_shelving_says_what_is_missing_and_goes_to_that_step(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    table.marking.go_to_step(4)
    qtbot.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert table.marking.step == 0
    assert "drag along a ruler" in table.marking.panel.problem(0)
    set_scale(table, qtbot)
    qtbot.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert table.marking.step == 1
    assert "draw the outline" in table.marking.panel.problem(1)
    drag(table, qtbot, *SCRAP)
    qtbot.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert table.marking.steps[table.marking.step].name is StepName.COLOUR
    assert session.pieces == []


def test_a_scale_of_zero_is_refused_with_its_sentence(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    drag(table, qtbot, (100, 1150), (900, 1150))
    type_in(qtbot, "0")
    press(qtbot, Qt.Key.Key_Return)
    assert table.marking.step == 0
    assert "must be more than zero" in table.marking.panel.problem(0)


def test_an_outline_drawn_corner_by_corner_is_closed_with_enter(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    for corner in ((100, 80), (900, 80), (900, 1080)):
        click(table, qtbot, corner)
    press(qtbot, Qt.Key.Key_Return)
    assert table.draft is not None
    assert len(table.draft.marks.outline) == 3
    found = table.marking.panel.headers[1].finding
    assert found.standing is Sureness.FOUND
    assert "250 cm²" in found.words  # half of 200 × 250 mm


def test_an_outline_that_crosses_itself_says_so_and_cannot_pass(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    drag(table, qtbot, (900, 1080), (400, 40))
    assert table.marking.panel.headers[1].finding.standing is Sureness.WRONG
    assert "cross" in table.marking.panel.headers[1].finding.words
    press(qtbot, Qt.Key.Key_Return)
    assert table.marking.step == 1
    assert "cross" in table.marking.panel.problem(1)


def test_a_point_is_put_into_a_side_moved_by_the_arrows_and_taken_out(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    qtbot.mouseDClick(table.marking.canvas, Qt.MouseButton.LeftButton, pos=spot(table, (500, 80)))
    assert table.draft is not None
    assert len(table.draft.marks.outline) == 5
    before = table.draft.marks.outline
    press(qtbot, Qt.Key.Key_Down, 3)
    assert table.draft.marks.outline[1][1] > before[1][1]
    press(qtbot, Qt.Key.Key_Delete)
    assert len(table.draft.marks.outline) == 4


def test_undo_on_the_photograph_takes_back_marks_and_not_what_was_shelved(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    control = Qt.KeyboardModifier.ControlModifier
    qtbot.keyClick(table.marking.canvas, Qt.Key.Key_Z, control)
    assert table.draft is not None
    assert table.draft.marks.outline == ()
    assert table.draft.marks.scale is not None
    redo = Qt.Key.Key_Y
    qtbot.keyClick(table.marking.canvas, redo, control)
    assert len(table.draft.marks.outline) == 4


def test_a_hole_is_taken_out_of_the_outline_and_a_stain_is_kept_as_a_flaw(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    table.marking.go_to_step(4)
    drag(table, qtbot, (200, 200), (280, 280))
    table.marking.steps[4].kind.setCurrentIndex(0)  # type: ignore[attr-defined]
    table.marking.steps[4].kind.activated.emit(0)  # type: ignore[attr-defined]
    drag(table, qtbot, (700, 800), (780, 880))
    assert table.draft is not None
    assert [flaw.kind for flaw in table.draft.marks.flaws] == [FlawKind.HOLE, FlawKind.HOLE]
    table.marking.steps[4].kind.setCurrentIndex(2)  # type: ignore[attr-defined]
    table.marking.steps[4].kind.activated.emit(2)  # type: ignore[attr-defined]
    table.marking.go_to_step(3)
    press(qtbot, Qt.Key.Key_Return)
    shelve(window, qtbot)
    (piece,) = session.pieces
    assert len(piece.outline.holes) == 1
    (stain,) = piece.flaws
    assert stain.kind is FlawKind.STAIN
    assert stain.polygon.area == pytest.approx(400, rel=0.05)  # 20 × 20 mm


def test_the_warp_arrow_turns_the_piece_upright(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    press(qtbot, Qt.Key.Key_Return)
    drag(table, qtbot, (300, 500), (700, 500))
    assert "90° clockwise" in table.marking.panel.headers[2].finding.words
    press(qtbot, Qt.Key.Key_Return, 2)
    shelve(window, qtbot)
    (piece,) = session.pieces
    assert piece.outline.width == pytest.approx(250, rel=0.01)
    assert piece.outline.height == pytest.approx(200, rel=0.01)


def test_the_four_corners_of_a_known_rectangle_set_the_scale(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    scale = table.marking.steps[0]
    qtbot.mouseClick(
        scale.by_corners,  # type: ignore[attr-defined]
        Qt.MouseButton.LeftButton,
        pos=QPoint(8, scale.by_corners.height() // 2),  # type: ignore[attr-defined]
    )
    drag(table, qtbot, *SCRAP)
    type_in(qtbot, "200 mm")
    press(qtbot, Qt.Key.Key_Tab)
    type_in(qtbot, "250 mm")
    press(qtbot, Qt.Key.Key_Return)
    assert table.marking.step == 1
    assert table.draft is not None
    assert isinstance(table.draft.marks.scale, KnownRectangle)
    assert "rectangle of 200 × 250 mm" in table.marking.panel.headers[0].finding.words


def test_files_that_are_no_photographs_are_refused_and_the_rest_go_on(
    table: PhotoTableScreen, session: Session, photo_of_cloth: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    empty = tmp_path / "empty.jpg"
    empty.touch()
    words = tmp_path / "words.png"
    words.write_text("not a picture")
    told: list[str] = []
    session.trouble.connect(told.append)
    offer(table, qtbot, empty, words, photo_of_cloth)
    assert [draft.path for draft in table.waiting.drafts] == [photo_of_cloth]
    assert len(told) == 2
    assert "empty.jpg" in table.refusals.words
    assert "words.png" in table.refusals.words


def test_marks_are_kept_while_another_photograph_is_on_the_table(
    table: PhotoTableScreen, photo_of_cloth: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    second = tmp_path / "second.png"
    second.write_bytes(photo_of_cloth.read_bytes())
    offer(table, qtbot, photo_of_cloth, second)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    first, other = table.waiting.drafts
    table.tray.list.setCurrentRow(1)
    assert table.draft is other
    assert table.draft.marks.outline == ()
    table.tray.list.setCurrentRow(0)
    assert table.draft is first
    assert len(table.draft.marks.outline) == 4
    assert table.marking.step == 1


def test_a_photograph_set_aside_comes_back_with_its_marks(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    qtbot.mouseClick(table.tray.aside_button, Qt.MouseButton.LeftButton)
    assert table.draft is None
    assert table.empty.isVisible()
    offer(table, qtbot, photo_of_cloth)
    assert table.draft is not None
    assert table.draft.marks.scale is not None


def test_what_waits_and_its_marks_are_there_again_at_the_next_start(
    window: Window, table: PhotoTableScreen, photo_of_cloth: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    second = tmp_path / "second.png"
    second.write_bytes(photo_of_cloth.read_bytes())
    offer(table, qtbot, photo_of_cloth, second)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    table.marking.go_to_step(5)
    table.marking.facts_step.place_entry.setFocus()
    type_in(qtbot, "Drawer 3")
    draft = table.draft
    assert draft is not None
    assert table.may_leave()

    after = PhotoTableScreen(table.session)
    qtbot.addWidget(after)
    qtbot.waitUntil(lambda: after.draft is not None)
    assert after.draft is not None
    assert [d.path for d in after.waiting.drafts] == [photo_of_cloth, second]
    assert after.draft.marks == draft.marks
    assert after.draft.facts == draft.facts
    assert after.marking.steps[after.marking.step].name is StepName.FACTS


def test_photographs_go_on_being_read_when_another_stockroom_is_opened_meanwhile(
    table: PhotoTableScreen, session: Session, photo_of_cloth: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    session.photos_offered.emit([photo_of_cloth])
    session.use(Stockroom.create(tmp_path / "other"))
    qtbot.waitUntil(lambda: table.draft is not None)
    assert table.draft is not None
    assert table.draft.size == (1100, 1200)


def test_only_the_photographs_used_last_keep_their_pictures_in_memory(
    table: PhotoTableScreen, photo_of_cloth: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    copies = [tmp_path / f"copy {number}.png" for number in range(9)]
    for copy in copies:
        copy.write_bytes(photo_of_cloth.read_bytes())
    offer(table, qtbot, *copies)
    table.tray.list.setCurrentRow(8)
    qtbot.waitUntil(lambda: not table.session.jobs.busy)
    drafts = table.waiting.drafts
    assert not drafts[8].picture.isNull()
    assert sum(not draft.picture.isNull() for draft in drafts) <= 6
    assert all(not draft.thumbnail.isNull() for draft in drafts)


def test_a_list_of_waiting_photographs_that_is_damaged_is_said_and_not_guessed_at(
    session: Session, qtbot: QtBot
) -> None:
    kept = session.settings.path.parent / "waiting" / "photographs.json"
    kept.parent.mkdir()
    kept.write_text('{"waiting": [{}], "aside": []}')
    told: list[str] = []
    session.trouble.connect(told.append)
    table = PhotoTableScreen(session)
    qtbot.addWidget(table)
    assert table.waiting.drafts == []
    assert "Choose the photographs again" in told[0]


def test_a_picture_pasted_from_the_clipboard_waits_to_be_shelved(
    window: Window, table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    QGuiApplication.clipboard().setImage(QImage(str(photo_of_cloth)))
    window.refresh_commands()
    window.action("photo_table.paste").trigger()
    qtbot.waitUntil(lambda: table.draft is not None)
    assert table.draft is not None
    assert table.draft.name == "Pasted photograph.png"
    assert table.draft.size == (1100, 1200)


def test_facts_are_kept_for_the_next_scrap_but_not_its_note(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    table.marking.go_to_step(3)
    press(qtbot, Qt.Key.Key_Return, 2)
    facts = table.marking.facts_step
    facts.kind.setCurrentIndex(facts.kind.findData(Kind.LEATHER))
    facts.kind.activated.emit(facts.kind.currentIndex())
    assert not facts.family.isEnabled()  # leather raises no caution by its colour
    for entry, text in (
        (facts.place_entry, "Drawer 3"),
        (facts.note, "Torn"),
        (facts.price, "2,50"),
    ):
        entry.setFocus()
        qtbot.keyClicks(entry, text)
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(
            window,
            Qt.Key.Key_Return,
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
        )
    (piece,) = session.pieces
    assert (piece.kind, piece.place, piece.note, str(piece.price)) == (
        Kind.LEATHER,
        "Drawer 3",
        "Torn",
        "2.50",
    )
    # The same photograph stays for another scrap, with its scale.
    assert table.draft is not None
    assert table.draft.marks.scale is not None
    assert table.draft.marks.outline == ()
    assert facts.place_entry.text() == "Drawer 3"
    assert facts.note.text() == ""
    assert facts.price.text() == ""
    assert table.marking.steps[table.marking.step].name is StepName.OUTLINE


def test_the_colour_family_is_ticked_at_the_photo_table_and_not_kept_for_the_next_scrap(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    set_scale(table, qtbot)
    drag(table, qtbot, *SCRAP)
    table.marking.go_to_step(3)
    press(qtbot, Qt.Key.Key_Return, 2)
    facts = table.marking.facts_step
    facts.family.setCurrentIndex(facts.family.findData("vivid green"))
    facts.family.activated.emit(facts.family.currentIndex())
    assert table.draft is not None
    table.draft.marks = replace(table.draft.marks, without_colour=True)
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(
            window,
            Qt.Key.Key_Return,
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
        )
    (piece,) = session.pieces
    assert piece.colour_family == "vivid green"
    assert "ticked as vivid green" in " ".join(hazard.reason for hazard in hazards(piece))
    assert facts.family.currentText() == "not judged"


def test_a_price_that_is_no_amount_is_refused_at_its_step(
    window: Window, table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    table.marking.go_to_step(5)
    table.marking.facts_step.price.setFocus()
    type_in(qtbot, "a penny")
    press(qtbot, Qt.Key.Key_Return)
    assert table.marking.steps[table.marking.step].name is StepName.FACTS
    assert "a penny" in table.marking.panel.problem(5)


def test_the_wheel_zooms_about_the_pointer(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    canvas = table.marking.canvas
    before = canvas.zoom
    fixed = canvas.to_widget((300.0, 400.0))
    canvas.zoom_by(2.0, fixed)
    assert canvas.zoom == pytest.approx(2 * before)
    assert (canvas.to_widget((300.0, 400.0)) - fixed).manhattanLength() < 1e-6
    canvas.setFocus()
    press(qtbot, Qt.Key.Key_F)
    assert canvas.zoom == pytest.approx(before)


def test_number_keys_on_the_photograph_go_from_step_to_step(
    table: PhotoTableScreen, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    offer(table, qtbot, photo_of_cloth)
    table.marking.canvas.setFocus()
    press(qtbot, Qt.Key.Key_5)
    assert table.marking.steps[table.marking.step].name is StepName.FLAWS
    press(qtbot, Qt.Key.Key_2)
    assert table.marking.steps[table.marking.step].name is StepName.OUTLINE


def test_an_empty_table_says_what_it_is_for_and_offers_the_first_step(
    table: PhotoTableScreen,
) -> None:
    assert table.empty.isVisible()
    assert "drop" in table.empty.words.text()
