"""Book and scrap held side by side in one photograph: compared, and held against each other.

The errors of light and camera are shared by the two, so what is left of them is a share of a small
difference, and no more than a few units of a large one: the most telling comparison there is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.bench.photo_table.readings import known_colours
from bindery_stock.clock import local_date
from bindery_stock.colour import Comparison, compare_in_photo, metamerism_caution, words
from bindery_stock.shape import Ring
from bindery_stock.stock import KeptConfirmation, StockPiece, Stockroom
from bindery_stock.trade.day_counts import written


@dataclass(frozen=True, slots=True)
class Pair:
    """Book and scrap in one photograph, both marked in upright pixels."""

    photo: Path
    name: str
    """The photograph's name, for the user."""
    size: tuple[int, int]
    """Pixels of the upright photograph."""
    book: tuple[Ring, ...]
    piece: tuple[Ring, ...]


def compare(pair: Pair, *, reference: Grey | Patches | None = None, sheet: Ring = ()) -> Comparison:
    """ΔE00 ± u from the book to the piece.

    Raises ``ColourError`` and ``PhotoError`` with what to do instead.
    """
    neutrals, target = known_colours(reference)
    return compare_in_photo(
        pair.photo,
        pair.book,
        pair.piece,
        neutral=neutrals or None,
        target=target,
        sheet=sheet or None,
    )


def confirmations_of(stockroom: Stockroom, code: str) -> list[KeptConfirmation]:
    """What was confirmed of a piece, and of those it was cut from: it is the same cloth."""
    return in_line(code, stockroom.pieces.family(code).ancestors, stockroom.pieces.confirmations())


def in_line(
    code: str, ancestors: Sequence[StockPiece], every: Iterable[KeptConfirmation]
) -> list[KeptConfirmation]:
    """Of all confirmations those of a piece and of its ancestors, the first of these first."""
    line = [*(piece.code for piece in reversed(ancestors)), code]
    ours = [kept for kept in every if kept.code in line]
    return sorted(ours, key=lambda kept: line.index(kept.code))


def confirmation_words(kept: KeptConfirmation) -> str:
    """``Overcast window: ΔE00 1.2 ± 0.8, very close (2 Mar 2026)``."""
    light = f"{kept.light[:1].upper()}{kept.light[1:]}"
    said = words(kept.delta_e, kept.u)
    day = written(local_date(kept.at))
    return f"{light}: ΔE00 {kept.delta_e:.1f} ± {kept.u:.1f}, {said} ({day})"


def metamerism(confirmations: Iterable[KeptConfirmation]) -> str:
    """A caution where two lights disagree about one purpose beyond their bands, or nothing."""
    latest = {(kept.purpose, kept.light.strip().lower()): kept for kept in confirmations}
    for one, other in combinations(latest.values(), 2):
        caution = metamerism_caution(one.seen, other.seen) if one.purpose == other.purpose else ""
        if caution:
            return caution
    return ""


def held_line(confirmations: Sequence[KeptConfirmation]) -> str:
    """The latest confirmation in a line, and how many went before it; empty where there is none."""
    if not confirmations:
        return ""
    last = confirmations[-1]
    before = len(confirmations) - 1
    more = f"; held {before} time{'s' if before > 1 else ''} before" if before else ""
    figure = f"ΔE00 {last.delta_e:.1f} ± {last.u:.1f}"
    return f"Beside the book {figure}, {last.light}, for {last.purpose}{more}"


def held_by(stockroom: Stockroom, codes: Iterable[str]) -> dict[str, list[KeptConfirmation]]:
    """What was confirmed of each of these pieces; those that were never held are left out."""
    every = stockroom.pieces.confirmations()
    if not every:
        return {}
    lines = stockroom.pieces.lines(codes)
    found = {code: in_line(code, line[1:], every) for code, line in lines.items()}
    return {code: held for code, held in found.items() if held}
