"""The sample stockroom as the program opens it."""

from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bindery_stock import places
from bindery_stock.clock import local_date, system_clock
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.sample import SAMPLE_NAME, fresh_copy, open_working_copy
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings, data_folder
from bindery_stock.errors import NotAStockroom
from bindery_stock.stock import Stockroom


def test_the_sample_opens_on_a_copy_and_can_be_opened_fresh_again(
    qtbot: QtBot, tmp_path: Path
) -> None:
    session = Session(Settings(tmp_path / "desktop.ini"))
    desk = FrontDesk(session)
    shipped = (places.sample() / "stock.sqlite").read_bytes()
    with qtbot.waitSignal(session.opened):
        desk.open_sample()
    assert session.stockroom.folder == data_folder() / SAMPLE_NAME
    before = len(session.pieces)
    code = next(piece.code for piece in session.pieces if not piece.reserved_for)
    with qtbot.waitSignal(session.changed):
        session.do(lambda room: room.pieces.discard(code, "tried out"))
    assert len(session.pieces) == before - 1
    with qtbot.waitSignal(session.opened):
        desk.open_sample()
    assert len(session.pieces) == before
    assert (places.sample() / "stock.sqlite").read_bytes() == shipped
    session.close_stockroom()


def test_in_the_sample_time_goes_on_from_its_last_step(tmp_path: Path) -> None:
    folder = fresh_copy(tmp_path)
    with open_working_copy(folder, tmp_path) as room:
        (last,) = room.ledger.steps(limit=1)
        changes = room.pieces.move([room.pieces.listed()[0].code], "the window sill")
        assert timedelta(0) <= changes.step.at - last.at < timedelta(minutes=5)


def test_a_stockroom_of_ones_own_keeps_the_machines_clock(tmp_path: Path) -> None:
    Stockroom.create(tmp_path / "mine").close()
    with open_working_copy(tmp_path / "mine", tmp_path) as room:
        assert room.today == local_date(system_clock())


def test_an_installation_without_its_sample_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(places, "sample", lambda: tmp_path / "none")
    with pytest.raises(NotAStockroom, match="without the sample"):
        fresh_copy(tmp_path / "home")
