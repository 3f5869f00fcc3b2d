"""The photographs in the archive, with what each shows."""

from dataclasses import dataclass

from bindery_stock.stock import Photo
from bindery_stock.stock.reading import Reading

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


def archived(stockroom: Reading) -> list[Archived]:
    """Every photograph a piece was ever read from, the latest first."""
    shown: dict[str, tuple[Photo, list[str]]] = {}
    for piece in stockroom.pieces(gone=True):
        for mark in piece.marks:
            shown.setdefault(mark.photo.sha256, (mark.photo, []))[1].append(piece.code)
    return [Archived(photo, tuple(codes)) for photo, codes in reversed(shown.values())]
