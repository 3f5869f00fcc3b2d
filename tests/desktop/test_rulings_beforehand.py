"""What the gate will say to parts and coverings stands in the books before anything is done."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.bench.match.cut import cut_part
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.errors import Barred, Stopped
from bindery_stock.stock import (
    BookPart,
    Colour,
    Cutting,
    NewBookSet,
    NewRepair,
    PlannedPlacement,
)
from bindery_stock.trade import Damage, Harm, LabResult, Survey
from bindery_stock.trade.vocabulary import Backing
from tests.desktop.shelving import box, shelve_cloth
from tests.statements import counted

RED = (33.0, 38.0, 24.0)
MEASURED = Survey(
    spine_width=33.0,
    rise=5.0,
    joint=6.0,
    board_height=210.0,
    board_width=133.0,
    damage=(Damage(Harm.SPINE_LOST),),
    old_spine=False,
)


@pytest.fixture
def books(qtbot: QtBot, session: Session, previews: Previews) -> BooksScreen:
    screen = BooksScreen(session, previews)
    qtbot.addWidget(screen)
    screen.resize(1104, 740)
    screen.stock_opened()
    screen.show()
    return screen


def entered(session: Session, **more: object) -> str:
    """A volume with its parts, entered at once."""
    new = NewRepair(name="Nine Weirs", survey=MEASURED, **more)  # type: ignore[arg-type]
    changes = survey(session.stockroom, new=new)
    session.heard(changes)
    return changes.born[0]


def reserved(session: Session, volume: str, **facts: object) -> BookPart:
    """The reback strip of a volume, reserved in cloth with these facts."""
    room = session.stockroom
    piece = shelve_cloth(session, outline=box(90, 280), lab=RED)
    session.heard(room.pieces.correct(piece, **facts))  # type: ignore[arg-type]
    part = room.books.parts(volume=volume)[0]
    right, top = 5.0 + part.width, 5.0 + part.height
    corners = ((5.0, 5.0), (right, 5.0), (right, top), (5.0, top))
    plan = [PlannedPlacement(part=part.id, code=piece, corners=corners)]
    session.heard(room.books.accept_plan(plan))
    return room.books.part(part.id)


def refusal_of_the_cut(session: Session, part: BookPart) -> Exception:
    """What the deed says when the part is cut."""
    cutting = Cutting(
        code=part.piece,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=part.corners,
        offcuts=(),
    )
    with pytest.raises((Barred, Stopped)) as refused:
        cut_part(session.stockroom, part=part.id, cutting=cutting)
    return refused.value


@pytest.mark.parametrize(
    ("facts", "leave"),
    [
        ({"backing": Backing.PYROXYLIN, "source_date": "1880"}, "needs a written reason"),
        ({"colour_family": "vivid green", "source_date": "1858"}, "stopped"),
    ],
    ids=["cellulose nitrate", "arsenical green"],
)
def test_a_reserved_part_says_beforehand_what_the_gate_will_say_to_its_cut(
    session: Session, books: BooksScreen, facts: dict[str, object], leave: str
) -> None:
    code = entered(session, colour_family="brown", dated="1880")
    part = reserved(session, code, **facts)
    books.show_volume(code)
    panel = books.volume_view.parts
    assert panel.list.item(0).text().startswith(f"{part.words}: △ {leave}\n")
    assert panel.ruling.isVisible()
    assert panel.ruling.text().startswith(f"△ {leave.capitalize()}: {part.piece}: ")
    words = panel.ruling.text().split(": ", 1)[1]
    assert words in str(refusal_of_the_cut(session, part))
    cell = books.set_view.model
    cell.show_set(None)
    assert cell.cell(0, 0).words == f"△ reserved {part.piece} · {leave}"
    told = cell.index(0, 0).data(Qt.ItemDataRole.ToolTipRole)
    assert f"△ {leave.capitalize()}: {part.piece}" in told


def test_a_part_that_nothing_speaks_against_says_nothing(
    session: Session, books: BooksScreen
) -> None:
    code = entered(session, colour_family="brown", dated="1880")
    part = reserved(session, code, colour_family="brown", source_date="1880")
    books.show_volume(code)
    panel = books.volume_view.parts
    assert panel.list.item(0).text().startswith(f"{part.words}\n")
    assert not panel.ruling.isVisible()
    assert "△" not in books.set_view.model.cell(0, 0).words


def test_a_green_read_on_the_piece_afterwards_is_told_at_once(
    session: Session, books: BooksScreen
) -> None:
    code = entered(session, colour_family="brown", dated="1880")
    part = reserved(session, code, colour_family="brown", source_date="1858")
    books.show_volume(code)
    panel = books.volume_view.parts
    assert not panel.ruling.isVisible()
    green = Colour((45.0, -40.0, 20.0), u=2.0)
    session.heard(session.stockroom.pieces.correct(part.piece, colours=(green,)))
    assert panel.ruling.text().startswith("△ Stopped: ")


@pytest.mark.parametrize(
    ("facts", "rule"),
    [
        ({"colour_family": "vivid green", "dated": "1858"}, "R32"),
        (
            {
                "colour_family": "yellow",
                "dated": "1880",
                "lab_results": (
                    LabResult(substance="lead", found=True, on=None, laboratory="", method=""),
                ),
            },
            "R33",
        ),
    ],
    ids=["by colour and date", "by a laboratory"],
)
def test_a_volume_says_what_is_stopped_on_its_covering_by_which_rule_and_what_would_change_it(
    session: Session, books: BooksScreen, facts: dict[str, object], rule: str
) -> None:
    books_set = session.stockroom.books.add_set(NewBookSet(title="Weirs"))
    session.heard(books_set)
    code = entered(session, book_set=books_set.born[0], volume=1, **facts)
    books.show_volume(code)
    line = books.volume_view.covering
    assert line.isVisible()
    assert line.text().startswith("△ No wet work: ")
    assert f"({rule}; published)" in line.text()
    assert "Follow your local rules and licensed practice" in line.text()
    assert "What would change this: A laboratory's result" in line.text()
    model = books.set_view.model
    model.show_set(books_set.born[0])
    (repair,) = model.volumes
    assert model.standing(repair) == "△ no wet work · spine cloth lost"
    row = Qt.Orientation.Vertical
    assert model.headerData(0, row, Qt.ItemDataRole.AccessibleTextRole) == "1, △ no wet work"
    assert model.headerData(0, row) == "1"
    assert "△ No wet work: " in model.headerData(0, row, Qt.ItemDataRole.ToolTipRole)


def test_a_brown_volume_says_nothing_of_wet_work(session: Session, books: BooksScreen) -> None:
    code = entered(session, colour_family="brown", dated="1880")
    books.show_volume(code)
    assert not books.volume_view.covering.isVisible()
    model = books.set_view.model
    model.show_set(None)
    assert model.standing(model.volumes[0]) == "spine cloth lost"


def test_what_is_said_beforehand_asks_nothing_of_the_tables(
    session: Session, books: BooksScreen
) -> None:
    code = entered(session, colour_family="vivid green", dated="1858")
    reserved(session, code, colour_family="vivid green", source_date="1858")
    with counted() as found:
        books.show_volume(code)
        books.set_view.model.show_set(None)
        assert books.set_view.model.cell(0, 0).against
        assert books.volume_view.covering.text()
    assert len(found) == 0
