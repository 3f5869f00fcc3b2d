"""One treatment for one damage in words: its rank, why, and all that is known of it."""

from collections.abc import Iterable, Mapping

from bindery_stock.bench.books.survey import hours_words
from bindery_stock.trade.proposals import Rank, TreatmentOption
from bindery_stock.trade.sizing_rules import PartRule


def rank_words(option: TreatmentOption) -> str:
    """``Tightening the hinge – proposed``."""
    name = option.treatment.term.both  # not capitalize: “US” stays as it is
    return f"{name[0].upper()}{name[1:]} – {option.rank}"


def why_words(option: TreatmentOption) -> str:
    """Why it is refused and what would change it; else when it is right."""
    if option.rank is not Rank.REFUSED:
        return f"Right where: {option.treatment.right}"
    return "\n".join(
        f"{one.reason} ({_sentence(one.fact)}.) What would change it: {one.change}."
        for one in option.unmet
    )


def whole_words(option: TreatmentOption, parts: Mapping[str, PartRule]) -> str:
    """Parts, order of work with drying, hours, undoing, hazards and source, a line each.

    ``parts`` are the rules of the parts, which name them.
    """
    rule = option.treatment
    hours = "not known" if option.hours is None else f"{hours_words(*option.hours)} by itself"
    lines = [
        rule.term.help,
        f"Right where: {rule.right}",
        f"Not where: {rule.not_right}",
        f"Parts, as the volume needs them: {_named(rule.parts, parts) or 'none'}",
        f"Hours: {hours}, drying left out",
        f"Undoing: {rule.undo}",
        f"Adhesive: {rule.adhesive or 'none'}{'; worked wet' if rule.wet else ''}",
        *(f"Make sure first. {_sentence(one)}" for one in option.make_sure),
        "Order of work:",
        *(f"  {number}. {step}" for number, step in enumerate(_steps(option), start=1)),
        *(f"△ {one}" for one in (*option.warnings, *rule.cautions)),
        *([rule.note] if rule.note else []),
        f"Source: {rule.provenance.read_words}",
    ]
    return "\n".join(lines)


def _steps(option: TreatmentOption) -> list[str]:
    found = []
    for step in option.treatment.steps:
        told = step.do
        if step.dry_high:
            under = f" ({step.under})" if step.under else ""
            told += f" Dries {hours_words(step.dry_low, step.dry_high)} h{under}."
        found.append(told)
    return found


def _named(roles: Iterable[str], parts: Mapping[str, PartRule]) -> str:
    """What is cut, in words, each once: a strip or a hollow is of one of several ways."""
    return ", ".join(dict.fromkeys(parts[role].name.split(",")[0] for role in roles))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
