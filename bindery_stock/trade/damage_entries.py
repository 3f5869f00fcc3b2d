"""The kinds of damage as ``resources/damages.toml`` has them."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from bindery_stock.places import resources
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damages import DamageKind, DamageKinds, TickPlaces
from bindery_stock.trade.glossary import Glossary, shipped_glossary
from bindery_stock.trade.provenance import Source
from bindery_stock.trade.rule_entries import read_provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.sections import sections_of, sources_of
from bindery_stock.trade.survey import Harm
from bindery_stock.trade.table_reader import RuleTable


def load_damages(
    path: Path | None = None, rules: Rules | None = None, glossary: Glossary | None = None
) -> DamageKinds:
    """Read the file, the shipped one if none is named.

    Raises ``RulesError`` naming file and line of whatever is wrong, a tick of the survey that no
    kind stands for among it.
    """
    path = path if path is not None else resources() / "damages.toml"
    glossary = glossary if glossary is not None else shipped_glossary()
    found = sections_of(path, ("source", "damage"))
    sources = sources_of(found["source"], rules if rules is not None else shipped_rules())
    kinds: dict[str, DamageKind] = {}
    spoken: dict[Harm, str] = {}
    for key, table in found["damage"].items():
        kinds[key] = _kind(table, key, glossary, sources)
        for tick in kinds[key].ticks:
            if tick.harm in spoken:
                table.fail(
                    "ticks", f"“{tick.harm.value}” stands for [damage.{spoken[tick.harm]}] already."
                )
            spoken[tick.harm] = key
    for harm in Harm:
        if harm not in spoken:
            last = next(reversed(found["damage"].values()))
            last.fail(None, f"ends the file, and no kind has the tick “{harm.value}”. Add one.")
    return DamageKinds(MappingProxyType(kinds))


@cache
def shipped_damages() -> DamageKinds:
    """The kinds as shipped, read once."""
    return load_damages()


def _kind(
    table: RuleTable, key: str, glossary: Glossary, sources: Mapping[str, Source]
) -> DamageKind:
    term = table.text("term")
    if term not in glossary:
        table.fail("term", f"names “{term}”, which no [term.{term}] of the glossary explains.")
    places = table.choices("places", BookPlace)
    if not places:
        table.fail(None, "is found nowhere. Add places = [ … ].")
    kind = DamageKind(
        key=key,
        term=glossary[term],
        places=places,
        along=table.text("along", ""),
        across=table.text("across", ""),
        whole=table.flag("whole"),
        counted=table.flag("counted"),
        ticks=tuple(_tick(row, places) for row in table.tables("ticks")),
        treatments=table.texts("treatments", ...),
        provenance=read_provenance(table, sources),
    )
    if not kind.ticks:
        table.fail(None, "has no tick of the survey. Add ticks = [ … ].")
    table.done()
    return kind


def _tick(row: RuleTable, places: tuple[BookPlace, ...]) -> TickPlaces:
    tick = TickPlaces(
        row.choice("harm", Harm), row.choices("places", BookPlace), all=row.flag("all")
    )
    for place in tick.places:
        if place not in places:
            row.fail("places", f"“{place.value}” is no place of this damage.")
    row.done()
    return tick
