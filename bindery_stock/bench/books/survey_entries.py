"""What a survey asks for, and the damage that is ticked, as ``resources/survey.toml`` has it."""

from dataclasses import dataclass, fields
from functools import cache

from bindery_stock.errors import RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Harm, Survey
from bindery_stock.trade.table_reader import read_toml

_FILE = "survey.toml"


@dataclass(frozen=True, slots=True)
class LengthAsked:
    """A length of a survey: the field of ``Survey``, its words, how it is measured."""

    field: str
    words: str
    how: str
    may_be_zero: bool = False
    each_its_own: bool = False
    """Whether each volume of a set has its own, so that none is handed on."""


@dataclass(frozen=True, slots=True)
class DamageAsked:
    """A tick: what is measured along and across the spine, empty where nothing is."""

    harm: Harm
    along: str = ""
    across: str = ""
    counted: bool = False
    """Whether it may stand for several places."""


@dataclass(frozen=True, slots=True)
class SurveyEntries:
    """Everything a survey asks for, in the order of the form."""

    lengths: tuple[LengthAsked, ...]
    groups: tuple[tuple[str, tuple[DamageAsked, ...]], ...]
    """Heading and ticks."""


@cache
def survey_entries() -> SurveyEntries:
    """What is shipped. Raises ``RulesError`` where the file does not agree with the survey."""
    tables, _ = read_toml(resources() / _FILE)
    try:
        made = SurveyEntries(
            tuple(LengthAsked(**one) for one in tables["length"]),
            tuple(
                (group["heading"], tuple(_asked(one) for one in group["damage"]))
                for group in tables["group"]
            ),
        )
    except (KeyError, TypeError, ValueError) as trouble:
        raise RulesError(f"{_FILE}: {trouble}. Install the program anew.") from trouble
    unknown = {one.field for one in made.lengths} - {field.name for field in fields(Survey)}
    if unknown:
        raise RulesError(f"{_FILE}: a survey has nothing called {', '.join(sorted(unknown))}.")
    ticks = [tick.harm for _, group in made.groups for tick in group]
    if sorted(ticks) != sorted(Harm):
        raise RulesError(f"{_FILE}: each harm is ticked once, and none is left out.")
    return made


def _asked(one: dict[str, object]) -> DamageAsked:
    return DamageAsked(Harm(str(one.pop("harm"))), **one)  # type: ignore[arg-type]
