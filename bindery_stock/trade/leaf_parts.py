"""The parts of the leaves: endpapers, flyleaves, tears, folds and fillers."""

from collections.abc import Iterator

from bindery_stock.trade.measures import Measures
from bindery_stock.trade.plans import PartPlan, all_shown, grid, hidden, plan, shown
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.sums import measured, of, taken
from bindery_stock.trade.survey import Harm

FOLIOS = 2
"""One folio at each end of the book."""


def leaf_parts(measures: Measures) -> Iterator[PartPlan]:
    """What the leaves take."""
    survey, allowances = measures.survey, measures.allowances
    both = bool(survey.ticked(Harm.ENDPAPERS_LOST))
    ends = sum(damage.count for damage in survey.ticked(Harm.ENDPAPER_LOST))
    if both or ends:
        trim = taken(allowances["endpaper-trim"])
        wide = (*(term.by(2) for term in measures.leaf_width), trim)
        high = (*measures.leaf_height, trim)
        yield plan(
            measures,
            Role.ENDPAPER,
            wide,
            high,
            count=FOLIOS if both else min(FOLIOS, ends),
            zones=all_shown(wide, high),
            note="Folded once; trimmed after.",
        )
    for damage in survey.ticked(Harm.FLYLEAF_LOST):
        stub = allowances["flyleaf-stub"]
        width = of(measures.leaf_width).total
        yield plan(
            measures,
            Role.FLYLEAF,
            (*measures.leaf_width, taken(stub)),
            measures.leaf_height,
            count=damage.count,
            zones=grid([hidden(stub.value), shown(width)], [shown(of(measures.leaf_height).total)]),
        )
    yield from _mends(measures)


def _mends(measures: Measures) -> Iterator[PartPlan]:
    survey, allowances = measures.survey, measures.allowances
    for damage in survey.ticked(Harm.LEAF_TORN):
        width = (taken(allowances["tear-width"]),)
        length = (
            measured("tear", "length of the tear", damage.extent),
            taken(allowances["tear-end"], 2),
        )
        yield plan(
            measures,
            Role.LEAF_TEAR,
            width,
            length,
            count=damage.count,
            zones=all_shown(width, length),
            note="Torn, not cut, so that the edge feathers.",
        )
    for damage in survey.ticked(Harm.FOLD_SPLIT):
        yield plan(
            measures,
            Role.FOLD_GUARD,
            (taken(allowances["fold-guard-width"]),),
            measures.leaf_height,
            count=damage.count,
        )
    for damage in survey.ticked(Harm.PASTEDOWN_LIFTED):
        less = allowances["filler-less"]
        yield plan(
            measures,
            Role.PASTEDOWN_FILLER,
            (measured("lifted", "width of the lifted place", damage.across), taken(less, -2)),
            (measured("lifted", "height of the lifted place", damage.extent), taken(less, -2)),
            count=damage.count,
        )
