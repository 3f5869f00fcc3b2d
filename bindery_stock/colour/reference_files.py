"""The user's own values for a target, from CSV or CGATS.17 text (ISO 28178).

A file holds 24 rows, in the order of the layout or under sample names that give it: A1 to D6 (rows
lettered) or A1 to F4 (columns lettered). Colours are CIELAB, or XYZ scaled to 100, under D50 and
the 2° observer.
"""

import csv
import io
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np

from bindery_stock.colour.difference import pairwise
from bindery_stock.colour.reference import COLUMNS, PATCHES, ROWS, SINCE_2014, Reference
from bindery_stock.colour.space import Lab, xyz_to_lab
from bindery_stock.errors import ColourError

_LAB: Final = (("LAB_L", "LAB_A", "LAB_B"), ("L*", "A*", "B*"), ("L", "A", "B"))
_XYZ: Final = (("XYZ_X", "XYZ_Y", "XYZ_Z"), ("X", "Y", "Z"))
_NAMES: Final = ("SAMPLE_ID", "SAMPLE_NAME", "SAMPLEID", "PATCH", "NAME", "ID")
_MOST_BYTES: Final = 1_000_000
_FAR: Final = 15.0
"""Mean ΔE00 from the published values at which rows are surely in another order."""


def read_reference(path: Path) -> Reference:
    """Read a target's values from a file; CGATS.17 by its keywords, else CSV with a heading line.

    Raises ``ColourError`` naming the file and what is wrong with it.
    """
    path = Path(path)
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise ColourError(f"“{path.name}” is too large for 24 colours. Choose the right file.")
        text = path.read_bytes().decode("utf-8-sig", errors="replace")
    except OSError as error:
        raise ColourError(
            f"“{path.name}” cannot be read ({error.strerror}). Choose it again."
        ) from error
    cgats = re.search(r"^\s*BEGIN_DATA_FORMAT\b", text, re.MULTILINE) is not None
    fields, rows = _cgats(text, path.name) if cgats else _csv(text, path.name)
    if cgats:
        _check_conditions(text, path.name)
    return _reference(fields, rows, path.name)


def _cgats(text: str, name: str) -> tuple[list[str], list[list[str]]]:
    layout = re.search(r"BEGIN_DATA_FORMAT\s+(.*?)\s+END_DATA_FORMAT", text, re.DOTALL)
    data = re.search(r"BEGIN_DATA\s+(.*?)\s+END_DATA\b(?!_)", text, re.DOTALL)
    if layout is None or data is None:
        raise ColourError(
            f"“{name}” lacks END_DATA_FORMAT, BEGIN_DATA or END_DATA. Export it again as CGATS.17."
        )
    fields = layout[1].split()
    values = re.findall(r'"[^"]*"|\S+', data[1])
    if not fields or len(values) % len(fields):
        raise ColourError(
            f"“{name}” has {len(values)} values that do not divide into rows of {len(fields)}."
        )
    cells = [value.strip('"') for value in values]
    rows = [cells[i : i + len(fields)] for i in range(0, len(cells), len(fields))]
    return fields, rows


def _check_conditions(text: str, name: str) -> None:
    """Refuse what says that it was measured otherwise; silence means D50/2°, as in ISO 13655."""
    said = re.search(r'^\s*ILLUMINANT\s+"?([^"\s]+)', text, re.MULTILINE)
    said = said or re.search(r"ILLUMINANT\s*,\s*(\w+)", text)
    illuminant = said[1].upper() if said else "D50"
    angle = re.search(r'^\s*OBSERVER\s+"?(\d+)', text, re.MULTILINE)
    observer = angle[1] if angle else "2"
    if (illuminant, observer) != ("D50", "2"):
        raise ColourError(
            f"“{name}” was measured under {illuminant}, observer {observer}°. "
            "Export it for D50 and 2°."
        )


def _csv(text: str, name: str) -> tuple[list[str], list[list[str]]]:
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if not lines:
        raise ColourError(f"“{name}” is empty. Give a heading line and 24 rows.")
    sign = max(";\t,", key=lines[0].count)
    rows = list(csv.reader(io.StringIO("\n".join(lines)), delimiter=sign))
    return [cell.strip() for cell in rows[0]], [[c.strip() for c in row] for row in rows[1:]]


def _reference(fields: Sequence[str], rows: Sequence[Sequence[str]], name: str) -> Reference:
    head = [field.upper() for field in fields]
    lab, xyz = _columns(head, _LAB), _columns(head, _XYZ)
    if not lab and not xyz:
        raise ColourError(
            f"“{name}” has no columns L*, a*, b* (or X, Y, Z). Name them in the first line."
        )
    if len(rows) != len(PATCHES):
        raise ColourError(f"“{name}” has {len(rows)} rows; a target has {len(PATCHES)} patches.")
    values = np.array([_numbers(row, lab or xyz, n, name) for n, row in enumerate(rows, 1)])
    labs = values if lab else xyz_to_lab(values / 100)
    labs = labs[_order(head, rows)]
    away = float(pairwise(labs, SINCE_2014.array).mean())
    if away > _FAR:
        raise ColourError(
            f"The colours in “{name}” are not in the order of the target (dark skin, light skin … "
            f"black): they lie ΔE00 {away:.0f} from the published ones. Sort the rows."
        )
    found: list[Lab] = [(float(v[0]), float(v[1]), float(v[2])) for v in labs]
    return Reference(tuple(found), f"values from {name}")


def _columns(head: Sequence[str], choices: Sequence[tuple[str, ...]]) -> list[int]:
    for names in choices:
        if all(one in head for one in names):
            return [head.index(one) for one in names]
    return []


def _numbers(row: Sequence[str], columns: Sequence[int], line: int, name: str) -> list[float]:
    try:
        return [float(row[c].replace(",", ".").replace("−", "-")) for c in columns]
    except (ValueError, IndexError) as error:
        raise ColourError(
            f"Row {line} of “{name}” has a figure missing or not a number."
        ) from error


def _order(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[int]:
    """Rows sorted by sample names where all have them; else as they stand."""
    column = next((head.index(one) for one in _NAMES if one in head), None)
    plain = list(range(len(rows)))
    if column is None:
        return plain
    names = [re.fullmatch(r"([A-F])([1-6])", row[column].upper()) for row in rows]
    grid = [(ord(m[1]) - ord("A"), int(m[2]) - 1) for m in names if m]
    # Six letters name the columns, four the rows.
    lettered_columns = any(letter >= ROWS for letter, _ in grid)
    across = [(n, letter) if lettered_columns else (letter, n) for letter, n in grid]
    places = {row * COLUMNS + column: i for i, (row, column) in enumerate(across)}
    return [places[p] for p in plain] if sorted(places) == plain else plain
