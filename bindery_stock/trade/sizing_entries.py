"""From the tables of a rules file to the rules of sizing. One function a section."""

from collections.abc import Mapping

from bindery_stock.trade.adhesives import AdhesiveClass
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.sizing_rules import AllowanceRule, Grain, HoursRule, PartRule, Role
from bindery_stock.trade.table_reader import RuleTable
from bindery_stock.trade.uses import Use
from bindery_stock.trade.vocabulary import Kind


def read_allowance(table: RuleTable, key: str, provenance: Provenance) -> AllowanceRule:
    """An allowance and its range."""
    rule = AllowanceRule(
        key=key,
        symbol=table.text("symbol"),
        words=table.text("words"),
        value=table.number("value", low=0, high=500),
        low=table.number("low", low=0, high=500),
        high=table.number("high", low=0, high=500),
        provenance=provenance,
        choices=table.texts("choices"),
    )
    if rule.low > rule.high:
        table.fail("low", f"runs backwards from {rule.low:g} to {rule.high:g}.")
    table.done()
    return rule


def read_part(
    table: RuleTable, key: str, provenance: Provenance, adhesives: Mapping[str, AdhesiveClass]
) -> PartRule:
    """A part of a repair."""
    if key not in tuple(Role):
        table.fail(None, f"“{key}” is no part the program sizes. Use: {', '.join(Role)}.")
    classes = table.texts("adhesives")
    for name in classes:
        if name not in adhesives:
            table.fail("adhesives", f"names “{name}”, which no [adhesive.{name}] describes.")
    rule = PartRule(
        role=Role(key),
        name=table.text("name"),
        stock=table.choice("stock", Kind),
        use=table.choice("use", Use) if table.has("use") else None,
        material=table.text("material"),
        adhesives=classes,
        grain=table.choice("grain", Grain),
        plain=table.flag("plain"),
        rule=table.text("rule"),
        provenance=provenance,
    )
    table.done()
    return rule


def read_hours(table: RuleTable, key: str, provenance: Provenance) -> HoursRule:
    """The hours of one step."""
    rule = HoursRule(
        key=key,
        words=table.text("words"),
        low=table.number("low", low=0, high=1000),
        high=table.number("high", low=0, high=1000),
        provenance=provenance,
    )
    if rule.low > rule.high:
        table.fail("low", f"runs backwards from {rule.low:g} to {rule.high:g}.")
    table.done()
    return rule
