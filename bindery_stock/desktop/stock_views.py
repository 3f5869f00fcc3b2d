"""What is read of a stockroom for the windows: before it is used, and again after a step."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from bindery_stock.desktop.snapshot import ScreenSnapshot
from bindery_stock.errors import StockError
from bindery_stock.stock import Changes, StockPiece, Stockroom

Views = Sequence[tuple[ScreenSnapshot[Any], Any]]
"""Snapshots, each with what was read of it just now."""


@dataclass(frozen=True, slots=True)
class Opened:
    """What is read of a stockroom before it is used."""

    pieces: Sequence[StockPiece]
    """Those on the shelf."""
    views: Views


def read(stockroom: Stockroom, snapshots: Sequence[ScreenSnapshot[Any]]) -> Opened:
    """Read it, once every row has been seen to be readable."""
    stockroom.keeping.look_through(
        without=frozenset[str]().union(*(snapshot.question.whole for snapshot in snapshots))
    )
    views = [(snapshot, snapshot.question.ask(stockroom)) for snapshot in snapshots]
    return Opened(stockroom.pieces.listed(), views)


@contextmanager
def closed_on_refusal(stockroom: Stockroom) -> Iterator[None]:
    """Let go of a stockroom that turns out not to be readable."""
    try:
        yield
    except BaseException:
        stockroom.close()
        raise


def copied_and_closed(stockroom: Stockroom) -> str:
    """Keep a copy of what was changed and close; returns why there is no copy, or nothing."""
    try:
        stockroom.keeping.keep_at_closing()
    except StockError as trouble:
        return f"No backup could be made at closing. {trouble}"
    finally:
        stockroom.close()
    return ""


def again(
    stockroom: Stockroom, snapshots: Sequence[ScreenSnapshot[Any]], changes: Changes
) -> Views:
    """Read again what a step bears on."""
    return [(one, one.question.ask(stockroom)) for one in snapshots if one.bears_on(changes)]


def take(views: Views) -> None:
    """Hand each snapshot what was read of it."""
    for snapshot, view in views:
        snapshot.take(view)
