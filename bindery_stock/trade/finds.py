"""What is met in old books: how to know it, how it ages, how the trade takes it off."""

from dataclasses import dataclass

from bindery_stock.trade.provenance import Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class OldFind:
    """An old adhesive or repair as found."""

    key: str
    name: str
    recognise: str
    ageing: str
    removal: str
    """How the trade takes it off; advice, never a promise."""
    cautions: tuple[str, ...]
    provenance: Provenance
