"""What a binder knows: words, rules and limits, as data and small functions."""

from bindery_stock.trade.adhesives import AdhesiveClass, Life, Lot, Since, Store
from bindery_stock.trade.allowances import Allowance, Allowances, default_allowances
from bindery_stock.trade.arc import Arc
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damage_sense import contradictions
from bindery_stock.trade.damages import DamageKind, DamageKinds, PlacedDamage
from bindery_stock.trade.finds import OldFind
from bindery_stock.trade.glossary import Glossary, GlossaryTerm, shipped_glossary
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import NOT_A_TEST, Hazard, Refusal, hazards, wet_work
from bindery_stock.trade.hours import Hours, HoursLine, hours_for
from bindery_stock.trade.laboratory import LabResult
from bindery_stock.trade.materials import Limit, Material
from bindery_stock.trade.parts import parts_for, survey_warnings
from bindery_stock.trade.plans import PartPlan, Zone
from bindery_stock.trade.properties import Effort, Evidence, Property, PropertyKind, ValueKind
from bindery_stock.trade.proposals import Rank, TreatmentOption, TreatmentProposal, propose
from bindery_stock.trade.provenance import Mark, Origin, Provenance, Source
from bindery_stock.trade.rules import Rules, load_rules, shipped_rules
from bindery_stock.trade.shelf_life import Count, Ending, ShelfLife, shelf_life
from bindery_stock.trade.sizing_rules import Grain, Role
from bindery_stock.trade.sums import Sum, Term
from bindery_stock.trade.survey import Covering, Damage, Harm, Hollow, Reback, Survey
from bindery_stock.trade.survey_ticks import placed_damage, survey_ticks
from bindery_stock.trade.treatment_entries import shipped_treatments
from bindery_stock.trade.treatment_work import ChosenTreatment, TreatmentWork, treatment_work
from bindery_stock.trade.treatments import TreatmentRule, Treatments
from bindery_stock.trade.uses import Grade, Use, Weight
from bindery_stock.trade.verdicts import Finding, Verdict, verdicts
from bindery_stock.trade.volume_facts import VolumeFacts
from bindery_stock.trade.written_dates import WrittenDate, read_date

__all__ = [
    "NOT_A_TEST",
    "AdhesiveClass",
    "Allowance",
    "Allowances",
    "Arc",
    "BookPlace",
    "ChosenTreatment",
    "Count",
    "Covering",
    "Damage",
    "DamageKind",
    "DamageKinds",
    "Effort",
    "Ending",
    "Evidence",
    "Finding",
    "Glossary",
    "GlossaryTerm",
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
    "PlacedDamage",
    "Property",
    "PropertyKind",
    "Provenance",
    "Rank",
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
    "TreatmentOption",
    "TreatmentProposal",
    "TreatmentRule",
    "TreatmentWork",
    "Treatments",
    "Use",
    "ValueKind",
    "Verdict",
    "VolumeFacts",
    "Weight",
    "WrittenDate",
    "Zone",
    "contradictions",
    "default_allowances",
    "hazards",
    "hours_for",
    "load_rules",
    "parts_for",
    "placed_damage",
    "propose",
    "read_date",
    "shelf_life",
    "shipped_damages",
    "shipped_glossary",
    "shipped_rules",
    "shipped_treatments",
    "survey_ticks",
    "survey_warnings",
    "treatment_work",
    "verdicts",
    "wet_work",
]
