"""The words of damage, places and treatments: British and American, each with a line of help."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from bindery_stock.errors import RulesError
from bindery_stock.places import resources
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rule_entries import read_provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.sections import sections_of, sources_of
from bindery_stock.trade.table_reader import RuleTable

LONGEST_HELP = 100
"""Characters of one line of help."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GlossaryTerm:
    """One term and its words."""

    key: str
    british: str
    american: tuple[str, ...]
    """The words used in America where they differ; empty where they do not."""
    help: str
    provenance: Provenance

    @property
    def both(self) -> str:
        """``mull (US: super, crash)``."""
        return f"{self.british} (US: {', '.join(self.american)})" if self.american else self.british


@dataclass(frozen=True, slots=True)
class Glossary:
    """Every term, by its name."""

    terms: Mapping[str, GlossaryTerm]

    def __getitem__(self, key: str) -> GlossaryTerm:
        """The term of that name. Raises ``RulesError`` where there is none."""
        if key not in self.terms:
            raise RulesError(f"glossary.toml has no [term.{key}]. Add it with its words and help.")
        return self.terms[key]

    def __contains__(self, key: object) -> bool:
        """Whether there is a term of that name."""
        return key in self.terms

    def meaning(self, word: str) -> Iterator[GlossaryTerm]:
        """Every term that goes by that word on either side of the ocean."""
        sought = word.strip().casefold()
        for term in self.terms.values():
            if sought in (one.casefold() for one in (term.british, *term.american)):
                yield term


def load_glossary(path: Path | None = None, rules: Rules | None = None) -> Glossary:
    """Read the file, the shipped one if none is named.

    Raises ``RulesError`` naming file and line of whatever is wrong.
    """
    path = path if path is not None else resources() / "glossary.toml"
    found = sections_of(path, ("source", "term"))
    sources = sources_of(found["source"], rules if rules is not None else shipped_rules())
    terms: dict[str, GlossaryTerm] = {}
    for key, table in found["term"].items():
        term = _term(table, key, read_provenance(table, sources))
        for other in terms.values():
            if other.british.casefold() == term.british.casefold():
                table.fail("british", f"is the word of [term.{other.key}] too: tell them apart.")
        terms[key] = term
    return Glossary(MappingProxyType(terms))


@cache
def shipped_glossary() -> Glossary:
    """The glossary as shipped, read once."""
    return load_glossary()


def _term(table: RuleTable, key: str, provenance: Provenance) -> GlossaryTerm:
    term = GlossaryTerm(
        key=key,
        british=table.text("british"),
        american=table.texts("american"),
        help=table.text("help"),
        provenance=provenance,
    )
    if term.british in term.american:
        table.fail("american", "repeats the British word: leave out what does not differ.")
    if "\n" in term.help or len(term.help) > LONGEST_HELP:
        table.fail("help", f"is longer than one line of {LONGEST_HELP} characters: shorten it.")
    table.done()
    return term
