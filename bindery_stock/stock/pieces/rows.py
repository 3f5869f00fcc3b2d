"""Rows of the tables into plain values, and back."""

import json
from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from functools import lru_cache
from typing import Any

from bindery_stock.colour import ReadBy
from bindery_stock.shape import Flaw, FlawKind, Outline, Ring
from bindery_stock.stock import checks
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.stock.photos.rows import photo_of
from bindery_stock.stock.pieces.old_methods import read_by_of
from bindery_stock.stock.pieces.values import (
    Colour,
    CutPart,
    Cutting,
    FaceName,
    Matrix,
    NewPiece,
    PhotoMark,
    PieceState,
    Reservation,
    StockPiece,
)
from bindery_stock.stock.stored import AnyRow, column, column_or_none, reads
from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind


def ring_text(ring: Ring, field: str) -> str:
    """A ring as JSON: ``[[x, y], …]``."""
    return to_json(checks.points(ring, field))


def ring_of(written: str) -> Ring:
    """A ring from its JSON."""
    return tuple((x, y) for x, y in json.loads(written))


def outline_text(outline: Outline) -> str:
    """An outline as JSON: the outer ring, then the holes."""
    return to_json([checks.points(ring, "Outline") for ring in (outline.exterior, *outline.holes)])


@lru_cache(maxsize=20_000)
def outline_of(written: str) -> Outline:
    """An outline from its JSON.

    Kept for the next time: a shelf is read again after every change, and most of its outlines,
    which are checked as polygons, are as they were.
    """
    exterior, *holes = json.loads(written)
    return Outline(exterior, tuple(holes))  # it makes tuples of the points itself


def flaws_text(flaws: Iterable[Flaw]) -> str:
    """Flaws as JSON: ``[[kind, ring], …]``."""
    return to_json([[flaw.kind.value, checks.points(flaw.ring, "Flaw")] for flaw in flaws])


def flaws_of(written: str) -> tuple[Flaw, ...]:
    """Flaws from their JSON."""
    if written == "[]":
        return ()
    return tuple(
        Flaw(FlawKind(kind), tuple((x, y) for x, y in ring)) for kind, ring in json.loads(written)
    )


def piece_columns(new: NewPiece) -> dict[str, Any]:
    """The columns of ``piece`` that a ``NewPiece`` fills (all but the parent)."""
    return {
        "kind": new.kind.value,
        "form": new.form.value,
        "pattern": new.pattern,
        "backing": new.backing.value,
        "fibre": new.fibre.value,
        "outline": outline_text(new.outline),
        "flaws": flaws_text(new.flaws),
        "area": new.outline.polygon.area,
        "source": new.source,
        "source_date": new.source_date,
        "place": new.place,
        "note": new.note,
        "price": checks.money(new.price, "Price"),
        "colour_family": new.colour_family,
        "properties": evidence.properties_text(new.properties),
        "lab_results": evidence.results_text(new.lab_results),
    }


def colour_columns(reading: Colour, position: int) -> dict[str, Any]:
    """The columns of ``colour_reading`` for one reading."""
    lightness, a, b = reading.lab
    return {
        "position": position,
        "lightness": float(lightness),
        "a": float(a),
        "b": float(b),
        "face": reading.face.value,
        "spread": float(reading.spread),
        "u": None if reading.u is None else float(reading.u),
        "method": checks.text(reading.method, "Method"),
        "photo": reading.photo,
        "patch": ring_text(reading.patch, "Colour patch"),
        "read_by": reading.read_by.value,
    }


@reads("A colour reading of", by="owner_code")
def colour_of(row: AnyRow) -> Colour:
    """A reading from its row; one that was only seen has no band, whatever was kept."""
    way = column(row, "read_by", ReadBy) if row.read_by else read_by_of(row.method)
    return Colour(
        lab=(row.lightness, row.a, row.b),
        face=column(row, "face", FaceName),
        spread=row.spread,
        u=None if way is ReadBy.SEEN else row.u,
        method=row.method,
        photo=row.photo,
        patch=column(row, "patch", ring_of),
        read_by=way,
    )


