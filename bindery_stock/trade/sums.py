"""A size as the sum that made it, each term with its mark and source."""

from collections.abc import Iterable
from dataclasses import dataclass

from bindery_stock.trade.allowances import Allowance
from bindery_stock.trade.provenance import Mark, Provenance
from bindery_stock.units import format_mm

_ON_THE_BOOK = Provenance(Mark.MEASURED)


@dataclass(frozen=True, slots=True)
class Term:
    """One term of a sum: ``times`` × a length in mm."""

    symbol: str
    words: str
    value: float
    times: float
    provenance: Provenance

    def by(self, times: float) -> "Term":
        """The same length taken ``times`` times, on top of how often it is taken already."""
        return Term(self.symbol, self.words, self.value, self.times * times, self.provenance)

    @property
    def total(self) -> float:
        """What it adds, mm."""
        return self.times * self.value


@dataclass(frozen=True, slots=True)
class Sum:
    """The sum that made one size."""

    terms: tuple[Term, ...]

    @property
    def total(self) -> float:
        """Length in mm."""
        return sum(term.total for term in self.terms)

    @property
    def text(self) -> str:
        """``2 × U 8 + A 34 = 50 mm``: for reading at a glance."""
        shown = ""
        for term in self.terms:
            sign = "−" if term.times < 0 else "+"
            often = "" if abs(term.times) == 1 else f"{abs(term.times):g} × "
            value = format_mm(term.value).removesuffix(" mm")
            shown += f" {sign} {often}{term.symbol} {value}"
        return f"{shown.removeprefix(' + ').strip()} = {format_mm(self.total)}"

    @property
    def lines(self) -> tuple[str, ...]:
        """One line a term: its words, its figure, its mark and its source."""
        return tuple(
            f"{term.symbol} {format_mm(term.value)}: {term.words} ({term.provenance.words})"
            for term in self.terms
        )


def of(*terms: Term | Allowance | Iterable[Term | Allowance]) -> Sum:
    """The sum of terms, allowances counting once."""
    flat: list[Term] = []
    for term in terms:
        if isinstance(term, Term):
            flat.append(term)
        elif isinstance(term, Allowance):
            flat.append(taken(term))
        else:
            flat += of(*term).terms
    return Sum(tuple(flat))


def measured(symbol: str, words: str, value: float | None) -> Term:
    """A length measured on the book; one that was not measured adds nothing."""
    return Term(symbol, words, value or 0.0, 1, _ON_THE_BOOK)


def taken(allowance: Allowance, times: float = 1.0) -> Term:
    """An allowance as a term, taken ``times`` times."""
    return Term(allowance.symbol, allowance.words, allowance.value, times, allowance.provenance)
