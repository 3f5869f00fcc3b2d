"""From a survey to the parts to cut: which parts the damage takes, and how large each is."""

from bindery_stock.errors import EntryError
from bindery_stock.trade.allowances import Allowances, default_allowances
from bindery_stock.trade.case_parts import case_parts
from bindery_stock.trade.leaf_parts import leaf_parts
from bindery_stock.trade.lining_parts import lining_parts
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.plans import PartPlan
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.spine_parts import spine_parts
from bindery_stock.trade.survey import Survey
from bindery_stock.trade.survey_sense import sense


def parts_for(
    survey: Survey, allowances: Allowances | None = None, *, rules: Rules | None = None
) -> list[PartPlan]:
    """Every part that the ticked damage takes, in the order of the work.

    The back of the text block first, then spine, case and leaves. Raises ``EntryError`` where a
    measurement is wanting or the allowances leave nothing to cut.
    """
    rules = rules if rules is not None else shipped_rules()
    measures = Measures(
        survey, allowances if allowances is not None else default_allowances(rules), rules
    )
    plans = [
        *lining_parts(measures),
        *spine_parts(measures),
        *case_parts(measures),
        *leaf_parts(measures),
    ]
    for part in plans:
        if part.width <= 0 or part.height <= 0:
            raise EntryError(
                part.name.capitalize(),
                f"{part.name.capitalize()}: nothing is left to cut "
                f"({part.width_sum.text}; {part.height_sum.text}). Check the allowances.",
            )
    return plans


def survey_warnings(
    survey: Survey, allowances: Allowances | None = None, *, rules: Rules | None = None
) -> tuple[str, ...]:
    """What cannot be so in the survey, and which allowances lie outside their usual range."""
    rules = rules if rules is not None else shipped_rules()
    allowances = allowances if allowances is not None else default_allowances(rules)
    odd = tuple(
        f"{a.words.capitalize()}: {a.value:g} (set for {a.set_by}) lies outside the usual "
        f"{a.low:g} to {a.high:g}."
        for a in allowances.by_key.values()
        if a.unusual
    )
    measures = Measures(survey, allowances, rules)
    return (*measures.warnings(), *sense(measures), *odd)
