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
    changes = stock.open_lot(PASTE)
    assert changes.born == ("A-0001",)
    (lot,) = stock.adhesives()
    for field in fields(NewAdhesiveLot):
        assert getattr(lot, field.name) == getattr(PASTE, field.name), field.name
    assert changes.touched == {"adhesive_lot": {lot.id}}
    assert changes.step.codes == ("A-0001",)


def test_a_lot_is_corrected_and_the_correction_undone(stock: Stockroom) -> None:
    stock.open_lot(PASTE)
    stock.correct_lot("A-0001", frozen_once=True, expires=date(2024, 3, 7))
    lot = stock.adhesive("A-0001")
    assert (lot.frozen_once, lot.expires) == (True, date(2024, 3, 7))
    with pytest.raises(EntryError, match="already as you have it"):
        stock.correct_lot("A-0001", frozen_once=True)
    with pytest.raises(TypeError, match="finished"):
        stock.correct_lot("A-0001", finished=True)
    stock.undo()
    assert stock.adhesive("A-0001").frozen_once is False


def test_a_finished_lot_is_shown_only_where_asked_for(stock: Stockroom) -> None:
    stock.open_lot(PASTE)
    stock.finish_lot("A-0001")
    assert stock.adhesives() == []
    (lot,) = stock.adhesives(finished=True)
    assert lot.finished
    with pytest.raises(StockError, match="finished already"):
        stock.finish_lot("A-0001")
    stock.undo()
    assert [lot.code for lot in stock.adhesives()] == ["A-0001"]


@pytest.mark.parametrize("ph", [-0.1, 14.1, math.nan, math.inf])
def test_a_ph_off_the_scale_is_refused(stock: Stockroom, ph: float) -> None:
    with pytest.raises(EntryError, match="pH"):
        stock.open_lot(replace(PASTE, ph=ph))


def test_a_lot_needs_a_kind_and_a_name(stock: Stockroom) -> None:
    for field in ("kind", "name"):
        with pytest.raises(EntryError, match=field.capitalize()):
            stock.open_lot(replace(PASTE, **{field: " "}))
    with pytest.raises(NotFound, match="A-0042"):
        stock.correct_lot("A-0042", note="x")
