"""What a binder knows: words, rules and limits, as data and small functions."""

from bindery_stock.trade.adhesives import AdhesiveClass, Life, Lot, Since, Store
from bindery_stock.trade.finds import OldFind
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import NOT_A_TEST, Hazard, LabResult, Refusal, hazards, wet_work
from bindery_stock.trade.materials import Limit, Material
from bindery_stock.trade.properties import Effort, Evidence, Property, PropertyKind, ValueKind
from bindery_stock.trade.provenance import Mark, Origin, Provenance, Source
from bindery_stock.trade.rules import Rules, load_rules, shipped_rules
from bindery_stock.trade.shelf_life import Count, Ending, ShelfLife, shelf_life
from bindery_stock.trade.uses import Grade, Use, Weight
from bindery_stock.trade.verdicts import Finding, Verdict, verdicts
from bindery_stock.trade.written_dates import WrittenDate, read_date

__all__ = [
    "NOT_A_TEST",
    "AdhesiveClass",
    "Count",
    "Effort",
    "Ending",
    "Evidence",
    "Finding",
    "Grade",
    "Hazard",
    "LabResult",
    "Level",
    "Life",
    "Limit",
    "Lot",
    "Mark",
    "Material",
    "OldFind",
    "Origin",
    "Property",
    "PropertyKind",
    "Provenance",
    "Refusal",
    "Rules",
    "ShelfLife",
    "Since",
    "Source",
    "Store",
    "Use",
    "ValueKind",
    "Verdict",
    "Weight",
    "WrittenDate",
    "hazards",
    "load_rules",
    "read_date",
    "shelf_life",
    "shipped_rules",
    "verdicts",
    "wet_work",
]
