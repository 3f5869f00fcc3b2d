"""A phone's folder is watched; originals are copied and never moved."""

import shutil
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bindery_stock.bench.exchange.phone_folder import INBOX, copy_in, look, tidy
from bindery_stock.clock import system_clock
from bindery_stock.desktop.exchange import inbox as inbox_module
from bindery_stock.desktop.exchange.inbox import Inbox
from bindery_stock.desktop.session import Session
from bindery_stock.errors import PhotoError


@pytest.fixture
def phone(tmp_path: Path) -> Path:
    folder = tmp_path / "phone"
    folder.mkdir()
    return folder


def at_rest(watching: Inbox, session: Session) -> bool:
    """Whether the folder has been looked through and nothing of it is still being copied."""
    return not watching._rest.isActive() and not session.jobs.busy


@pytest.fixture
def offered() -> list[Path]:
    return []


@pytest.fixture
def watching(
    qtbot: QtBot, session: Session, offered: list[Path], monkeypatch: pytest.MonkeyPatch
) -> Inbox:
    monkeypatch.setattr(inbox_module, "_REST_MS", 40)
    made = Inbox(session, offered.extend)
    made.setParent(session)
    return made


def test_a_new_photograph_is_copied_and_offered_and_the_original_stays(
    qtbot: QtBot, session: Session, watching: Inbox, phone: Path, offered: list[Path],
    photo_of_cloth: Path,
) -> None:  # fmt: skip
    shutil.copy(photo_of_cloth, phone / "old.png")
    watching.watch(phone)
    qtbot.waitUntil(lambda: at_rest(watching, session))
    assert offered == [], "what lay there before is left alone"
    shutil.copy(photo_of_cloth, phone / "IMG 1.png")
    qtbot.waitUntil(lambda: len(offered) == 1)
    (copy,) = offered
    assert copy == session.stockroom.folder / INBOX / "IMG 1.png"
    assert copy.read_bytes() == (phone / "IMG 1.png").read_bytes() == photo_of_cloth.read_bytes()


def test_what_came_while_the_program_was_closed_is_offered_once(
    qtbot: QtBot, session: Session, watching: Inbox, phone: Path, offered: list[Path],
    photo_of_cloth: Path,
) -> None:  # fmt: skip
    watching.watch(phone)
    watching._unwatch()
    shutil.copy(photo_of_cloth, phone / "IMG 1.png")
    session.opened.emit()
    qtbot.waitUntil(lambda: len(offered) == 1)
    session.opened.emit()
    qtbot.waitUntil(lambda: at_rest(watching, session))
    assert len(offered) == 1


def test_the_same_photograph_under_another_name_is_not_offered_again(
    qtbot: QtBot, session: Session, watching: Inbox, phone: Path, offered: list[Path],
    photo_of_cloth: Path,
) -> None:  # fmt: skip
    watching.watch(phone)
    for name in ("IMG 1.png", "IMG 1 copy.png"):
        shutil.copy(photo_of_cloth, phone / name)
    qtbot.waitUntil(lambda: len(offered) == 1)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert len(offered) == 1


def test_a_watched_folder_that_is_gone_is_told(
    qtbot: QtBot, session: Session, watching: Inbox, phone: Path
) -> None:
    watching.watch(phone)
    phone.rmdir()
    with qtbot.waitSignal(session.noticed) as heard:
        session.opened.emit()
    assert "is not there" in heard.args[0]


def test_other_files_links_and_hidden_files_are_left_alone(
    phone: Path, photo_of_cloth: Path
) -> None:
    shutil.copy(photo_of_cloth, phone / ".hidden.png")
    (phone / "notes.txt").write_text("mine")
    (phone / "empty.jpg").touch()
    (phone / "link.jpg").symlink_to(photo_of_cloth)
    (phone / "folder.jpg").mkdir()
    assert look(phone) == []
    with pytest.raises(PhotoError, match="cannot be read"):
        look(phone / "gone")


def test_a_photograph_that_changes_or_goes_while_it_is_copied_leaves_no_half(
    session: Session, phone: Path, photo_of_cloth: Path
) -> None:
    shutil.copy(photo_of_cloth, phone / "IMG 1.png")
    (seen,) = look(phone)
    (phone / "IMG 1.png").write_bytes(b"more and more")
    with pytest.raises(PhotoError, match="still being written"):
        copy_in(session.stockroom, seen)
    (phone / "IMG 1.png").unlink()
    with pytest.raises(PhotoError, match="went away"):
        copy_in(session.stockroom, seen)
    assert list((session.stockroom.folder / INBOX).iterdir()) == []


def test_a_copy_is_tidied_away_a_week_after_it_was_archived(
    session: Session, phone: Path, photo_of_cloth: Path
) -> None:
    shutil.copy(photo_of_cloth, phone / "IMG 1.png")
    (seen,) = look(phone)
    copy = copy_in(session.stockroom, seen)
    assert copy is not None
    later = system_clock() + timedelta(days=8)
    assert tidy(session.stockroom, lambda: later) == 0, "it has not been archived"
    session.stockroom.photos.archive(copy, name="IMG 1.png", width=1100, height=1200)
    assert tidy(session.stockroom) == 0, "it may show further scraps"
    assert tidy(session.stockroom, lambda: later) == 1
    assert (phone / "IMG 1.png").exists()
