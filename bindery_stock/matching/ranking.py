"""The pieces that serve a part, closest first, and the near misses with what they lack.

Colour is compared for the whole hoard at once; area and extents then refuse what cannot hold the
part; exact fits are tried in rank order until enough pieces stand, however far that goes.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, islice

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour import ReadBy, tie_limit, words
from bindery_stock.errors import EntryError
from bindery_stock.matching.cloth_under import ClothUnder, cloth_under
from bindery_stock.matching.fits import Left, Lying, fit, left_over
from bindery_stock.matching.hoard import Floats, Hoard, Truths, face_of
from bindery_stock.matching.shortfall import shortfall
from bindery_stock.matching.values import SHOWN_FACE, Part, Piece

Stop = Callable[[], bool]
Progress = Callable[[int, int], None]

_FIRST_BATCH, _LARGEST_BATCH = 32, 1024


@dataclass(frozen=True)
class Match:
    """A piece that serves."""

    part: Part
    piece: Piece
    delta_e: float | None
    """ΔE00 of its best face from the colour sought, or of the cloth under the part where that was
    looked at (``alone``); nothing where colour does not matter, or where one of the two was seen
    and not measured."""
    u: float | None
    """95 % uncertainty of that ΔE00; nothing where the piece's reading has none."""
    face: str
    """The face that was matched."""
    placement: Lying
    tie: int
    """Matches of the same number cannot be told apart by colour."""
    read_by: ReadBy = ReadBy.STATED
    """How the colour of that face became known."""
    alone: float | None = None
    """ΔE00 of the piece by itself, where ``delta_e`` is of the cloth seen under the part."""
    leaves_most: bool = False
    """True where it was laid to leave the most useful offcut."""

    @property
    def code(self) -> str:
        """The piece's code."""
        return self.piece.code

    @property
    def words(self) -> str:
        """The difference in plain words."""
        if self.is_seen:
            return str(ReadBy.SEEN)
        return "" if self.delta_e is None else words(self.delta_e, self.u)

    @property
    def is_seen(self) -> bool:
        """Whether it is of the colour family sought, and no more can be said of its colour."""
        return self.delta_e is None and self.part.lab is not None

    @property
    def band(self) -> tuple[float, float] | None:
        """Least and greatest ΔE00 that the uncertainty allows."""
        if self.delta_e is None:
            return None
        u = self.u or 0.0
        return max(self.delta_e - u, 0.0), self.delta_e + u

    @cached_property
    def under(self) -> ClothUnder | None:
        """The cloth that will be seen where the part lies, where a colour map tells of it."""
        if self.face != SHOWN_FACE:
            return None
        return cloth_under(self.part, self.piece, self.placement)

    @cached_property
    def left(self) -> Left:
        """What the cut would leave. Worked out when first asked for."""
        return left_over(self.piece, self.placement)


@dataclass(frozen=True)
class NearMiss:
    """A piece that does not serve."""

    part: Part
    piece: Piece
    delta_e: float | None
    against: str = ""
    """What speaks against cutting from it though it holds the part, in words; else empty."""
    under: bool = False
    """True where that ΔE00 is of the cloth under the part, at the closest place of the piece."""

    @property
    def code(self) -> str:
        """The piece's code."""
        return self.piece.code

    @cached_property
    def lack(self) -> str:
        """What it lacks, as a phrase: ``18 mm too short along the warp``.

        Worked out when first asked for, as it takes many trial fits.
        """
        return self.against or shortfall(self.part, self.piece, self.delta_e, under=self.under)


@dataclass(frozen=True)
class Ranking:
    """The answer to one part."""

    part: Part
    matches: tuple[Match, ...]
    near_misses: tuple[NearMiss, ...]
    stopped: bool = False
    """True where it was stopped before enough pieces stood."""

    def ties(self) -> tuple[tuple[Match, ...], ...]:
        """The matches in groups that colour alone cannot tell apart, in rank order."""
        numbers = sorted({match.tie for match in self.matches})
        return tuple(tuple(m for m in self.matches if m.tie == number) for number in numbers)


