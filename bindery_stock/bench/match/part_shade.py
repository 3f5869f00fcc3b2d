"""How far the cloth under a part of a volume is from the colour sought, where the part lies.

The one figure of a part: what a window shows, a deed keeps, and lists and the record tell.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from bindery_stock.bench.books.part_list import as_matched
from bindery_stock.bench.match.candidates import as_matched as piece_as_matched
from bindery_stock.bench.match.placed_part import lying_at
from bindery_stock.bench.shelf.colour_maps import ColourMaps
from bindery_stock.colour import ColourMap
from bindery_stock.matching import Match, by_seen_cloth, match_at
from bindery_stock.shape import Ring
from bindery_stock.stock import BookPart, KeptShade, PlannedPlacement, StockPiece, Stockroom
from bindery_stock.trade import Rules


def shade_of(match: Match) -> KeptShade | None:
    """What is kept of a match; nothing where colour does not matter or was not measured."""
    if match.delta_e is None:
        return None
    return KeptShade(match.delta_e, match.u, under=match.alone is not None)


def part_shade(
    part: BookPart, piece: StockPiece, corners: Ring, seen: ColourMap | None, rules: Rules
) -> KeptShade | None:
    """The shade of the cloth seen under the part with its corners there, in mm of the piece.

    Without the map ``seen`` of the piece it is that of its reading. Nothing where no colour is
    sought, or one of the two was not measured.
    """
    if not corners:
        return None
    of = replace(piece_as_matched(piece), colour_map=seen)
    lying = lying_at(corners, part.width, part.height)
    return shade_of(by_seen_cloth(match_at(as_matched(part, rules), of, lying)))


def shades_laid(
    room: Stockroom, laid: Iterable[tuple[BookPart, str, Ring]]
) -> Mapping[int, KeptShade]:
    """The shades of parts laid in pieces, given by code, as things stand now; by ids of the parts.

    Takes a fixed number of statements, and some milliseconds a piece; where its colour map has not
    been made yet, about as long as opening its photograph.
    """
    wanted = [(part, code, corners) for part, code, corners in laid if part.lab is not None]
    codes = {code for _part, code, _corners in wanted}
    pieces = {piece.code: piece for piece in room.pieces.named(codes)} if codes else {}
    maps = ColourMaps.of_room(room)
    seen = {code: maps.of(piece) for code, piece in pieces.items()}
    found = {
        part.id: part_shade(part, pieces[code], corners, seen[code], room.rules)
        for part, code, corners in wanted
        if code in pieces
    }
    return {part: shade for part, shade in found.items() if shade is not None}


def with_shades(
    room: Stockroom, parts: Mapping[int, BookPart], placements: Iterable[PlannedPlacement]
) -> list[PlannedPlacement]:
    """Placements with the shade of the cloth there; ``parts`` are theirs, by id."""
    listed = list(placements)
    shades = shades_laid(
        room, [(parts[one.part], one.code, one.corners) for one in listed if one.part in parts]
    )
    return [replace(one, shade=shades.get(one.part)) for one in listed]


def under_now(maps: ColourMaps, rules: Rules) -> Callable[[BookPart, StockPiece], float | None]:
    """What tells ΔE00 of the cloth under a part as it is now; None while its map is not made."""

    def now(part: BookPart, piece: StockPiece) -> float | None:
        seen = maps.known(piece)
        found = None if seen is None else part_shade(part, piece, part.corners, seen, rules)
        return None if found is None or not found.under else found.delta_e

    return now
