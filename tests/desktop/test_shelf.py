"""The shelf worked by hand: chosen, found, arranged, zoomed, corrected, discarded, brought back."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QGuiApplication, QWheelEvent
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from bindery_stock.bench.shelf.search import Order
from bindery_stock.colour import measure
from bindery_stock.desktop.commands import action_for
from bindery_stock.desktop.forms.ask_words import AskWords
from bindery_stock.desktop.new_maps import NewMaps
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.captions import sign_side
from bindery_stock.desktop.shelf.facts_dialog import FactsDialog
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.shelf.table_model import ID_ROLE, ShelfColumn
from bindery_stock.desktop.window import Window
from bindery_stock.shape import Flaw, FlawKind, Outline, cut, place
from bindery_stock.stock import Colour, Cutting, FaceName, NewPiece, PhotoMark, Stockroom
from bindery_stock.trade.vocabulary import Form, Kind
from bindery_stock.units import Unit

RED, DARK_RED, GREEN, GREY = (38, 45, 22), (22, 34, 18), (45, -40, 30), (60, 0, 0)
CONTROL = Qt.KeyboardModifier.ControlModifier
LEFT = Qt.MouseButton.LeftButton


def rectangle(width: float, height: float) -> Outline:
    return Outline(((0, 0), (width, 0), (width, height), (0, height)))


def scrap(lab=RED, size=(100.0, 200.0), **known) -> NewPiece:
    known.setdefault("kind", Kind.CLOTH)
    known.setdefault("outline", rectangle(*size))
    return NewPiece(colours=(Colour(tuple(map(float, lab))),) if lab else (), **known)


HOARD = (
    scrap(RED, (60, 240), pattern="fine rib", place="Tin 2", source="The Lantern of Ossery"),
    scrap(DARK_RED, (200, 90), pattern="fine rib", place="Tin 10"),
    scrap(GREEN, (80, 120), pattern="sand", place="Tin 2", source_date="1855"),
    scrap(GREY, (500, 9000), kind=Kind.MULL, form=Form.ROLL, place="Rack"),
    scrap(None, (40, 40), note="too small to read <b>yet</b>"),
)


@pytest.fixture
def shelf(qtbot: QtBot, session: Session, previews: Previews) -> ShelfScreen:
    """The shelf with five pieces on it, shown and in front."""
    session.stockroom.pieces.shelve_many(HOARD)
    session.use(reopened(session))
    return shown(qtbot, session, previews)


def reopened(session: Session) -> Stockroom:
    folder = session.stockroom.folder
    session.close_stockroom()
    return Stockroom.open(folder)


def shown(qtbot: QtBot, session: Session, previews: Previews) -> ShelfScreen:
    made = ShelfScreen(session, previews)
    qtbot.addWidget(made)
    made.resize(1104, 730)
    made.show()
    qtbot.waitExposed(made)
    made.stock_opened()
    made.came_forward()
    settle(qtbot, made)
    return made


def settle(qtbot: QtBot, shelf: ShelfScreen) -> None:
    qtbot.waitUntil(lambda: not shelf.session.jobs.busy)


def click(
    qtbot: QtBot, shelf: ShelfScreen, code: str, modifiers=Qt.KeyboardModifier.NoModifier
) -> None:
    """Press the left button on a piece in the hoard."""
    middle = shelf.hoard.rect_of(shelf.session.piece(code).id).center().toPoint()
    qtbot.mouseClick(shelf.hoard.viewport(), LEFT, modifiers, middle)


def chosen(shelf: ShelfScreen) -> str:
    return shelf.sheet.code.text() if shelf.sheet.piece else ""


def in_table(shelf: ShelfScreen) -> list[str]:
    """The codes of what is shown, in the table's order; in that of shelving by the hoard."""
    if not shelf.is_table:
        return [piece.code for piece in shelf.session.pieces if piece.id in shelf.hoard.laid.spots]
    model = shelf.table.model()
    return [model.index(row, ShelfColumn.CODE).data() for row in range(model.rowCount())]


