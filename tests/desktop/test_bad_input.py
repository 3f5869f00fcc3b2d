"""What cannot be used is refused in the window with a sentence, and nothing is lost by it."""

import io
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from bindery_stock.bench.photo_table.found import Sureness
from bindery_stock.bench.photo_table.marks import StepName
from bindery_stock.desktop.app import build
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.match.model import RowKind
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from tests.desktop.hands import CONTROL, draw, drop_on, in_hand, press, write
from tests.desktop.shelving import shelve_cloth


@pytest.fixture
def desk_and_window(session: Session, qtbot: QtBot) -> Iterator[tuple[FrontDesk, Window]]:
    faults: list[Exception] = []
    session.fault.connect(faults.append)
    window, desk = build(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    session.opened.emit()
    qtbot.waitExposed(window)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    yield desk, window
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert faults == []


@pytest.fixture
def window(desk_and_window: tuple[FrontDesk, Window]) -> Window:
    return desk_and_window[1]


@pytest.fixture
def table(window: Window) -> PhotoTableScreen:
    return next(place for place in window.places if isinstance(place, PhotoTableScreen))


@pytest.fixture
def match(window: Window) -> MatchScreen:
    return next(place for place in window.places if isinstance(place, MatchScreen))


def huge_png(path: Path, side: int) -> Path:
    """A picture of side × side pixels in a few hundred bytes, its pixels missing."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + check

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b""))
        + chunk(b"IEND", b"")
    )  # fmt: skip
    return path


def bad_photographs(folder: Path) -> dict[Path, str]:
    """Files that are no usable photographs, with what must be said of each."""
    folder.mkdir()
    whole = io.BytesIO()
    Image.effect_noise((300, 300), 60).convert("RGB").save(whole, "JPEG")
    made = {
        folder / "letter.jpg": "not a picture",
        folder / "half.jpg": "cut short",
        folder / "nothing.png": "zero bytes",
        folder / "print.tif": "rofile",
        folder / "plan.png": "1 bit",
        folder / "moving.png": "animated",
    }
    letter, half, nothing, print_, plan, moving = made
    letter.write_text("Dear Sir, the cloth is enclosed.")
    half.write_bytes(whole.getvalue()[: len(whole.getvalue()) // 2])
    nothing.touch()
    Image.new("CMYK", (200, 200), (0, 200, 180, 40)).save(print_)
    Image.new("1", (200, 200), 1).save(plan)
    frames = [Image.new("RGB", (60, 60), (90 * n, 20, 20)) for n in range(3)]
    frames[0].save(moving, save_all=True, append_images=frames[1:])
    made[huge_png(folder / "huge.png", 40_000)] = "megapixels"
    return made


def on_the_table(
    window: Window, table: PhotoTableScreen, photo: Path, qtbot: QtBot, step: StepName
) -> None:
    """Put a photograph on the table and go through the steps before this one."""
    drop_on(window, photo)
    qtbot.waitUntil(lambda: table.draft is not None)
    canvas = table.marking.canvas
    draw(qtbot, canvas, (100, 1150), (900, 1150))
    write(qtbot, "200 mm")
    press(qtbot, Qt.Key.Key_Return)
    draw(qtbot, canvas, (100, 80), (900, 1080))
    table.marking.go_to_step(list(StepName).index(step))


def test_files_that_are_no_photographs_are_named_with_the_mend_and_the_good_one_goes_on(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, tmp_path: Path,
    qtbot: QtBot,
) -> None:  # fmt: skip
    bad = bad_photographs(tmp_path / "bad")
    told: list[str] = []
    session.trouble.connect(told.append)
    before = {path: path.read_bytes() for path in bad}
    drop_on(window, *bad, photo_of_cloth)
    qtbot.waitUntil(lambda: table.draft is not None)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert [draft.path for draft in table.waiting.drafts] == [photo_of_cloth]
    assert len(told) == len(bad)
    assert table.refusals.isVisible()
    assert "more before these" in table.refusals.words
    for path, why in bad.items():
        (line,) = [line for line in told if path.name in line]
        assert why in line
        assert line.rstrip().endswith(".")
    assert {path: path.read_bytes() for path in bad} == before
    assert session.pieces == []


def test_a_patch_too_small_for_a_colour_says_how_small_and_may_be_drawn_again(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    on_the_table(window, table, photo_of_cloth, qtbot, StepName.COLOUR)
    canvas = table.marking.canvas
    canvas.zoom_by(8.0, canvas.to_widget((500.0, 500.0)))
    draw(qtbot, canvas, (500, 500), (505, 505))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    colour = table.marking.panel.headers[list(StepName).index(StepName.COLOUR)]
    assert colour.finding.standing is not Sureness.FOUND
    said = " ".join(label.text() for label in table.findChildren(QLabel) if label.isVisible())
    assert "25 pixels" in said
    assert "a colour needs 50" in said
    qtbot.keyClick(in_hand(), Qt.Key.Key_Return, CONTROL)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert session.pieces == []
    assert table.draft is not None
    assert len(table.draft.marks.outline) == 4


def test_a_patch_drawn_over_the_edge_of_the_photograph_stops_there(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    on_the_table(window, table, photo_of_cloth, qtbot, StepName.COLOUR)
    draw(qtbot, table.marking.canvas, (700, 900), (1110, 1205))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert table.draft is not None
    ring = table.draft.marks.patches[-1].ring
    assert (max(x for x, _ in ring), max(y for _, y in ring)) == (1100, 1200)


def test_a_part_larger_than_anything_is_not_offered_and_each_piece_says_what_it_lacks(
    window: Window, session: Session, match: MatchScreen, qtbot: QtBot
) -> None:
    code = shelve_cloth(session)
    window.go_to(match)
    entries = (match.form.across, match.form.along, match.target.lightness, match.target.a)
    for entry, text in zip((*entries, match.target.b), ("900", "4000", "33", "38", "24"),
                           strict=True):  # fmt: skip
        entry.setFocus()
        entry.selectAll()
        write(qtbot, text)
    qtbot.waitUntil(lambda: match.model.rowCount() > 0)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert [row.kind for row in match.model.rows if row.piece] == [RowKind.NEAR]
    (near,) = [row for row in match.model.rows if row.piece]
    assert near.piece is not None
    assert near.piece.code == code
    assert "too short along the warp" in near.told
    assert "No piece" in match.answer_line.text()
    assert not match.cut_button.isEnabled()


@pytest.mark.parametrize("lab", [("140", "38", "24"), ("33", "-151", "24"), ("33", "38", "140")])
def test_a_colour_out_of_range_is_refused_by_its_figure(
    window: Window, session: Session, match: MatchScreen, lab: tuple[str, str, str], qtbot: QtBot
) -> None:
    shelve_cloth(session)
    window.go_to(match)
    for entry, text in zip(
        (match.target.lightness, match.target.a, match.target.b), lab, strict=True
    ):
        entry.setFocus()
        write(qtbot, text)
    # The pause after typing is over, and the search too.
    qtbot.waitUntil(lambda: not match._settle.isActive() and not session.jobs.busy)
    assert match.model.rowCount() == 0
    said = [w.text() for w in match.findChildren(QLabel) if w.isVisible()]
    said += [e.toolTip() for e in (match.target.lightness, match.target.a, match.target.b)]
    name = next(n for n, text in zip(("L*", "a*", "b*"), lab, strict=True) if abs(int(text)) > 100)
    assert any(name in words and ("range" in words or "write a number" in words) for words in said)


def test_a_folder_that_cannot_be_written_is_named_and_the_stockroom_stays_open(
    desk_and_window: tuple[FrontDesk, Window], session: Session, tmp_path: Path
) -> None:
    desk, window = desk_and_window
    code = shelve_cloth(session)
    folder = session.stockroom.folder
    in_the_way = tmp_path / "ledger.txt"
    in_the_way.write_text("a file where the folder should be")
    desk.make(in_the_way / "stock")
    assert window.foot.is_trouble
    assert "ledger.txt" in window.foot.words
    assert session.stockroom.folder == folder
    assert [piece.code for piece in session.pieces] == [code]


def test_a_sample_for_which_there_is_no_room_leaves_the_stockroom_open(
    qtbot: QtBot,
    desk_and_window: tuple[FrontDesk, Window],
    session: Session,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    desk, window = desk_and_window
    code = shelve_cloth(session)
    home = tmp_path / "no folder"
    home.write_text("a file")
    monkeypatch.setenv("BINDERY_STOCK_HOME", str(home))
    with qtbot.waitSignal(session.opened):
        desk.open_sample()
    assert window.foot.is_trouble
    assert "sample" in window.foot.words
    assert [piece.code for piece in session.pieces] == [code]


def test_a_full_disk_while_shelving_is_told_and_the_marks_stay_to_be_shelved_again(
    window: Window, table: PhotoTableScreen, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    resource = pytest.importorskip("resource", reason="file limits cannot be set on Windows")
    on_the_table(window, table, photo_of_cloth, qtbot, StepName.COLOUR)
    draw(qtbot, table.marking.canvas, (300, 300), (600, 700))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    # As on a full disk, nothing can be written beyond so many bytes of a file.
    resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, hard))
    try:
        qtbot.keyClick(in_hand(), Qt.Key.Key_Return, CONTROL)
        qtbot.waitUntil(lambda: window.foot.is_trouble)
        qtbot.waitUntil(lambda: not session.jobs.busy)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "room" in window.foot.words
    assert session.pieces == []
    assert table.draft is not None
    assert len(table.draft.marks.outline) == 4
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(in_hand(), Qt.Key.Key_Return, CONTROL)
    assert len(session.pieces) == 1
    assert session.stockroom.keeping.check().sound
