"""Originals are kept by their content, once, whole, and never written again."""

import hashlib
import os
from pathlib import Path

import pytest

from bindery_stock.errors import DiskTrouble, EntryError, NotFound, PhotoError
from bindery_stock.stock import Stockroom

# "abc" is a worked example of the hash's own standard (FIPS 180-4, example SHA256_1; from memory).
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_an_original_is_named_by_the_hash_of_its_content(stock: Stockroom) -> None:
    photo = stock.photos.archive(b"abc", name="Red scrap.JPEG", width=40, height=30)
    assert photo.sha256 == ABC
    assert photo.suffix == ".jpeg"
    path = stock.photos.path(ABC)
    assert path == stock.folder / "photos" / f"{ABC}.jpeg"
    assert path.read_bytes() == b"abc"
    assert stock.photos.get(ABC) == photo
    assert stock.ledger.steps() == []


def test_a_file_is_copied_and_left_where_it_was(stock: Stockroom, tmp_path: Path) -> None:
    source = tmp_path / "scrap.png"
    source.write_bytes(os.urandom(3_000_000))
    photo = stock.photos.archive(source, name=source.name, width=40, height=30)
    assert stock.photos.path(photo.sha256).read_bytes() == source.read_bytes()
    assert photo.sha256 == hashlib.sha256(source.read_bytes()).hexdigest()


def test_the_same_content_is_kept_once_under_its_first_name(stock: Stockroom) -> None:
    first = stock.photos.archive(b"abc", name="first.jpg", width=40, height=30)
    again = stock.photos.archive(b"abc", name="second.png", width=40, height=30)
    assert again == first
    assert [path.name for path in (stock.folder / "photos").iterdir()] == [f"{ABC}.jpg"]


def test_a_lost_original_is_put_back_when_it_comes_in_again(stock: Stockroom) -> None:
    stock.photos.archive(b"abc", name="a.jpg", width=40, height=30)
    stock.photos.path(ABC).unlink()
    with pytest.raises(DiskTrouble, match=r"a\.jpg is missing"):
        stock.photos.path(ABC)
    assert stock.keeping.check().faults == (
        "The original of a.jpg is missing from the photo archive.",
    )
    stock.photos.archive(b"abc", name="b.png", width=40, height=30)
    assert stock.keeping.check().sound


def test_an_altered_original_is_found_by_the_check(stock: Stockroom) -> None:
    stock.photos.archive(b"abc", name="a.jpg", width=40, height=30)
    stock.photos.path(ABC).write_bytes(b"abd")
    (fault,) = stock.keeping.check().faults
    assert "a.jpg in the photo archive has been altered" in fault
    stock.photos.archive(b"abc", name="a.jpg", width=40, height=30)
    assert stock.keeping.check().sound


def test_a_file_no_photograph_names_is_told_and_left(stock: Stockroom) -> None:
    stray = stock.folder / "photos" / "holiday.jpg"
    stray.write_bytes(b"sea")
    found = stock.keeping.check()
    assert found.sound
    assert found.orphans == ("holiday.jpg",)
    assert stray.exists()


@pytest.mark.parametrize(
    ("name", "suffix"),
    [
        ("../../etc/passwd", ".bin"),
        ("a.jpg/../../b", ".bin"),
        ("scrap", ".bin"),
        ("scrap.J P", ".bin"),
        ("scrap\n.tiff", ".tiff"),
        ("C:\\scraps\\red.TIF", ".tif"),
        (".jpg", ".bin"),
    ],
)
def test_a_name_is_shown_and_never_used_as_a_path(stock: Stockroom, name: str, suffix: str) -> None:
    photo = stock.photos.archive(b"abc", name=name, width=40, height=30)
    assert (photo.name, photo.suffix) == (name, suffix)
    assert stock.photos.path(ABC).parent == stock.folder / "photos"


def test_an_empty_photograph_is_refused(stock: Stockroom, tmp_path: Path) -> None:
    (tmp_path / "empty.jpg").touch()
    for source in (b"", tmp_path / "empty.jpg"):
        with pytest.raises(PhotoError, match=r"empty\.jpg is empty"):
            stock.photos.archive(source, name="empty.jpg", width=40, height=30)
    assert list((stock.folder / "photos").iterdir()) == []


def test_what_is_no_file_is_refused_without_waiting(stock: Stockroom, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.jpg"
    os.mkfifo(pipe)
    for source in (pipe, tmp_path):
        with pytest.raises(PhotoError, match="not a file"):
            stock.photos.archive(source, name="pipe.jpg", width=40, height=30)


def test_a_photograph_that_is_gone_is_told_by_name(stock: Stockroom, tmp_path: Path) -> None:
    with pytest.raises(PhotoError, match=r"card\.jpg cannot be read"):
        stock.photos.archive(tmp_path / "card.jpg", name="card.jpg", width=40, height=30)


@pytest.mark.parametrize("size", [0, -1])
def test_a_photograph_has_a_size(stock: Stockroom, size: int) -> None:
    with pytest.raises(EntryError, match="Width"):
        stock.photos.archive(b"abc", name="a.jpg", width=size, height=30)


def test_a_photograph_that_never_came_in_is_not_found(stock: Stockroom) -> None:
    for ask in (stock.photos.get, stock.photos.path):
        with pytest.raises(NotFound):
            ask("0" * 64)


def test_copies_cut_short_are_cleared_at_the_next_opening(stock: Stockroom) -> None:
    stray = stock.folder / "photos" / ".incoming-4711"
    stray.write_bytes(b"half a photogr")
    assert stock.keeping.check().orphans == ()
    stock.close()
    with Stockroom.open(stock.folder) as again:
        assert not stray.exists()
        assert again.keeping.check().sound


def test_an_original_that_is_as_it_should_be_is_not_written_again(stock: Stockroom) -> None:
    stock.photos.archive(b"abc", name="a.jpg", width=40, height=30)
    before = stock.photos.path(ABC).stat()
    stock.photos.archive(b"abc", name="b.jpg", width=40, height=30)
    after = stock.photos.path(ABC).stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
