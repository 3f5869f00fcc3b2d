"""The photographs in the archive, with what each shows."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.errors import AlreadyShelved, PhotoError
from bindery_stock.stock import Photo, Stockroom

_NAMED = 4


@dataclass(frozen=True, slots=True)
class Archived:
    """One original, and the pieces it shows."""

    photo: Photo
    codes: tuple[str, ...]

    @property
    def words(self) -> str:
        """The photograph's name and the pieces it shows."""
        if not self.codes:
            return self.photo.name
        return f"{self.photo.name}   {named(self.codes)}"


def named(codes: Sequence[str]) -> str:
    """The first few codes, and how many more there are."""
    more = len(codes) - _NAMED
    return ", ".join(codes[:_NAMED]) + (f" and {more} more" if more > 0 else "")


def archived(stockroom: Stockroom) -> list[Archived]:
    """Every photograph in the archive, the latest first, with the pieces read from it."""
    shown: dict[str, list[str]] = {}
    for piece in stockroom.pieces(gone=True):
        for mark in piece.marks:
            shown.setdefault(mark.photo.sha256, []).append(piece.code)
    return [Archived(photo, tuple(shown.get(photo.sha256, ()))) for photo in stockroom.photos()]


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
    return tuple(stockroom.pieces_shown(sha256))


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
