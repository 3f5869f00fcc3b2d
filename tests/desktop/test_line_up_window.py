"""The line-up in the window: from Match to the kept confirmations and on to the cut, by hand.

The photograph is the rendered one of known truth; finding outlines takes half a minute, so they
are the true ones, drawn again within a third of a millimetre.
"""

from collections.abc import Iterator
from pathlib import Path
from shutil import copytree

import pytest
from PySide6.QtCore import QMimeData, QRectF, QSizeF, Qt, QUrl
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot
from shapely import Polygon

from bindery_stock.bench.match import line_up_photo
from bindery_stock.bench.match.candidates import hoard_of
from bindery_stock.bench.match.line_up import line_up_sheet
from bindery_stock.bench.match.line_up_words import ordinal, tag_lines, told_words
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.line_up.dialog import LineUpAsked, LineUpDialog
from bindery_stock.desktop.line_up.tag_places import tag_places
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.unkept import LEAVE_AGAIN
from bindery_stock.matching import Part, rank
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.bench.test_line_up import BENCH, SHELF, found_in
from tests.desktop.hands import CONTROL, draw, drop_on, in_hand, press, write
from tests.rendered.line_up import BOOK, CODES

SPINE = "spine strip, vol. 4"
LEFT = Qt.MouseButton.LeftButton


def shelve_line_up(room: Stockroom) -> None:
    """The pieces of the rendered photograph under their codes, and others that do not serve."""
    for number in range(1, 16):
        code = f"C-{number:04}"
        lab = BENCH.lying[CODES.index(code)].lab if code in CODES else (90.0, 0.0, 0.0)
        small = Outline(((0, 0), (9, 0), (9, 9), (0, 9)))
        new = NewPiece(
            kind=Kind.CLOTH,
            outline=SHELF.get(code, small),
            place=f"tin {number}",
            colours=(Colour(lab, u=3.0),),
        )
        room.pieces.shelve(new)


@pytest.fixture(scope="module")
def shelved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Shelved once; each test has a copy."""
    folder = tmp_path_factory.mktemp("line-up-stock") / "stock"
    with Stockroom.create(folder) as room:
        shelve_line_up(room)
    return folder


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return BENCH.photograph(tmp_path_factory.mktemp("line-up") / "line-up.jpg")


@pytest.fixture
def finder(monkeypatch: pytest.MonkeyPatch) -> None:
    """The outlines as the finder gives them, without its half minute."""
    first, *others = found_in(BENCH)
    whole = line_up_photo.replace(first, others=tuple(others))
    monkeypatch.setattr(line_up_photo, "find_outline", lambda _photo, _marks: whole)


@pytest.fixture
def match(
    qtbot: QtBot, session: Session, previews: Previews, shelved: Path, tmp_path: Path
) -> Iterator[MatchScreen]:
    session.use(Stockroom.open(copytree(shelved, tmp_path / "line-up-stock")))
    place = MatchScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1100, 760)
    place.show()
    yield place
    if place.road.dialog is not None:
        place.road.dialog.reject()


def seek(qtbot: QtBot, match: MatchScreen) -> None:
    """A strip of 20 × 40 mm in the colour of the book."""
    match.form.purpose.setText(SPINE)
    entries = (match.form.across, match.form.along)
    entries += (match.target.lightness, match.target.a, match.target.b)
    for entry, text in zip(entries, ("20", "40", *map(str, BOOK)), strict=True):
        entry.selectAll()
        qtbot.keyClicks(entry, text)
    qtbot.waitUntil(lambda: not match.session.jobs.busy and match.model.rowCount() > 4)


def line_up_from(qtbot: QtBot, match: MatchScreen) -> LineUpDialog:
    seek(qtbot, match)
    match.line_up()
    made = match.road.dialog
    assert made is not None
    qtbot.waitExposed(made)
    return made


@pytest.fixture
def dialog(
    qtbot: QtBot, session: Session, previews: Previews, shelved: Path, tmp_path: Path, finder: None
) -> Iterator[LineUpDialog]:
    """The line-up by itself, asked for a strip of 20 × 40 mm in the colour of the book."""
    session.use(Stockroom.open(copytree(shelved, tmp_path / "line-up-stock")))
    pieces = {piece.code: piece for piece in session.pieces}
    ranking = rank(Part(20, 40, BOOK), hoard_of(pieces.values()))
    over = QWidget()
    qtbot.addWidget(over)
    over.show()
    asked = LineUpAsked(
        lambda after: line_up_sheet(ranking, pieces, after=after),
        SPINE,
        {match.code for match in ranking.matches},
    )
    made = LineUpDialog(session, previews, asked, over)
    qtbot.addWidget(made)
    made.open()
    qtbot.waitExposed(made)
    yield made
    made.done(0)


def load(qtbot: QtBot, dialog: LineUpDialog, photo: Path) -> None:
    with qtbot.waitSignal(dialog.look.loaded):
        drop_on(dialog, photo)


def scaled(qtbot: QtBot, dialog: LineUpDialog) -> None:
    """The sheet's corners are known: they are put where a hand would drag them."""
    strip = dialog.look.scale_strip
    qtbot.mouseClick(strip.by_sheet, LEFT)
    corners, width, height = BENCH.sheet
    strip.sheet_tool.show_rings((corners,))
    for entry, mm in ((strip.across, width), (strip.along, height)):
        entry.selectAll()
        qtbot.keyClicks(entry, f"{mm:g} mm")


