"""A day's first job from end to end: a scrap is dropped, marked, shelved, matched, cut, undone.

The window is the program's own, and nothing is told to it but by mouse, keys and what is dropped.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.bench.photo_table.marks import StepName
from bindery_stock.colour import delta_e00, measure
from bindery_stock.desktop.app import build
from bindery_stock.desktop.colours.patch_picker import PatchPicker
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window
from bindery_stock.shape import FlawKind, Outline
from bindery_stock.stock import PieceState, Stockroom
from tests.desktop.conftest import MM_PER_PX, paint_cloth
from tests.desktop.hands import CONTROL, LEFT, draw, drop_on, in_hand, press, write

SCRAP_MM = (200, 250)
CORNERS = ((100.0, 80.0), (900.0, 80.0), (900.0, 1080.0), (100.0, 1080.0))
BOOK_RGB = (126, 46, 40)
SPINE_MM = (58.0, 228.0)


@pytest.fixture
def window(session: Session, qtbot: QtBot) -> Iterator[Window]:
    faults: list[Exception] = []
    session.fault.connect(faults.append)
    made, _desk = build(session)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    session.opened.emit()
    qtbot.waitExposed(made)
    made.activateWindow()
    yield made
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert faults == []


def opened(window: Window, kind: type[QDialog], qtbot: QtBot) -> QDialog:
    """The dialog of this kind, once it stands in front."""
    qtbot.waitUntil(lambda: any(d.isVisible() for d in window.findChildren(kind)))
    return next(d for d in window.findChildren(kind) if d.isVisible())


def come_back_to(window: Window, qtbot: QtBot) -> None:
    """As a window manager does when a dialog in front of the window has gone."""
    window.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)


def test_a_scrap_is_dropped_marked_shelved_matched_cut_and_brought_back(
    window: Window, session: Session, tmp_path: Path, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    shelf, table, match = (
        next(place for place in window.places if isinstance(place, kind))
        for kind in (ShelfScreen, PhotoTableScreen, MatchScreen)
    )
    assert isinstance(shelf, ShelfScreen)
    assert isinstance(table, PhotoTableScreen)
    assert isinstance(match, MatchScreen)
    original = photo_of_cloth.read_bytes()
    number = {place: n for n, place in enumerate(window.places, start=1)}

    def go_to(place: QWidget) -> None:
        key = getattr(Qt.Key, f"Key_{number[place]}")  # type: ignore[index]
        qtbot.keyClick(window, key, CONTROL)
        assert window.place is place

    # A photograph dropped anywhere goes to the photo table.
    assert window.place is shelf
    drop_on(window, photo_of_cloth)
    qtbot.waitUntil(lambda: table.draft is not None)
    assert window.place is table
    canvas = table.marking.canvas

    # Scale: 800 pixels along the ruler are 200 mm.
    draw(qtbot, canvas, (100, 1150), (900, 1150))
    write(qtbot, "200 mm")
    press(qtbot, Qt.Key.Key_Return)

    # Outline: corner by corner, closed with Enter; then a corner is drawn in and back.
    assert table.marking.steps[table.marking.step].name is StepName.OUTLINE
    for corner in CORNERS:
        qtbot.mouseClick(canvas, LEFT, pos=canvas.to_widget(corner).toPoint())
    press(qtbot, Qt.Key.Key_Return)
    draw(qtbot, canvas, CORNERS[2], (700, 700))
    draft = table.draft
    assert draft is not None
    assert draft.marks.outline[2] == pytest.approx((700, 700), abs=3)
    draw(qtbot, canvas, (700, 700), CORNERS[2])
    press(qtbot, Qt.Key.Key_Return)

    # Weave: the warp runs up the photograph. Colour: one patch. Flaw: a stain of 20 × 20 mm.
    draw(qtbot, canvas, (500, 900), (500, 300))
    press(qtbot, Qt.Key.Key_Return)
    assert table.marking.steps[table.marking.step].name is StepName.COLOUR
    patch = ((300.0, 300.0), (600.0, 300.0), (600.0, 700.0), (300.0, 700.0))
    draw(qtbot, canvas, patch[0], patch[2])
    press(qtbot, Qt.Key.Key_Return)
    qtbot.keyClick(canvas, Qt.Key.Key_5)
    flaws = table.marking.steps[table.marking.step]
    assert flaws.name is StepName.FLAWS
    flaws.kind.setFocus()  # type: ignore[attr-defined]
    write(qtbot, "stain")
    draw(qtbot, canvas, (780, 960), (860, 1040))
    press(qtbot, Qt.Key.Key_Return)

    # Facts, by keyboard; one key shelves.
    assert table.marking.steps[table.marking.step].name is StepName.FACTS
    table.marking.facts_step.place_entry.setFocus()
    write(qtbot, "Tin 3")
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(in_hand(), Qt.Key.Key_Return, CONTROL)
    (piece,) = session.pieces
    code, outline = piece.code, piece.outline
    assert (outline.width, outline.height) == pytest.approx(SCRAP_MM, rel=0.01)
    assert piece.place == "Tin 3"
    (stain,) = piece.flaws
    assert stain.kind is FlawKind.STAIN
    assert stain.polygon.area == pytest.approx(400, rel=0.1)
    colour = piece.colour
    assert colour is not None
    assert float(delta_e00(colour.lab, [measure(photo_of_cloth, patch).lab])[0]) < 0.2
    assert session.stockroom.photos.path(piece.marks[0].photo.sha256).read_bytes() == original
    assert code in window.foot.words
    go_to(shelf)
    assert shelf.isVisible()

    # Match: the spine's size by keyboard, its colour from a photograph of the book.
    go_to(match)
    for entry, length in zip((match.form.across, match.form.along), SPINE_MM, strict=True):
        entry.setFocus()
        entry.selectAll()
        write(qtbot, f"{length:g}")
    book = paint_cloth(tmp_path / "book.png", BOOK_RGB)
    drop_on(match.target, book)
    picker = opened(window, PatchPicker, qtbot)
    assert isinstance(picker, PatchPicker)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    draw(qtbot, picker.canvas, (200, 200), (800, 900))
    qtbot.waitUntil(picker.take_button.isEnabled)
    qtbot.mouseClick(picker.take_button, LEFT)
    qtbot.waitUntil(lambda: match.chosen() is not None)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    row = match.chosen()
    assert row is not None
    assert row.match is not None
    assert row.match.code == code
    # Two bare photographs: of the family that is sought, and no figure is given.
    assert row.match.is_seen
    assert row.match.delta_e is None
    part = row.match.placement.polygon
    assert part.area == pytest.approx(SPINE_MM[0] * SPINE_MM[1])
    assert outline.polygon.buffer(1e-6).covers(part)
    assert not part.intersects(stain.polygon)

    # Cut: seen first, then the word given. The offcut is on the shelf.
    come_back_to(window, qtbot)
    qtbot.keyClick(in_hand(), Qt.Key.Key_Return, CONTROL)
    sheet = opened(window, CutSheet, qtbot)
    assert isinstance(sheet, CutSheet)
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, LEFT)
    assert session.piece(code).state is PieceState.CUT_UP
    offcuts = session.pieces
    assert offcuts
    assert {offcut.parent for offcut in offcuts} == {code}
    assert {offcut.colour for offcut in offcuts} == {colour}
    assert all(offcut.marks == piece.marks for offcut in offcuts)
    left = sum(offcut.outline.area for offcut in offcuts)
    # The knife comes in from the edge: of the 2 mm beside the strip and below it nothing is kept.
    sliver = 2 * (SPINE_MM[0] + SPINE_MM[1] + 2)
    assert left == pytest.approx(outline.area - SPINE_MM[0] * SPINE_MM[1] - sliver, rel=0.01)
    assert offcuts[0].code in window.foot.words or code in window.foot.words

    come_back_to(window, qtbot)
    # Undo, beside what the foot says; then redo and undo by keyboard.
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(window.foot.undo_button, LEFT)
    assert [(p.code, p.outline, p.state) for p in session.pieces] == [
        (code, outline, PieceState.ON_SHELF)
    ]
    with qtbot.waitSignal(session.changed):
        qtbot.keySequence(in_hand(), window.action("edit.redo").shortcut())
    assert session.piece(code).state is PieceState.CUT_UP
    with qtbot.waitSignal(session.changed):
        qtbot.keySequence(in_hand(), window.action("edit.undo").shortcut())
    assert [p.code for p in session.pieces] == [code]

    # What was done is kept in the folder, not in the window.
    qtbot.waitUntil(lambda: not session.jobs.busy)
    folder = session.stockroom.folder
    session.close_stockroom()
    with Stockroom.open(folder, read_only=True) as reopened:
        (kept,) = reopened.pieces.listed()
        assert isinstance(kept.outline, Outline)
        assert (kept.code, kept.outline) == (code, outline)
        assert len(reopened.ledger.steps(limit=10)) == 5  # shelved, cut, undo, redo, undo
    assert photo_of_cloth.read_bytes() == original
    assert MM_PER_PX == 0.25  # the scale the picture was painted at
