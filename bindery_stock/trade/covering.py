"""The covering of a volume, judged by the same rules as a scrap of cloth."""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.trade.laboratory import LabResult
from bindery_stock.trade.materials import Read
from bindery_stock.trade.properties import Property
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class CoveringCloth:
    """What is known of the cloth that covers a volume. A ``Material``."""

    colour_family: str = ""
    """Ticked by the binder; empty where nothing is."""
    source_date: str = ""
    """When it was bound, as written."""
    colours: Sequence[Read] = ()
    """Every colour read on it."""
    lab_results: tuple[LabResult, ...] = ()
    kind: Kind = Kind.CLOTH
    backing: Backing = Backing.UNKNOWN
    fibre: Fibre = Fibre.UNKNOWN
    source: str | None = None
    properties: tuple[Property, ...] = ()
