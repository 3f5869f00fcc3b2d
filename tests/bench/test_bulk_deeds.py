"""A deed on many pieces puts as many statements to the tables as the same deed on few."""

from pathlib import Path

import pytest

from bindery_stock.bench.shelf.move import move
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.statements import counted

_MANY = 500
_FEW = 5


@pytest.fixture
def codes(tmp_path: Path):
    """A stockroom of plain pieces, with their codes."""
    outline = Outline(((0.0, 0.0), (120.0, 0.0), (120.0, 300.0), (0.0, 300.0)))
    with Stockroom.create(tmp_path / "stock") as room:
        born = room.pieces.shelve_many([NewPiece(kind=Kind.CLOTH, outline=outline)] * _MANY).born
        yield room, born


def test_moving_many_pieces_asks_no_more_than_moving_few(codes) -> None:
    room, born = codes
    with counted() as few:
        move(room, pieces=born[:_FEW], place="Drawer 1")
    with counted() as many:
        move(room, pieces=born, place="Drawer 2")
    assert {piece.place for piece in room.pieces.listed()} == {"Drawer 2"}
    assert len(many) == len(few), many.told()


def test_moving_many_pieces_back_asks_no_more_than_moving_few_back(codes) -> None:
    room, born = codes
    move(room, pieces=born[:_FEW], place="Drawer 1")
    with counted() as few:
        room.ledger.undo()
    move(room, pieces=born, place="Drawer 2")
    with counted() as many:
        room.ledger.undo()
    assert {piece.place for piece in room.pieces.listed()} == {""}
    assert len(many) == len(few), many.told()
