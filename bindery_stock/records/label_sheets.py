"""Where the labels lie on a sheet, in millimetres; a label printer has a sheet of one.

The sizes shipped are the grids in common trade use, named by their dimensions alone (common
practice, no source); any other can be written down.
"""

import math
from collections.abc import Iterator
from dataclasses import asdict, dataclass, fields
from typing import Any

from bindery_stock.errors import EntryError
from bindery_stock.records.page import A4, LETTER, Paper

_SLACK_MM = 0.05
_LONGEST_MM = 500.0
_MOST = 40
"""No sheet has more rows or columns; more is a slip of the key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """A sheet of equal labels. Raises ``EntryError`` naming what does not fit, and the mend."""

    name: str
    paper_width: float
    paper_height: float
    columns: int
    rows: int
    label_width: float
    label_height: float
    left: float
    """From the paper's left edge to the first label."""
    top: float
    """From the paper's upper edge to the first label."""
    pitch_across: float
    """From the left edge of one label to that of the next."""
    pitch_down: float
    """From the upper edge of one label to that of the next."""
    corner: float = 0.0
    """Radius of the labels' corners."""
    shift_across: float = 0.0
    """Correction for the printer: everything lies this much further right."""
    shift_down: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a sheet that cannot be."""
        for field in fields(self):
            value = getattr(self, field.name)
            if not isinstance(value, str):
                _sensible(field.name, value)
        if not 1 <= self.columns <= _MOST or not 1 <= self.rows <= _MOST:
            raise EntryError("Labels", f"Labels: a sheet has 1 to {_MOST} columns and rows.")
        self._fits("across", self.columns, self.label_width, self.pitch_across)
        self._fits("down", self.rows, self.label_height, self.pitch_down)

    def _fits(self, way: str, count: int, label: float, pitch: float) -> None:
        start, paper = (
            (self.left, self.paper_width) if way == "across" else (self.top, self.paper_height)
        )
        if count > 1 and pitch < label - _SLACK_MM:
            raise EntryError(
                "Pitch",
                f"Pitch {way}: labels of {label:g} mm overlap at a pitch of {pitch:g} mm. Measure "
                "from the edge of one label to the same edge of the next.",
            )
        end = start + (count - 1) * pitch + label
        if end > paper + _SLACK_MM:
            raise EntryError(
                "Sheet",
                f"Sheet: the labels reach {end:g} mm {way}, and the paper ends at {paper:g} mm. "
                "Check the margin, the pitch and the number of labels.",
            )

    @property
    def on_sheet(self) -> int:
        """How many labels there are on one sheet."""
        return self.columns * self.rows

    def corner_of(self, position: int) -> tuple[float, float]:
        """Upper left corner of a label, mm; positions count from 0 along the rows."""
        row, column = divmod(position, self.columns)
        return (
            self.left + column * self.pitch_across + self.shift_across,
            self.top + row * self.pitch_down + self.shift_down,
        )

    def corners(self) -> Iterator[tuple[float, float]]:
        """The upper left corners of all labels of a sheet."""
        return (self.corner_of(position) for position in range(self.on_sheet))

    def as_dict(self) -> dict[str, Any]:
        """The sheet as plain values, to be kept."""
        return asdict(self)


def sheet_of(written: dict[str, Any]) -> LabelSheet:
    """A sheet from plain values. Raises ``EntryError`` where something is missing or wrong."""
    try:
        return LabelSheet(**written)
    except TypeError as error:
        raise EntryError("Sheet", f"Sheet: its description cannot be read ({error}).") from error


def _sensible(name: str, value: float) -> None:
    words = name.replace("_", " ").capitalize()
    shifts = name.startswith("shift")
    least = -20.0 if shifts else 0.0
    most = 20.0 if shifts else _LONGEST_MM
    if isinstance(value, bool) or not math.isfinite(value) or not least <= value <= most:
        raise EntryError(words, f"{words}: {value:g} lies outside {least:g} to {most:g} mm.")
    if value == 0 and name in ("paper_width", "paper_height", "label_width", "label_height"):
        raise EntryError(words, f"{words}: must be more than zero.")


def _grid(
    paper: Paper,
    columns: int,
    rows: int,
    label: tuple[float, float],
    *,
    pitch: tuple[float, float] | None = None,
    corner: float = 0.0,
) -> LabelSheet:
    """A grid in the middle of the paper."""
    across, down = pitch or label
    width, height = label
    return LabelSheet(
        name=f"{paper.name}, {columns} × {rows}, {width:g} × {height:g} mm",
        paper_width=paper.width,
        paper_height=paper.height,
        columns=columns,
        rows=rows,
        label_width=width,
        label_height=height,
        left=max(0.0, (paper.width - (columns - 1) * across - width) / 2),
        top=max(0.0, (paper.height - (rows - 1) * down - height) / 2),
        pitch_across=across,
        pitch_down=down,
        corner=corner,
    )


def single(width: float, height: float) -> LabelSheet:
    """A label printer's label of this size. Raises ``EntryError``."""
    return LabelSheet(
        name=f"Label printer, {width:g} × {height:g} mm",
        paper_width=width,
        paper_height=height,
        columns=1,
        rows=1,
        label_width=width,
        label_height=height,
        left=0.0,
        top=0.0,
        pitch_across=width,
        pitch_down=height,
    )


SHEETS: tuple[LabelSheet, ...] = (
    _grid(A4, 3, 7, (63.5, 38.1), pitch=(66.0, 38.1), corner=1.5),
    _grid(A4, 3, 8, (70.0, 37.0)),
    _grid(A4, 2, 7, (99.1, 38.1), pitch=(101.6, 38.1), corner=1.5),
    _grid(A4, 4, 10, (48.5, 25.4)),
    _grid(A4, 2, 4, (99.1, 67.7), pitch=(101.6, 67.7), corner=1.5),
    _grid(LETTER, 3, 10, (66.675, 25.4), pitch=(69.85, 25.4), corner=1.5),
    _grid(LETTER, 2, 5, (101.6, 50.8), pitch=(104.775, 50.8), corner=1.5),
    _grid(LETTER, 2, 7, (101.6, 33.867), pitch=(104.775, 33.867), corner=1.5),
    single(62.0, 29.0),
    single(89.0, 36.0),
    single(57.0, 32.0),
    single(100.0, 50.0),
)
"""The sheets and labels shipped with the program."""
