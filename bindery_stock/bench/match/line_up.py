"""Which scraps to lay beside the book, where each is fetched from, and how they are laid."""

from collections.abc import Mapping
from dataclasses import dataclass

from bindery_stock.matching import Match, Ranking, line_up
from bindery_stock.stock import StockPiece

SPOTS = (
    "left of the book, at the head",
    "right of the book, at the head",
    "left of the book, half way",
    "right of the book, half way",
    "left of the book, at the tail",
    "right of the book, at the tail",
)
"""Where the first to the sixth lie, as near the book as one another."""

HOW = (
    "Lay the book in the middle of a plain sheet that is unlike the cloths, and the scraps round "
    "it with the same side up as the book's, a finger's breadth apart, each with its label on it "
    "or close by. One soft light on all, no shadow over any. Lay a ruler beside them and take one "
    "photograph from straight above. No target and no grey card is needed."
)
"""How the line-up is laid and taken."""


@dataclass(frozen=True, slots=True)
class ScrapToLay:
    """One scrap of the line-up."""

    match: Match
    place: str
    """Where it lies on the shelf; empty where nobody has said."""
    spot: str
    """Where it is laid."""

    @property
    def code(self) -> str:
        """The piece's code."""
        return self.match.code

    @property
    def words(self) -> str:
        """``C-0042 from tin 3: left of the book, at the head``."""
        source = f" from {self.place}" if self.place else ""
        return f"{self.code}{source}: {self.spot}"


@dataclass(frozen=True, slots=True)
class LineUpSheet:
    """The line-up as it is to be laid."""

    scraps: tuple[ScrapToLay, ...]
    note: str
    """What was left out and why; empty where nothing was."""

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes, in the order of their spots."""
        return tuple(scrap.code for scrap in self.scraps)


def line_up_sheet(
    ranking: Ranking,
    pieces: Mapping[str, StockPiece],
    *,
    in_hand: str = "",
    with_reserved: bool = False,
    after: int = 0,
) -> LineUpSheet:
    """The scraps of a ranking to lay beside the book, six at most, the likeliest first.

    What is reserved for something else stays in its place unless ``with_reserved``; the piece
    ``in_hand`` is reserved for the very part sought. ``after`` passes over so many that were laid
    in a photograph before. ``pieces`` are those of the ranking, by code.
    """
    kept = {
        code
        for code, piece in pieces.items()
        if piece.reserved_for and code != in_hand and not with_reserved
    }
    chosen = line_up(ranking, reserved=kept, after=after)
    scraps = tuple(
        ScrapToLay(match, pieces[match.code].place, spot)
        for match, spot in zip(chosen.laid, SPOTS, strict=False)
    )
    said = []
    if chosen.waiting:
        several = len(chosen.waiting) > 1
        more, them = (f"{len(chosen.waiting)} more", "them") if several else ("One more", "it")
        said.append(
            f"{more} cannot be told from the best either: lay {them} in a second photograph."
        )
    if chosen.kept_for_others:
        codes = ", ".join(match.code for match in chosen.kept_for_others)
        said.append(f"Left in their places, as they are reserved: {codes}.")
    return LineUpSheet(scraps, " ".join(said))
