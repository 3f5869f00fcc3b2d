"""What is said beside each outline of a line-up, in short on its tag and in full under it."""

from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.bench.match.line_up_reading import HeldScrap, LineUpAnswer

NOT_TOLD = "Not told: say which piece it is, or leave it out."
_DOUBT = "△"


def tag_lines(seen: LineUpPhoto, answer: LineUpAnswer | None, number: int) -> tuple[str, ...]:
    """``C-0042``, ``ΔE00 1.2 ± 1.6``, ``1st to 3rd, a tie``; what is not read yet is left out."""
    scrap = seen.scraps[number]
    name = f"{scrap.mark} {_DOUBT}" if scrap.remark else scrap.mark
    if scrap.is_book or answer is None:
        return (name,)
    if number in dict(answer.refused):
        return (name, "could not be read")
    held = _held(answer, number)
    return (name,) if held is None else (name, held.figure, rank_words(answer, held))


def rank_words(answer: LineUpAnswer, held: HeldScrap) -> str:
    """``the closest``, ``1st to 3rd, a tie`` or ``4th``."""
    if not held.tied:
        return ordinal(answer.held.index(held) + 1)
    tied = len(_tied(answer))
    return "the closest" if tied == 1 else f"1st to {ordinal(tied)}, a tie"


def told_words(seen: LineUpPhoto, answer: LineUpAnswer | None, number: int) -> str:
    """Everything that is known of one outline, in sentences."""
    scrap = seen.scraps[number]
    said = [_who(scrap)]
    if answer is not None and not scrap.is_book:
        said.append(_how_near(seen, answer, number))
    said += [scrap.remark, scrap.words]
    return " ".join(_sentence(words) for words in said if words)


def told_count(seen: LineUpPhoto) -> str:
    """``3 of 6 are told.``, and whether the book is known."""
    scraps = [scrap for scrap in seen.scraps if not scrap.is_book]
    told = sum(bool(scrap.code) for scrap in scraps)
    book = "" if seen.book is not None else " The book is not known yet."
    return f"{told} of {len(scraps)} {'is' if told == 1 else 'are'} told.{book}"


def alone(answer: LineUpAnswer) -> HeldScrap | None:
    """The closest scrap where none can be taken for as close; None where several tie."""
    tied = _tied(answer)
    return tied[0] if len(tied) == 1 else None


def ordinal(number: int) -> str:
    """``1st``, ``2nd``, ``11th``."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


def _who(scrap: LineUpScrap) -> str:
    if scrap.is_book:
        return "The book"
    if scrap.code and scrap.by is not None:
        return f"{scrap.code}, {scrap.by}"
    return NOT_TOLD


def _how_near(seen: LineUpPhoto, answer: LineUpAnswer, number: int) -> str:
    refused = dict(answer.refused)
    if number in refused:
        return refused[number]
    held = _held(answer, number)
    if held is None:
        return ""
    rank = rank_words(answer, held)
    others = [seen.scraps[one.number].mark for one in _tied(answer) if one is not held]
    if held.tied and others:
        rank = f"{rank}: cannot be told from {_listed(others)}"
    near = f"{held.figure} from the book, {held.comparison.words}"
    return f"{rank[:1].upper()}{rank[1:]}. {near}"


def _held(answer: LineUpAnswer, number: int) -> HeldScrap | None:
    return next((one for one in answer.held if one.number == number), None)


def _tied(answer: LineUpAnswer) -> list[HeldScrap]:
    return [one for one in answer.held if one.tied]


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _sentence(words: str) -> str:
    return words if words.endswith((".", "?", "!")) else f"{words}."
