"""What a description of a binding offers, as ``resources/binding.toml`` has it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from bindery_stock.errors import RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Mark
from bindery_stock.trade.description import BINDING, Description
from bindery_stock.trade.table_reader import read_toml

_FILE = "binding.toml"


@dataclass(frozen=True, slots=True)
class Feature:
    """A feature of a binding: the field of ``Description``, and the words offered for it."""

    field: str
    words: str
    how: str
    mark: Mark
    terms: tuple[tuple[str, str], ...]
    """Each word with one line of help."""

    @property
    def offered(self) -> tuple[str, ...]:
        """The words alone."""
        return tuple(word for word, _help in self.terms)

    @property
    def tip(self) -> str:
        """What is asked for, and how far its words can be trusted."""
        return f"{self.how} Words: {self.mark.words}."


@cache
def features() -> tuple[Feature, ...]:
    """What is shipped, in the order of a description.

    Raises ``RulesError`` where the file does not agree with what a description holds.
    """
    tables, _ = read_toml(resources() / _FILE)
    try:
        made = tuple(_feature(one) for one in tables["feature"])
    except (KeyError, TypeError, ValueError) as trouble:
        raise RulesError(f"{_FILE}: {trouble}. Install the program anew.") from trouble
    if tuple(feature.field for feature in made) != BINDING:
        raise RulesError(f"{_FILE}: the features are {', '.join(BINDING)}, once and in this order.")
    return made


def _feature(one: Mapping[str, Any]) -> Feature:
    terms = tuple((str(term["word"]), str(term["help"])) for term in one["terms"])
    return Feature(one["field"], one["words"], one["how"], Mark(one["mark"]), terms)


def binding_lines(description: Description, grain: str) -> tuple[tuple[str, str], ...]:
    """Each feature that was described, with its name; the grain follows the covering."""
    told = [(one.words, getattr(description, one.field)) for one in features()]
    told.insert(1, ("Grain", grain))
    return tuple((name, words) for name, words in told if words)


def binding_words(description: Description, grain: str) -> str:
    """``full cloth, rib grain; strawboard, bevelled edges; sewn on tapes …`` in one line."""
    covering = ", ".join(
        words for words in (description.covering, f"{grain} grain" if grain else "") if words
    )
    others = (getattr(description, one.field) for one in features()[1:])
    return "; ".join(words for words in (covering, *others) if words)
