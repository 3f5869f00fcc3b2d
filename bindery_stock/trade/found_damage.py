"""The damage of a volume as it was found, whatever is to be done about it.

Once treatments are chosen the ticks of its survey stand for these; the places stand for the damage.
"""

from bindery_stock.trade.care import CarePlan
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.survey import Damage, Survey
from bindery_stock.trade.survey_ticks import placed_damage, survey_ticks


def found_places(survey: Survey, care: CarePlan) -> tuple[PlacedDamage, ...]:
    """Each damage at its place; of an old survey as far as its ticks tell."""
    return care.damages or placed_damage(survey.damage, shipped_damages())


def found_damage(survey: Survey, care: CarePlan) -> tuple[Damage, ...]:
    """The same as ticks of a survey."""
    if not care.damages:
        return survey.damage
    return survey_ticks(care.damages, shipped_damages())
