"""A survey as it is filled in: what a set hands on, what does not agree, what it comes to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from bindery_stock.bench.books.part_list import parts_of
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.stock import BookSet, NewPart, NewRepair, Shared
from bindery_stock.trade import (
    Allowances,
    Damage,
    Hours,
    Rules,
    Survey,
    hours_for,
    survey_warnings,
)

SURVEY_CAUTION = (
    "△ Old cloth sheds dust, and vivid green or yellow cloth of its time may hold arsenic or lead: "
    "handle it as your own rules say, and have it tested before it is worked wet."
)
"""Said over every survey: common practice, no source."""


def survey_from(values: Mapping[str, Any], damage: Iterable[Damage]) -> Survey:
    """A survey from what was filled in; what was left empty is left out.

    Raises ``EntryError`` naming the measurement that is wanting or cannot be.
    """
    given = {name: value for name, value in values.items() if value is not None}
    unknown = set(given) - {field.name for field in fields(Survey)}
    if unknown:
        raise TypeError(f"a survey has nothing called {', '.join(sorted(unknown))}")
    if "spine_width" not in given:
        raise EntryError(
            "Width of the back", "Width of the back: measure straight across between the shoulders."
        )
    survey = Survey(**given, damage=tuple(damage))
    if survey.rise > survey.spine_width / 2:
        raise EntryError(
            "Rise of the back",
            f"Rise of the back: {survey.rise:g} mm is more than half the width of "
            f"{survey.spine_width:g} mm; measure both again.",
        )
    return survey


def handed_on(book_set: BookSet | None) -> Mapping[str, Shared]:
    """What a new volume of the set begins with."""
    return {} if book_set is None else book_set.shared


@dataclass(frozen=True, slots=True)
class SurveyOutcome:
    """What a survey comes to."""

    parts: tuple[NewPart, ...]
    hours: Hours
    warnings: tuple[str, ...]
    trouble: str = ""
    """Why no parts could be worked out, or empty."""


def worked_out(repair: NewRepair, allowances: Allowances, rules: Rules) -> SurveyOutcome:
    """Parts, hours and warnings of a survey as it stands."""
    warnings: tuple[str, ...] = ()
    parts: list[NewPart] = []
    trouble = ""
    try:
        warnings = survey_warnings(repair.survey, allowances, rules=rules)
        parts = parts_of(repair, allowances, rules)
    except BinderyError as error:
        trouble = str(error)
    told = tuple(
        dict.fromkeys(
            (*warnings, *(line for part in parts for line in part.note.splitlines() if ":" in line))
        )
    )
    return SurveyOutcome(tuple(parts), hours_for(repair.survey, rules=rules), told, trouble)


def hours_words(low: float, high: float) -> str:
    """``3 to 6``: an estimate of hours to the half hour, as it is no finer than that."""
    least, most = round(low * 2) / 2, round(high * 2) / 2
    return f"{most:g}" if least == most else f"{least:g} to {most:g}"


def outcome_words(found: SurveyOutcome) -> str:
    """What a survey comes to, a line for each warning and one for the work."""
    lines = [f"△ {line}" for line in found.warnings]
    noun = "part" if len(found.parts) == 1 else "parts"
    hours = f"{hours_words(found.hours.low, found.hours.high)} hours"
    lines.append(f"{len(found.parts)} {noun} to cut, {hours} by the rules, drying left out.")
    return "\n".join(lines)


def next_name(name: str, volume: int | None) -> str:
    """What the next volume is called: the number in the name goes up by one."""
    if volume is not None and name.rstrip().endswith(str(volume)):
        return name.rstrip().removesuffix(str(volume)) + str(volume + 1)
    return f"{name} (next)"


def lined(survey: Survey, arc: float) -> Survey:
    """The same volume, its back measured again over the new linings."""
    return replace(survey, arc=arc, over_linings=True)
