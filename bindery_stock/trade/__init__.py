"""What a binder knows: words, rules and limits, as data and small functions."""

from bindery_stock.trade.adhesives import AdhesiveClass, Life, Lot, Since, Store
from bindery_stock.trade.allowances import Allowance, Allowances, default_allowances
from bindery_stock.trade.arc import Arc
from bindery_stock.trade.finds import OldFind
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import NOT_A_TEST, Hazard, Refusal, hazards, wet_work
from bindery_stock.trade.hours import Hours, HoursLine, hours_for
from bindery_stock.trade.laboratory import LabResult
from bindery_stock.trade.materials import Limit, Material
from bindery_stock.trade.parts import parts_for, survey_warnings
from bindery_stock.trade.plans import PartPlan, Zone
from bindery_stock.trade.properties import Effort, Evidence, Property, PropertyKind, ValueKind
from bindery_stock.trade.provenance import Mark, Origin, Provenance, Source
from bindery_stock.trade.rules import Rules, load_rules, shipped_rules
from bindery_stock.trade.shelf_life import Count, Ending, ShelfLife, shelf_life
from bindery_stock.trade.sizing_rules import Grain, Role
from bindery_stock.trade.sums import Sum, Term
from bindery_stock.trade.survey import Covering, Damage, Harm, Hollow, Reback, Survey
from bindery_stock.trade.uses import Grade, Use, Weight
from bindery_stock.trade.verdicts import Finding, Verdict, verdicts
from bindery_stock.trade.written_dates import WrittenDate, read_date

__all__ = [
    "NOT_A_TEST",
    "AdhesiveClass",
    "Allowance",
    "Allowances",
    "Arc",
    "Count",
    "Covering",
    "Damage",
    "Effort",
    "Ending",
    "Evidence",
    "Finding",
    "Grade",
    "Grain",
    "Harm",
    "Hazard",
    "Hollow",
    "Hours",
    "HoursLine",
    "LabResult",
    "Level",
    "Life",
    "Limit",
    "Lot",
    "Mark",
    "Material",
    "OldFind",
    "Origin",
    "PartPlan",
    "Property",
    "PropertyKind",
    "Provenance",
    "Reback",
    "Refusal",
    "Role",
    "Rules",
    "ShelfLife",
    "Since",
    "Source",
    "Store",
    "Sum",
    "Survey",
    "Term",
    "Use",
    "ValueKind",
    "Verdict",
    "Weight",
    "WrittenDate",
    "Zone",
    "default_allowances",
    "hazards",
    "hours_for",
    "load_rules",
    "parts_for",
    "read_date",
    "shelf_life",
    "shipped_rules",
    "survey_warnings",
    "verdicts",
    "wet_work",
]
