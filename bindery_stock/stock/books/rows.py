"""Rows of sets, repairs, parts and treatment into plain values, and back."""

import json
from collections.abc import Iterable
from dataclasses import asdict, fields
from datetime import date, datetime
from typing import Any

from bindery_stock.colour import ReadBy
from bindery_stock.stock import checks
from bindery_stock.stock.books import care_rows
from bindery_stock.stock.books import checks as book_checks
from bindery_stock.stock.books.kept_shade import UNDER_THE_PART, KeptShade
from bindery_stock.stock.books.values import (
    BookPart,
    BookPhoto,
    BookSet,
    BookSpot,
    ColourSought,
    NewBookSet,
    NewPart,
    NewRepair,
    NewTreatment,
    PartState,
    Repair,
    RepairState,
    Stage,
    Treatment,
    View,
)
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.stored import AnyRow, column, reads
from bindery_stock.trade import Covering, Damage, Harm, Hollow, Reback, Survey
from bindery_stock.trade.vocabulary import Kind

_MADE = {"kind", "turns", "zones", "lab", "read_by", "sum_lines", "adhesives"}
"""Fields of a part that its row keeps in another form."""
_CHOICES = {"reback": Reback, "hollow": Hollow, "covering": Covering}


def survey_text(survey: Survey) -> str:
    """A survey as JSON, by the names of its fields."""
    return to_json(asdict(survey))


def survey_of(written: str) -> Survey:
    """A survey from its JSON. What later versions added takes its default."""
    known: dict[str, Any] = json.loads(written)
    known["damage"] = tuple(
        Damage(Harm(tick["harm"]), tick["count"], tick["extent"], tick["across"])
        for tick in known["damage"]
    )
    for name, choice in _CHOICES.items():
        known[name] = choice(known[name])
    return Survey(**known)


def set_columns(new: NewBookSet) -> dict[str, Any]:
    """The columns of ``book_set``."""
    return {
        "title": checks.words(new.title, "Title"),
        "author": checks.text(new.author, "Author"),
        "note": checks.text(new.note, "Note"),
        "pattern": checks.text(new.pattern, "Grain pattern"),
        "shared": to_json(book_checks.shared(new.shared)),
        "owner": checks.text(new.owner, "Owner"),
        "colour_family": checks.text(new.colour_family, "Colour family"),
        "dated": checks.text(new.dated, "Dated"),
        "description": care_rows.description_text(new.description),
    }


def _shared_of(written: str) -> dict[str, Any]:
    return dict(json.loads(written))


@reads("The set")
def set_of(row: AnyRow) -> BookSet:
    """A set from its row."""
    return BookSet(
        id=row.id,
        code=row.code,
        title=row.title,
        author=row.author,
        note=row.note,
        pattern=row.pattern,
        shared=column(row, "shared", _shared_of),
        owner=row.owner,
        colour_family=row.colour_family,
        dated=row.dated,
        description=column(row, "description", care_rows.description_of),
    )


def repair_columns(new: NewRepair) -> dict[str, Any]:
    """The columns of ``repair`` that a ``NewRepair`` fills (all but its set)."""
    checked = book_checks.repair(new)
    return {
        "name": checked.name.strip(),
        "survey": survey_text(checked.survey),
        "title": checked.title,
        "author": checked.author,
        "owner": checked.owner,
        "volume": checked.volume,
        "pattern": checked.pattern,
        "tolerance": checked.tolerance,
        "hours_estimated": checked.hours_estimated,
        "state": checked.state.value,
        "condition": checked.condition,
        "note": checked.note,
        "colour_family": checked.colour_family,
        "dated": checked.dated,
        "lab_results": evidence.results_text(checked.lab_results),
        "description": care_rows.description_text(checked.description),
        "care": care_rows.care_text(checked.care),
    }


@reads("The volume")
def repair_of(
    row: AnyRow, *, photos: Iterable[BookPhoto], targets: Iterable[ColourSought], hours_spent: float
) -> Repair:
    """A repair from its row joined with the code of its set, and what hangs on it."""
    return Repair(
        id=row.id,
        code=row.code,
        name=row.name,
        survey=column(row, "survey", survey_of),
        title=row.title,
        author=row.author,
        owner=row.owner,
        book_set=row.set_code,
        volume=row.volume,
        pattern=row.pattern,
        tolerance=row.tolerance,
        hours_estimated=row.hours_estimated,
        state=column(row, "state", RepairState),
        condition=row.condition,
        note=row.note,
        colour_family=row.colour_family,
        dated=row.dated,
        lab_results=column(row, "lab_results", evidence.results_of),
        description=column(row, "description", care_rows.description_of),
        care=column(row, "care", care_rows.care_of),
        photos=tuple(photos),
        targets=tuple(targets),
        hours_spent=hours_spent,
        begun=column(row, "begun", datetime.fromisoformat),
    )


