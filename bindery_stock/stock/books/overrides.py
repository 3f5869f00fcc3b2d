"""Allowances set away from the rules: for all work, for a set, for a volume."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Overrides:
    """Allowances set away from the rules, in mm, by their names; each level goes over the last."""

    all_work: Mapping[str, float] = field(default_factory=dict)
    book_set: Mapping[str, float] = field(default_factory=dict)
    volume: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class EveryOverride:
    """The allowances set for all work, for each set, and for each volume, by their codes."""

    all_work: Mapping[str, float] = field(default_factory=dict)
    sets: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    volumes: Mapping[str, Mapping[str, float]] = field(default_factory=dict)

    def of(self, volume: str | None, book_set: str | None) -> Overrides:
        """Those that bear on one volume, or on the volumes of a set."""
        return Overrides(
            self.all_work,
            self.sets.get(book_set or "", {}),
            self.volumes.get(volume or "", {}),
        )
