"""The treatments as ``resources/treatments.toml`` has them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from bindery_stock.places import resources
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import DamageKinds
from bindery_stock.trade.glossary import Glossary, shipped_glossary
from bindery_stock.trade.hazards import DEFERRING
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Mark, Provenance, Source
from bindery_stock.trade.rule_entries import read_conditions_of, read_property, read_provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.sections import sections_of, sources_of
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.survey import Harm
from bindery_stock.trade.table_reader import RuleTable
from bindery_stock.trade.treatments import LEAVE, Need, TreatmentRule, Treatments, TreatmentStep

_BARS = ("work", "wet")


@dataclass(frozen=True, slots=True)
class _Known:
    """What the tables of the file may speak of."""

    rules: Rules
    glossary: Glossary
    kinds: DamageKinds
    sources: Mapping[str, Source]
    facts: Mapping[str, PropertyKind]
    cautions: Mapping[str, str]


def load_treatments(
    path: Path | None = None,
    rules: Rules | None = None,
    glossary: Glossary | None = None,
    kinds: DamageKinds | None = None,
) -> Treatments:
    """Read the file, the shipped one if none is named.

    Raises ``RulesError`` naming file and line of whatever is wrong, a damage whose treatments are
    not all described among it.
    """
    path = path if path is not None else resources() / "treatments.toml"
    rules = rules if rules is not None else shipped_rules()
    found = sections_of(path, ("source", "bar", "caution", "fact", "treatment"))
    sources = sources_of(found["source"], rules)
    facts = {
        key: read_property(table, key, read_provenance(table, sources))
        for key, table in found["fact"].items()
    }
    known = _Known(
        rules,
        glossary if glossary is not None else shipped_glossary(),
        kinds if kinds is not None else shipped_damages(),
        sources,
        facts,
        {key: _caution(table, sources) for key, table in found["caution"].items()},
    )
    by_key = {key: _treatment(table, key, known) for key, table in found["treatment"].items()}
    _check_names(found["treatment"], by_key, known.kinds)
    bars = {}
    for key in _BARS:
        if key not in found["bar"]:
            next(iter(found["treatment"].values())).fail(None, f"stands without [bar.{key}].")
        table = found["bar"][key]
        bars[key] = _need(table, known, read_provenance(table, sources))
    return Treatments(
        by_key=MappingProxyType(by_key),
        facts=MappingProxyType(facts),
        work_bar=bars["work"],
        wet_bar=bars["wet"],
    )


@cache
def shipped_treatments() -> Treatments:
    """The treatments as shipped, read once."""
    return load_treatments()


def _check_names(
    tables: Mapping[str, RuleTable], by_key: Mapping[str, TreatmentRule], kinds: DamageKinds
) -> None:
    first = next(iter(tables.values()))
    if LEAVE not in by_key:
        first.fail(None, f"stands without [treatment.{LEAVE}].")
    for key, treatment in by_key.items():
        for other in treatment.within:
            if other not in by_key:
                tables[key].fail("within", f"names “{other}”, which is no treatment.")
    for kind in kinds.by_key.values():
        for key in kind.treatments:
            if key not in by_key:
                first.fail(None, f"[damage.{kind.key}] names “{key}”, which is no treatment.")


def _caution(table: RuleTable, sources: Mapping[str, Source]) -> str:
    provenance = read_provenance(table, sources)
    words = f"{table.text('words')} ({provenance.mark.words}) {DEFERRING}"
    table.done()
    return words


def _treatment(table: RuleTable, key: str, known: _Known) -> TreatmentRule:
    term = table.text("term")
    if term not in known.glossary:
        table.fail("term", f"names “{term}”, which no [term.{term}] of the glossary explains.")
    provenance = read_provenance(table, known.sources)
    cautions = table.texts("cautions")
    for name in cautions:
        if name not in known.cautions:
            table.fail("cautions", f"names “{name}”, which no [caution.{name}] words.")
    treatment = TreatmentRule(
        key=key,
        term=known.glossary[term],
        right=table.text("right"),
        not_right=table.text("not_right"),
        wet=table.flag("wet"),
        undo=table.text("undo"),
        adhesive=table.text("adhesive", ""),
        parts=table.choices("parts", Role),
        ticks=table.choices("ticks", Harm),
        also=table.choices("also", Harm),
        within=table.texts("within"),
        lending=table.flag("lending"),
        cautions=tuple(known.cautions[name] for name in cautions),
        note=table.text("note", ""),
        needs=tuple(_need(row, known, provenance) for row in table.tables("need")),
        steps=tuple(_step(row, known, provenance) for row in table.tables("step")),
        provenance=provenance,
    )
    for name in ("need", "step"):
        if not table.has(name):
            table.fail(None, f"has no {name}. Add [[treatment.{key}.{name}]].")
    table.done()
    return treatment


def _provenance(row: RuleTable, known: _Known, inherited: Provenance) -> Provenance:
    """Its own mark where it has one; sources alone are of works that were published."""
    if row.has("mark"):
        return read_provenance(row, known.sources)
    if not row.has("sources"):
        return inherited
    names = row.texts("sources")
    for name in names:
        if name not in known.sources:
            row.fail("sources", f"names the source “{name}”, which no [source.{name}] explains.")
    return Provenance(
        Mark.PUBLISHED, tuple(known.sources[name] for name in names), origin=row.origin()
    )


def _need(row: RuleTable, known: _Known, inherited: Provenance) -> Need:
    kinds = row.texts("of")
    for kind in kinds:
        if kind not in known.kinds.by_key:
            row.fail("of", f"names “{kind}”, which no [damage.{kind}] describes.")
    conditions = read_conditions_of(row, known.facts, known.rules.limits)
    need = Need(
        fact=known.facts[conditions[0].fact],
        conditions=conditions,
        kinds=frozenset(kinds),
        refused=row.text("refused"),
        change=row.text("change"),
        provenance=_provenance(row, known, inherited),
    )
    row.done()
    return need


def _step(row: RuleTable, known: _Known, inherited: Provenance) -> TreatmentStep:
    low, high = row.number("dry_low", 0.0, low=0, high=240), row.number("dry_high", 0.0, low=0)
    if low > high:
        row.fail("dry_low", f"runs backwards from {low:g} to {high:g}.")
    step = TreatmentStep(
        stage=row.whole("stage", high=999),
        do=row.text("do"),
        dry_low=low,
        dry_high=high,
        under=row.text("under", ""),
        provenance=_provenance(row, known, inherited),
    )
    if high and not step.under:
        row.fail(None, "dries, and does not say under what. Add under = ….")
    row.done()
    return step
