"""Seeking the closest piece that is large enough, and cutting it."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from bindery_stock.bench.shelf.usable_rectangles import FILE
from bindery_stock.desktop.match.model import AnswerModel, RowKind
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.stock import PieceState, Stockroom
from tests.desktop.shelving import box, shelve_cloth

SPINE = ("228", "58")


@pytest.fixture
def match(qtbot: QtBot, session: Session, previews: Previews) -> MatchScreen:
    place = MatchScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1100, 760)
    place.show()
    return place


def seek(
    qtbot: QtBot, match: MatchScreen, size: tuple[str, str] = SPINE, lab: str = "33 38 24"
) -> None:
    """Type a part and a colour, as a hand would, and wait for the answer."""
    for entry, text in zip(
        (match.form.along, match.form.across, *_lab_entries(match)),
        (*size, *lab.split()),
        strict=True,
    ):
        entry.selectAll()
        qtbot.keyClicks(entry, text)
    qtbot.waitUntil(lambda: not match.session.jobs.busy and match.model.rowCount() > 0)


def _lab_entries(match: MatchScreen) -> tuple[object, object, object]:
    return match.target.lightness, match.target.a, match.target.b


def codes(match: MatchScreen, kind: RowKind) -> list[str]:
    return [row.piece.code for row in match.model.rows if row.kind is kind and row.piece]


def test_the_closest_piece_that_holds_the_part_comes_first(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    far = shelve_cloth(session, lab=(45.0, 20.0, 10.0))
    close = shelve_cloth(session, lab=(34.0, 37.0, 23.0))
    closest_but_short = shelve_cloth(session, outline=box(200, 180), lab=(33.0, 38.0, 24.0))
    seek(qtbot, match)
    assert codes(match, RowKind.MATCH) == [close, far]
    assert codes(match, RowKind.NEAR) == [closest_but_short]
    in_hand = match.chosen()
    assert in_hand is not None, "no heading comes into the hand"
    assert in_hand.piece is not None
    assert in_hand.piece.code == close
    near = next(row for row in match.model.rows if row.kind is RowKind.NEAR)
    assert "52 mm too short along the warp" in near.told  # 228 + 2 × 2 of margin into 180


def test_what_was_measured_for_a_match_is_there_when_the_stockroom_is_opened_again(
    qtbot: QtBot, session: Session, match: MatchScreen, monkeypatch: pytest.MonkeyPatch
) -> None:
    code = shelve_cloth(session)
    seek(qtbot, match)
    folder = Path(session.stockroom.folder)
    qtbot.waitUntil(lambda: (folder / FILE).exists() and not session.jobs.busy)
    session.close_stockroom()
    session.use(Stockroom.open(folder))
    monkeypatch.setattr(
        "bindery_stock.bench.shelf.usable_rectangles.largest_rectangle", lambda *_, **__: None
    )
    found = session.usable.measure(session.piece(code))
    assert found is not None
    assert (found.width, found.height) == pytest.approx((200, 250))


def test_a_strip_that_fits_only_across_the_warp_is_not_offered(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session, outline=box(260, 100))
    seek(qtbot, match)
    assert codes(match, RowKind.MATCH) == []


def test_a_part_that_nothing_holds_is_put_on_the_wanted_list(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session, outline=box(100, 100))
    seek(qtbot, match, size=("60", "60"))
    assert not match.want_button.isVisible()
    seek(qtbot, match)
    qtbot.waitUntil(match.want_button.isVisible)
    qtbot.keyClicks(match.form.purpose, "spine strip, vol. 4")
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(match.want_button, Qt.MouseButton.LeftButton)
    (want,) = session.stockroom.wants.listed()
    assert (want.what, want.purpose) == ("red cloth", "spine strip, vol. 4")
    assert (want.width, want.height) == (62.0, 232.0)  # 58 × 228 and 2 mm of margin all round
    assert want.lab == (33.0, 38.0, 24.0)


def test_cutting_leaves_the_offcut_and_undo_brings_the_piece_back(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session)
    seek(qtbot, match)
    qtbot.keyClicks(match.form.purpose, "spine strip, vol. 4")
    qtbot.mouseClick(match.cut_button, Qt.MouseButton.LeftButton)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.state.text() == "Fits."
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, Qt.MouseButton.LeftButton)
    assert session.piece(code).state is PieceState.CUT_UP
    offcuts = session.pieces
    assert offcuts
    assert all(offcut.parent == code for offcut in offcuts)
    # The knife comes in from the edge: of the 2 mm beside the strip and below it nothing is kept.
    sliver = 2 * 230 + 58 * 2
    assert sum(o.outline.area for o in offcuts) == pytest.approx(200 * 250 - 58 * 228 - sliver)
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert [piece.code for piece in session.pieces] == [code]


def test_a_part_moved_over_the_edge_cannot_be_cut(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    qtbot.mouseClick(match.cut_button, Qt.MouseButton.LeftButton)
    sheet = match.cutter.sheet
    assert sheet is not None
    for _ in range(3):
        # 30 mm up, where the cloth is only 22 mm taller than the strip
        qtbot.keyClick(sheet.view, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert "over by" in sheet.state.text()
    assert not sheet.cut_button.isEnabled()
    qtbot.keyClick(sheet.view, Qt.Key.Key_Home)
    assert sheet.cut_button.isEnabled()
    sheet.reject()


def test_enter_reserves_and_a_reserved_piece_is_no_longer_offered_for_another_part(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session)
    shelve_cloth(session, lab=(42.0, 34.0, 22.0))
    seek(qtbot, match)
    qtbot.keyClicks(match.form.purpose, "vol. 7")
    match.list.setFocus()
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(match.list, Qt.Key.Key_Return)
    assert session.piece(code).reserved_for == "vol. 7"
    seek(qtbot, match, size=("200", "50"))
    qtbot.waitUntil(lambda: code not in codes(match, RowKind.MATCH))
    assert len(codes(match, RowKind.MATCH)) == 1


def settled(qtbot: QtBot, match: MatchScreen) -> None:
    """Wait until the shelf has been sought through again."""
    qtbot.waitUntil(lambda: not match._settle.isActive() and not match.session.jobs.busy)


@pytest.mark.parametrize("purpose", ["spine strip, vol. 4", ""])
def test_match_reserve_and_cut_are_one_errand_on_one_piece(
    qtbot: QtBot, session: Session, match: MatchScreen, purpose: str
) -> None:
    shelve_cloth(session, lab=(33.5, 38.0, 24.0))
    chosen = shelve_cloth(session, lab=(36.0, 36.0, 22.0))
    shelve_cloth(session, lab=(50.0, 10.0, 10.0))
    seek(qtbot, match)
    qtbot.keyClicks(match.form.purpose, purpose)
    match.list.setCurrentIndex(match.model.index(1))
    assert match.chosen().piece.code == chosen
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(match.reserve_button, Qt.MouseButton.LeftButton)
    settled(qtbot, match)
    assert match.chosen().piece.code == chosen, "what was chosen stays chosen"
    steps = session.stockroom.ledger.steps()
    with qtbot.waitSignal(session.said) as heard:
        qtbot.mouseClick(match.reserve_button, Qt.MouseButton.LeftButton)
    assert heard.args[0].startswith(f"{chosen} is reserved for {purpose or 'a part'} already")
    settled(qtbot, match)
    assert session.stockroom.ledger.steps() == steps
    qtbot.mouseClick(match.cut_button, Qt.MouseButton.LeftButton)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.piece.code == chosen
    assert sheet.state.text() == "Fits."
    (held,) = session.stockroom.pieces.reservations(chosen)
    lies = sheet.plan.laid[0].placement.corners
    assert [x for spot in lies for x in spot] == pytest.approx([x for p in held.corners for x in p])
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, Qt.MouseButton.LeftButton)
    assert session.piece(chosen).state is PieceState.CUT_UP
    assert session.stockroom.pieces.reservations() == []
    settled(qtbot, match)


def test_a_cut_that_is_refused_leaves_the_sheet_as_it_was_laid(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session)
    seek(qtbot, match)
    qtbot.keyClicks(match.form.purpose, "spine strip, vol. 4")
    settled(qtbot, match)
    qtbot.mouseClick(match.cut_button, Qt.MouseButton.LeftButton)
    sheet = match.cutter.sheet
    assert sheet is not None
    qtbot.keyClick(sheet.view, Qt.Key.Key_Left)
    assert sheet.cut_button.isEnabled()
    plan = sheet.plan
    session.stockroom.pieces.discard(code, "eaten by mice")  # by another hand; no window was told
    qtbot.mouseClick(sheet.cut_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert sheet.isVisible()
    assert code in sheet.state.text()
    assert sheet.plan == plan
    sheet.reject()


def test_space_lays_the_candidate_over_the_target(
    qtbot: QtBot, session: Session, match: MatchScreen, photo_of_cloth: Path
) -> None:
    shelve_cloth(session, photo_of_cloth)
    seek(qtbot, match)
    match.list.setFocus()
    qtbot.keyClick(match.list, Qt.Key.Key_Space)
    assert match.lay_over.isVisible()
    assert "ΔE00" in match.lay_over.accessibleDescription()
    qtbot.keyClick(match.lay_over, Qt.Key.Key_Escape)
    assert not match.lay_over.isVisible()


def test_a_size_that_is_not_a_length_says_so_and_loses_nothing(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    match.form.along.selectAll()
    qtbot.keyClicks(match.form.along, "tall")
    assert match.form.along.property("wrong") is True
    assert "Along the warp" in match.form.along.toolTip()
    assert match.form.across.text() == "58"


def test_a_lab_out_of_range_is_refused_by_name(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    qtbot.keyClicks(match.target.lightness, "140")
    assert match.target.lightness.toolTip() == "L*: write a number from 0 to 100."


def test_the_answer_is_a_sound_model_through_its_life(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    tester = QAbstractItemModelTester(
        match.model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    shelve_cloth(session)
    seek(qtbot, match)
    seek(qtbot, match, ("500", "500"))
    match.model.clear()
    assert tester.model() is match.model
    assert isinstance(match.model, AnswerModel)


def test_the_colour_is_read_from_a_patch_on_a_photo_of_the_book(
    qtbot: QtBot, session: Session, match: MatchScreen, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session, photo_of_cloth)
    match.target.pick_from(photo_of_cloth)
    picker = match.target._picker
    assert picker is not None
    qtbot.waitUntil(lambda: not session.jobs.busy)
    canvas = picker.canvas
    start, end = (canvas.to_widget(p).toPoint() for p in ((300, 300), (600, 700)))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(canvas, end)
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=end)
    qtbot.waitUntil(picker.take_button.isEnabled)
    qtbot.mouseClick(picker.take_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: codes(match, RowKind.MATCH) == [code])
    row = match.model.rows[0]
    assert row.match is not None
    assert row.match.is_seen, "nothing in the photograph vouches for its colour"
    assert row.match.delta_e is None
    assert "Seen, not measured" in match.target.origin.text()
    told = str(match.model.index(0).data(Qt.ItemDataRole.AccessibleTextRole))
    assert "seen, not measured" in told
    assert "ΔE00" not in told


def test_another_part_brings_the_closest_into_the_hand_not_what_was_held_for_the_last(
    qtbot: QtBot, match: MatchScreen, session: Session
) -> None:
    near = shelve_cloth(session, outline=box(200, 250), lab=(33.0, 38.0, 24.0))
    far = shelve_cloth(session, outline=box(200, 250), lab=(40.0, 30.0, 20.0))
    session.match_wanted.emit(far)
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rowCount() == 2)
    assert match.chosen().piece.code == far
    session.match_wanted.emit(near)
    qtbot.waitUntil(lambda: not session.jobs.busy and match.chosen().piece.code == near)
    assert match.list.currentIndex().row() == 0
