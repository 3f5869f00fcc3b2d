"""A window left open for days keeps a copy of each day with a step, and one at closing."""

import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.session import Session
from bindery_stock.errors import DiskTrouble
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping import backup
from bindery_stock.trade.vocabulary import Kind

PLAIN = NewPiece(kind=Kind.CLOTH, outline=Outline(((0, 0), (50, 0), (50, 80), (0, 80))))


class BenchClock:
    """Stands still until it is set."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock(session: Session, tmp_path: Path) -> BenchClock:
    """The clock of the stockroom that is in use."""
    made = BenchClock()
    session.use(Stockroom.create(tmp_path / "days", clock=made))
    return made


def shelve(qtbot: QtBot, session: Session) -> None:
    with qtbot.waitSignal(session.changed):
        session.do(lambda stockroom: stockroom.pieces.shelve(PLAIN))
    qtbot.waitUntil(lambda: not session.jobs.busy)


def test_thirty_days_with_the_window_open(
    qtbot: QtBot,
    session: Session,
    clock: BenchClock,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    copies = tmp_path / "days" / "backups"
    made_by: list[str] = []
    take = backup.take

    def noted(database: Path, folder: Path, reason: str, at: datetime, step: int) -> Path:
        made_by.append(threading.current_thread().name)
        return take(database, folder, reason, at, step)

    monkeypatch.setattr(backup, "take", noted)
    for day in range(30):
        clock.now = datetime(2026, 3, 1, 9, 0, tzinfo=UTC) + timedelta(days=day)
        shelve(qtbot, session)
        shelve(qtbot, session)
        assert len(made_by) == day + 1, "one a day, however many steps"
        assert [path for path in copies.iterdir() if path.name.startswith(f"{clock.now:%Y%m%d}T")]
    clock.now += timedelta(hours=9)
    session.close_stockroom()
    newest = max(copies.iterdir())
    assert newest.name == "20260330T180000Z-daily-step-60.sqlite"
    assert len(made_by) == 31
    assert threading.main_thread().name not in made_by
    days = sorted({path.name[:8] for path in copies.iterdir()})
    assert days[-7:] == [f"202603{day}" for day in range(24, 31)], "thinned as ever"


def test_a_window_in_which_nothing_was_done_leaves_no_copy(
    session: Session, clock: BenchClock, tmp_path: Path
) -> None:
    session.close_stockroom()
    assert list((tmp_path / "days" / "backups").iterdir()) == []


def test_a_copy_that_fails_is_told_and_the_step_stands(
    qtbot: QtBot, session: Session, clock: BenchClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> Path:
        raise DiskTrouble("The disk is full.")

    monkeypatch.setattr(backup, "take", full)
    with qtbot.waitSignal(session.noticed) as heard:
        shelve(qtbot, session)
    assert heard.args == ["Today's backup could not be made. The disk is full."]
    assert [piece.code for piece in session.pieces] == ["C-0001"]
    with qtbot.waitSignal(session.noticed) as heard:
        session.close_stockroom()
    assert heard.args == ["No backup could be made at closing. The disk is full."]
    assert not session.is_open