def looked(qtbot: QtBot, dialog: LineUpDialog, photo: Path) -> None:
    load(qtbot, dialog, photo)
    scaled(qtbot, dialog)
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: dialog.told.answer is not None)


def tag_of(dialog: LineUpDialog, mark: str) -> QWidget:
    return next(tag for tag in dialog.told.photo.tags if tag.lines[0].split()[0] == mark)


def stranger(dialog: LineUpDialog) -> int:
    seen = dialog.told.seen
    assert seen is not None
    return next(n for n in seen.not_told if not seen.scraps[n].remark)


# From Match


def test_the_line_up_is_the_next_action_until_candidates_were_held_beside_the_book(
    qtbot: QtBot, match: MatchScreen
) -> None:
    assert not match.road.button.isEnabled()
    assert "no piece serves" in match.road.button.toolTip()
    seek(qtbot, match)
    assert match.road.button.isEnabled()
    assert match.road.button.property("role") == "next"
    assert (match.cut_button.property("role") or "") == ""


def test_why_nothing_can_be_laid_is_said_where_the_command_is_given(
    qtbot: QtBot, match: MatchScreen
) -> None:
    (command,) = [one for one in match.commands() if one.name == "match.line_up"]
    assert command.keys == "Ctrl+L"
    with qtbot.waitSignal(match.session.said) as said:
        command.run()
    assert "nothing to lay beside the book" in said.args[0]


def test_it_says_which_to_fetch_and_where_each_is_laid(dialog: LineUpDialog) -> None:
    assert dialog.lay_sheet.heading.text() == "Lay these 5 scraps beside the book"
    named = [child.accessibleName() for child in dialog.lay_sheet.findChildren(QWidget)]
    assert "C-0011 from tin 11: left of the book, at the head" in named
    assert "C-0011, as it is on the shelf" in named
    assert "one photograph from straight above" in dialog.lay_sheet.how.text()
    assert dialog.lay_sheet.more_button.isHidden()


# The whole road


