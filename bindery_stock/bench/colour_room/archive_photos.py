"""The photographs in the archive, with what each shows."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.colour import OpenPhoto, draft_photo
from bindery_stock.errors import AlreadyShelved, PhotoError
from bindery_stock.stock import Photo, Stockroom

_NAMED = 4
_HASHED = re.compile(r"([0-9a-f]{8})[0-9a-f]{56}(\.\w+)?")
"""A file of the archive, which is named by its content: nothing a person reads."""


@dataclass(frozen=True, slots=True)
class Archived:
    """One original, and the pieces it shows."""

    photo: Photo
    codes: tuple[str, ...]

    @property
    def words(self) -> str:
        """The photograph's name and the pieces it shows."""
        name = readable_name(self.photo.name)
        if not self.codes:
            return name
        return f"{name}   {named(self.codes)}"


def named(codes: Sequence[str]) -> str:
    """The first few codes, and how many more there are."""
    more = len(codes) - _NAMED
    return ", ".join(codes[:_NAMED]) + (f" and {more} more" if more > 0 else "")


def archived(stockroom: Stockroom) -> list[Archived]:
    """Every photograph in the archive, the latest first, with the pieces read from it."""
    shown: dict[str, list[str]] = {}
    for piece in stockroom.pieces.listed(gone=True):
        for mark in piece.marks:
            shown.setdefault(mark.photo.sha256, []).append(piece.code)
    return [
        Archived(photo, tuple(shown.get(photo.sha256, ()))) for photo in stockroom.photos.listed()
    ]


def readable_name(name: str) -> str:
    """A file's name as it is told: of one named by its content only the beginning."""
    hashed = _HASHED.fullmatch(name)
    return f"photograph {hashed[1]}…{hashed[2] or ''}" if hashed else name


def photo_words(stockroom: Stockroom, photo: Photo) -> str:
    """An original by its own name and what it shows: ``rib.jpg, of C-0012``."""
    shown = [
        piece.code
        for piece in stockroom.pieces.listed(gone=True)
        if any(mark.photo.sha256 == photo.sha256 for mark in piece.marks)
    ]
    shown += [
        f"{repair.name}: {one.shows}, {one.stage} treatment"
        for repair in stockroom.books.repairs()
        for one in repair.photos
        if one.photo.sha256 == photo.sha256
    ]
    name = readable_name(photo.name)
    return f"{name}, of {' and '.join(shown[:_NAMED])}" if shown else name


def archived_draft(stockroom: Stockroom, photo: Photo | str, longest: int) -> OpenPhoto:
    """A quick picture of an original, told by itself or its hash, at most ``longest`` pixels long.

    Raises ``NotFound`` and ``DiskTrouble`` where it is gone, and ``PhotoError`` where it cannot be
    read: in words of what it shows, not of the file it lies in.
    """
    path = stockroom.photos.path(photo)
    try:
        return draft_photo(path, longest)
    except PhotoError as error:
        known = stockroom.photos.get(photo) if isinstance(photo, str) else photo
        words = photo_words(stockroom, known)
        raise PhotoError(str(error).replace(path.name, words)) from error


def shown_by(stockroom: Stockroom, source: Path, name: str) -> tuple[str, ...]:
    """Codes of the pieces this very photograph shows already, told by its content.

    Reads the whole file. Raises ``PhotoError`` where it cannot be read.
    """
    try:
        with source.open("rb") as content:
            sha256 = hashlib.file_digest(content, "sha256").hexdigest()
    except OSError as error:
        raise PhotoError(
            f"“{name}” cannot be read ({error.strerror}). See that it is still there."
        ) from error
    return tuple(stockroom.pieces.shown_on(sha256))


def refuse_known(stockroom: Stockroom, source: Path, name: str) -> None:
    """Raise ``AlreadyShelved`` where the photograph shows a piece of the stockroom already."""
    codes = shown_by(stockroom, source, name)
    if codes:
        raise AlreadyShelved(known_words(name, codes), codes)


def known_words(name: str, codes: Sequence[str]) -> str:
    """What is known of a photograph that comes a second time."""
    return (
        f"“{name}” has been shelved already: {named(codes)} was read from this very photograph. "
        "Is there another scrap in it?"
    )
