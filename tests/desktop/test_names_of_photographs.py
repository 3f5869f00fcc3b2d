"""Photographs are told by their names and what they show, not by the files they lie in."""

import re
from pathlib import Path

from pytestqt.qtbot import QtBot

from bindery_stock.bench.colour_room.archive_photos import Archived, photo_words, readable_name
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.photo_view import PhotoView
from bindery_stock.stock import Photo
from tests.desktop.shelving import shelve_cloth

HASH = "48f9aeabf2e4cffea9c8658f48019ffac62aa7ac8955bfc48525f0032a399299"


def test_a_photograph_that_is_damaged_is_named_by_the_piece_it_shows(
    qtbot: QtBot, session: Session, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session, photo_of_cloth)
    (piece,) = session.pieces
    original = session.stockroom.photos.path(piece.marks[0].photo.sha256)
    original.chmod(0o644)
    original.write_bytes(original.read_bytes()[:2000])
    view = PhotoView(session)
    qtbot.addWidget(view)
    view.show_piece(piece)
    qtbot.waitUntil(lambda: photo_of_cloth.name in view.words)
    assert f"{photo_of_cloth.name}, of {code}" in view.words
    assert not re.search(r"[0-9a-f]{16}", view.words)


def test_a_file_taken_out_of_the_archive_is_not_told_digit_by_digit() -> None:
    assert readable_name(f"{HASH}.jpg") == "photograph 48f9aeab….jpg"
    assert readable_name("red-rib-front.jpg") == "red-rib-front.jpg"
    photo = Photo(HASH, f"{HASH}.jpg", 400, 300, ".jpg")
    assert Archived(photo, ("C-0012",)).words == "photograph 48f9aeab….jpg   C-0012"


def test_a_photograph_that_shows_nothing_known_keeps_its_name(session: Session) -> None:
    assert photo_words(session.stockroom, Photo(HASH, "card.jpg", 400, 300, ".jpg")) == "card.jpg"
