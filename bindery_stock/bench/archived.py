"""The photographs in the archive, with what each shows."""

from dataclasses import dataclass

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
        named = ", ".join(self.codes[:_NAMED])
        more = len(self.codes) - _NAMED
        return f"{self.photo.name}   {named}" + (f" and {more} more" if more > 0 else "")


def archived(stockroom: Stockroom) -> list[Archived]:
    """Every photograph in the archive, the latest first, with the pieces read from it."""
    shown: dict[str, list[str]] = {}
    for piece in stockroom.pieces(gone=True):
        for mark in piece.marks:
            shown.setdefault(mark.photo.sha256, []).append(piece.code)
    return [Archived(photo, tuple(shown.get(photo.sha256, ()))) for photo in stockroom.photos()]
