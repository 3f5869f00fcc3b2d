"""The parts on the back of the text block: mull, linings, hollow, sewing supports and guards."""

from collections.abc import Iterator

from bindery_stock.trade.measures import Measures
from bindery_stock.trade.plans import PartPlan, plan
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.sums import Term, of, taken
from bindery_stock.trade.survey import Harm, Hollow

_HOLLOWS: dict[Hollow, tuple[Role, float, bool]] = {
    Hollow.SIMPLE: (Role.HOLLOW_SIMPLE, 2.0, False),
    Hollow.THREE: (Role.HOLLOW_THREE, 3.0, True),
    Hollow.FOUR: (Role.HOLLOW_FOUR, 4.0, True),
    Hollow.THREE_AND_HALF: (Role.HOLLOW_THREE_AND_HALF, 3.5, False),
}
"""The part, its widths of the spine, and whether its flaps are eased."""
_OVER_THE_HOLLOW = (
    "It adds to the back. Measure round the back over it before strip or case is cut."
)


def lining_parts(measures: Measures) -> Iterator[PartPlan]:
    """What a spine that is lined anew takes, and what its sewing takes."""
    survey = measures.survey
    if survey.relined:
        yield _mull(measures)
        yield plan(measures, Role.LINING_TISSUE, (measures.spine,), measures.leaf_height)
        yield _kraft(measures)
    if lined_with_hollow(measures):
        yield from hollow_parts(measures)
    if survey.ticked(Harm.SEWING_BROKEN):
        yield _tapes(measures)
    for damage in survey.ticked(Harm.SECTIONS_LOOSE):
        yield plan(
            measures,
            Role.SECTION_GUARD,
            (taken(measures.allowances["section-guard-width"]),),
            measures.leaf_height,
            count=damage.count,
        )


def lined_with_hollow(measures: Measures) -> bool:
    """Whether the hollow is made with the linings; that of a mere reback goes with the case."""
    return measures.survey.relined or bool(measures.survey.ticked(Harm.HOLLOW_LOST))


def _mull(measures: Measures) -> PartPlan:
    flange, short = measures.allowances["mull-flange"], measures.allowances["mull-short"]
    return plan(
        measures,
        Role.MULL,
        (measures.spine, taken(flange, 2)),
        (*measures.leaf_height, taken(short, -2)),
    )


def _kraft(measures: Measures) -> PartPlan:
    allowances = measures.allowances
    layers = allowances["kraft-layers"]
    return plan(
        measures,
        Role.LINING_KRAFT,
        (measures.spine, taken(allowances["kraft-ease"], -1)),
        (*measures.leaf_height, taken(allowances["kraft-short"], -1)),
        count=max(1, round(layers.value)),
        note=f"Layers: {layers.provenance.words}.",
    )


def hollow_parts(measures: Measures) -> Iterator[PartPlan]:
    """The hollow, in the way chosen; nothing where none is."""
    if measures.survey.hollow is Hollow.NONE:
        return
    role, widths, eased = _HOLLOWS[measures.survey.hollow]
    width: tuple[Term, ...] = tuple(term.by(widths) for term in measures.lined)
    if eased:
        width = (*width, taken(measures.allowances["hollow-ease"], -1))
    yield plan(measures, role, width, measures.board_height, note=_OVER_THE_HOLLOW)


def _tapes(measures: Measures) -> PartPlan:
    """Three to an 8-inch book and four to a 12-inch one (Bailey 1916); a fifth above is ours."""
    limits = measures.rules.limits
    height = of(measures.leaf_height).total
    steps = (limits["tape-book-three"].value, limits["tape-book-four"].value)
    return plan(
        measures,
        Role.SEWING_TAPE,
        (measures.spine, taken(measures.allowances["tape-flange"], 2)),
        (taken(measures.allowances["tape-width"]),),
        count=3 + sum(height > step for step in steps),
    )
