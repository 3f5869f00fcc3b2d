"""Every deed of the house: one step, taken back whole, done again whole, or not done at all."""

from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from bindery_stock.bench.deed import DEEDS, Bearing
from bindery_stock.stock.ledger.movements import Draft
from tests.bench.deed_rows import ROWS, do
from tests.bench.small_stock import SmallStock, small_stock

EXEMPT = frozenset({"undo", "redo", "go_back"})
"""They move along the ledger, or put another in its place: undo of them is no deed's undo."""
LEDGER = frozenset({"step", "movement", "code_series"})
"""What stays when a step is taken back: the ledger, and codes, which are never used twice."""
ORIGINALS = "photo"
"""Photographs are no step: what was archived stays in the archive."""
WALKED = sorted(DEEDS.keys() - EXEMPT)

Tables = dict[str, list[dict[str, Any]]]


class KilledError(Exception):
    """The deed ended here."""


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[SmallStock]:
    with small_stock(tmp_path) as made:
        yield made
        assert made.room.keeping.check().faults == ()


def everything(stock: SmallStock) -> Tables:
    tables = stock.room.exchange.whole().tables
    return {name: rows for name, rows in tables.items() if name != ORIGINALS}


def held(stock: SmallStock) -> Tables:
    return {name: rows for name, rows in everything(stock).items() if name not in LEDGER}


def test_every_deed_has_a_row_and_every_row_a_deed() -> None:
    assert ROWS.keys() == DEEDS.keys() - EXEMPT


@pytest.mark.parametrize("name", WALKED)
def test_a_deed_is_one_step_that_undo_takes_back_and_redo_does_again(
    name: str, stock: SmallStock
) -> None:
    room = stock.room
    before, steps, rulings = held(stock), len(room.ledger.steps()), room.rulings.listed()
    changes = do(name, stock)
    assert not changes.nothing
    assert len(room.ledger.steps()) == steps + 1
    assert changes.step.number == room.ledger.steps(limit=1)[0].number
    assert changes.step.name
    assert (changes.undo, changes.redo) == room.ledger.ways_back()
    after = held(stock)
    assert after != before
    room.ledger.undo()
    assert held(stock) == before
    room.ledger.redo()
    assert held(stock) == after
    if DEEDS[name].bearing is Bearing.KEEPS:
        assert room.rulings.listed() == rulings


def killed_at(moment: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the deed end at the so-many-th writing of its step."""
    watch, written = Draft._watch, count(1)

    def watched(self: Draft, *args: Any) -> None:
        if next(written) == moment:
            raise KilledError
        watch(self, *args)

    monkeypatch.setattr(Draft, "_watch", watched)


@pytest.mark.parametrize("name", WALKED)
def test_a_deed_that_ends_in_its_middle_has_changed_nothing(
    name: str, stock: SmallStock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = everything(stock)
    for moment in count(1):
        with monkeypatch.context() as patch:
            killed_at(moment, patch)
            try:
                do(name, stock)
            except KilledError:
                assert everything(stock) == before, f"ended at writing {moment}"
                continue
        break
    assert moment > 1, "it was never ended in its middle"
    stock.room.ledger.undo()


@pytest.mark.parametrize("name", WALKED)
def test_a_deed_that_ends_with_its_step_written_but_not_kept_has_changed_nothing(
    name: str, stock: SmallStock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = everything(stock)
    finish = Draft.finish

    def finished(self: Draft) -> None:
        finish(self)
        raise KilledError

    monkeypatch.setattr(Draft, "finish", finished)
    with pytest.raises(KilledError):
        do(name, stock)
    assert everything(stock) == before
