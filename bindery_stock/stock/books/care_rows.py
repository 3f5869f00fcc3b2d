"""Descriptions of volumes and plans of care as the tables keep them, and checks at the door."""

import json
from dataclasses import asdict, fields
from datetime import date
from typing import Any

from bindery_stock.stock import checks
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.care import NOTHING_AGREED, CareOption, CarePlan, TreatmentChoice
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.description import NOT_DESCRIBED, Description

_DAYS = ("examined_on", "consented_on")
NOTHING = "{}"
"""What is kept of that of which nothing was said."""


def description_text(found: Description) -> str:
    """A description as JSON: what was said, by the names of its fields."""
    for spec in fields(Description):
        checks.text(getattr(found, spec.name), spec.name.replace("_", " ").capitalize())
    return to_json({name: words for name, words in asdict(found).items() if words})


def description_of(written: str) -> Description:
    """A description from its JSON."""
    return NOT_DESCRIBED if written == NOTHING else Description(**json.loads(written))


def care_text(found: CarePlan) -> str:
    """A plan of care as JSON: what was written, by the names of its fields."""
    told: list[CarePlan | CareOption | TreatmentChoice] = [found, *found.options, *found.choices]
    for one in told:
        for spec in fields(one):
            value = getattr(one, spec.name)
            if isinstance(value, str):
                checks.text(value, spec.name.capitalize())
    written: dict[str, Any] = asdict(found)
    for name in _DAYS:
        written[name] = None if written[name] is None else written[name].isoformat()
    for name in ("damages", "choices"):
        written[name] = [_said(one) for one in written[name]]
    for option in written["options"]:
        if not option["from_treatments"]:
            del option["from_treatments"]
    return to_json({name: one for name, one in written.items() if one not in (None, "", (), [])})


def care_of(written: str) -> CarePlan:
    """A plan of care from its JSON."""
    if written == NOTHING:
        return NOTHING_AGREED
    known: dict[str, Any] = json.loads(written)
    known["options"] = tuple(CareOption(**one) for one in known.get("options", ()))
    known["choices"] = tuple(TreatmentChoice(**one) for one in known.get("choices", ()))
    known["damages"] = tuple(_damage_of(one) for one in known.get("damages", ()))
    for name in _DAYS:
        if name in known:
            known[name] = date.fromisoformat(known[name])
    return CarePlan(**known)


def _said(one: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in one.items() if value not in (None, "")}


def _damage_of(one: dict[str, Any]) -> PlacedDamage:
    return PlacedDamage(**{**one, "place": BookPlace(one["place"])})
