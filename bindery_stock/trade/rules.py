"""The rules as a whole: the files shipped with the program, and the binder's own on top.

An entry of a later file whose section and name are those of an earlier one replaces it whole, and
says so: its provenance names both places. ``resources/rules/README.md`` documents the sections.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from bindery_stock.errors import EntryError, RulesError
from bindery_stock.places import resources
from bindery_stock.trade import hazard_entries as harm
from bindery_stock.trade import rule_entries as read
from bindery_stock.trade import sizing_entries as sizing
from bindery_stock.trade.adhesives import AdhesiveClass, Fit, Life
from bindery_stock.trade.finds import OldFind
from bindery_stock.trade.flags import FlagRule
from bindery_stock.trade.hazard_rules import ColourFamily, HazardRule
from bindery_stock.trade.materials import Limit
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Origin, Provenance, Source
from bindery_stock.trade.sizing_rules import AllowanceRule, HoursRule, PartRule
from bindery_stock.trade.table_reader import RuleTable, read_toml
from bindery_stock.trade.uses import Use

SECTIONS = (
    "source",
    "property",
    "limit",
    "kind",
    "adhesive",
    "life",
    "fit",
    "rule",
    "family",
    "hazard",
    "find",
    "allowance",
    "part",
    "hours",
)
"""The sections a rules file may hold, as ``[section.name]``."""

_Rule = TypeVar("_Rule")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Everything the rules files say, each entry by its name."""

    files: tuple[Path, ...]
    sources: Mapping[str, Source]
    properties: Mapping[str, PropertyKind]
    limits: Mapping[str, Limit]
    uses: Mapping[str, tuple[Use, ...]]
    """For each kind of stock, and for ``adhesive``, the uses that get a verdict."""
    adhesives: Mapping[str, AdhesiveClass]
    fits: Mapping[str, Fit]
    flags: Mapping[str, FlagRule]
    families: Mapping[str, ColourFamily]
    hazards: Mapping[str, HazardRule]
    finds: Mapping[str, OldFind]
    allowances: Mapping[str, AllowanceRule]
    parts: Mapping[str, PartRule]
    hours: Mapping[str, HoursRule]
    overridden: Mapping[str, Origin]
    """``section.name`` of each entry that a later file replaced, and where the old one stands."""

    def adhesive(self, key: str) -> AdhesiveClass:
        """The class of that key. Raises ``EntryError`` where the rules know none."""
        if key not in self.adhesives:
            known = ", ".join(sorted(self.adhesives))
            raise EntryError(
                "Kind",
                f"“{key}” is no adhesive class in the rules. Choose one of {known}, "
                "or describe it in your own rules file.",
            )
        return self.adhesives[key]


@dataclass(frozen=True, slots=True)
class _Entry:
    table: RuleTable
    overrides: Origin | None


def load_rules(*paths: Path | str, shipped: Path | None = None) -> Rules:
    """Read the shipped rules and then each of ``paths`` on top of them.

    ``shipped`` is the folder of the shipped files, if not the program's own. Raises ``RulesError``
    naming file and line for whatever is wrong.
    """
    folder = shipped if shipped is not None else resources() / "rules"
    files = (*sorted(folder.glob("*.toml")), *(Path(path) for path in paths))
    if len(files) == len(paths):
        raise RulesError(f"{folder}, line 1: no rules were found here. Install the program again.")
    return _build(files, _collect(files))


@cache
def shipped_rules() -> Rules:
    """The rules as shipped, read once."""
    return load_rules()


def _collect(files: tuple[Path, ...]) -> dict[str, dict[str, _Entry]]:
    found: dict[str, dict[str, _Entry]] = {section: {} for section in SECTIONS}
    for file in files:
        data, lines = read_toml(file)
        for section, entries in data.items():
            root = RuleTable(data, (), file, lines)
            if section not in found:
                raise RulesError(
                    f"{root.origin(section)}: there is no section “{section}”. "
                    f"Use: {', '.join(SECTIONS)}."
                )
            if not isinstance(entries, dict):
                root.fail(section, f"“{section}” must be written as [{section}.name].")
            for key, values in entries.items():
                if not isinstance(values, dict):
                    RuleTable(entries, (section,), file, lines).fail(
                        key, f"“{key}” must be a table of its own: [{section}.{key}]."
                    )
                table = RuleTable(values, (section, key), file, lines)
                earlier = found[section].get(key)
                overrides = earlier.table.origin() if earlier else None
                found[section][key] = _Entry(table, overrides)
    return found


def _build(files: tuple[Path, ...], found: dict[str, dict[str, _Entry]]) -> Rules:
    sources = {key: read.read_source(e.table, key) for key, e in found["source"].items()}

    def section(
        name: str, reader: Callable[[RuleTable, str, Provenance], _Rule]
    ) -> Mapping[str, _Rule]:
        return MappingProxyType(
            {
                key: reader(
                    entry.table, key, read.read_provenance(entry.table, sources, entry.overrides)
                )
                for key, entry in found[name].items()
            }
        )

    properties = section("property", read.read_property)
    limits = section("limit", read.read_limit)
    bare = section("adhesive", read.read_adhesive)
    lives = section("life", lambda table, key, prov: read.read_life(table, key, prov, bare))
    families = section("family", harm.read_family)
    return Rules(
        files=files,
        sources=MappingProxyType(sources),
        properties=properties,
        limits=limits,
        uses=section("kind", read.read_uses),
        adhesives=_with_lives(bare, lives.values()),
        fits=section("fit", lambda table, key, prov: read.read_fit(table, key, prov, bare)),
        flags=section(
            "rule", lambda table, key, prov: read.read_rule(table, key, prov, properties, limits)
        ),
        families=families,
        hazards=section(
            "hazard",
            lambda table, key, prov: harm.read_hazard(
                table, key, prov, families, (properties, limits)
            ),
        ),
        finds=section("find", read.read_find),
        allowances=section("allowance", sizing.read_allowance),
        parts=section("part", lambda table, key, prov: sizing.read_part(table, key, prov, bare)),
        hours=section("hours", sizing.read_hours),
        overridden=MappingProxyType(
            {
                f"{name}.{key}": entry.overrides
                for name, entries in found.items()
                for key, entry in entries.items()
                if entry.overrides is not None
            }
        ),
    )


def _with_lives(
    bare: Mapping[str, AdhesiveClass], lives: Iterable[tuple[str, Life]]
) -> Mapping[str, AdhesiveClass]:
    by_class: dict[str, list[Life]] = {key: [] for key in bare}
    for adhesive, life in lives:
        by_class[adhesive].append(life)
    return MappingProxyType(
        {key: replace(kind, lives=tuple(by_class[key])) for key, kind in bare.items()}
    )
