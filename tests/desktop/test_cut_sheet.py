"""The cut sheet tried by hand: dragged, turned, several parts, shears, slivers, rolls."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.match.candidates import LEADING
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.match.model import RowKind
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.shape import Flaw, FlawKind, KnifeWay, Outline, PatchPlacement, sheet, triangle
from bindery_stock.stock import Colour, NewPiece, PieceState
from bindery_stock.trade.vocabulary import Form, Kind
from tests.desktop.shelving import box, shelve_cloth

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def match(qtbot: QtBot, session: Session, previews: Previews) -> MatchScreen:
    place = MatchScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1100, 760)
    place.show()
    return place


def put(qtbot: QtBot, entry: object, text: str) -> None:
    entry.selectAll()  # type: ignore[attr-defined]
    qtbot.keyClicks(entry, text)


def seek(qtbot: QtBot, match: MatchScreen, along: str = "228", across: str = "58") -> None:
    for entry, text in (
        (match.form.along, along),
        (match.form.across, across),
        (match.target.lightness, "33"),
        (match.target.a, "38"),
        (match.target.b, "24"),
    ):
        put(qtbot, entry, text)
    qtbot.waitUntil(lambda: not match.session.jobs.busy and match.model.rowCount() > 0)


def cut_sheet(qtbot: QtBot, match: MatchScreen) -> CutSheet:
    qtbot.mouseClick(match.cut_button, LEFT)
    sheet = match.cutter.sheet
    assert sheet is not None
    qtbot.waitExposed(sheet)
    return sheet


def drag(
    qtbot: QtBot, sheet: CutSheet, start: tuple[float, float], by: tuple[float, float]
) -> None:
    """Drag from a point of the piece by so many mm."""
    view = sheet.view
    begin = view.to_widget(start).toPoint()
    end = view.to_widget((start[0] + by[0], start[1] + by[1])).toPoint()
    qtbot.mousePress(view, LEFT, pos=begin)
    qtbot.mouseMove(view, (begin + end) / 2)
    qtbot.mouseMove(view, end)
    qtbot.mouseRelease(view, LEFT, pos=end)


def round_alone(session: Session) -> None:
    """As a binder who cut round the part alone the last time."""
    session.settings.set_text("cut/way", KnifeWay.ROUND.value)


def corner(sheet: CutSheet) -> tuple[float, float]:
    return sheet.view.placement.corners[0]


def test_the_leading_candidates_are_placed_to_leave_the_most(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    """By hand: 58 × 228 with 2 mm of margin out of 200 × 250 leaves 140 × 250 beside it."""
    shelve_cloth(session)
    seek(qtbot, match)
    row = match.model.rows[0]
    assert "Leaves the most: 140 × 250 mm in one piece" in row.told
    assert row.match is not None
    assert row.match.left.best == pytest.approx(140 * 250, rel=1e-3)


def test_every_candidate_is_placed_to_leave_the_most_not_the_leading_ones_alone(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    for _ in range(LEADING + 2):
        shelve_cloth(session)
    seek(qtbot, match)
    rows = [row for row in match.model.rows if row.match is not None]
    assert len(rows) == LEADING + 2
    assert all("Leaves the most: 140 × 250 mm in one piece" in row.told for row in rows)


def test_a_part_dragged_near_the_edge_snaps_to_the_margin(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    sheet.view.move_by(60 - corner(sheet)[0], 10 - corner(sheet)[1])
    drag(qtbot, sheet, (80, 100), (-57, -7))  # lets go at 3, 3
    assert corner(sheet) == pytest.approx((2.0, 2.0), abs=1e-3)
    assert sheet.state.text() == "Fits."
    sheet.reject()


def test_a_part_dragged_off_the_piece_says_by_how_much_and_is_not_cut(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    sheet.view.move_by(60 - corner(sheet)[0], 10 - corner(sheet)[1])
    drag(qtbot, sheet, (80, 100), (-100, 0))
    assert 41 < sheet.view.lie.over < 43  # dragged by whole pixels
    assert "over by" in sheet.state.text()
    assert not sheet.cut_button.isEnabled()
    assert sheet.boxes == []
    sheet.reject()


def test_a_corner_patch_is_not_offered_as_a_triangle(match: MatchScreen) -> None:
    shapes = [match.form.shape.itemText(n) for n in range(match.form.shape.count())]
    assert shapes[1].startswith("Right-angled triangle")
    assert not any("corner" in shape.lower() for shape in shapes)


def test_cloth_of_another_colour_is_a_near_miss_until_so_much_is_allowed(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    put(qtbot, match.target.b, "-60")
    near = RowKind.NEAR
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rows[-1].kind is near)
    assert [row.kind for row in match.model.rows] == [RowKind.RULE, RowKind.NEAR]
    assert "another colour" in match.model.rows[1].told
    put(qtbot, match.form.tolerance, "100")
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rows[0].match is not None)


def test_what_the_knife_takes_is_told_as_waste(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    """By hand: 58 × 228 grown by 1 mm all round is 60 × 230, less 58 × 228 is 576 mm²."""
    shelve_cloth(session)
    round_alone(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    assert not sheet.waste.isVisible()
    sheet.view.move_by(60 - corner(sheet)[0], 10 - corner(sheet)[1])
    put(qtbot, sheet.knife, "1")
    assert sheet.waste.text() == "Waste: 5.8 cm², to the knife and in threads."
    sheet.reject()


def test_the_knife_comes_in_from_the_edge_and_slivers_are_told_as_waste(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    """By hand: 2 mm beside 58 × 228 at two sides is 60 × 230 less 58 × 228, 576 mm²."""
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    assert sheet.ways.currentText() == "In from the edge"
    assert [box.isChecked() for box in sheet.boxes] == [True, False]
    assert sheet.waste.text() == "Waste: 5.8 cm², in slivers."
    qtbot.waitUntil(lambda: "140 × 250 mm in one piece" in sheet.boxes[0].text())
    sheet.boxes[1].setChecked(True)  # kept all the same
    assert not sheet.waste.isVisible()
    qtbot.keyClick(sheet.ways, Qt.Key.Key_Down)
    assert sheet.ways.currentText().startswith("Edge to edge")
    assert max(remain.area for remain in sheet.plan.remains) == pytest.approx(140 * 250)
    assert all(len(remain.exterior) == 4 for remain in sheet.plan.remains)
    kept = sum(remain.area for remain in sheet.cutting().offcuts)
    thrown = sum(remain.area for remain in sheet.cutting().discarded)
    assert kept + thrown + 58 * 228 == pytest.approx(200 * 250, abs=1e-6)
    sheet.reject()


def test_several_parts_are_cut_in_one_step(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session)
    round_alone(session)
    seek(qtbot, match)
    qtbot.keyClicks(match.form.purpose, "spine strip, vol. 4")
    sheet = cut_sheet(qtbot, match)
    qtbot.mouseClick(sheet.parts.add_button, LEFT)
    put(qtbot, sheet.parts.across, "40")
    put(qtbot, sheet.parts.along, "30")
    qtbot.mouseClick(sheet.parts.add_button, LEFT)
    assert sheet.parts.list.count() == 3
    put(qtbot, sheet.purpose, "corner, vol. 4")
    assert "corner, vol. 4" in sheet.parts.list.item(2).text()
    assert sheet.state.text() == "Fits."
    with qtbot.waitSignal(session.changed) as heard:
        qtbot.mouseClick(sheet.cut_button, LEFT)
    assert heard.args[0].step.name == (
        f"Cut 2 of spine strip, vol. 4 58 × 228 mm and corner, vol. 4 40 × 30 mm from {code}"
    )
    left = sum(piece.outline.area for piece in session.pieces)
    assert left == pytest.approx(200 * 250 - 2 * 58 * 228 - 40 * 30, abs=0.1)
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert [piece.code for piece in session.pieces] == [code]


def test_a_part_too_many_is_refused_with_the_reason(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    for _ in range(3):
        qtbot.mouseClick(sheet.parts.add_button, LEFT)
    assert sheet.parts.list.count() == 3
    assert "no room left" in sheet.state.text()
    qtbot.mouseClick(sheet.parts.out_button, LEFT)
    assert sheet.parts.list.count() == 2
    sheet.reject()


def test_another_part_is_taken_in_hand_by_clicking_it(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    qtbot.mouseClick(sheet.parts.add_button, LEFT)
    assert sheet.view.active == 1
    middle = sheet.plan.laid[0].placement.polygon.centroid
    qtbot.mouseClick(sheet.view, LEFT, pos=sheet.view.to_widget((middle.x, middle.y)).toPoint())
    assert sheet.view.active == 0
    assert sheet.parts.list.currentRow() == 0
    qtbot.keyClick(sheet.view, Qt.Key.Key_PageDown)
    assert sheet.view.active == 1
    sheet.reject()


def test_r_turns_a_part_only_as_far_as_the_rib_allows(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)  # rib
    match.form.turns.setCurrentIndex(2)  # along or across
    seek(qtbot, match, "60", "40")
    sheet = cut_sheet(qtbot, match)
    sheet.view.setFocus()
    qtbot.keyClick(sheet.view, Qt.Key.Key_R)
    assert sheet.view.placement.turn == 180
    assert not sheet.parts.left_button.isVisible()
    qtbot.keyClick(sheet.view, Qt.Key.Key_Comma)
    assert "may not be turned to 181°" in sheet.state.text()
    sheet.reject()


def test_a_patch_that_may_lie_any_way_turns_by_a_degree_at_a_key(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session, outline=triangle(60, 60))
    match.form.shape.setCurrentIndex(1)
    match.form.turns.setCurrentIndex(4)
    round_alone(session)
    seek(qtbot, match, "30", "30")
    sheet = cut_sheet(qtbot, match)
    assert isinstance(sheet.view.placement, PatchPlacement)
    before = sheet.view.placement.turn
    sheet.view.setFocus()
    qtbot.keyClick(sheet.view, Qt.Key.Key_Comma)
    assert (sheet.view.placement.turn - before) % 360 == pytest.approx(1)
    assert sheet.parts.left_button.isVisible()
    qtbot.keyClick(sheet.view, Qt.Key.Key_Home)
    assert sheet.cut_button.isEnabled()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, LEFT)
    assert sum(p.outline.area for p in session.pieces) == pytest.approx(1800 - 450, abs=0.1)


def test_each_offcut_tells_its_size_and_its_largest_rectangle(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    qtbot.waitUntil(lambda: "in one piece" in sheet.boxes[0].text())
    assert sheet.boxes[0].text() == "1:  200 × 250 mm over all\n140 × 250 mm in one piece"
    assert sheet.more.text() == "At least 2 others of 58 × 228 mm are left in it."
    sheet.reject()


def test_the_width_of_slivers_is_the_binder_s_own_and_kept(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session, outline=box(80, 250))
    put(qtbot, match.form.margin, "0")
    seek(qtbot, match, "250")
    sheet = cut_sheet(qtbot, match)
    (left,) = sheet.boxes
    assert left.isChecked()  # 22 mm wide
    put(qtbot, sheet.sliver, "30")
    (left,) = sheet.boxes
    assert not left.isChecked()
    assert "a sliver" in left.text()
    assert sheet.plan.cutting(sheet.remains.thrown_away).offcuts == ()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, LEFT)
    assert session.pieces == []
    assert session.settings.text("cut/sliver") == "30"
    cutting = session.stockroom.pieces.cutting(code)
    assert cutting is not None
    assert len(cutting.discarded) == 1


def test_ticks_outlive_what_is_typed_beside_them(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    sheet.boxes[0].setChecked(False)
    put(qtbot, sheet.purpose, "spine strip")
    assert not sheet.boxes[0].isChecked()
    sheet.reject()


def test_a_stain_under_the_old_spine_is_passed_over_and_in_the_joint_is_not(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    stain = Flaw(FlawKind.STAIN, ((40, 120), (50, 120), (50, 130), (40, 130)))
    shelve_cloth(session, outline=box(90, 240), flaws=(stain,))
    put(qtbot, match.form.margin, "0")
    seek(qtbot, match, "228", "80")
    assert [row.kind for row in match.model.rows] == [RowKind.RULE, RowKind.NEAR]
    match.form.seen.how.setCurrentIndex(1)
    assert match.form.seen.isVisibleTo(match.form)
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rows[0].kind is RowKind.MATCH)
    put(qtbot, match.form.seen.joint, "29")  # the band now reaches over the stain
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rows[0].kind is RowKind.RULE)
    near = match.model.rows[1]
    assert near.near is not None
    assert near.near.lack == "fits but for the stain"


def test_bands_too_wide_for_the_strip_are_said_where_the_answer_would_be(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session)
    seek(qtbot, match)
    match.form.seen.how.setCurrentIndex(1)
    put(qtbot, match.form.seen.joint, "40")
    qtbot.waitUntil(lambda: "more than the strip is wide" in match.empty.words.text())


def shelve_sheet(session: Session, kind: Kind, form: Form, outline: Outline) -> str:
    changes = session.stockroom.pieces.shelve(
        NewPiece(
            kind=kind, form=form, outline=outline, colours=(Colour((33.0, 38.0, 24.0), u=1.0),)
        )
    )
    session.heard(changes)
    return changes.born[0]


def test_boards_are_cut_by_shears_with_the_cuts_in_order(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_sheet(session, Kind.BOARD, Form.SHEET, sheet(330, 500))
    match.form.kind.setCurrentText("board")
    put(qtbot, match.form.margin, "0")
    seek(qtbot, match, "230", "150")
    cuts = cut_sheet(qtbot, match)
    qtbot.keyClick(cuts.ways, Qt.Key.Key_Down)
    assert cuts.ways.currentText() == "Edge to edge, as on board shears"
    qtbot.mouseClick(cuts.parts.add_button, LEFT)
    assert cuts.used.text() == "41 % used."  # twice 150 × 230 of 330 × 500
    assert cuts.cuts.text().splitlines() == [
        "1. 330 × 500 mm: across the warp, 230 mm from below",
        "2. 330 × 230 mm: along the warp, 300 mm from the left",
        "3. 300 × 230 mm: along the warp, 150 mm from the left",
    ]
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(cuts.cut_button, LEFT)
    sizes = sorted((p.outline.width, p.outline.height) for p in session.pieces)
    assert sizes[0] == pytest.approx((30, 230))
    assert sizes[1] == pytest.approx((330, 270))


def test_a_length_taken_off_a_roll_first_is_offered_in_its_place(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    roll = shelve_sheet(session, Kind.CLOTH, Form.ROLL, sheet(900, 4000))
    seek(qtbot, match)
    cuts = cut_sheet(qtbot, match)
    assert cuts.length_button.text() == "Take 232 mm off the roll first"
    with qtbot.waitSignal(session.changed) as heard:
        qtbot.mouseClick(cuts.length_button, LEFT)
    (born,) = heard.args[0].born
    assert session.piece(roll).state is PieceState.ON_SHELF
    assert session.piece(roll).outline.height == 3768
    assert session.piece(born).outline.height == 232
    qtbot.waitUntil(
        lambda: (
            not session.jobs.busy
            and born in [row.piece.code for row in match.model.rows if row.piece and row.match]
        )
    )


def test_a_piece_with_its_photograph_is_painted_with_parts_flaws_and_zones(
    qtbot: QtBot, session: Session, match: MatchScreen, photo_of_cloth: Path
) -> None:
    stain = Flaw(FlawKind.STAIN, ((150, 20), (160, 20), (160, 30), (150, 30)))
    shelve_cloth(session, photo_of_cloth, flaws=(stain,))
    match.form.seen.how.setCurrentIndex(1)
    seek(qtbot, match, "200", "80")
    cuts = cut_sheet(qtbot, match)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    clean = cuts.view.grab().toImage()
    cuts.view.move_by(3, 0)
    assert cuts.view.grab().toImage() != clean
    assert "old stamping" in match.form.seen.how.toolTip()
    cuts.reject()


def test_a_part_does_not_lie_on_what_is_reserved_for_another(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = shelve_cloth(session)
    kept = ((0.0, 0.0), (80.0, 0.0), (80.0, 250.0), (0.0, 250.0))
    session.heard(
        session.stockroom.pieces.reserve(code, "case, vol. 1", width=80, height=250, corners=kept)
    )
    match.form.reserved.setChecked(True)
    seek(qtbot, match)
    sheet = cut_sheet(qtbot, match)
    sheet.view.move_by(20 - corner(sheet)[0], 10 - corner(sheet)[1])
    assert not sheet.cut_button.isEnabled()
    sheet.view.move_by(120 - corner(sheet)[0], 0)
    assert sheet.state.text() == "Fits."
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(sheet.cut_button, LEFT)
    (held,) = session.stockroom.pieces.reservations()
    assert held.purpose == "case, vol. 1"
    assert held.code != code
