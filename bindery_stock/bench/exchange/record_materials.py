"""What went into a volume: each piece and each lot, where it came from, and what the rules said."""

from collections.abc import Iterable

from bindery_stock.bench.adhesives.fitness import fitness_of
from bindery_stock.bench.shelf.piece_words import size_of, sort_of, usable_words
from bindery_stock.bench.shelf.usable_rectangles import SQUARE
from bindery_stock.clock import local_date
from bindery_stock.records.volume_facts import MaterialLine
from bindery_stock.shape import largest_rectangle
from bindery_stock.stock import (
    AdhesiveLot,
    BookPart,
    LotUse,
    Repair,
    StockPiece,
    Stockroom,
    Treatment,
    amount_words,
)
from bindery_stock.trade import Property, Role, Use
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

_USES: dict[Use, tuple[Role, ...]] = {
    Use.CLOTH_TO_BOARD: (
        Role.REBACK_INSIDE, Role.REBACK_OUTSIDE, Role.REBACK_REMOUNTED, Role.HEAD_PIECE,
        Role.TAIL_PIECE, Role.CORNER_PATCH, Role.CORNER_TRIANGLE, Role.JOINT_CLOTH,
        Role.HINGE_CLOTH, Role.BOARD_CLOTH, Role.CASE_CLOTH, Role.QUARTER_BACK, Role.SIDE,
    ),
    Use.SPINE_LINING: (
        Role.MULL, Role.LINING_TISSUE, Role.LINING_KRAFT, Role.HOLLOW_SIMPLE, Role.HOLLOW_THREE,
        Role.HOLLOW_FOUR, Role.HOLLOW_THREE_AND_HALF,
    ),
    Use.MENDING: (Role.LEAF_TEAR, Role.HOLE_PATCH, Role.JOINT_TISSUE, Role.HINGE_TISSUE),
    Use.TIPPING: (Role.ENDPAPER, Role.FLYLEAF, Role.SECTION_GUARD, Role.FOLD_GUARD),
}  # fmt: skip
"""The use for which a piece is judged by what was cut from it; the rest is hidden structure.

Common practice, no source."""


_NOT_JUDGED = "Not judged: it is not noted for which part it was used."


def pieces_used(
    stockroom: Stockroom, parts: Iterable[BookPart], steps: Iterable[Treatment]
) -> dict[str, list[StockPiece]]:
    """Every piece that a part was cut from, is reserved in, or a step names, by its code.

    Each is followed by what it was cut from, and so on to the first.
    """
    codes = [part.piece for part in parts] + [step.piece or "" for step in steps]
    return stockroom.pieces.lines(code for code in dict.fromkeys(codes) if code)


def lots_used(
    every: Iterable[AdhesiveLot], steps: Iterable[Treatment], uses: Iterable[LotUse]
) -> dict[str, AdhesiveLot]:
    """Of every lot those that a step names, or of which something was taken for the volume."""
    codes = [step.lot or "" for step in steps] + [use.code for use in uses]
    known = {lot.code: lot for lot in every}
    return {code: known[code] for code in dict.fromkeys(codes) if code}


def piece_line(
    stockroom: Stockroom, line: list[StockPiece], parts: Iterable[BookPart], lengths: LengthStyle
) -> MaterialLine:
    """A piece, with its verdict by the rules of today for what was cut from it.

    ``line`` is the piece, followed by what it was cut from, and so on to the first.
    """
    piece = line[0]
    origin = ", ".join(part for part in (piece.source, piece.source_date) if part)
    root = line[-1].code if len(line) > 1 else ""
    cut = f"; cut from {root}" if root else ""
    told = _verdicts(stockroom, piece, [part.role for part in parts if part.piece == piece.code])
    told += [f"{_known_as(stockroom, one)}: {one.words}" for one in piece.properties]
    told += [f"Laboratory, {result.words}" for result in piece.lab_results]
    return MaterialLine(
        code=piece.code,
        what=f"{sort_of(piece)}, {size_of(piece, lengths)}; "
        + usable_words(
            largest_rectangle(piece.outline, flaws=piece.flaws),
            largest_rectangle(piece.outline, proportion=SQUARE, flaws=piece.flaws),
            lengths,
        ),
        origin=f"{origin or 'origin not noted'}{cut}",
        verdict="\n".join(told),
        override="",
    )


def _known_as(stockroom: Stockroom, found: Property) -> str:
    """``pH``, ``weight (g/m²)``: what was tested, and its unit."""
    kind = stockroom.rules.properties.get(found.name)
    if kind is None:
        return found.name
    return f"{kind.words} ({kind.unit})" if kind.unit else kind.words


def _verdicts(stockroom: Stockroom, piece: StockPiece, roles: Iterable[str]) -> list[str]:
    """The verdict for each use it was put to, and for no other."""
    found = fitness_of(piece, stockroom.today, stockroom.rules)
    asked = {use_of(role) for role in roles}
    told = [f"{one.use}: {one.verdict.grade}. {one.reason}" for one in found if one.use in asked]
    return [_sentence(words) for words in told] or [_NOT_JUDGED]


def use_of(role: str) -> Use:
    """The use for which what becomes such a part is judged."""
    return next((use for use, roles in _USES.items() if role in roles), Use.HIDDEN)


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def lot_line(
    stockroom: Stockroom,
    repair: Repair,
    lot: AdhesiveLot,
    uses: Iterable[LotUse],
    steps: Iterable[Treatment],
) -> MaterialLine:
    """A lot, with the verdict that was written when something was taken from it."""
    of_lot = sorted((use for use in uses if use.code == lot.code), key=lambda use: use.id)
    overrides = [use.override_reason for use in of_lot if use.override_reason]
    overrides += [step.override for step in steps if step.lot == lot.code and step.override]
    kind = stockroom.rules.adhesives.get(lot.kind)
    return MaterialLine(
        code=lot.code,
        what=f"{lot.name} ({kind.name if kind else lot.kind})",
        origin=", ".join(_origin(lot)) or "not noted",
        verdict="\n".join(_use_line(use, repair) for use in of_lot)
        or "no verdict was written with its use",
        override="\n".join(dict.fromkeys(overrides)),
    )


def _origin(lot: AdhesiveLot) -> list[str]:
    dates = (
        ("bought", lot.bought), ("received", lot.received), ("opened", lot.opened),
        ("made", lot.made), ("supplier's date", lot.expires),
    )  # fmt: skip
    told = [part for part in (lot.supplier, lot.reference) if part]
    told += [f"{words} {written(day)}" for words, day in dates if day is not None]
    if lot.mixed_from:
        told.append("mixed from " + ", ".join(f"{p.code} {p.name}" for p in lot.mixed_from))
    return told


def _use_line(use: LotUse, repair: Repair) -> str:
    """``24 Nov 2026, 40 g, cloth to boards. Cloth to board: suitable.``"""
    amount = "" if use.amount is None or use.unit is None else amount_words(use.amount, use.unit)
    purpose = use.purpose.removesuffix(f", {repair.name}")
    told = ", ".join(words for words in (written(local_date(use.at)), amount, purpose) if words)
    return f"{told}. {_sentence(use.verdict).rstrip('.')}."
