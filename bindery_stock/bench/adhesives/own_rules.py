"""The binder's own rules, told: what they add and what they replace."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from bindery_stock.trade import Provenance, Rules

_SECTIONS = (
    ("limit", "limits"),
    ("adhesive", "adhesives"),
    ("fit", "fits"),
    ("rule", "flags"),
    ("family", "families"),
    ("hazard", "hazards"),
    ("find", "finds"),
    ("allowance", "allowances"),
    ("part", "parts"),
    ("hours", "hours"),
    ("property", "properties"),
)
"""A section of the files, and the name under which the rules hold its entries."""
_NAMED = 6
"""So many entries are named; the rest is counted."""


def own_rules_words(rules: Rules, file: Path) -> str:
    """What ``file`` adds to the shipped rules and what it replaces; empty where it is not in use.

    ``Your own rules in rules.toml are in use. Added: rule my-own. In place of shipped ones: …``
    """
    if file not in rules.files:
        return ""
    added = [name for name in _entries(rules, file) if name not in rules.overridden]
    told = f"Your own rules in {file.name} are in use."
    if added:
        told += f" Added: {_listed(added)}."
    if rules.overridden:
        told += f" In place of shipped ones: {_listed(sorted(rules.overridden))}."
    return told


def _entries(rules: Rules, file: Path) -> list[str]:
    """``section.name`` of every entry that stands in ``file``."""
    every: dict[str, Provenance] = {}
    for section, attribute in _SECTIONS:
        entries: Mapping[str, Any] = getattr(rules, attribute)
        every |= {f"{section}.{key}": entry.provenance for key, entry in entries.items()}
    for kind in rules.adhesives.values():
        every |= {f"life.{life.key}": life.provenance for life in kind.lives}
    return [
        name
        for name, provenance in every.items()
        if provenance.origin is not None and provenance.origin.file == file
    ]


def _listed(names: list[str]) -> str:
    told = ", ".join(names[:_NAMED])
    return f"{told} and {len(names) - _NAMED} more" if len(names) > _NAMED else told
