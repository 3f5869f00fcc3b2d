"""A ruling of the gate that was gone on against, as it is kept."""

from dataclasses import dataclass
from datetime import datetime

from bindery_stock.trade.gate import Leave


@dataclass(frozen=True, slots=True, kw_only=True)
class NewKeptRuling:
    """What the gate said, and why the binder went on, or had gone on already."""

    deed: str
    """What was done, in a verb: ``cut``, ``use``, ``note work``."""
    leave: Leave
    rules: tuple[str, ...]
    """The rules that spoke, the gravest first."""
    words: str
    reason: str
    """The binder's own; may be empty only for what had happened already."""
    piece: str | None = None
    """Code of the piece it is about."""
    lot: str | None = None
    volume: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRuling(NewKeptRuling):
    """A ruling as the stockroom keeps it."""

    id: int
    at: datetime