def test_the_whole_road_by_keys_from_match_to_confirmations_that_one_undo_takes_back(
    qtbot: QtBot, session: Session, match: MatchScreen, photo: Path, finder: None
) -> None:
    dialog = line_up_from(qtbot, match)
    copied = QMimeData()
    copied.setUrls([QUrl.fromLocalFile(str(photo))])
    QGuiApplication.clipboard().setMimeData(copied)
    with qtbot.waitSignal(dialog.look.loaded):
        qtbot.keyClick(dialog, Qt.Key.Key_V, CONTROL)
    # A ruler of 100 mm: begun with Insert; its ends are the hand's.
    strip = dialog.look.scale_strip
    assert in_hand() is dialog.told.photo.canvas
    press(qtbot, Qt.Key.Key_Insert)
    left, right = BENCH.seen([(-50.0, 0.0), (50.0, 0.0)])
    strip.line_tool.show_line((tuple(left), tuple(right)))
    strip.length.setFocus()
    write(qtbot, "100 mm")
    assert dialog.go.isEnabled()
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: dialog.told.answer is not None)
    assert {tag.lines[0] for tag in dialog.told.photo.tags} >= {"book", "C-0011", "C-0012", "?"}
    assert not dialog.go.isEnabled()
    assert "light" in dialog.go.toolTip()
    press(qtbot, Qt.Key.Key_Return)
    assert "light" in dialog.wrong.text()
    dialog.light_line.light.setFocus()
    write(qtbot, "overcast window")
    with qtbot.waitSignal(session.changed):
        press(qtbot, Qt.Key.Key_Return)
    kept = session.stockroom.pieces.confirmations()
    assert {one.code for one in kept} >= {"C-0011", "C-0012", "C-0013"}
    assert {(one.purpose, one.light) for one in kept} == {(SPINE, "overcast window")}
    assert "One undo takes it back" in dialog.told.strip.closest.text()
    qtbot.waitUntil(lambda: any(row.held for row in match.model.rows))
    tag_of(dialog, "C-0011").setFocus()
    assert dialog.go.text() == "Cut C-0011…"
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: match.cutter.sheet is not None)
    sheet = match.cutter.sheet
    assert isinstance(sheet, CutSheet)
    assert sheet.piece.code == "C-0011"
    sheet.reject()
    assert match.cut_button.property("role") == "next"
    assert "Beside the book ΔE00" in " ".join(row.held for row in match.model.rows)
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.stockroom.pieces.confirmations() == []


# Who is who