def rank(
    part: Part,
    pieces: Sequence[Piece] | Hoard,
    *,
    limit: int = 20,
    near: int = 20,
    against: Callable[[Piece], str] | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> Ranking:
    """The pieces from which ``part`` can be cut, closest in colour first, at most ``limit``.

    A shown part is ranked by ΔE00, equals in the order given; beyond its limit of shade no piece
    serves it. Where one of the two colours was seen and not measured, pieces of the colour family
    sought stand after all others, in the order given. A hidden part, and one for which
    colour does not matter, takes the poorest adequate cloth: smallest area first. Every match has
    a proved placement. ``near`` is how many of the pieces that do not serve are given.
    ``against`` is asked of each piece that holds the part: one against which it has words to say
    does not serve. ``stop`` is asked before every fit; ``progress`` is told how many stand, out of
    ``limit``. Raises ``EntryError`` where ``limit`` is below one or ``near`` below zero.
    """
    if limit < 1 or near < 0:
        raise EntryError(
            "Limit", "Ask for at least one match, and for no fewer than 0 near misses."
        )
    hoard = Hoard.of(pieces)
    field = _survey(part, hoard)
    found: list[tuple[int, Lying]] = []
    refused: dict[int, str] = {}
    stopped = False
    for index in _hopefuls(part, hoard, field):
        if len(found) == limit:
            break
        if stop is not None and stop():
            stopped = True
            break
        placement = fit(part, hoard.pieces[index])
        words = against(hoard.pieces[index]) if against is not None and placement else ""
        if placement is None or words:
            refused[index] = words
            continue
        found.append((index, placement))
        if progress is not None:
            progress(len(found), limit)
    matches = tied([_match(part, hoard, field, index, placement) for index, placement in found])
    misses = _near_misses(part, hoard, field, refused, near)
    return Ranking(part, tuple(matches), tuple(misses), stopped)


@dataclass(frozen=True)
class _Field:
    """What is known of every piece before any fit is tried."""

    order: NDArray[np.intp]
    """The pieces of the right sort in rank order."""
    delta_e: Floats
    other_face: dict[int, int]
    hopeful: Truths
    """Which may serve, as far as colour, area and extents tell."""


def _survey(part: Part, hoard: Hoard) -> _Field:
    delta_e, other_face = hoard.differences(part)
    hopeful = hoard.may_hold(part)
    if part.lab is not None:
        hopeful &= (delta_e <= part.farthest) | hoard.alike(part)
    poorest_first = part.lab is None or not part.shown
    order = np.argsort(hoard.areas if poorest_first else delta_e, kind="stable")
    return _Field(order[hoard.of_the_sort(part)[order]], delta_e, other_face, hopeful)


def _hopefuls(part: Part, hoard: Hoard, field: _Field) -> Iterator[int]:
    """The pieces worth an exact fit, in rank order; the sieve's refusals are struck off.

    Sieved in batches that grow, so that a plentiful hoard is not sieved in vain.
    """
    waiting = field.order[field.hopeful[field.order]]
    start, size = 0, _FIRST_BATCH
    while start < len(waiting):
        batch = waiting[start : start + size]
        kept = hoard.sieve(part, batch)
        field.hopeful[batch] = False
        field.hopeful[kept] = True
        yield from kept.tolist()
        start, size = start + size, min(2 * size, _LARGEST_BATCH)


def _match(part: Part, hoard: Hoard, field: _Field, index: int, placement: Lying) -> Match:
    piece = hoard.pieces[index]
    if part.lab is None:
        return Match(part, piece, None, None, SHOWN_FACE, placement, 0)
    face = face_of(piece, field.other_face.get(index))
    if math.isnan(field.delta_e[index]):
        return Match(part, piece, None, None, face.name, placement, 0, ReadBy.SEEN)
    both = None if face.u is None else math.hypot(face.u, part.u)
    found = float(field.delta_e[index])
    return Match(part, piece, found, both, face.name, placement, 0, face.read_by)


def tied(matches: Iterable[Match]) -> list[Match]:
    """Number the ties: a match joins those before it while it cannot be told from their first."""
    numbered: list[Match] = []
    number, first = -1, None
    for match in matches:
        if match.part.lab is None:
            numbered.append(match)
            continue
        if first is None or not _is_tie(first, match):
            number, first = number + 1, match
        numbered.append(replace(match, tie=number))
    return numbered


def match_at(part: Part, piece: Piece, placement: Lying) -> Match:
    """The match of a part with a piece in which it lies so, by the readings alone."""
    hoard = Hoard.of([piece])
    return _match(part, hoard, _survey(part, hoard), 0, placement)


def _is_tie(first: Match, match: Match) -> bool:
    """Whether colour cannot tell a match from the first, which is no farther: by what they were
    read by, or where that says nothing by their bands."""
    if first.is_seen or match.is_seen:
        return first.is_seen and match.is_seen
    best, band, other = first.delta_e, first.band, match.band
    if best is None or match.delta_e is None or band is None or other is None:
        return False
    limit = tie_limit(best, first.read_by, match.read_by, match.part.read_by)
    if limit is not None:
        return match.delta_e <= limit
    return other[0] <= band[1] and other[1] >= band[0]


def _near_misses(
    part: Part, hoard: Hoard, field: _Field, refused: dict[int, str], near: int
) -> list[NearMiss]:
    """The first pieces in order that are known not to serve.

    Those that hold the part, but against which something speaks, come before the others. For a
    hidden part the poorest are too small by far, so its near misses run from the largest.
    """
    missing = ~field.hopeful
    missing[list(refused)] = True
    candidates = field.order[missing[field.order]]
    if part.lab is None or not part.shown:
        candidates = candidates[::-1]
    spoken_against = [index for index, words in refused.items() if words]
    others = (i for i in candidates.tolist() if not refused.get(i))
    listed = islice(chain(spoken_against, others), near)
    return [
        NearMiss(
            part,
            hoard.pieces[i],
            None if math.isnan(field.delta_e[i]) else float(field.delta_e[i]),
            refused.get(i, ""),
        )
        for i in listed
    ]
