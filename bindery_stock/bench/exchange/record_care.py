"""What the papers of a volume say was weighed and agreed, and what it is estimated to take."""

from bindery_stock.bench.books.cost import planned_cost
from bindery_stock.bench.books.placed_words import damage_name
from bindery_stock.bench.books.survey import hours_words
from bindery_stock.bench.exchange.record_parts import figure
from bindery_stock.records.counted import counted
from bindery_stock.records.volume_facts import OptionLine
from bindery_stock.stock import BookPart, PartState, Repair, StockPiece
from bindery_stock.trade import Rules, hours_for
from bindery_stock.trade.care import CarePlan
from bindery_stock.trade.day_counts import written
from bindery_stock.trade.treatment_entries import shipped_treatments
from bindery_stock.units import LengthStyle


def option_lines(care: CarePlan, lengths: LengthStyle) -> tuple[OptionLine, ...]:
    """The courses weighed, least first, as they were entered."""
    return tuple(
        OptionLine(
            number=str(number + 1),
            recommended=number == care.recommended,
            what=option.what,
            gain=option.gain,
            risk=option.risk,
            undo=option.undo,
            hours="" if option.hours is None else figure(option.hours, lengths),
        )
        for number, option in enumerate(care.options)
    )


def recommendation(care: CarePlan) -> str:
    """``Option 2 is recommended: the cloth is sound.``, or nothing."""
    if care.recommended is None:
        return care.recommendation
    head = f"Option {care.recommended + 1} is recommended"
    return f"{head}: {care.recommendation}" if care.recommendation else f"{head}."


def choice_lines(care: CarePlan) -> tuple[str, ...]:
    """Damage by damage what was chosen, and why where it is not what was proposed."""
    treatments = shipped_treatments().by_key
    found = []
    for damage, choice in zip(care.damages, care.choices, strict=bool(care.choices)):
        name, least = (
            treatments[key].term.british if key in treatments else key
            for key in (choice.treatment, choice.proposed)
        )
        told = f"{damage_name(damage)}: {name}"
        if choice.reason:
            against = f"not the proposed “{least}”" if least else "nothing was proposed"
            told += f"; {against}, because: {choice.reason}"
        found.append(told)
    return tuple(found)


def consent(care: CarePlan) -> str:
    """``E. Marsh, by letter, 2 Mar 2026``, or nothing."""
    day = written(care.consented_on) if care.consented_on else ""
    return ", ".join(part for part in (care.consent, day) if part)


def estimate(
    repair: Repair,
    parts: list[BookPart],
    lines: dict[str, list[StockPiece]],
    rules: Rules,
    lengths: LengthStyle,
) -> tuple[tuple[str, str], ...]:
    """Hours and material that the work will take, each with what the figure rests on."""
    wanted = [part for part in parts if part.state is not PartState.LEFT_OUT]
    return (
        ("Hours", _hours(repair, rules, lengths)),
        ("Parts to cut", _parts(wanted)),
        ("Price of material", _price(wanted, lines, lengths)),
        ("Adhesives", _adhesives(wanted, rules)),
    )


def _hours(repair: Repair, rules: Rules, lengths: LengthStyle) -> str:
    """Of the course recommended, else as the binder estimated, else by the rules; said which."""
    course = repair.care.course
    if course is not None and course.hours is not None:
        return f"{figure(course.hours, lengths)} for the course recommended, drying left out"
    if repair.hours_estimated is not None:
        return f"{figure(repair.hours_estimated, lengths)} by the binder's own estimate"
    found = hours_for(repair.survey, rules=rules)
    by_rules = hours_words(found.low, found.high).replace(".", lengths.point)
    return f"{by_rules} by the rules for the damage ticked, drying left out"


def _adhesives(wanted: list[BookPart], rules: Rules) -> str:
    """The kind that comes first for each part, by its name."""
    first = dict.fromkeys(part.adhesives[0] for part in wanted if part.adhesives)
    return ", ".join(rules.adhesives[one].name if one in rules.adhesives else one for one in first)


def _parts(wanted: list[BookPart]) -> str:
    if not wanted:
        return "none"
    chosen = sum(bool(part.piece) for part in wanted)
    unserved = sum(part.state is PartState.NOTHING_SERVES for part in wanted)
    told = [f"{len(wanted)}, of which {chosen} from stock that was chosen"]
    if unserved:
        told.append(f"nothing in stock serves {unserved}")
    return "; ".join(told)


def _price(wanted: list[BookPart], lines: dict[str, list[StockPiece]], lengths: LengthStyle) -> str:
    """By the shares of the pieces chosen; what is not in it is said."""
    cost = planned_cost(wanted, lambda code: lines[code])
    without = []
    if cost.unpriced:
        without.append(f"{counted(cost.unpriced, 'part')} from stock without a price")
    if open_parts := sum(not part.piece for part in wanted):
        without.append(f"{counted(open_parts, 'part')} for which no stock was chosen")
    if cost.unpriced == len(cost.lines):
        return f"not known: {' and '.join(without)}" if without else ""
    told = f"{cost.cloth:.2f}".replace(".", lengths.point)
    return f"{told}, without {' and '.join(without)}" if without else told
