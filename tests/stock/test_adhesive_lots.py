"""Tins, jars and batches: opened, corrected, finished, and all of it undone."""

import math
from dataclasses import fields, replace
from datetime import date

import pytest

from bindery_stock.errors import EntryError, NotFound, StockError
from bindery_stock.stock import NewAdhesiveLot, Stockroom

PASTE = NewAdhesiveLot(
    kind="wheat-starch-paste",
    name="Cooked paste, second batch",
    made=date(2024, 2, 29),
    storage="fridge",
    ph=6.5,
    quantity="half a jar",
)


def test_a_lot_comes_back_as_it_went_in(stock: Stockroom) -> None:
    changes = stock.lots.enter(PASTE)
    assert changes.born == ("A-0001",)
    (lot,) = stock.lots.listed()
    for field in fields(NewAdhesiveLot):
        assert getattr(lot, field.name) == getattr(PASTE, field.name), field.name
    assert changes.touched == {"adhesive_lot": {lot.id}}
    assert changes.step.codes == ("A-0001",)


def test_a_lot_is_corrected_and_the_correction_undone(stock: Stockroom) -> None:
    stock.lots.enter(PASTE)
    stock.lots.correct("A-0001", frozen_once=True, expires=date(2024, 3, 7))
    lot = stock.lots.get("A-0001")
    assert (lot.frozen_once, lot.expires) == (True, date(2024, 3, 7))
    unchanged = stock.lots.correct("A-0001", frozen_once=True)
    assert unchanged.nothing
    assert "already as you have it" in unchanged.step.name
    with pytest.raises(TypeError, match="finished"):
        stock.lots.correct("A-0001", finished=True)
    stock.ledger.undo()
    assert stock.lots.get("A-0001").frozen_once is False


def test_a_finished_lot_is_shown_only_where_asked_for(stock: Stockroom) -> None:
    stock.lots.enter(PASTE)
    stock.lots.finish("A-0001")
    assert stock.lots.listed() == []
    (lot,) = stock.lots.listed(finished=True)
    assert lot.finished
    with pytest.raises(StockError, match="finished already"):
        stock.lots.finish("A-0001")
    stock.ledger.undo()
    assert [lot.code for lot in stock.lots.listed()] == ["A-0001"]


@pytest.mark.parametrize("ph", [-0.1, 14.1, math.nan, math.inf])
def test_a_ph_off_the_scale_is_refused(stock: Stockroom, ph: float) -> None:
    with pytest.raises(EntryError, match="pH"):
        stock.lots.enter(replace(PASTE, ph=ph))


def test_a_lot_needs_a_kind_and_a_name(stock: Stockroom) -> None:
    for field in ("kind", "name"):
        with pytest.raises(EntryError, match=field.capitalize()):
            stock.lots.enter(replace(PASTE, **{field: " "}))
    with pytest.raises(NotFound, match="A-0042"):
        stock.lots.correct("A-0042", note="x")
