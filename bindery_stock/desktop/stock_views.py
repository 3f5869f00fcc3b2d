"""What is read of a stockroom for the windows: before it is used, and again after a step."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, TypeVar

from bindery_stock.bench.question import Question
from bindery_stock.desktop.snapshot import ScreenSnapshot
from bindery_stock.errors import StockError
from bindery_stock.stock import Changes, StockPiece, Stockroom

V = TypeVar("V")
Views = Sequence[tuple[ScreenSnapshot[Any], Any]]
"""Snapshots, each with what was read of it just now."""


@dataclass(frozen=True, slots=True)
class Opened:
    """What is read of a stockroom before it is used."""

    pieces: Sequence[StockPiece]
    """Those on the shelf."""
    views: Views


class Snapshots:
    """The answers of an open stockroom, kept up with every step. Who asks the same shares one."""

    def __init__(self, room: Callable[[], Stockroom]) -> None:
        """Ask ``room()``."""
        self._room = room
        self._kept: dict[Question[Any], ScreenSnapshot[Any]] = {}

    def of(self, question: Question[V]) -> ScreenSnapshot[V]:
        """The answer to a question."""
        if question not in self._kept:
            self._kept[question] = ScreenSnapshot(question, self._room)
        return self._kept[question]

    def read(self, stockroom: Stockroom) -> Opened:
        """Read a stockroom to be used, once every row has been seen to be readable."""
        kept = tuple(self._kept.values())
        stockroom.keeping.look_through(
            without=frozenset[str]().union(*(snapshot.question.whole for snapshot in kept))
        )
        views = [(snapshot, snapshot.question.ask(stockroom)) for snapshot in kept]
        return Opened(stockroom.pieces.listed(), views)

    def again(self, stockroom: Stockroom, changes: Changes) -> Views:
        """Read again what a step bears on."""
        kept = tuple(self._kept.values())
        return [(one, one.question.ask(stockroom)) for one in kept if one.bears_on(changes)]

    def forget(self) -> None:
        """No stockroom is open any more."""
        for snapshot in self._kept.values():
            snapshot.forget()


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


def take(views: Views) -> None:
    """Hand each snapshot what was read of it."""
    for snapshot, view in views:
        snapshot.take(view)
