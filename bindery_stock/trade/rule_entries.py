"""From the tables of a rules file to typed rules. One function a section."""

import math
from collections.abc import Mapping
from typing import Any

from bindery_stock.trade.adhesives import AdhesiveClass, Fit, Frost, Life, Since, Store
from bindery_stock.trade.conditions import Condition, Fact, Operator
from bindery_stock.trade.finds import OldFind
from bindery_stock.trade.flags import ADHESIVE, FlagRule
from bindery_stock.trade.materials import Limit
from bindery_stock.trade.properties import Effort, PropertyKind, ValueKind
from bindery_stock.trade.provenance import Mark, Origin, Provenance, Source
from bindery_stock.trade.table_reader import RuleTable
from bindery_stock.trade.uses import Use, Weight
from bindery_stock.trade.vocabulary import Kind

_NEEDS_SOURCE = frozenset({Mark.PUBLISHED, Mark.STANDARD})
_APPLIES = frozenset({ADHESIVE, *(kind.value for kind in Kind)})


def read_source(table: RuleTable, key: str) -> Source:
    """A work that facts rest on."""
    source = Source(key, table.text("citation"), table.text("seen", ""))
    table.done()
    return source


def read_provenance(
    table: RuleTable, sources: Mapping[str, Source], overrides: Origin | None = None
) -> Provenance:
    """The mark and sources that every entry must carry."""
    mark = table.choice("mark", Mark)
    found = []
    for name in table.texts("sources"):
        if name not in sources:
            table.fail("sources", f"names the source “{name}”, which no [source.{name}] explains.")
        found.append(sources[name])
    if mark in _NEEDS_SOURCE and not found:
        table.fail("mark", f"is marked “{mark.value}” but names no source. Add sources = [ … ].")
    return Provenance(mark, tuple(found), table.text("caveat", ""), table.origin(), overrides)


def read_property(table: RuleTable, key: str, provenance: Provenance) -> PropertyKind:
    """A property that rules may speak of."""
    kind = PropertyKind(
        key=key,
        words=table.text("words"),
        kind=table.choice("kind", ValueKind),
        unit=table.text("unit", ""),
        low=table.number("low", -math.inf),
        high=table.number("high", math.inf),
        choices=table.texts("choices"),
        test=table.text("test", ""),
        effort=table.choice("effort", Effort, Effort.BENCH),
        derived=table.flag("derived"),
        provenance=provenance,
    )
    table.done()
    return kind


def read_limit(table: RuleTable, key: str, provenance: Provenance) -> Limit:
    """One number with the standard that sets it."""
    limit = Limit(
        key=key,
        value=table.number("value"),
        unit=table.text("unit", ""),
        standard=table.text("standard", ""),
        test=table.text("test", ""),
        provenance=provenance,
    )
    table.done()
    return limit


def read_adhesive(table: RuleTable, key: str, provenance: Provenance) -> AdhesiveClass:
    """An adhesive class; its lives are joined on later."""
    wet_ph: tuple[float, float] | None = None
    if table.has("ph_low") or table.has("ph_high"):
        wet_ph = (table.number("ph_low", low=0, high=14), table.number("ph_high", low=0, high=14))
    adhesive = AdhesiveClass(
        key=key,
        name=table.text("name"),
        family=table.text("family"),
        water=table.flag("water"),
        flammable=table.flag("flammable"),
        frost=table.choice("frost", Frost),
        storage=table.text("storage"),
        reversibility=table.text("reversibility"),
        ageing=table.text("ageing"),
        ph=wet_ph,
        lives=(),
        provenance=provenance,
    )
    table.done()
    return adhesive


def read_life(
    table: RuleTable,
    key: str,
    provenance: Provenance,
    adhesives: Mapping[str, AdhesiveClass],
) -> tuple[str, Life]:
    """A shelf life and the class it belongs to."""
    adhesive = table.text("adhesive")
    if adhesive not in adhesives:
        table.fail("adhesive", f"names “{adhesive}”, which no [adhesive.{adhesive}] describes.")
    months, days = table.whole("months", 0, high=1200), table.whole("days", 0, high=36_500)
    if months + days == 0:
        table.fail(None, "gives no time. Add months = … or days = …")
    life = Life(
        key=key,
        since=table.choice("since", Since),
        store=table.choice("store", Store) if table.has("store") else None,
        months=months,
        days=days,
        range_words=table.text("range", ""),
        provenance=provenance,
    )
    table.done()
    return adhesive, life


def read_uses(table: RuleTable, key: str, _provenance: Provenance) -> tuple[Use, ...]:
    """The uses for which a kind of stock gets a verdict."""
    if key not in _APPLIES:
        table.fail(None, f"“{key}” is no kind of stock. Use: {', '.join(sorted(_APPLIES))}.")
    uses = table.choices("uses", Use)
    table.done()
    return uses


