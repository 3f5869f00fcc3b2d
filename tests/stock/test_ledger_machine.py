"""Whatever is done in whatever order, the ledger adds up and everything can be taken back."""

import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bindery_stock.errors import UndoRefused
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.stock import Colour, Cutting, NewPiece, PieceState, StockPiece, Stockroom
from bindery_stock.trade.vocabulary import CODE_LETTER, Kind

Shelf = list[StockPiece]


def box(left: float, low: float, right: float, high: float) -> Outline:
    return Outline(((left, low), (right, low), (right, high), (left, high)))


class Binder(RuleBasedStateMachine):
    """A binder who shelves, corrects, cuts, discards, changes their mind and comes back."""

    def __init__(self) -> None:
        super().__init__()
        self.root = Path(tempfile.mkdtemp())
        self.stock = Stockroom.create(self.root / "stock")
        self.undo: list[tuple[Shelf, Shelf]] = []
        self.redo: list[tuple[Shelf, Shelf]] = []
        self.codes_seen: set[str] = set()

    def teardown(self) -> None:
        while self.stock.ledger.undoable() is not None:
            self.stock.ledger.undo()
        assert self.stock.pieces.listed(gone=True) == []
        assert self.stock.pieces.reservations() == []
        assert self.stock.ledger.undoable() is None
        assert self.stock.keeping.check().faults == ()
        self.stock.close()
        shutil.rmtree(self.root)

    def _done(self, before: Shelf) -> None:
        self.undo.append((before, self.stock.pieces.listed(gone=True)))
        self.redo.clear()

    def _born(self, codes: tuple[str, ...]) -> None:
        assert self.codes_seen.isdisjoint(codes), "a code was given out twice"
        self.codes_seen.update(codes)

    @rule(
        kind=st.sampled_from(Kind),
        width=st.floats(20, 500),
        height=st.floats(20, 500),
        lightness=st.floats(0, 100),
    )
    def shelve(self, kind: Kind, width: float, height: float, lightness: float) -> None:
        before = self.stock.pieces.listed(gone=True)
        changes = self.stock.pieces.shelve(
            NewPiece(
                kind=kind,
                outline=box(0, 0, width, height),
                flaws=(Flaw(FlawKind.STAIN, box(5, 5, 15, 15).exterior),),
                colours=(Colour((lightness, 0.0, 0.0)),),
            )
        )
        assert changes.born[0].startswith(CODE_LETTER[kind])
        self._born(changes.born)
        self._done(before)

    @precondition(lambda self: bool(self.stock.pieces.listed()))
    @rule(data=st.data(), share=st.floats(0.2, 0.8))
    def cut(self, data: st.DataObject, share: float) -> None:
        piece = data.draw(st.sampled_from(self.stock.pieces.listed()))
        left, low, right, high = piece.outline.bounds
        across = left + (right - left) * share
        before = self.stock.pieces.listed(gone=True)
        changes = self.stock.pieces.cut(
            Cutting(
                code=piece.code,
                purpose="strip",
                width=across - left,
                height=high - low,
                corners=box(left, low, across, high).exterior,
                offcuts=(box(across, low, right, high),),
            )
        )
        self._born(changes.born)
        self._done(before)

    @precondition(lambda self: bool(self.stock.pieces.listed(gone=True)))
    @rule(data=st.data(), note=st.text(st.characters(exclude_categories=["Cs"]), max_size=20))
    def correct(self, data: st.DataObject, note: str) -> None:
        before = self.stock.pieces.listed(gone=True)
        piece = data.draw(st.sampled_from(before))
        readings = (*piece.colours[:2], Colour((50.0, 1.0, 1.0), method=f"after {piece.note}"))
        self.stock.pieces.correct(piece.code, note=f"{piece.note[-20:]}·{note}", colours=readings)
        self._done(before)

    def _free(self) -> Shelf:
        return [piece for piece in self.stock.pieces.listed() if not piece.reserved_for]

    @precondition(lambda self: bool(self._free()))
    @rule(data=st.data())
    def reserve_and_release(self, data: st.DataObject) -> None:
        piece = data.draw(st.sampled_from(self._free()))
        before = self.stock.pieces.listed(gone=True)
        self.stock.pieces.reserve(piece.code, "strip", width=10, height=10)
        self._done(before)
        before = self.stock.pieces.listed(gone=True)
        self.stock.pieces.release(piece.code)
        self._done(before)

    @precondition(lambda self: bool(self._free()))
    @rule(data=st.data())
    def discard(self, data: st.DataObject) -> None:
        piece = data.draw(st.sampled_from(self._free()))
        before = self.stock.pieces.listed(gone=True)
        self.stock.pieces.discard(piece.code, "moth")
        self._done(before)

    @precondition(lambda self: bool(self.undo))
    @rule()
    def take_back(self) -> None:
        before, after = self.undo.pop()
        assert self.stock.pieces.listed(gone=True) == after
        self.stock.ledger.undo()
        assert self.stock.pieces.listed(gone=True) == before
        self.redo.append((before, after))

    @precondition(lambda self: bool(self.redo))
    @rule()
    def do_again(self) -> None:
        before, after = self.redo.pop()
        assert self.stock.pieces.listed(gone=True) == before
        self.stock.ledger.redo()
        assert self.stock.pieces.listed(gone=True) == after
        self.undo.append((before, after))

    @precondition(lambda self: len(self.undo) > 1 and not self.redo)
    @rule(data=st.data())
    def take_back_an_older_step_and_do_it_again(self, data: st.DataObject) -> None:
        standing = [s.number for s in self.stock.ledger.steps() if s.standing and s.undoes is None]
        number = data.draw(st.sampled_from(standing))
        before = self.stock.pieces.listed(gone=True)
        try:
            self.stock.ledger.undo(number)
        except UndoRefused as refused:
            assert "rest on it" in str(refused)  # noqa: PT017 - being refused is one right answer
        else:
            assert self.stock.keeping.check().faults == ()
            self.stock.ledger.redo()
            # It stands last now, so the shelves remembered for the steps between no longer hold.
            self.undo.clear()
        assert self.stock.pieces.listed(gone=True) == before

    @rule()
    def come_back(self) -> None:
        before = self.stock.pieces.listed(gone=True)
        self.stock.close()
        self.stock = Stockroom.open(self.root / "stock")
        assert self.stock.pieces.listed(gone=True) == before

    @invariant()
    def everything_adds_up(self) -> None:
        assert self.stock.keeping.check().faults == ()

    @invariant()
    def area_is_conserved(self) -> None:
        for piece in self.stock.pieces.listed(gone=True):
            if piece.state is PieceState.CUT_UP:
                cutting = self.stock.pieces.cutting(piece.code)
                assert cutting is not None
                kept = sum(left.area for left in (*cutting.offcuts, Outline(cutting.corners)))
                assert abs(kept - piece.outline.area) < 0.01


TestBinder = Binder.TestCase
TestBinder.settings = settings(max_examples=8, stateful_step_count=15, deadline=None)