def mark_columns(mark: PhotoMark, position: int) -> dict[str, Any]:
    """The columns of ``photo_mark`` for one mark."""
    return {
        "position": position,
        "photo": mark.photo.sha256,
        "to_mm": to_json([checks.number(value, "Scale") for value in mark.to_mm]),
        "scale_note": checks.text(mark.scale_note, "Scale"),
    }


@reads("A photograph's mark of", by="owner_code")
def mark_of(row: AnyRow) -> PhotoMark:
    """A mark from its row joined with the row of its photograph."""
    return PhotoMark(photo_of(row), column(row, "to_mm", _matrix_of), row.scale_note)


def _matrix_of(written: str) -> Matrix:
    a, b, c, d, e, f, g, h, i = map(float, json.loads(written))
    return (a, b, c, d, e, f, g, h, i)


@reads("The piece")
def piece_of(
    row: AnyRow,
    *,
    colours: Iterable[Colour],
    marks: Iterable[PhotoMark],
    parent: str | None,
    reserved_for: str,
) -> StockPiece:
    """A piece from its row and what hangs on it."""
    return StockPiece(
        kind=column(row, "kind", Kind),
        outline=column(row, "outline", outline_of),
        form=column(row, "form", Form),
        pattern=row.pattern,
        backing=column(row, "backing", Backing),
        fibre=column(row, "fibre", Fibre),
        flaws=column(row, "flaws", flaws_of),
        colours=tuple(colours),
        marks=tuple(marks),
        source=row.source,
        source_date=row.source_date,
        place=row.place,
        note=row.note,
        price=column_or_none(row, "price", Decimal),
        parent=parent,
        id=row.id,
        code=row.code,
        state=column(row, "state", PieceState),
        shelved_at=column(row, "shelved_at", datetime.fromisoformat),
        reserved_for=reserved_for,
        fate=row.fate,
        colour_family=row.colour_family,
        properties=column(row, "properties", evidence.properties_of),
        lab_results=column(row, "lab_results", evidence.results_of),
    )


@reads("A reservation of")
def reservation_of(row: AnyRow) -> Reservation:
    """A reservation from its row joined with the code of its piece."""
    return Reservation(
        id=row.id,
        code=row.code,
        purpose=row.purpose,
        width=row.width,
        height=row.height,
        corners=column(row, "corners", ring_of),
        at=column(row, "at", datetime.fromisoformat),
    )


def _words_of(written: str) -> tuple[str, ...]:
    found = json.loads(written)
    if not isinstance(found, list):
        raise TypeError("not a list of words")
    return tuple(found)


@reads("The cutting of")
def cutting_of(row: AnyRow, *, offcuts: Iterable[Outline]) -> Cutting:
    """What was cut from a piece, from its row joined with the code of the piece."""
    return Cutting(
        code=row.code,
        purpose=row.purpose,
        width=row.width,
        height=row.height,
        corners=column(row, "corners", ring_of),
        offcuts=tuple(offcuts),
        discarded=column(row, "discarded", outlines_of),
        also=column(row, "also", cut_parts_of),
    )


def outlines_text(outlines: Iterable[Outline]) -> str:
    """Several outlines as JSON."""
    return "[" + ",".join(outline_text(outline) for outline in outlines) + "]"


def outlines_of(written: str) -> tuple[Outline, ...]:
    """Several outlines from their JSON."""
    return tuple(outline_of(json.dumps(rings)) for rings in json.loads(written))


def cut_parts_text(parts: Iterable[CutPart]) -> str:
    """Parts as JSON: ``[[purpose, width, height, ring], …]``."""
    return to_json(
        [
            [
                checks.words(part.purpose, "Purpose"),
                checks.size(part.width, "Width"),
                checks.size(part.height, "Height"),
                checks.points(part.corners, "Part"),
            ]
            for part in parts
        ]
    )


def cut_parts_of(written: str) -> tuple[CutPart, ...]:
    """Parts from their JSON."""
    return tuple(
        CutPart(
            purpose=purpose,
            width=width,
            height=height,
            corners=tuple((x, y) for x, y in ring),
        )
        for purpose, width, height, ring in json.loads(written)
    )
