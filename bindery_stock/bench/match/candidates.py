"""Hold a part against the shelf, and each candidate against the rules."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from bindery_stock import matching
from bindery_stock.bench.gate import concern
from bindery_stock.bench.match.part_matter import loose_matter
from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.bench.shelf.usable_rectangles import UsableRectangles
from bindery_stock.colour import FAMILIES, ColourMap, ReadBy
from bindery_stock.matching import Match, Ranking, by_seen_cloth, ranked_by_seen_cloth
from bindery_stock.shape import (
    Placement,
    Point,
    Zone,
    best_place,
    near_on,
    patch_at,
    patch_near_on,
)
from bindery_stock.shape.best_fit import AS_MUCH
from bindery_stock.shape.ground import ground
from bindery_stock.shape.shaded_places import SAME_SHADE, places_of_closest_shade, ways_to_lie
from bindery_stock.stock import FaceName, StockPiece
from bindery_stock.trade import Rules, Use
from bindery_stock.trade.gate import Ruling, ruling
from bindery_stock.trade.vocabulary import is_plain_cotton

LEADING = 6
"""So many candidates are placed to leave the most useful offcut before the others are."""


def as_matched(piece: StockPiece, usable: Placement | None = None) -> matching.Piece:
    """A piece as matching sees it: the shown face first, its other faces beside it.

    ``usable`` is its largest free rectangle along the warp, where that is known.
    """
    shown = next((c for c in piece.colours if c.face is FaceName.SHOWN), None)
    others = tuple(
        matching.Face(colour.face.value, colour.lab, colour.u, colour.read_by)
        for colour in piece.colours
        if colour.face is not FaceName.SHOWN
    )
    return matching.Piece(
        piece.code,
        piece.outline,
        shown.lab if shown else None,
        u=shown.u if shown else None,
        read_by=shown.read_by if shown else ReadBy.STATED,
        family=piece.colour_family if piece.colour_family in FAMILIES else "",
        flaws=piece.flaws,
        kind=piece.kind,
        pattern=piece.pattern,
        plain=is_plain_cotton(piece.kind, piece.fibre, piece.backing, piece.pattern),
        faces=others,
        usable=usable,
    )


def hoard_of(
    pieces: Iterable[StockPiece],
    *,
    reserved: bool = False,
    in_hand: str = "",
    usable: UsableRectangles | None = None,
) -> matching.Hoard:
    """The shelf as matching sees it, without the pieces reserved for something else.

    With ``reserved`` they are taken in too, and the one with the code ``in_hand`` always: it is
    reserved for the very part that is sought. The rectangles known in ``usable`` spare exact fits.
    """
    free = [
        piece for piece in pieces if reserved or not piece.reserved_for or piece.code == in_hand
    ]
    return matching.Hoard.of(
        [as_matched(piece, usable.known(piece) if usable else None) for piece in free]
    )


@dataclass(frozen=True)
class Judge:
    """What the gate will say to a knife in a piece, asked beforehand of pieces already read."""

    today: date
    rules: Rules
    use: Use | None = None
    """What the part is for; None where that is not known."""

    def ruling(self, piece: StockPiece) -> Ruling:
        """The answer for one piece."""
        matter = loose_matter(piece.code, self.use)
        return ruling(concern(matter, piece), self.today, rules=self.rules)


@dataclass(frozen=True)
class MatchAnswer:
    """The pieces that serve a part and the near misses, with what the gate will say to them."""

    ranking: Ranking
    rulings: Mapping[str, Ruling]
    """By code: of every match, and of the pieces that would serve but for the gate."""
    looked: bool = False
    """True where the cloth under the part was looked at, as far as colour maps tell of it."""


def answered(
    part: matching.Part,
    hoard: matching.Hoard,
    pieces: Mapping[str, StockPiece],
    judge: Judge,
    *,
    limit: int = 20,
    near: int,
    stop: Callable[[], bool] | None = None,
) -> MatchAnswer:
    """Rank ``hoard`` for ``part``: what the gate stops is a near miss, with its reason.

    ``pieces`` are those of the hoard, by code. Raises as ``matching.rank``.
    """
    rulings: dict[str, Ruling] = {}

    def against(found: matching.Piece) -> str:
        said = rulings[found.code] = judge.ruling(pieces[found.code])
        return f"stopped: {said.words}" if said.is_stopped else ""

    ranking = matching.rank(part, hoard, limit=limit, near=near, against=against, stop=stop)
    return MatchAnswer(ranking, rulings)


def ruling_line(said: Ruling) -> str:
    """``△ Needs a written reason: …``, ``△ Stopped: …``, or empty where nothing speaks."""
    if said.is_allowed:
        return ""
    return f"{SIGN} {said.leave.capitalize()}: {said.words}"


def placed_best(
    ranking: Ranking,
    check: Callable[[], None] = lambda: None,
    colour_map_of: Callable[[str], ColourMap | None] = lambda _code: None,
) -> Ranking:
    """The same answer by the cloth that will be seen, its leading matches placed for the offcut.

    Arguments as ``looked_at``; the leading ones are laid, within half a ΔE00 of the closest place,
    to leave the most useful offcut. Takes some tenths of a second for each of those.
    """
    answer = looked_at(ranking, check, colour_map_of)
    leading = [_for_offcut(match, check) for match in answer.matches[:LEADING]]
    return ranked_by_seen_cloth(answer, (*leading, *answer.matches[LEADING:]))


def others_placed(ranking: Ranking, check: Callable[[], None] = lambda: None) -> Ranking:
    """The same answer, those matches placed for the offcut, too, that were not among the leading.

    Takes some tenths of a second for each of them; ``check`` may stop the work.
    """
    return ranked_by_seen_cloth(ranking, [_for_offcut(match, check) for match in ranking.matches])


def _for_offcut(match: Match, check: Callable[[], None]) -> Match:
    check()
    if match.leaves_most:
        return match
    return replace(by_seen_cloth(_best(match)), leaves_most=True)


def looked_at(
    ranking: Ranking,
    check: Callable[[], None],
    colour_map_of: Callable[[str], ColourMap | None],
) -> Ranking:
    """The same answer by the cloth that will be seen under the part.

    Where the colour map of a piece is known by its code, the part is laid where the cloth under it
    is closest: faded, stained and stamped cloth goes under. ΔE00 is of that cloth from then on, and
    by it the matches are ordered and tied, and fall away where it is beyond what is allowed. Takes
    some hundredths of a second a piece; ``check`` may stop the work. Parts that may be turned
    freely, and triangles, are tried in the corners of the piece alone.
    """
    looked: list[Match] = []
    for match in ranking.matches:
        check()
        seen = replace(match.piece, colour_map=colour_map_of(match.code) or match.piece.colour_map)
        looked.append(_closest(replace(match, piece=seen)))
    return ranked_by_seen_cloth(ranking, looked)


def _closest(match: Match) -> Match:
    """The match where its cloth is closest, or as it is where no colour map tells of it."""
    if match.delta_e is None or match.under is None:
        return match
    looked = by_seen_cloth(match)
    if match.part.free or match.part.triangular:
        others = list(_choices(match))
    else:
        part, piece = match.part, match.piece
        shade = matching.shade_on(part, piece)
        usable = ground(piece.outline, margin=part.margin, flaws=piece.flaws, zones=part.sight)
        found = (
            places_of_closest_shade(usable, part.width, part.height, _ways(match), shade)
            if shade is not None
            else []
        )
        others = [replace(match, placement=lying) for lying in found]
    found_there = [by_seen_cloth(other) for other in others if other.under is not None]
    return min((looked, *found_there), key=lambda one: one.delta_e or 0.0)


def _best(match: Match) -> Match:
    choices = list(_choices(match))
    shades = [choice.under.delta_e for choice in (match, *choices) if choice.under]
    if shades:
        closest = min(shades) + SAME_SHADE
        choices = [one for one in choices if one.under and one.under.delta_e <= closest]
    found = max(choices, key=lambda other: other.left.best, default=match)
    if match.under and match.under.delta_e > min(shades) + SAME_SHADE:
        return found
    return found if found.left.best >= AS_MUCH * match.left.best else match


def _ways(match: Match) -> tuple[float, ...]:
    """The turns it may take that are different cloth."""
    turns = match.part.turns_in(match.piece.pattern)
    return ways_to_lie(turns, match.part.sight)


def _choices(match: Match) -> Iterator[Match]:
    """The same match, the part laid where it may leave more."""
    part, piece = match.part, match.piece
    turns = part.turns_in(piece.pattern)
    if part.free or part.triangular:
        for lying in _in_corners(part, piece, (*turns, match.placement.turn)):
            yield replace(match, placement=lying)
        return
    found = best_place(
        piece.outline,
        part.width,
        part.height,
        turns=turns,
        margin=part.margin,
        flaws=piece.flaws,
        zones=part.sight,
        shade=matching.shade_on(part, piece) if match.under else None,
    )
    if found is not None:
        yield replace(match, placement=found)


def _in_corners(
    part: matching.Part, piece: matching.Piece, turns: Iterable[float]
) -> Iterator[matching.Lying]:
    """The part as near as it can lie to each corner of the piece's box, at each turn."""
    left, low, right, high = piece.outline.bounds
    zones: tuple[Zone, ...]
    if part.triangular:
        flaws, zones = matching.flaws_in_the_way(part, piece), ()
    else:
        flaws, zones = list(piece.flaws), part.sight
    usable = ground(piece.outline, margin=part.margin, flaws=flaws, zones=zones)
    for turn in dict.fromkeys(turns):
        for x, y in ((left, low), (right, low), (right, high), (left, high)):
            spot = _first_corner(part, turn, x, y)
            found: matching.Lying | None
            if part.triangular:
                found = patch_near_on(usable, part.outline, spot, turn=turn)
            else:
                found = near_on(usable, part.width, part.height, spot, turn=turn)
            if found is not None:
                yield found


def _first_corner(part: matching.Part, turn: float, x: float, y: float) -> Point:
    """Where the part's own first corner lies when its middle lies at x, y."""
    middle = patch_at(part.outline, (0.0, 0.0), turn).polygon.envelope.centroid
    return (x - middle.x, y - middle.y)