def photo_columns(shot: BookPhoto, position: int) -> dict[str, Any]:
    """The columns of ``repair_photo``."""
    return {
        "position": position,
        "photo": shot.photo.sha256,
        "shows": shot.shows.value,
        "stage": shot.stage.value,
    }


@reads("A photograph of volume", by="owner_code")
def photo_of(row: AnyRow) -> BookPhoto:
    """A photograph of a volume from its row joined with that of the photograph."""
    return BookPhoto(
        photo_rows.photo_of(row), column(row, "shows", View), column(row, "stage", Stage)
    )


def target_columns(target: ColourSought, position: int) -> dict[str, Any]:
    """The columns of ``target_colour``."""
    return {
        "spot": target.spot.value,
        **piece_rows.colour_columns(checks.colour(target.colour), position),
    }


@reads("A colour of volume", by="owner_code")
def target_of(row: AnyRow) -> ColourSought:
    """A target colour from its row."""
    return ColourSought(column(row, "spot", BookSpot), piece_rows.colour_of(row))


def _listed(written: str) -> tuple[Any, ...]:
    found = json.loads(written)
    if not isinstance(found, list):
        raise TypeError("not a list")
    return tuple(found)


def _zones_of(written: str) -> tuple[tuple[Any, float, float, float, float], ...]:
    return tuple((s, x0, y0, x1, y1) for s, x0, y0, x1, y1 in json.loads(written))


def part_columns(new: NewPart, position: int) -> dict[str, Any]:
    """The columns of ``part`` that a ``NewPart`` fills."""
    checked = book_checks.part(new)
    lightness, a, b = checked.lab if checked.lab is not None else (None, None, None)
    return {
        "position": position,
        "role": checked.role,
        "name": checked.name,
        "number": checked.number,
        "of": checked.of,
        "layer": checked.layer,
        "width": float(checked.width),
        "height": float(checked.height),
        "kind": checked.kind.value,
        "material": checked.material,
        "pattern": checked.pattern,
        "turns": to_json(checked.turns),
        "zones": to_json(checked.zones),
        "estimated": checked.estimated,
        "lightness": lightness,
        "a": a,
        "b": b,
        "u": checked.u,
        "read_by": checked.read_by.value,
        "tolerance": checked.tolerance,
        "width_sum": checked.width_sum,
        "height_sum": checked.height_sum,
        "sum_lines": to_json(checked.sum_lines),
        "adhesives": to_json(checked.adhesives),
        "note": checked.note,
    }


@reads("A part of volume", by="repair_code")
def part_of(row: AnyRow) -> BookPart:
    """A part from its row joined with its repair, its reservation and the pieces of both."""
    state = column(row, "state", PartState)
    if row.reservation_id is not None:
        state = PartState.RESERVED
    plain = {
        field.name: getattr(row, field.name) for field in fields(NewPart) if field.name not in _MADE
    }
    new = NewPart(
        **plain,
        kind=column(row, "kind", Kind),
        turns=column(row, "turns", _listed),
        zones=column(row, "zones", _zones_of),
        lab=None if row.lightness is None else (row.lightness, row.a, row.b),
        read_by=column(row, "read_by", ReadBy) if row.read_by else ReadBy.STATED,
        sum_lines=column(row, "sum_lines", _listed),
        adhesives=column(row, "adhesives", _listed),
    )
    return BookPart(
        **{field.name: getattr(new, field.name) for field in fields(NewPart)},
        id=row.id,
        repair=row.repair_code,
        purpose=f"{new.words}, {row.repair_name}",
        state=state,
        piece=row.kept_in or row.came_from or "",
        corners=column(row, "corners", piece_rows.ring_of) if row.corners else (),
        shade=None
        if row.delta_e is None
        else KeptShade(row.delta_e, row.delta_u, row.shade_of == UNDER_THE_PART),
    )


def treatment_columns(new: NewTreatment) -> dict[str, Any]:
    """The columns of ``treatment`` that hold plain words and numbers."""
    checked = book_checks.treatment(new)
    return {
        "what": checked.what.strip(),
        "undo": checked.undo,
        "hours": float(checked.hours),
        "part_id": checked.part,
        "amount": checked.amount,
        "override": checked.override,
        "done_on": None if checked.on is None else checked.on.isoformat(),
        "wet": checked.wet,
    }


@reads("A line of treatment of volume", by="repair_code")
def treatment_of(row: AnyRow) -> Treatment:
    """A line of treatment from its row joined with the codes it names."""
    return Treatment(
        id=row.id,
        repair=row.repair_code,
        at=column(row, "at", datetime.fromisoformat),
        what=row.what,
        undo=row.undo,
        hours=row.hours,
        part=row.part_id,
        piece=row.piece_code,
        lot=row.lot_code,
        amount=row.amount,
        override=row.override,
        on=None if row.done_on is None else date.fromisoformat(row.done_on),
        wet=row.wet,
    )
