"""Where stored rows become plain values: what cannot be read is a damaged stockroom, and said so.

Every function that makes a value of a row is marked with ``reads``. A row that passes SQLite's own
checks may still be spoilt: a flipped bit in an outline, a word no one knows, a date that is none.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from shapely.errors import ShapelyError
from sqlalchemy import Row

from bindery_stock.errors import BinderyError, DamagedStockroom

P = ParamSpec("P")
T = TypeVar("T")
AnyRow = Row[Any]

_FAULTS = (
    ArithmeticError,
    AttributeError,
    BinderyError,
    LookupError,
    ShapelyError,
    TypeError,
    ValueError,
)
"""How spoilt text shows where it is turned into a value."""


class _SpoiltColumn(Exception):  # noqa: N818 - it never leaves this module
    """One column of a row cannot be read."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


def column(row: AnyRow, name: str, made: Callable[[Any], T]) -> T:
    """What the column ``name`` of a row stands for, made by ``made``; within ``reads`` only."""
    written = getattr(row, name)
    try:
        return made(written)
    except _FAULTS as fault:
        raise _SpoiltColumn(name) from fault


def column_or_none(row: AnyRow, name: str, made: Callable[[Any], T]) -> T | None:
    """As ``column``; None where nothing is written."""
    return None if getattr(row, name) is None else column(row, name, made)


def reads(
    thing: str, *, by: str = "code"
) -> Callable[[Callable[Concatenate[AnyRow, P], T]], Callable[Concatenate[AnyRow, P], T]]:
    """Mark a function that makes a value of a row of ``thing``.

    Whatever of the row cannot be read raises ``DamagedStockroom``, which names the thing by the
    column ``by`` (by its row number where there is none) and what of it is spoilt.
    """

    def marked(made: Callable[Concatenate[AnyRow, P], T]) -> Callable[Concatenate[AnyRow, P], T]:
        @wraps(made)
        def read(row: AnyRow, /, *args: P.args, **named: P.kwargs) -> T:
            try:
                if bytes in map(type, row):
                    raise TypeError("a text has become something else")
                return made(row, *args, **named)
            except DamagedStockroom:
                raise
            except _SpoiltColumn as fault:
                raise _damaged(thing, by, row, fault.name) from fault.__cause__
            except _FAULTS as fault:
                raise _damaged(thing, by, row, "") from fault

        return read

    return marked


def made_of(written: Any, made: Callable[[Any], T], *, thing: str, what: str) -> T:
    """What a stored text stands for, outside ``reads``. Raises ``DamagedStockroom`` naming both."""
    try:
        return made(written)
    except _FAULTS as fault:
        raise damaged(thing, what) from fault


def damaged(thing: str, what: str) -> DamagedStockroom:
    """The error for a thing of which something (``its outline``) cannot be read."""
    return DamagedStockroom(
        f"{thing} is damaged: {what} cannot be read. Nothing was changed. Go back to a copy from "
        "the backups of this stockroom, or have what can be read saved (salvage)."
    )


def _damaged(thing: str, by: str, row: AnyRow, name: str) -> DamagedStockroom:
    known = getattr(row, by, None)
    if known is None:
        known = f"number {getattr(row, 'id', '?')}"
    what = f"its {name.replace('_', ' ')}" if name else "what is written of it"
    return damaged(f"{thing} {known}", what)
