"""What is wanted, and the least to keep at hand."""

from dataclasses import dataclass
from datetime import datetime

from bindery_stock.stock.lots.values import (
    Measure,
)
from bindery_stock.stock.pieces.values import Lab


@dataclass(frozen=True, slots=True, kw_only=True)
class NewWanted:
    """Something to buy, or to look for at sales."""

    what: str
    """``red ribbed cloth``, ``wheat starch``."""
    purpose: str = ""
    width: float | None = None
    height: float | None = None
    """Least size, mm: across and along the warp."""
    lab: Lab | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted(NewWanted):
    """A line of the wanted list."""

    id: int
    code: str
    since: datetime
    outcome: str = ""
    """How it ended: found, given up; empty while it is still wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReorderPoint:
    """The least that should be at hand of a kind."""

    kind: str
    """Key of an adhesive class, or a kind of piece."""
    least: float
    unit: Measure
