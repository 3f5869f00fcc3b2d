"""Looking along the shelf: words typed, what must be true of a piece, the order pieces lie in."""

import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.colour import family as colour_family
from bindery_stock.stock import StockPiece
from bindery_stock.trade.vocabulary import PATTERNS, Kind

NeverRead = ""
"""The family of a piece whose colour was never read."""
_DIGITS = re.compile(r"(\d+)")
_BANDS = (
    ("red", "pink"),
    ("orange", "brown", "yellow"),
    ("olive", "green"),
    ("blue", "purple"),
    ("black", "grey", "white"),
    ("",),
)
_FIRST_HUE = 345.0  # where the family of reds begins, in degrees of CIELAB hue
SortKey = tuple[tuple[int, int, str], ...]


class Order(StrEnum):
    """How the shelf is arranged."""

    COLOUR = "colour"
    SIZE = "size"
    PATTERN = "grain pattern"
    PLACE = "place"


@dataclass(frozen=True, slots=True, kw_only=True)
class Looking:
    """What is looked for. ``None`` asks for nothing; an empty text asks for pieces without one."""

    words: str = ""
    """All of them must stand in what is told of a piece: code, kind, grain pattern, colour family,
    source, place, note or what it is reserved for."""
    kind: Kind | None = None
    family: str | None = None
    pattern: str | None = None
    place: str | None = None
    height: float = 0.0
    """A part at least this tall along the warp can be cut from it, mm."""
    width: float = 0.0
    """A part at least this wide across the warp can be cut from it, mm."""

    @property
    def asks(self) -> bool:
        """Whether anything at all is asked for."""
        return self != Looking()

    @property
    def asks_size(self) -> bool:
        """Whether a part of some size must be had out of the piece."""
        return self.height > 0 or self.width > 0


@dataclass(frozen=True, slots=True)
class PieceGroup:
    """Pieces that lie together under one heading; an empty heading is not written."""

    heading: str
    pieces: tuple[StockPiece, ...]
    band: bool = False
    """A band of hues: each of its rows is put in order of lightness."""


@dataclass(frozen=True, slots=True)
class _Card:
    """What is kept ready of a piece so that typing does not work it out anew."""

    piece: StockPiece
    words: str
    family: str


def folded(text: str) -> str:
    """Text as it is compared in a search: composed (NFC) and without case."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", text).casefold())


def natural_key(text: str) -> SortKey:
    """A sort key by which ``Tin 2`` stands before ``Tin 10``."""
    parts = _DIGITS.split(folded(text))
    return tuple((0, int(p), "") if p.isdecimal() else (1, 0, p) for p in parts if p)


def family_of(piece: StockPiece) -> str:
    """The colour family of a piece's shown face, or ``NeverRead``."""
    return colour_family(piece.colour.lab) if piece.colour else NeverRead


class Catalogue:
    """Knows each piece's words and colour family, worked out once while it stays unchanged."""

    def __init__(self) -> None:
        """Begin with no cards."""
        self._cards: dict[int, _Card] = {}

    def family(self, piece: StockPiece) -> str:
        """The colour family of a piece, or ``NeverRead``."""
        return self._card(piece).family

    def look(self, pieces: Iterable[StockPiece], looking: Looking) -> list[StockPiece]:
        """The pieces that answer, size left aside, in the order given.

        Whether a part of the size asked for can be cut takes an exact fit: see ``bench.room``.
        """
        wanted = folded(looking.words).split()
        return [piece for piece in pieces if self._answers(self._card(piece), looking, wanted)]

    def _answers(self, card: _Card, looking: Looking, wanted: Sequence[str]) -> bool:
        piece = card.piece
        return (
            looking.kind in {None, piece.kind}
            and looking.family in {None, card.family}
            and looking.pattern in {None, piece.pattern}
            and looking.place in {None, piece.place}
            and all(word in card.words for word in wanted)
        )

    def _card(self, piece: StockPiece) -> _Card:
        card = self._cards.get(piece.id)
        if card is None or card.piece is not piece:
            family = family_of(piece)
            card = _Card(piece, _words_of(piece, family), family)
            self._cards[piece.id] = card
        return card


def _words_of(piece: StockPiece, family: str) -> str:
    told = (piece.code, piece.kind, piece.pattern, family, piece.source, piece.source_date)
    return folded("\n".join((*told, piece.place, piece.note, piece.reserved_for)))


def arrange(
    pieces: Iterable[StockPiece], order: Order, family: Callable[[StockPiece], str] = family_of
) -> list[PieceGroup]:
    """Lay pieces in order; ``family`` gives a piece's colour family.

    By colour: bands of hue from the reds round to the purples, then the neutrals, then those never
    read. By size: the largest area first. By grain pattern and by place: one group for each, the
    lightest last.
    """
    if order is Order.COLOUR:
        return _bands(pieces, family)
    if order is Order.SIZE:
        return [PieceGroup("", tuple(sorted(pieces, key=lambda p: (-p.outline.area, p.id))))]
    if order is Order.PATTERN:
        return _grouped(pieces, lambda p: p.pattern, _pattern_key, "No grain pattern noted")
    return _grouped(pieces, lambda p: p.place, natural_key, "No place noted")


def _bands(pieces: Iterable[StockPiece], family: Callable[[StockPiece], str]) -> list[PieceGroup]:
    found: dict[tuple[str, ...], list[StockPiece]] = {band: [] for band in _BANDS}
    for piece in pieces:
        name = family(piece)
        found[next(band for band in _BANDS if name in band)].append(piece)
    return [
        PieceGroup("", tuple(sorted(lying, key=_hue_key)), band=True)
        for lying in found.values()
        if lying
    ]


def _hue_key(piece: StockPiece) -> tuple[float, int]:
    if piece.colour is None:
        return (0.0, piece.id)
    _, a, b = piece.colour.lab
    return ((math.degrees(math.atan2(b, a)) - _FIRST_HUE) % 360.0, piece.id)


def lightness(piece: StockPiece) -> float:
    """L* of the shown face; a piece never read comes after the lightest."""
    return piece.colour.lab[0] if piece.colour else math.inf


def _pattern_key(pattern: str) -> tuple[int, SortKey]:
    known = PATTERNS.index(pattern) if pattern in PATTERNS else len(PATTERNS)
    return (known, natural_key(pattern))


def _grouped(
    pieces: Iterable[StockPiece],
    word_of: Callable[[StockPiece], str],
    key: Callable[[str], SortKey | tuple[int, SortKey]],
    without: str,
) -> list[PieceGroup]:
    found: dict[str, list[StockPiece]] = {}
    for piece in pieces:
        found.setdefault(word_of(piece), []).append(piece)
    names = sorted((name for name in found if name), key=key) + [n for n in found if not n]
    return [
        PieceGroup(name or without, tuple(sorted(found[name], key=lambda p: (lightness(p), p.id))))
        for name in names
    ]


def counted(shown: int, total: int) -> str:
    """``23 of 61 pieces``, ``61 pieces``, ``1 piece``."""
    noun = "piece" if total == 1 else "pieces"
    return f"{total} {noun}" if shown == total else f"{shown} of {total} {noun}"
