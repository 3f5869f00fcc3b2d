"""Damage entered by its places, and a treatment chosen for each: by keys and by the mouse."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.desktop.books.book_drawing import SHAPES
from bindery_stock.desktop.books.damage_dialog import DamageDialog
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.books.treatments_dialog import TreatmentsDialog
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.stock import NewRepair
from bindery_stock.trade import Harm, Survey
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damages import PlacedDamage

LEFT, KEY = Qt.MouseButton.LeftButton, Qt.Key
BOOK = Survey(spine_width=30, joint=6, board_height=200, board_width=130, leaf_height=194,
              leaf_width=128, lift=12)  # fmt: skip
LOOSE = PlacedDamage(kind="block-loose", place=BookPlace.UPPER_HINGE, along=60.0)


@pytest.fixture
def books(qtbot: QtBot, session: Session, previews: Previews) -> BooksScreen:
    screen = BooksScreen(session, previews)
    qtbot.addWidget(screen)
    screen.resize(1104, 740)
    screen.stock_opened()
    screen.show()
    session.do(
        lambda room: survey(
            room, new=NewRepair(name="Nine Weirs", survey=BOOK, colour_family="black")
        )
    )
    settle(qtbot, screen)
    screen.show_volume("V-0001")
    return screen


def settle(qtbot: QtBot, books: BooksScreen) -> None:
    qtbot.waitUntil(lambda: not books.session.jobs.busy)


def go_to(qtbot: QtBot, list_of: Chooser, value: object) -> None:
    """Down the list by keys until that stands in it."""
    for _step in range(list_of.count()):
        if list_of.value() == value:
            return
        qtbot.keyClick(list_of, KEY.Key_Down)
    raise AssertionError(f"{value} is not offered")


def damage_dialog(qtbot: QtBot, books: BooksScreen) -> DamageDialog:
    qtbot.mouseClick(books.volume_view.damage_button, LEFT)
    dialog = books.tasks.dialog
    assert isinstance(dialog, DamageDialog)
    return dialog


def test_every_place_of_the_drawing_is_pressed_where_it_is_drawn(
    qtbot: QtBot, books: BooksScreen
) -> None:
    drawing = damage_dialog(qtbot, books).drawing
    assert set(SHAPES) == set(BookPlace) - {BookPlace.NOT_SAID}
    for place in SHAPES:
        assert drawing.place_at(drawing.middle_of(place)) is place


def test_the_whole_road_by_keys_and_the_drawing_gives_the_same_damage(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    dialog = damage_dialog(qtbot, books)
    go_to(qtbot, dialog.place, BookPlace.UPPER_HINGE)
    go_to(qtbot, dialog.kind, "block-loose")
    assert "endpapers" in dialog.help.text()
    qtbot.keyClicks(dialog.along, "600")
    qtbot.keyClick(dialog.add_button, KEY.Key_Space)
    assert "measure both again" in dialog.wrong.text()
    dialog.along.clear()
    qtbot.keyClicks(dialog.along, "60")
    qtbot.keyClick(dialog.add_button, KEY.Key_Space)
    assert dialog.damages == [LOOSE]
    qtbot.keyClick(dialog.keep_button, KEY.Key_Space)
    settle(qtbot, books)
    room = session.stockroom
    assert room.books.repair("V-0001").care.damages == (LOOSE,)
    session.do(lambda stock: stock.ledger.undo())
    settle(qtbot, books)
    dialog = damage_dialog(qtbot, books)
    assert dialog.damages == []
    at = dialog.drawing.middle_of(BookPlace.UPPER_HINGE).toPoint()
    qtbot.mouseClick(dialog.drawing, LEFT, pos=at)
    dialog.kind.choose("block-loose")
    qtbot.keyClicks(dialog.along, "60")
    qtbot.mouseClick(dialog.add_button, LEFT)
    qtbot.mouseClick(dialog.keep_button, LEFT)
    settle(qtbot, books)
    assert room.books.repair("V-0001").care.damages == (LOOSE,)

    qtbot.mouseClick(books.volume_view.treatments_button, LEFT)
    chooser = books.tasks.dialog
    assert isinstance(chooser, TreatmentsDialog)
    told = [chooser.options.item(row).text() for row in range(chooser.options.count())]
    assert sum("– proposed" in one for one in told) == 1
    assert not any("(us:" in one for one in told)
    assert "– not right here" in told[0]
    assert "What would change it:" in told[0]
    assert "(read: excerpt)" in chooser.about.text()
    qtbot.keyClick(chooser.options, KEY.Key_Down)
    assert chooser.keys != ["hinge-tighten"]
    qtbot.keyClick(chooser.keep_button, KEY.Key_Space)
    assert chooser.wrong.text() == "Reason: say why another treatment is chosen."
    qtbot.keyClicks(chooser.reason, "It will be lent out.")
    qtbot.keyClick(chooser.keep_button, KEY.Key_Space)
    settle(qtbot, books)
    kept = room.books.repair("V-0001")
    (choice,) = kept.care.choices
    assert (choice.treatment, choice.proposed) == ("recase", "hinge-tighten")
    assert choice.reason == "It will be lent out."
    assert [one.harm for one in kept.survey.damage] == [Harm.BLOCK_DETACHED]
    assert "text block loose" in books.volume_view.condition.text(), "what was found is shown"


def test_what_cannot_stand_side_by_side_is_said_with_the_mend(
    qtbot: QtBot, books: BooksScreen
) -> None:
    dialog = damage_dialog(qtbot, books)
    for kind in ("spine-lost", "spine-detached"):
        dialog.place.choose(BookPlace.SPINE)
        dialog.kind.choose(kind)
        qtbot.mouseClick(dialog.add_button, LEFT)
    assert "cannot both be: delete one of the two" in dialog.sense.text()