# Empty


def test_an_empty_shelf_says_what_it_is_for_and_offers_the_first_step(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    shelf = shown(qtbot, session, previews)
    assert shelf.empty.isVisible()
    first, sample = shelf.empty.findChildren(QPushButton)
    with qtbot.waitSignal(shelf.photo_table_wanted):
        qtbot.mouseClick(first, LEFT)
    with qtbot.waitSignal(shelf.sample_wanted):
        qtbot.mouseClick(sample, LEFT)


def test_the_first_piece_shelved_takes_the_place_of_the_empty_words(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    shelf = shown(qtbot, session, previews)
    session.do(lambda stockroom: stockroom.pieces.shelve(HOARD[0]))
    qtbot.waitUntil(shelf.body.isVisible)
    assert shelf.strip.count.text() == "1 piece"


# Choosing


def test_a_press_on_a_piece_opens_its_sheet(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0003")
    assert chosen(shelf) == "C-0003"
    assert shelf.sheet.fact_list.words_of("Size") == "80 × 120 mm"
    click(qtbot, shelf, "C-0001")
    assert chosen(shelf) == "C-0001"


def test_a_press_beside_every_piece_chooses_none(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0003")
    qtbot.mouseClick(shelf.hoard.viewport(), LEFT, pos=QPoint(2, 2))
    assert shelf.sheet.piece is None
    assert shelf.sheet.nothing.isVisible()


def test_arrows_go_from_piece_to_piece_and_enter_and_escape_to_the_sheet_and_back(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Right)
    assert chosen(shelf) == "C-0002"  # the darker of the reds stands first in their row
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Right)
    assert chosen(shelf) == "C-0001"
    below = shelf.hoard.laid.across(shelf.session.piece("C-0001").id, 1)
    assert below != shelf.session.piece("C-0001").id
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Down)
    assert shelf.choice.ids == {below}
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Return)
    assert shelf.sheet.photo.hasFocus()
    qtbot.keyClick(shelf.sheet.photo, Qt.Key.Key_Escape)
    assert shelf.hoard.hasFocus()


def test_home_and_end_go_to_the_first_and_the_last(qtbot: QtBot, shelf: ShelfScreen) -> None:
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Right)
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_End)
    assert (
        chosen(shelf) == "C-0004"
    )  # never read, so it lies behind the neutrals … by kind: see code
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_Home)
    assert chosen(shelf) == "C-0002"


# The sheet


