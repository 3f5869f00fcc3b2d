"""A shipped file of ``[section.name]`` tables, read strictly, with the works it rests on."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from bindery_stock.errors import RulesError
from bindery_stock.trade.provenance import Source
from bindery_stock.trade.rule_entries import read_source
from bindery_stock.trade.rules import Rules
from bindery_stock.trade.table_reader import RuleTable, read_toml


def sections_of(path: Path, names: Sequence[str]) -> dict[str, dict[str, RuleTable]]:
    """Every table of the file by section and name.

    Raises ``RulesError`` for a section that is none of ``names``, and where the file cannot be
    read.
    """
    data, lines = read_toml(path)
    root = RuleTable(data, (), path, lines)
    found: dict[str, dict[str, RuleTable]] = {name: {} for name in names}
    for section, entries in data.items():
        if section not in found:
            raise RulesError(
                f"{root.origin(section)}: there is no section “{section}”. Use: {', '.join(names)}."
            )
        if not isinstance(entries, dict):
            root.fail(section, f"“{section}” must be written as [{section}.name].")
        for key, values in entries.items():
            if not isinstance(values, dict):
                root.fail(section, f"“{key}” must be a table of its own: [{section}.{key}].")
            found[section][key] = RuleTable(values, (section, key), path, lines)
    return found


def sources_of(tables: Mapping[str, RuleTable], rules: Rules) -> dict[str, Source]:
    """The works named in the rules and those that the file adds, by key."""
    own = {key: read_source(table, key) for key, table in tables.items()}
    return {**rules.sources, **own}
