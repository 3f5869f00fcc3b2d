"""A binder who enters, mixes, uses, tests, finishes and changes their mind: it all adds up."""

import shutil
import tempfile
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bindery_stock.errors import EntryError, StockError, UndoRefused
from bindery_stock.stock import Measure, NewAdhesiveLot, NewWanted, Stockroom
from bindery_stock.trade import Evidence, Property, Use
from tests.stock.conftest import BenchClock

TODAY = date(2026, 3, 2)
KINDS = ("wheat-starch-paste", "pva", "paste-pva")


class Cupboard(RuleBasedStateMachine):
    """What was taken from a lot and what is left always make up what it held."""

    def __init__(self) -> None:
        super().__init__()
        self.root = Path(tempfile.mkdtemp())
        self.stock = Stockroom.create(self.root / "stock", clock=BenchClock())
        self.codes: set[str] = set()

    def teardown(self) -> None:
        while self.stock.ledger.undoable() is not None:
            self.stock.ledger.undo()
        assert self.stock.lots.listed(finished=True) == []
        assert self.stock.lots.uses() == []
        assert self.stock.wants.listed(closed=True) == []
        assert self.stock.wants.reorder_points() == []
        assert self.stock.keeping.check().faults == ()
        self.stock.close()
        shutil.rmtree(self.root)

    def _lot(self, data: st.DataObject) -> str:
        return data.draw(st.sampled_from([lot.code for lot in self.stock.lots.listed()]))

    def _any(self) -> bool:
        return bool(self.stock.lots.listed())

    @rule(kind=st.sampled_from(KINDS), held=st.integers(1, 500))
    def enter(self, kind: str, held: int) -> None:
        new = NewAdhesiveLot(
            kind=kind, name="a jar", made=TODAY, unit=Measure.GRAM, held=float(held)
        )
        (code,) = self.stock.lots.enter(new).born
        assert code not in self.codes
        self.codes.add(code)

    @precondition(_any)
    @rule(data=st.data())
    def mix(self, data: st.DataObject) -> None:
        parts = tuple(sorted({self._lot(data), self._lot(data)}))
        new = NewAdhesiveLot(kind="paste-pva", name="a mix", made=TODAY, made_from=parts)
        (code,) = self.stock.lots.enter(new).born
        self.codes.add(code)
        assert tuple(part.code for part in self.stock.lots.get(code).mixed_from) == parts

    @precondition(_any)
    @rule(data=st.data(), amount=st.integers(1, 60))
    def use(self, data: st.DataObject, amount: int) -> None:
        code = self._lot(data)
        left = self.stock.lots.get(code).left
        if left is None or amount > left:
            with pytest.raises(EntryError):
                self._take(code, float(amount))
        else:
            self._take(code, float(amount))
            assert self.stock.lots.get(code).left == left - amount

    def _take(self, code: str, amount: float) -> None:
        self.stock.lots.use(
            code, use=Use.BOX, purpose="a box", amount=amount, override_reason="for the test"
        )

    @precondition(_any)
    @rule(data=st.data(), lumpy=st.booleans())
    def test(self, data: st.DataObject, lumpy: bool) -> None:
        code = self._lot(data)
        before = self.stock.lots.get(code).properties
        seen = Property(name="lumpy", value=lumpy, evidence=Evidence.LOOK, on=TODAY)
        self.stock.tests.record(code, seen)
        assert self.stock.lots.get(code).properties == (*before, seen)

    @precondition(_any)
    @rule(data=st.data())
    def finish(self, data: st.DataObject) -> None:
        code = self._lot(data)
        self.stock.lots.finish(code, "used up")
        with pytest.raises(StockError, match="finished already"):
            self.stock.lots.finish(code)

    @rule(least=st.integers(1, 3), kind=st.sampled_from(KINDS))
    def set_reorder_point(self, least: int, kind: str) -> None:
        there = {point.kind: point.least for point in self.stock.wants.reorder_points()}
        if there.get(kind) == least:
            assert self.stock.wants.set_reorder_point(kind, float(least), Measure.GRAM).nothing
        else:
            self.stock.wants.set_reorder_point(kind, float(least), Measure.GRAM)

    @rule(close=st.booleans())
    def want(self, close: bool) -> None:
        (code,) = self.stock.wants.add(NewWanted(what="red rib")).born
        if close:
            self.stock.wants.close(code, "found")
        assert (code in [line.code for line in self.stock.wants.listed()]) is not close

    @rule(redo=st.booleans())
    def change_mind(self, redo: bool) -> None:
        try:
            self.stock.ledger.undo()
            if redo:
                self.stock.ledger.redo()
        except UndoRefused:
            assert self.stock.ledger.undoable() is None

    @rule()
    def reopen(self) -> None:
        self.stock.close()
        self.stock = Stockroom.open(self.root / "stock", clock=BenchClock())

    @invariant()
    def what_was_held_is_left_or_used(self) -> None:
        for lot in self.stock.lots.listed(finished=True):
            used = sum(use.amount or 0.0 for use in self.stock.lots.uses(lot.code))
            if lot.held is not None:
                assert lot.left is not None
                assert lot.held == lot.left + used

    @invariant()
    def the_ledger_adds_up(self) -> None:
        assert self.stock.keeping.check().faults == ()


TestCupboard = Cupboard.TestCase
TestCupboard.settings = settings(
    max_examples=8,
    stateful_step_count=15,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