def test_the_sheet_tells_what_is_known_and_what_is_not(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    facts = shelf.sheet.fact_list
    qtbot.waitUntil(lambda: facts.words_of("Usable") == "60 × 240 mm in one piece, or 60 mm square")
    assert facts.words_of("Fibre") == "unknown"
    assert facts.words_of("Lies in") == "Tin 2"
    assert facts.words_of("Came from") == "The Lantern of Ossery"
    qtbot.waitUntil(lambda: "Shelved" in shelf.sheet.history.text())


def test_a_suspect_green_carries_its_caution_to_the_sheet(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0003")
    cautions = shelf.sheet.caution_list
    assert "△ Stop: arsenical green" in cautions.brief
    assert not cautions.full.isVisible()
    qtbot.mouseClick(cautions.more, LEFT)
    assert cautions.full.isVisible()
    assert "Not a test result" in cautions.full.text()


def test_what_was_typed_is_shown_as_typed(qtbot: QtBot, shelf: ShelfScreen) -> None:
    shelf.show_code("C-0004")
    assert shelf.sheet.fact_list.words_of("Note") == "too small to read <b>yet</b>"
    assert not shelf.sheet.match_button.isEnabled()


def test_a_match_is_sought_from_the_sheet(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    with qtbot.waitSignal(shelf.session.match_wanted) as wanted:
        qtbot.mouseClick(shelf.sheet.match_button, LEFT)
    assert wanted.args == ["C-0001"]


# Finding


def test_typing_finds_pieces_by_all_words(qtbot: QtBot, shelf: ShelfScreen) -> None:
    shelf.find_words()
    qtbot.keyClicks(shelf.finder.words, "RIB tin 10")
    assert shelf.strip.count.text() == "1 of 5 pieces"
    assert in_table(shelf) == ["C-0002"]


def test_a_colour_word_finds_pieces_of_that_family(qtbot: QtBot, shelf: ShelfScreen) -> None:
    qtbot.keyClicks(shelf.finder.words, "red")
    assert in_table(shelf) == ["C-0001", "C-0002"]


def test_a_search_that_hides_everything_says_so_and_is_cleared_in_one_press(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    qtbot.keyClicks(shelf.finder.words, "no such thing")
    assert shelf.nothing_found.isVisible()
    qtbot.mouseClick(shelf.nothing_found.findChild(QPushButton), LEFT)
    assert shelf.strip.count.text() == "5 pieces"
    assert shelf.hoard.isVisible()


def test_a_search_that_hides_everything_leaves_no_piece_in_hand(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    chosen = shelf.session.pieces[0]
    shelf.choice.only(chosen.id)
    assert shelf.sheet.discard_button.isVisible()
    qtbot.keyClicks(shelf.finder.words, "no such piece")
    qtbot.waitUntil(shelf.nothing_found.isVisible)
    assert shelf.sheet.piece is None
    assert not shelf.sheet.discard_button.isVisible()
    live = {c.name for c in shelf.commands() if c.enabled()}
    assert live.isdisjoint({"shelf.match", "shelf.edit", "shelf.move", "shelf.anew"})
    assert live.isdisjoint({"shelf.length", "shelf.discard", "shelf.copy"})
    shelf.finder.clear()
    assert shelf.sheet.piece == chosen
    assert shelf.sheet.discard_button.isVisible()


def test_a_least_height_and_width_leave_only_what_a_part_can_be_cut_from(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    qtbot.keyClicks(shelf.finder.height_entry, "9 in")
    qtbot.waitUntil(lambda: shelf.strip.count.text() == "2 of 5 pieces")
    assert in_table(shelf) == ["C-0001", "M-0001"]
    qtbot.keyClicks(shelf.finder.width_entry, "80")
    qtbot.waitUntil(lambda: in_table(shelf) == ["M-0001"])


def test_a_size_that_is_no_length_is_marked_and_hides_nothing(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    qtbot.keyClicks(shelf.finder.height_entry, "1.500 apples")
    assert shelf.finder.height_entry.property("wrong") is True
    assert shelf.strip.count.text() == "5 pieces"


def test_filters_offer_what_there_is_and_filter_by_it(qtbot: QtBot, shelf: ShelfScreen) -> None:
    offered = [shelf.finder.family.itemText(n) for n in range(shelf.finder.family.count())]
    assert offered == ["Any colour", "red", "green", "grey", "not read"]
    shelf.finder.family.setFocus()
    qtbot.keyClick(shelf.finder.family, Qt.Key.Key_Down)
    assert in_table(shelf) == ["C-0001", "C-0002"]
    shelf.finder.kind.setCurrentText("mull")
    assert shelf.nothing_found.isVisible()
    qtbot.mouseClick(shelf.finder.clear_button, LEFT)
    assert shelf.strip.count.text() == "5 pieces"


def test_a_chosen_piece_stays_chosen_while_the_search_hides_it(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    click(qtbot, shelf, "C-0003")
    qtbot.keyClicks(shelf.finder.words, "rib")
    assert chosen(shelf) == "C-0003"
    shelf.finder.clear()
    assert shelf.choice.current == shelf.session.piece("C-0003").id


def test_a_code_scanned_anywhere_shows_its_piece_though_the_search_hid_it(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    qtbot.keyClicks(shelf.finder.words, "rib")
    shelf.session.piece_wanted.emit("C-0003")
    assert chosen(shelf) == "C-0003"
    assert shelf.finder.words.text() == ""


# Arranging and zooming


def test_the_hoard_is_arranged_by_place_in_groups_with_headings(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    shelf.arrange_by(Order.PLACE)
    told = [heading.text for heading in shelf.hoard.laid.headings]
    assert told == ["Rack", "Tin 2", "Tin 10", "No place noted"]
    assert shelf.session.settings.text("shelf/order") == "place"


def test_a_roll_is_drawn_shorter_than_it_is(shelf: ShelfScreen) -> None:
    roll = shelf.hoard.laid.spots[shelf.session.piece("M-0001").id]
    assert roll.height < 400


def wheel(shelf: ShelfScreen, at: QPointF, turn: int) -> None:
    viewport = shelf.hoard.viewport()
    event = QWheelEvent(
        at, QPointF(viewport.mapToGlobal(at.toPoint())), QPoint(), QPoint(0, turn),
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase,
        False,
    )  # fmt: skip
    QApplication.sendEvent(viewport, event)


def test_the_wheel_zooms_about_the_pointer(qtbot: QtBot, shelf: ShelfScreen) -> None:
    hoard, piece = shelf.hoard, shelf.session.piece("C-0001").id
    for _ in range(6):  # until there is ground on every side
        wheel(shelf, hoard.rect_of(piece).center(), 120)
    before = hoard.rect_of(piece)
    wheel(shelf, before.center(), 120)
    after = hoard.rect_of(piece)
    assert after.width() == pytest.approx(before.width() * 1.25)
    assert (after.center() - before.center()).manhattanLength() < 4


def test_keys_zoom_to_the_weave_and_back_to_the_whole(qtbot: QtBot, shelf: ShelfScreen) -> None:
    whole = shelf.hoard.scale
    for _ in range(40):
        qtbot.keyClick(shelf.hoard, Qt.Key.Key_Plus)
    assert shelf.hoard.scale == 16
    assert not shelf.hoard.is_whole
    qtbot.keyClick(shelf.hoard, Qt.Key.Key_0)
    assert shelf.hoard.scale == whole
    assert shelf.hoard.is_whole


def test_dragging_moves_the_ground_and_chooses_nothing(qtbot: QtBot, shelf: ShelfScreen) -> None:
    hoard = shelf.hoard
    for _ in range(8):
        hoard.zoom_in()
    piece = shelf.session.piece("C-0003").id
    hoard.reveal(piece)
    before, view = hoard.rect_of(piece).topLeft(), hoard.viewport()
    qtbot.mousePress(view, LEFT, pos=QPoint(300, 300))
    for step in range(1, 5):
        qtbot.mouseMove(view, QPoint(300 - 10 * step, 300 - 5 * step))
    qtbot.mouseRelease(view, LEFT, pos=QPoint(260, 280))
    assert shelf.choice.current is None
    moved = hoard.rect_of(piece).topLeft() - before
    assert (moved - QPointF(-40, -20)).manhattanLength() <= 2


# The table


def test_the_table_shows_the_same_pieces_and_shares_the_choice(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    click(qtbot, shelf, "C-0003")
    shelf.show_table(on=True)
    assert shelf.table.isVisible()
    assert shelf.table.currentIndex().data(ID_ROLE) == shelf.session.piece("C-0003").id
    qtbot.keyClick(shelf.table, Qt.Key.Key_Up)
    assert chosen(shelf) == "C-0002"
    shelf.show_table(on=False)
    assert shelf.choice.ids == {shelf.session.piece("C-0002").id}


def test_the_table_sorts_sizes_as_numbers_and_places_naturally(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    shelf.show_table(on=True)
    shelf.table.sortByColumn(ShelfColumn.HEIGHT, Qt.SortOrder.AscendingOrder)
    assert in_table(shelf) == ["C-0004", "C-0002", "C-0003", "C-0001", "M-0001"]
    shelf.table.sortByColumn(ShelfColumn.PLACE, Qt.SortOrder.DescendingOrder)
    assert in_table(shelf)[:3] == ["C-0002", "C-0003", "C-0001"]


def test_the_model_is_sound_through_a_whole_life(qtbot: QtBot, shelf: ShelfScreen) -> None:
    mode = QAbstractItemModelTester.FailureReportingMode.Warning
    shelf.show_table(on=True)
    tester = QAbstractItemModelTester(shelf.model, mode)
    session, stock = shelf.session, lambda verb: do(qtbot, shelf, verb)
    shelf.table.sortByColumn(ShelfColumn.COLOUR, Qt.SortOrder.DescendingOrder)
    stock(lambda room: room.pieces.shelve(scrap(GREEN)))
    stock(lambda room: room.pieces.correct("C-0002", place="Tin 1"))
    stock(lambda room: room.pieces.discard("C-0001", "lost"))
    stock(lambda room: room.pieces.discard("C-0003", "lost"))
    shelf.finder.words.setText("green")
    assert in_table(shelf) == ["C-0005"]
    shelf.finder.clear()
    stock(lambda room: room.ledger.undo())
    stock(lambda room: room.ledger.undo())
    assert len(in_table(shelf)) == len(session.pieces) == 6
    assert [p.id for p in session.pieces] == sorted(
        shelf.model.index(row, 0).data(ID_ROLE) for row in range(shelf.model.rowCount())
    )
    del tester


def test_column_widths_are_remembered(
    qtbot: QtBot, shelf: ShelfScreen, session: Session, previews: Previews
) -> None:
    shelf.show_table(on=True)
    shelf.table.setColumnWidth(ShelfColumn.PLACE, 233)
    again = ShelfScreen(session, previews)
    qtbot.addWidget(again)
    assert again.table.columnWidth(ShelfColumn.PLACE) == 233
    assert again.is_table


# Deeds


def do(qtbot: QtBot, shelf: ShelfScreen, verb) -> None:
    with qtbot.waitSignal(shelf.session.changed):
        shelf.session.do(verb)


def test_facts_are_put_right_in_a_dialog(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    shelf.edit()
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, FactsDialog)
    dialog.place.lineEdit().selectAll()
    qtbot.keyClicks(dialog.place.lineEdit(), "Drawer B")
    with qtbot.waitSignal(shelf.session.changed):
        qtbot.keyClick(dialog.place.lineEdit(), Qt.Key.Key_Return)
    assert shelf.session.piece("C-0001").place == "Drawer B"
    assert shelf.sheet.fact_list.words_of("Lies in") == "Drawer B"
    assert chosen(shelf) == "C-0001"


def test_a_price_that_is_no_sum_is_said_and_nothing_is_lost(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    click(qtbot, shelf, "C-0001")
    shelf.edit()
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, FactsDialog)
    qtbot.keyClicks(dialog.price, "two shillings")
    qtbot.keyClick(dialog.price, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "two shillings" in dialog.wrong.text()
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)


def test_several_pieces_are_moved_in_one_step(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    click(qtbot, shelf, "C-0002", CONTROL)
    shelf.move_pieces()
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, AskWords)
    dialog.entry.lineEdit().selectAll()
    qtbot.keyClicks(dialog.entry.lineEdit(), "Drawer C")
    with qtbot.waitSignal(shelf.session.changed):
        qtbot.mouseClick(dialog.go, LEFT)
    assert {shelf.session.piece(c).place for c in ("C-0001", "C-0002")} == {"Drawer C"}
    assert len(shelf.choice.ids) == 2


def test_a_discarded_piece_leaves_the_shelf_its_sheet_says_why_and_undo_brings_it_back(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    click(qtbot, shelf, "C-0001")
    shelf.discard()
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, AskWords)
    dialog.entry.lineEdit().selectAll()
    qtbot.keyClicks(dialog.entry.lineEdit(), "eaten by mice")
    with qtbot.waitSignal(shelf.session.changed):
        qtbot.mouseClick(dialog.go, LEFT)
    assert shelf.strip.count.text() == "4 pieces"
    assert chosen(shelf) == "C-0001"
    assert shelf.sheet.state.text() == "Discarded: eaten by mice."
    assert not shelf.sheet.edit_button.isEnabled()
    with qtbot.waitSignal(shelf.session.changed):
        shelf.session.undo()
    assert shelf.strip.count.text() == "5 pieces"
    assert shelf.choice.current == shelf.session.piece("C-0001").id
    assert shelf.sheet.state.text() == ""


def test_a_cut_piece_names_its_offcuts_and_they_lead_to_each_other(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    piece = shelf.session.piece("C-0001")
    part = place(piece.outline, 40, 100)
    assert part is not None
    cutting = Cutting(
        code="C-0001", purpose="spine strip", width=40, height=100, corners=part.corners,
        offcuts=tuple(cut(piece.outline, part)),
    )  # fmt: skip
    click(qtbot, shelf, "C-0001")
    do(qtbot, shelf, lambda room: room.pieces.cut(cutting))
    cut_up = "Cut up for spine strip; what was left is C-0005."
    qtbot.waitUntil(lambda: shelf.sheet.state.text() == cut_up)
    (link,) = [b for b in shelf.sheet.family.findChildren(QToolButton) if b.isVisible()]
    qtbot.mouseClick(link, LEFT)
    assert chosen(shelf) == "C-0005"
    shelf.session.piece_wanted.emit("C-0001")
    assert chosen(shelf) == "C-0001"
    assert shelf.choice.current is None


def test_a_reserved_piece_says_for_what(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    do(
        qtbot,
        shelf,
        lambda room: room.pieces.reserve("C-0001", "label, vol. 2", width=30, height=40),
    )
    assert shelf.sheet.fact_list.words_of("Reserved for") == "label, vol. 2"


def test_chosen_pieces_are_copied_as_lines_of_a_table(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    click(qtbot, shelf, "C-0003", CONTROL)
    with qtbot.waitSignal(shelf.session.said) as said:
        shelf.copy()
    assert said.args == ["Copied 2 pieces."]
    lines = QGuiApplication.clipboard().text().splitlines()
    assert [line.split("\t")[0] for line in lines] == ["Code", "C-0001", "C-0003"]
    data = QGuiApplication.clipboard().mimeData()
    assert bytes(data.data("text/tab-separated-values").data()).decode().splitlines() == lines


# Photographs


def photographed(room: Stockroom, photo: Path) -> NewPiece:
    stored = room.photos.archive(photo, name=photo.name, width=1100, height=1200)
    # 4 px to the mm, the scrap's lower left corner at pixel (100, 1080).
    to_mm = (0.25, 0.0, -25.0, 0.0, -0.25, 270.0, 0.0, 0.0, 1.0)
    patch = ((300.0, 300.0), (500.0, 300.0), (500.0, 500.0), (300.0, 500.0))
    reading = measure(photo, patch)
    colour = Colour(
        tuple(reading.lab), FaceName.SHOWN, reading.spread, reading.u, reading.method,
        stored.sha256, patch, reading.read_by,
    )  # fmt: skip
    stain = Flaw(FlawKind.STAIN, ((20, 20), (60, 20), (60, 50), (20, 50)))
    return NewPiece(
        kind=Kind.CLOTH,
        outline=rectangle(200, 250),
        colours=(colour,),
        marks=(PhotoMark(stored, to_mm, "a known length of 100 mm"),),
        flaws=(stain,),
    )


def test_a_scrap_is_painted_with_its_own_photograph_and_its_sheet_shows_the_outline(
    qtbot: QtBot, session: Session, previews: Previews, photo_of_cloth: Path
) -> None:
    session.stockroom.pieces.shelve(photographed(session.stockroom, photo_of_cloth))
    session.use(reopened(session))
    shelf = shown(qtbot, session, previews)
    piece = session.piece("C-0001")
    qtbot.waitUntil(lambda: previews.image(piece, shelf.hoard.scale) is not None)
    settle(qtbot, shelf)
    hoard = shelf.hoard.viewport().grab().toImage()
    middle = shelf.hoard.rect_of(piece.id).center().toPoint()
    seen = hoard.pixelColor(middle * hoard.devicePixelRatio())
    assert seen.red() > 2 * seen.green()
    click(qtbot, shelf, "C-0001")
    qtbot.waitUntil(lambda: shelf.sheet.photo.is_loaded)
    view = shelf.sheet.photo
    close = view.grab().toImage()
    qtbot.mouseClick(view, LEFT)
    assert view.grab().toImage() != close
    assert shelf.sheet.fact_list.words_of("Flaws") == "1 stain"
    assert shelf.sheet.fact_list.words_of("Scale") == "a known length of 100 mm"


def test_a_photograph_that_is_gone_is_said_on_the_sheet_and_the_colour_stays(
    qtbot: QtBot, session: Session, previews: Previews, photo_of_cloth: Path
) -> None:
    session.stockroom.pieces.shelve(photographed(session.stockroom, photo_of_cloth))
    sha = session.stockroom.pieces.listed()[0].marks[0].photo.sha256
    path = session.stockroom.photos.path(sha)
    session.use(reopened(session))
    path.unlink()
    shelf = shown(qtbot, session, previews)
    click(qtbot, shelf, "C-0001")
    qtbot.waitUntil(lambda: "missing" in shelf.sheet.photo.words)
    assert "deep red" in shelf.sheet.readings.words


def test_a_piece_that_is_shelved_gets_its_colour_map(
    qtbot: QtBot, session: Session, photo_of_cloth: Path
) -> None:
    """Made when it comes on the shelf, not when a part is first held against it."""
    NewMaps(session, session)
    new = photographed(session.stockroom, photo_of_cloth)
    with qtbot.waitSignal(session.changed):
        session.do(lambda room: room.pieces.shelve(new))
    (piece,) = session.pieces
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert session.maps.is_known(piece)
    assert session.maps.known(piece) is not None


# Commands and manners


def test_keys_in_the_window_reach_the_shelf(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    session.stockroom.pieces.shelve_many(HOARD)
    session.use(reopened(session))
    shelf = ShelfScreen(session, previews)
    window = Window(session, [shelf], [])
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    session.opened.emit()
    qtbot.keyClick(window, Qt.Key.Key_T, CONTROL)
    assert shelf.is_table
    qtbot.keyClick(window, Qt.Key.Key_T, CONTROL)
    assert not shelf.is_table
    qtbot.keyClick(window, Qt.Key.Key_F, CONTROL)
    assert shelf.finder.words.hasFocus()
    shelf.show_code("C-0001")
    window.refresh_commands()
    qtbot.keyClick(window, Qt.Key.Key_F2)
    assert isinstance(shelf.tasks.dialog, FactsDialog)
    shelf.tasks.dialog.reject()


def test_every_command_has_its_name_and_its_sentence_and_no_key_twice(shelf: ShelfScreen) -> None:
    commands = shelf.commands()
    keys = [keys.toString() for c in commands for keys in c.shortcuts()]
    assert len(keys) == len(set(keys))
    assert len({c.name for c in commands}) == len(commands)
    for command in commands:
        assert command.tip.endswith(".")
        assert action_for(command, shelf).text()


def test_every_control_of_the_shelf_is_reached_by_tab_and_has_a_name(
    qtbot: QtBot, shelf: ShelfScreen
) -> None:
    click(qtbot, shelf, "C-0001")
    shelf.finder.words.setFocus()
    visited = []
    for _ in range(60):
        widget = QApplication.focusWidget()
        if widget in visited:
            break
        visited.append(widget)
        qtbot.keyClick(widget, Qt.Key.Key_Tab)
    for needed in (
        shelf.finder.kind, shelf.finder.height_entry, shelf.finder.width_entry, shelf.strip.order,
        shelf.strip.table, shelf.hoard, shelf.sheet.photo, shelf.sheet.match_button,
        shelf.sheet.edit_button, shelf.sheet.discard_button,
    ):  # fmt: skip
        assert needed in visited, needed
    for widget in visited:
        told = widget.accessibleName() or getattr(widget, "text", lambda: "")()
        assert told or widget is shelf.strip.order, widget


def test_lengths_follow_the_unit_chosen(qtbot: QtBot, shelf: ShelfScreen) -> None:
    click(qtbot, shelf, "C-0001")
    qtbot.keyClicks(shelf.finder.height_entry, "127")
    shelf.session.settings.unit = Unit.INCH
    shelf.session.opened.emit()
    assert chosen(shelf) == "C-0001"
    assert shelf.finder.height_entry.text() == "5 in"
    assert shelf.sheet.fact_list.words_of("Size") == "2 3/8 × 9 7/16 in"


def test_the_sign_of_a_caution_hides_no_more_than_a_quarter_of_a_piece() -> None:
    for width, height in ((200.0, 300.0), (24.0, 90.0), (9.0, 30.0), (8.0, 8.0)):
        side = sign_side(16.0, QRectF(0, 0, width, height))
        assert 0.0 < side <= 16.0
        assert side * side <= width * height / 4
    assert sign_side(16.0, QRectF(0, 0, 7.0, 40.0)) == 0.0


def test_one_long_word_in_a_note_leaves_the_sheet_as_wide_as_it_is(
    shelf: ShelfScreen, session: Session, qtbot: QtBot
) -> None:
    changes = session.stockroom.pieces.shelve(scrap(note="x" * 400, place="y" * 300))
    session.heard(changes)
    shelf.show_code(changes.born[0])
    qtbot.waitUntil(lambda: not session.jobs.busy)
    area = shelf.sheet.area
    assert area.widget().width() <= area.viewport().width()
    assert shelf.sheet.fact_list.words_of("Note") == "x" * 400


def test_a_hoard_of_thousands_is_read_and_laid_while_the_window_goes_on(
    qtbot: QtBot, session: Session, previews: Previews
) -> None:
    many = [scrap((20 + n % 60, n % 40, -(n % 30)), (60, 80)) for n in range(1600)]
    session.stockroom.pieces.shelve_many(many)
    stockroom = reopened(session)
    shelf = ShelfScreen(session, previews)
    qtbot.addWidget(shelf)
    shelf.resize(1104, 730)
    shelf.show()
    session.take(stockroom)
    assert session.is_opening
    assert not session.is_open
    assert shelf.coming.isVisible()
    settle(qtbot, shelf)
    qtbot.waitUntil(lambda: len(shelf.hoard.laid.spots) == 1600)
    assert shelf.hoard.isVisible()
    shelf.show_code("C-1234")
    assert chosen(shelf) == "C-1234"
    shelf.show_table(on=True)
    assert len(in_table(shelf)) == 1600
    do(qtbot, shelf, lambda room: room.pieces.move([f"C-{n:04}" for n in range(1, 301)], "Loft"))
    assert sum(piece.place == "Loft" for piece in session.pieces) == 300


def test_a_second_stockroom_asked_for_while_the_first_is_read_is_the_one_that_opens(
    qtbot: QtBot, session: Session, previews: Previews, tmp_path: Path
) -> None:
    session.stockroom.pieces.shelve_many([scrap(RED, (60, 80)) for _ in range(1100)])
    session.take(reopened(session))
    assert session.is_opening
    with qtbot.waitSignal(session.opened):
        session.take(Stockroom.create(tmp_path / "other"))
    assert not session.is_opening
    assert session.stockroom.folder == tmp_path / "other"
    assert session.pieces == []