def test_a_scrap_that_is_not_told_is_pointed_at_and_named(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    looked(qtbot, dialog, photo)
    desk, number = dialog.told, stranger(dialog)
    assert desk.seen is not None
    middle = Polygon(desk.seen.scraps[number].ring).centroid
    draw(qtbot, desk.photo.canvas, (middle.x, middle.y))
    assert desk.photo.number == number
    assert in_hand() is desk.strip.code or in_hand() is desk.strip.code.lineEdit()
    write(qtbot, "c-0099")
    press(qtbot, Qt.Key.Key_Return)
    assert "C-0099 is not on the shelf" in dialog.wrong.text()
    desk.photo.tags[number].setFocus()
    press(qtbot, Qt.Key.Key_Space)
    write(qtbot, "C-0007")
    press(qtbot, Qt.Key.Key_Return)
    assert desk.photo.tags[number].lines[0] == "C-0007"
    assert "pointed at" in desk.photo.tags[number].accessibleName()
    assert desk.answer is not None
    assert "C-0007" in {one.code for one in desk.answer.kept}
    desk.photo.tags[number].setFocus()
    write(qtbot, "?")
    press(qtbot, Qt.Key.Key_Return)
    assert desk.photo.tags[number].lines[0] == "?"


def test_the_book_is_pointed_at_and_everything_is_read_again(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    looked(qtbot, dialog, photo)
    desk = dialog.told
    assert desk.seen is not None
    book = next(n for n, scrap in enumerate(desk.seen.scraps) if scrap.is_book)
    desk.photo.tags[book].setFocus()
    desk.tell("?")
    qtbot.waitUntil(lambda: "Point at the book" in dialog.wrong.text())
    assert not dialog.go.isEnabled()
    desk.photo.tags[book].setFocus()
    desk.tell("book")
    qtbot.waitUntil(lambda: desk.answer is not None)
    assert desk.photo.tags[book].lines == ("book",)


def test_two_that_touch_are_said_and_drawn_round_by_hand(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    looked(qtbot, dialog, photo)
    desk = dialog.told
    assert desk.seen is not None
    both = next(n for n in desk.seen.not_told if desk.seen.scraps[n].remark)
    assert desk.photo.tags[both].lines[0] == "? △"
    desk.photo.tags[both].setFocus()
    assert "do two scraps touch" in desk.strip.words.text()
    for number in (4, 5):
        qtbot.mouseClick(desk.strip.draw_button, LEFT)
        assert not any(tag.isVisible() for tag in desk.photo.tags)
        low, high = BENCH.pixels_of(number)[0], BENCH.pixels_of(number)[2]
        draw(qtbot, desk.photo.canvas, low, high)
        press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: desk.answer is not None)
    codes = {scrap.code for scrap in desk.scraps}
    assert {"C-0014", "C-0015"} <= codes
    qtbot.mouseClick(desk.strip.draw_button, LEFT)
    press(qtbot, Qt.Key.Key_Escape)
    assert not desk.photo.is_drawing
    assert dialog.isVisible()


def test_every_outline_has_a_name_a_rank_and_a_band_in_words(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    looked(qtbot, dialog, photo)
    told, tags = dialog.told, dialog.told.photo.tags
    assert told.answer is not None
    first, last = told.answer.held[0], told.answer.held[-1]
    assert tags[first.number].lines[1] == first.figure
    assert "a tie" in tags[first.number].lines[2]
    assert "cannot be told from" in tags[first.number].accessibleName()
    assert tags[last.number].lines[2] == ordinal(len(told.answer.held))
    assert told.strip.closest.text() == told.answer.words
    for tag in tags:
        assert tag.accessibleName()
    tags[0].setFocus()
    press(qtbot, Qt.Key.Key_Tab)
    assert in_hand() is tags[1]
    assert told.photo.number == 1
    boxes = [tag.geometry() for tag in tags]
    assert not any(a.intersects(b) for n, a in enumerate(boxes) for b in boxes[:n])


def test_what_could_not_be_read_is_said_on_its_tag(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    looked(qtbot, dialog, photo)
    seen, answer = dialog.told.seen, dialog.told.answer
    assert seen is not None
    assert answer is not None
    number = answer.held[0].number
    spoilt = line_up_photo.replace(
        answer, held=answer.held[1:], refused=((number, "It is clipped."),)
    )
    assert tag_lines(seen, spoilt, number)[1] == "could not be read"
    assert "It is clipped." in told_words(seen, spoilt, number)


# The way out, and what comes in


def test_esc_over_what_was_told_asks_and_over_the_reading_stops_it(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    load(qtbot, dialog, photo)
    scaled(qtbot, dialog)
    dialog.look.looking.connect(dialog.stop)
    press(qtbot, Qt.Key.Key_Return)
    assert dialog.look.scale_strip.isVisible()
    dialog.look.looking.disconnect(dialog.stop)
    dialog.told.photo.canvas.setFocus()
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: dialog.told.answer is not None)
    press(qtbot, Qt.Key.Key_Escape)
    assert LEAVE_AGAIN in dialog.wrong.text()
    assert dialog.isVisible()
    press(qtbot, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_a_photograph_is_chosen_by_the_key_for_open_or_pasted_as_a_picture(
    qtbot: QtBot, dialog: LineUpDialog, photo: Path
) -> None:
    qtbot.keyClick(dialog, Qt.Key.Key_V, CONTROL)
    assert "no photograph on the clipboard" in dialog.wrong.text()
    qtbot.keyClick(dialog, Qt.Key.Key_O, CONTROL)
    (files,) = dialog.findChildren(QFileDialog)
    files.reject()
    QGuiApplication.clipboard().setImage(QImage(str(photo)))
    with qtbot.waitSignal(dialog.look.loaded):
        qtbot.keyClick(dialog, Qt.Key.Key_V, CONTROL)
    assert dialog.look.scale_strip.isVisible()


def test_a_file_that_is_no_photograph_is_told_in_the_line_up(
    qtbot: QtBot, dialog: LineUpDialog, tmp_path: Path
) -> None:
    bad = tmp_path / "notes.png"
    bad.write_text("no picture", encoding="utf-8")
    with qtbot.waitSignal(dialog.look.refused):
        drop_on(dialog, bad)
    assert "notes.png" in dialog.wrong.text()


def test_tags_stand_clear_of_each_other_and_inside_the_window() -> None:
    room = QRectF(0, 0, 400, 300)
    outlines = [QRectF(10, 10, 100, 90), QRectF(10, 104, 100, 90), QRectF(290, 200, 100, 95)]
    size = QSizeF(120, 50)
    placed = [QRectF(spot, size) for spot in tag_places(outlines, [size] * 3, room)]
    assert all(room.contains(place) for place in placed)
    assert not any(a.intersects(b) for n, a in enumerate(placed) for b in placed[:n])
