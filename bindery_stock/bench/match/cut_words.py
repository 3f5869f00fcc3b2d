"""What the cut sheet says: how a part lies, what is left, and the cuts in order."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.zones_seen import PLURAL
from bindery_stock.bench.shelf.piece_words import in_one_piece
from bindery_stock.matching import Part
from bindery_stock.records.cut_paper import CutTold
from bindery_stock.shape import (
    Flaw,
    KnifeWay,
    Outline,
    Placement,
    ShearCut,
    how_many,
    is_sheet,
    largest_rectangle,
    slivers,
)
from bindery_stock.shape.knife_way import SLIVER_MM
from bindery_stock.stock import StockPiece
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle

MOST_COUNTED = 50
"""So many more parts are counted; beyond that the number helps no one."""
BLADE = (
    "Mind the blade: cut away from the hand, against a safety rule, on the mat. Old cloth sheds "
    "dust; follow the rules of your own bench."
)
"""Said beside every cut: common practice, no source."""
LEAST_WASTE_MM2 = 0.1
"""Less than this is not worth a word: our choice."""


@dataclass(frozen=True, slots=True)
class Remain:
    """One piece that is left."""

    outline: Outline
    sliver: bool
    """Whether it is proposed for throwing away."""


@dataclass(frozen=True, slots=True)
class Prospect:
    """What can still be got out of what is left."""

    trims: tuple[Placement | None, ...]
    """The largest rectangle along the warp in each remain: where it would be trimmed square."""
    more: int | None
    """How many more parts such as the one in hand, at least; nothing where that is not counted."""

    @property
    def rectangles(self) -> tuple[tuple[float, float], ...]:
        """The trimmed sizes, width × height in mm; 0 × 0 for none."""
        return tuple((one.width, one.height) if one else (0.0, 0.0) for one in self.trims)


def remains_of(plan: CutPlan, sliver: float = SLIVER_MM) -> list[Remain]:
    """What the cuts leave, with those too thin to keep marked."""
    _kept, thin = slivers(plan.remains, sliver)
    return [Remain(outline, outline in thin) for outline in plan.remains]


def prospect(outlines: Sequence[Outline], flaws: Sequence[Flaw], part: Part) -> Prospect:
    """Measure what is left. Takes some tenths of a second."""
    trims = tuple(largest_rectangle(outline, flaws=flaws) for outline in outlines)
    if part.triangular or part.free:
        return Prospect(trims, None)
    more = 0
    for outline in outlines:
        more += how_many(
            outline,
            part.width,
            part.height,
            turns=part.turns,
            margin=part.margin,
            flaws=flaws,
            most=MOST_COUNTED - more,
        )
        if more >= MOST_COUNTED:
            break
    return Prospect(trims, more)


def more_words(prospect: Prospect, part: Part, lengths: LengthStyle) -> str:
    """``At least 3 others of 58 × 228 mm are left in it.``"""
    size = lengths.pair(part.width, part.height)
    if prospect.more is None:
        return ""
    if not prospect.more:
        return f"No other part of {size} is left in it."
    others = "other" if prospect.more == 1 else "others"
    verb = "is" if prospect.more == 1 else "are"
    return f"At least {prospect.more} {others} of {size} {verb} left in it."


def waste_words(area: float, slivers: float = 0.0) -> str:
    """``Waste: 6.8 cm²: 6.0 cm² in slivers, 84 mm² to the knife and in threads.`` (mm²).

    ``area`` is lost to the knife; nothing is said of what is rounding.
    """
    lost = ((slivers, "in slivers"), (area, "to the knife and in threads"))
    told = [(mm2, where) for mm2, where in lost if mm2 >= LEAST_WASTE_MM2]
    if len(told) < 2:
        return "".join(f"Waste: {area_words(mm2)}, {where}." for mm2, where in told)
    each = ", ".join(f"{area_words(mm2)} {where}" for mm2, where in told)
    return f"Waste: {area_words(area + slivers)}: {each}."


def waste_told(plan: CutPlan, thrown_away: Collection[int]) -> str:
    """The same of a plan; ``thrown_away`` numbers the remains that are not kept."""
    if not plan.fits:
        return ""
    return waste_words(plan.waste, sum(plan.remains[n].area for n in thrown_away))


def way_words(piece: StockPiece, way: KnifeWay) -> str:
    """``In from the edge``; of boards and sheets the cuts to the end are those of board shears."""
    if way is KnifeWay.THROUGH and (piece.kind is Kind.BOARD or is_sheet(piece.outline)):
        return "Edge to edge, as on board shears"
    return way.value.capitalize()


def told_on_paper(plan: CutPlan, thrown_away: Collection[int], lengths: LengthStyle) -> CutTold:
    """What the paper of a cut says beside the parts. Takes some hundredths of a second."""
    kept = [remain for number, remain in enumerate(plan.remains) if number not in thrown_away]
    trims = [largest_rectangle(remain, flaws=plan.piece.flaws) for remain in kept]
    sheared = plan.sheared if plan.by_shears else None
    return CutTold(
        way=way_words(plan.piece, plan.way),
        cuts=tuple(shear_words(sheared.cuts, lengths)) if sheared else (),
        trims=tuple(trim.corners for trim in trims if trim is not None),
        waste=waste_told(plan, thrown_away),
    )


def area_words(mm2: float) -> str:
    """``5.8 cm²``, or ``84 mm²`` for little."""
    return f"{mm2 / 100:.1f} cm²" if mm2 >= 100 else f"{mm2:.2g} mm²"


def remain_words(outline: Outline, lengths: LengthStyle) -> str:
    """``120 × 250 mm over all``."""
    return f"{lengths.pair(round(outline.width), round(outline.height))} over all"


def rectangle_words(size: tuple[float, float], lengths: LengthStyle) -> str:
    """``96 × 240 mm in one piece``, along the warp; never more than there is."""
    return in_one_piece(size, lengths)


def lie_words(plan: CutPlan, index: int, lengths: LengthStyle) -> str:
    """``Fits.`` or ``Does not fit here: over by 3 mm.`` for one part."""
    lie, laid = plan.lies[index], plan.laid[index]
    if lie.fits:
        if plan.by_shears and plan.sheared is None:
            return "Fits, but no edge-to-edge cuts free the parts as they lie."
        return "Fits; a tight fit, no play." if laid.placement.tight else "Fits."
    if lie.under is not None:
        return f"Does not fit here: {PLURAL[lie.under]} under a place that is seen."
    if not math.isfinite(lie.over):
        return "Does not fit anywhere with this margin."
    return f"Does not fit here: over by {lengths.show(max(lie.over, 0.1))}."


def plan_words(plan: CutPlan, index: int, lengths: LengthStyle) -> str:
    """As ``lie_words`` for the part in hand, and which others do not fit."""
    said = lie_words(plan, index, lengths)
    others = [str(n + 1) for n, lie in enumerate(plan.lies) if not lie.fits and n != index]
    if not others:
        return said
    which = "Part" if len(others) == 1 else "Parts"
    verb = "does" if len(others) == 1 else "do"
    return f"{said} {which} {' and '.join(others)} {verb} not fit."


def shear_words(cuts: Sequence[ShearCut], lengths: LengthStyle) -> list[str]:
    """The edge-to-edge cuts in order, each from the edges of the board then in hand."""
    said = []
    for number, cut in enumerate(cuts, start=1):
        left, low, right, high = cut.board
        board = lengths.pair(right - left, high - low)
        way = "along the warp" if cut.along else "across the warp"
        edge = "the left" if cut.along else "below"
        said.append(f"{number}. {board}: {way}, {lengths.show(cut.at)} from {edge}")
    return said
