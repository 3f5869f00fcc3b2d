"""The parts of a volume for its papers: size, where each lay in its piece, how near its colour."""

import math
from dataclasses import replace

from bindery_stock.bench.match.shade_words import shade_words
from bindery_stock.colour import ReadBy, delta_e00, difference_band
from bindery_stock.records.volume_facts import PartLine
from bindery_stock.stock import BookPart, Colour, KeptShade, StockPiece
from bindery_stock.units import LengthStyle

_TURNS = {0.0: "upright", 90.0: "a quarter turned", 180.0: "upside down"}


def part_line(part: BookPart, pieces: dict[str, StockPiece], lengths: LengthStyle) -> PartLine:
    """One part, with the piece it was cut from or is reserved in."""
    sorts = dict.fromkeys(zone[0] for zone in part.zones)
    return PartLine(
        name=part.words,
        size=lengths.pair(part.width, part.height),
        material=part.material or part.kind.value,
        piece=_laid(part, pieces[part.piece], lengths) if part.piece else "",
        where=" and ".join(sorts),
        colour=part_shade_words(part, pieces.get(part.piece)).replace(".", lengths.point),
        state=part.state.value,
    )


def part_shade_words(part: BookPart, piece: StockPiece | None) -> str:
    """``ΔE00 2.1 ± 6.4 under the part``, as it was kept; why no ± can be given, or no figure.

    An earlier version kept no band with the figure: it is that of the readings.
    """
    faces = piece.colours if piece else ()
    measured = [face for face in faces if face.read_by.is_measured]
    if part.lab is not None and faces and not (part.read_by.is_measured and measured):
        return str(ReadBy.SEEN)
    shade = part.shade
    if shade is None or shade.u is not None:
        return shade_words(shade) if shade else ""
    return _by_readings(part, shade, measured)


def _by_readings(part: BookPart, shade: KeptShade, measured: list[Colour]) -> str:
    figure = f"ΔE00 {shade.delta_e:.1f}"
    if part.lab is None:
        return f"{figure}, ± not known: the colour sought is no longer kept"
    if not measured:
        return f"{figure}, ± not known: no colour is kept of the cloth"
    away = delta_e00(part.lab, [face.lab for face in measured])
    nearest = measured[int(away.argmin())]
    # A colour that was typed as it is stated counts as exact.
    sought = 0.0 if part.u is None and part.read_by is ReadBy.STATED else part.u
    band = difference_band(sought, nearest.u)
    if band is not None:
        return shade_words(replace(shade, u=band))
    which = "colour sought" if sought is None else "cloth"
    return f"{figure}, ± not known: none was kept with the reading of the {which}"


def _laid(part: BookPart, piece: StockPiece, lengths: LengthStyle) -> str:
    """``C-0001, upright``, and below it how far from the piece's left edge and its foot."""
    if not part.corners:
        return part.piece
    (x0, y0), (x1, y1) = part.corners[:2]
    turn = round(math.degrees(math.atan2(y1 - y0, x1 - x0)), 1) % 360
    words = _TURNS.get(turn, f"turned by {figure(turn, lengths)}°")
    left, foot = piece.outline.polygon.bounds[:2]
    across = min(x for x, _ in part.corners) - left
    along = min(y for _, y in part.corners) - foot
    return (
        f"{part.piece}, {words}\n{lengths.show(across, 0)} from its left\n"
        f"{lengths.show(along, 0)} from its foot"
    )


def figure(value: float, lengths: LengthStyle) -> str:
    """A number with the decimal sign of the lengths beside it."""
    return f"{value:g}".replace(".", lengths.point)
