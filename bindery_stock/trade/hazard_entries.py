"""From the tables of a rules file to colour families and hazards."""

from collections.abc import Mapping

from bindery_stock.trade.hazard_rules import ColourFamily, HazardRule, Level
from bindery_stock.trade.materials import Limit
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rule_entries import read_applies, read_conditions
from bindery_stock.trade.table_reader import RuleTable


def read_family(table: RuleTable, key: str, provenance: Provenance) -> ColourFamily:
    """A colour family and its wide measured range."""
    family = ColourFamily(
        key=key,
        hue=(
            table.number("hue_from", low=0, high=360),
            table.number("hue_to", low=0, high=360),
        ),
        chroma_from=table.number("chroma_from", low=0, high=200),
        lightness=(
            table.number("lightness_from", 0.0, low=0, high=100),
            table.number("lightness_to", 100.0, low=0, high=100),
        ),
        provenance=provenance,
    )
    table.done()
    return family


def read_hazard(
    table: RuleTable,
    key: str,
    provenance: Provenance,
    families: Mapping[str, ColourFamily],
    known: tuple[Mapping[str, PropertyKind], Mapping[str, Limit]],
) -> HazardRule:
    """A hazard rule; ``known`` are the properties and the limits its conditions may name."""
    colours = frozenset(table.texts("families"))
    for colour in sorted(colours - families.keys()):
        table.fail("families", f"names “{colour}”, which no [family] describes.")
    years: tuple[int, int] | None = None
    if table.has("from_year") or table.has("to_year"):
        years = (table.whole("from_year", high=9999), table.whole("to_year", high=9999))
        if years[0] > years[1]:
            table.fail("from_year", f"runs backwards from {years[0]} to {years[1]}.")
    hazard = HazardRule(
        key=key,
        name=table.text("name"),
        level=table.choice("level", Level),
        applies=read_applies(table),
        families=colours,
        years=years,
        undated=table.flag("undated"),
        every=read_conditions(table, "all", *known),
        substances=frozenset(table.texts("substances")),
        found=table.flag("found"),
        stops_wet_work=table.flag("stops_wet_work"),
        look=table.text("look", ""),
        caution=table.text("caution"),
        advice=table.texts("advice", ...),
        would_change=table.text("would_change"),
        provenance=provenance,
    )
    table.done()
    return hazard