def read_weights(table: RuleTable) -> dict[Use, Weight]:
    """What a rule says of each use; no use may be given two words."""
    weights: dict[Use, Weight] = {}
    for weight in Weight:
        for use in table.choices(weight.value, Use):
            if use in weights:
                table.fail(weight.value, f"gives “{use.value}” two verdicts. Keep one.")
            weights[use] = weight
    if not weights:
        words = ", ".join(weight.value for weight in Weight)
        table.fail(None, f"says nothing of any use. Add one of {words} = [ uses ].")
    return weights


def read_fit(
    table: RuleTable, key: str, provenance: Provenance, adhesives: Mapping[str, AdhesiveClass]
) -> Fit:
    """The verdicts on one adhesive class."""
    if key not in adhesives:
        table.fail(None, f"speaks of “{key}”, which no [adhesive.{key}] describes.")
    fit = Fit(
        key=key, weights=read_weights(table), reason=table.text("reason"), provenance=provenance
    )
    table.done()
    return fit


def read_conditions(
    table: RuleTable,
    key: str,
    properties: Mapping[str, PropertyKind],
    limits: Mapping[str, Limit],
) -> tuple[Condition, ...]:
    """The conditions under ``key``, each checked against the properties and limits."""
    found: list[Condition] = []
    for row in table.tables(key):
        found += read_conditions_of(row, properties, limits)
        row.done()
    return tuple(found)


def read_conditions_of(
    row: RuleTable, properties: Mapping[str, PropertyKind], limits: Mapping[str, Limit]
) -> tuple[Condition, ...]:
    """Every comparison of one row with its one fact."""
    fact = row.text("fact")
    if fact not in properties:
        row.fail("fact", f"asks for “{fact}”, which no [property.{fact}] describes.")
    tests = [test for test in Operator if row.has(test.value)]
    if not tests:
        row.fail(None, f"compares nothing. Add one of {', '.join(t.value for t in Operator)}.")
    return tuple(_condition(row, properties[fact], test, limits) for test in tests)


def _condition(
    row: RuleTable, kind: PropertyKind, test: Operator, limits: Mapping[str, Limit]
) -> Condition:
    key = test.value
    value: Any
    if test is Operator.UNKNOWN:
        value = row.flag(key)
    elif test is Operator.ONE_OF:
        value = row.texts(key)
        for word in value:
            _check_word(row, key, kind, word)
    elif test in {Operator.IS, Operator.IS_NOT}:
        value = _check_word(row, key, kind, row.anything(key))
    else:
        if kind.kind is not ValueKind.NUMBER:
            row.fail(key, f"compares “{kind.key}” as a number, but it is a {kind.kind.value}.")
        value = row.anything(key)
        if isinstance(value, str):
            if value not in limits:
                row.fail(key, f"names the limit “{value}”, which no [limit.{value}] sets.")
            value = limits[value].value
        elif isinstance(value, bool | list):
            row.fail(key, "must be a number or the name of a limit.")
    return Condition(kind.key, test, value)


def _check_word(row: RuleTable, key: str, kind: PropertyKind, value: object) -> Fact:
    fits = {
        ValueKind.TRUTH: isinstance(value, bool),
        ValueKind.WORD: isinstance(value, str) and (not kind.choices or value in kind.choices),
        ValueKind.NUMBER: isinstance(value, int | float) and not isinstance(value, bool),
    }[kind.kind]
    if not fits or not isinstance(value, str | int | float):
        wanted = ", ".join(kind.choices) or kind.kind.value
        row.fail(key, f"“{kind.key}” cannot be {value!r}. It takes: {wanted}.")
    return value


def read_applies(table: RuleTable) -> frozenset[str]:
    """The kinds of stock that an entry speaks of."""
    words = frozenset(table.texts("applies", ...))
    for word in sorted(words - _APPLIES):
        table.fail("applies", f"“{word}” is no kind of stock. Use: {', '.join(sorted(_APPLIES))}.")
    if not words:
        table.fail("applies", "applies to nothing. Name at least one kind of stock.")
    return words


def read_rule(
    table: RuleTable,
    key: str,
    provenance: Provenance,
    properties: Mapping[str, PropertyKind],
    limits: Mapping[str, Limit],
) -> FlagRule:
    """A flag rule."""
    rule = FlagRule(
        key=key,
        applies=read_applies(table),
        every=read_conditions(table, "all", properties, limits),
        some=read_conditions(table, "any", properties, limits),
        weights=read_weights(table),
        reason=table.text("reason"),
        would_change=table.text("would_change"),
        provenance=provenance,
    )
    table.done()
    return rule


def read_find(table: RuleTable, key: str, provenance: Provenance) -> OldFind:
    """An old find."""
    find = OldFind(
        key=key,
        name=table.text("name"),
        recognise=table.text("recognise"),
        ageing=table.text("ageing"),
        removal=table.text("removal"),
        cautions=table.texts("cautions", ...),
        provenance=provenance,
    )
    table.done()
    return find
