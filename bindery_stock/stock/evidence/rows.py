"""Tested properties and laboratory results as the tables keep them, and checks at the door."""

import json
from collections.abc import Iterable
from datetime import date
from typing import Any

from bindery_stock.errors import EntryError
from bindery_stock.stock import checks
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.trade import Evidence, LabResult, Property


def properties_text(found: Iterable[Property]) -> str:
    """Properties as JSON."""
    return to_json(
        [
            {
                "name": one.name,
                "value": one.value,
                "evidence": one.evidence.value,
                "on": _day(one.on),
                "method": one.method,
                "by": one.by,
                "photo": one.photo,
            }
            for one in found
        ]
    )


def properties_of(written: str) -> tuple[Property, ...]:
    """Properties from their JSON."""
    if written == "[]":
        return ()
    return tuple(
        Property(**_dated(one) | {"evidence": Evidence(one["evidence"])})
        for one in json.loads(written)
    )


def results_text(found: Iterable[LabResult]) -> str:
    """Laboratory results as JSON."""
    return to_json(
        [
            {
                "substance": one.substance,
                "found": one.found,
                "on": _day(one.on),
                "laboratory": one.laboratory,
                "method": one.method,
            }
            for one in found
        ]
    )


def results_of(written: str) -> tuple[LabResult, ...]:
    """Laboratory results from their JSON."""
    if written == "[]":
        return ()
    return tuple(LabResult(**_dated(one)) for one in json.loads(written))


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _dated(written: dict[str, Any]) -> dict[str, Any]:
    day = written["on"]
    return written | {"on": None if day is None else date.fromisoformat(day)}


def checked(found: Iterable[Property], results: Iterable[LabResult] = ()) -> None:
    """Raise ``EntryError`` where something among them cannot be kept."""
    for one in found:
        checks.words(one.name, "Property")
        if not isinstance(one.value, bool | str):
            checks.number(one.value, one.name)
        elif isinstance(one.value, str):
            checks.words(one.value, one.name)
        checks.text(one.method, "Method")
        checks.text(one.by, "By")
    for result in results:
        checks.words(result.substance, "Substance")
        checks.text(result.laboratory, "Laboratory")
        checks.text(result.method, "Method")
        if result.found and not isinstance(result.found, bool):
            raise EntryError("Result", "Result: say found or none found.")
