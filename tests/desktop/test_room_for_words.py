"""Words are read whole in a small window, and names of any length do no harm."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bindery_stock.bench.adhesives.shelf_rows import lot_rows
from bindery_stock.bench.photo_table.found import Found, Sureness
from bindery_stock.colour import SignedDifference
from bindery_stock.desktop.adhesives.lot_delegate import told_in_columns
from bindery_stock.desktop.app import build
from bindery_stock.desktop.elided import ElidedBox, ElidedLabel
from bindery_stock.desktop.match.delegate import told_in_lines
from bindery_stock.desktop.match.model import CandidateRow, RowKind
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.photo_table.header import StepHeader
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import step_text
from bindery_stock.stock import NewAdhesiveLot
from tests.desktop.shelving import shelve_cloth
from tests.scenes import enter_long_names, place_of

SCALE = "±0.6 mm over 200 mm, from a rectangle of 100 × 100 mm; lens error 0.2 mm; about 7° aslant"


def test_the_header_of_a_step_shows_its_whole_finding(qtbot: QtBot) -> None:
    header = StepHeader(1, "Scale")
    qtbot.addWidget(header)
    low = header.heightForWidth(372)
    header.show_finding(Found(Sureness.FOUND, SCALE))
    assert " ".join(header.lines(372)) == SCALE
    assert header.heightForWidth(372) > low


def test_every_use_a_lot_is_judged_for_is_read_in_a_narrow_list(session: Session) -> None:
    room = session.stockroom
    room.lots.enter(NewAdhesiveLot(kind="wheat-starch-paste", name="Paste", made=room.today))
    (row,) = lot_rows(room.lots.listed(), room.today, room.rules)
    uses = told_in_columns(row)[2]
    read = " ".join(line for text in uses for line in text.lines(240))
    assert "…" not in read
    assert read.count(",") + len(uses) == len(row.fitness)


def test_a_caution_on_a_candidate_is_never_cut_short(qtbot: QtBot) -> None:
    caution = "△ Stop: arsenical green. " + "Follow your local rules and licensed practice. " * 4
    row = CandidateRow(RowKind.MATCH, ("1.  C-0001", "ΔE00 1.0"), caution=caution.strip())
    lines = [line.text for line in told_in_lines(row, 260)]
    assert " ".join(lines[2:]) == caution.strip()


@pytest.mark.parametrize("mode", ["part", "nothing"])
def test_at_1280_by_800_the_part_is_seen_whole_while_it_is_described(
    qtbot: QtBot, session: Session, mode: str, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session, photo_of_cloth)
    window, _desk = build(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    session.opened.emit()
    match = place_of(window, MatchScreen)
    window.go_to(match)
    if mode == "part":
        session.match_wanted.emit(code)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    for widget in (match.drawing, match.form, match.target):
        assert widget.visibleRegion().boundingRect() == widget.rect(), widget
    window.close()


def test_what_rounds_to_no_difference_has_no_sign() -> None:
    assert step_text(SignedDifference(0.04, -0.04, -0.26)) == "ΔL* 0.0   ΔC* 0.0   ΔH* −0.3"


def test_a_name_too_long_for_its_room_stands_whole_in_the_tip(qtbot: QtBot) -> None:
    name = "The Complete Chronicles of the Hollin Vale, with the Author's Last Corrections"
    label, box = ElidedLabel(), ElidedBox()
    for widget in (label, box):
        qtbot.addWidget(widget)
    label.setText(name)
    box.addItem(name)
    assert label.toolTip() == box.toolTip() == name
    assert label.minimumSizeHint().width() == 0
    assert box.minimumSizeHint().width() < 200


def test_long_names_widen_no_place_beyond_the_window(qtbot: QtBot, session: Session) -> None:
    enter_long_names(session.stockroom)
    window, _desk = build(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    session.use(session.stockroom.open(_left(session)))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    for place in window.places:
        window.go_to(place)
        assert place.minimumSizeHint().width() <= 1104, place.title
    session.show_code(session.stockroom.books.repairs()[0].code)
    assert window.width() == 1280
    qtbot.waitUntil(lambda: not session.jobs.busy)
    window.close()


def _left(session: Session) -> Path:
    folder = session.stockroom.folder
    session.close_stockroom()
    return folder
