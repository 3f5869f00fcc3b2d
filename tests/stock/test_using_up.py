"""Something is taken from a lot: counted, judged by the rules of the day, and written down."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from bindery_stock.errors import EntryError, StockError, UndoRefused
from bindery_stock.stock import (
    Measure,
    NewAdhesiveLot,
    NewPiece,
    Stockroom,
    Verb,
)
from bindery_stock.trade import Evidence, LabResult, Property, Use

TODAY = date(2026, 3, 2)
"""The day the clock of these tests is set to."""
PASTE = NewAdhesiveLot(
    kind="wheat-starch-paste",
    name="Cooked paste",
    made=date(2026, 3, 1),
    unit=Measure.GRAM,
    held=200.0,
)
OLD_PASTE = replace(PASTE, name="Forgotten paste", made=date(2026, 1, 2))


def take(stock: Stockroom, code: str = "A-0001", amount: float | None = 30.0, **more: str) -> None:
    stock.lots.use(code, use=Use.MENDING, purpose="tear, leaf 9, vol. 4", amount=amount, **more)


def test_what_is_taken_is_gone_from_the_lot_and_stands_in_the_ledger(stock: Stockroom) -> None:
    stock.lots.enter(PASTE)
    assert stock.lots.get("A-0001").left == 200.0
    take(stock)
    assert stock.lots.get("A-0001").left == 170.0
    assert stock.lots.get("A-0001").held == 200.0
    (step, *_) = stock.ledger.steps(code="A-0001")
    assert (step.verb, step.name) == (Verb.USED, "Used 30 g of A-0001 for tear, leaf 9, vol. 4")
    (used,) = stock.lots.uses("A-0001")
    assert (used.amount, used.unit, used.use) == (30.0, Measure.GRAM, Use.MENDING)
    assert (used.verdict, used.override_reason) == ("", "")
    stock.ledger.undo()
    assert stock.lots.get("A-0001").left == 200.0
    assert stock.lots.uses() == []


def test_a_smear_that_nobody_weighs_is_written_down_all_the_same(stock: Stockroom) -> None:
    stock.lots.enter(replace(PASTE, unit=None, held=None, quantity="half a jar"))
    take(stock, amount=None)
    assert stock.lots.uses()[0].amount is None
    assert stock.ledger.steps()[0].name.startswith("Used some of A-0001")
    with pytest.raises(EntryError, match="never measured"):
        take(stock, amount=5.0)


@pytest.mark.parametrize(("amount", "said"), [(200.1, "only 200 g"), (0.0, "more"), (-1.0, "less")])
def test_no_more_is_taken_than_there_is(stock: Stockroom, amount: float, said: str) -> None:
    stock.lots.enter(PASTE)
    with pytest.raises(EntryError, match=said):
        take(stock, amount=amount)
    take(stock, amount=200.0)
    assert stock.lots.get("A-0001").left == 0.0


def test_what_the_rules_said_and_the_reason_are_kept_with_the_use(stock: Stockroom) -> None:
    """Whether it may be used is asked by the deed: ``tests/bench/test_lot_deeds.py``."""
    stock.lots.enter(OLD_PASTE)
    take(stock, verdict="Out of date since 7 Jan 2026", override_reason=" a trial ")
    (used,) = stock.lots.uses()
    assert (used.verdict, used.override_reason) == ("Out of date since 7 Jan 2026", "a trial")


def test_a_third_of_a_tin_is_counted_as_a_share(stock: Stockroom) -> None:
    stock.lots.enter(replace(PASTE, unit=Measure.SHARE, held=1.0))
    take(stock, amount=1 / 3)
    assert stock.ledger.steps()[0].name.startswith("Used about a third of A-0001")
    assert stock.lots.get("A-0001").left == pytest.approx(2 / 3)
    with pytest.raises(EntryError, match="between 0 and 1"):
        stock.lots.correct("A-0001", left=1.5)


def test_a_mixture_ends_with_the_lot_it_was_made_from(stock: Stockroom) -> None:
    stock.lots.enter(NewAdhesiveLot(kind="pva", name="Tin", bought=TODAY, frozen_once=False))
    stock.lots.enter(replace(PASTE, name="Paste"))
    mixed = NewAdhesiveLot(
        kind="paste-pva", name="Half and half", made=TODAY, made_from=("A-0001", "A-0002")
    )
    assert stock.lots.enter(mixed).step.name == "Made A-0003, Half and half from A-0001, A-0002"
    lot = stock.lots.get("A-0003")
    assert [part.name for part in lot.mixed_from] == ["Tin", "Paste"]
    with pytest.raises(EntryError, match="which holds it"):
        stock.lots.correct("A-0001", made_from=("A-0003",))
    with pytest.raises(UndoRefused, match="Half and half"):
        stock.ledger.undo(1)


def test_offcuts_take_what_was_found_out_with_them(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Callable[[str], object]
) -> None:
    result = LabResult(substance="lead", found=True, on=TODAY, laboratory="a lab", method="XRF")
    stock.pieces.shelve(replace(red_rib, colour_family="red", lab_results=(result,)))
    bleeds = Property(name="bleeds", value=False, evidence=Evidence.BENCH, method="damp blotter")
    assert stock.tests.record("C-0001", bleeds).step.verb is Verb.TESTED
    stock.pieces.cut(spine_strip("C-0001"))  # type: ignore[arg-type]
    for code in ("C-0002", "C-0003"):
        piece = stock.pieces.get(code)
        assert piece.colour_family == "red"
        assert piece.lab_results == (result,)
        assert piece.properties == (replace(bleeds, on=TODAY),)


def test_a_test_is_kept_with_its_evidence_and_an_impossible_value_is_refused(
    stock: Stockroom,
) -> None:
    stock.lots.enter(PASTE)
    strip = stock.photos.archive(b"a strip", name="strip.jpg", width=10, height=10)
    film = Property(
        name="film_ph", value=6.5, evidence=Evidence.BENCH, method="pH strip", photo=strip.sha256
    )
    named = stock.tests.record("A-0001", film).step.name
    assert named.startswith("Tested A-0001: cold-extract pH of the dry film: 6.5")
    assert stock.lots.get("A-0001").properties == (replace(film, on=TODAY),)
    for value in (15.0, "acid", float("nan")):
        with pytest.raises(EntryError):
            stock.tests.record("A-0001", replace(film, value=value))
    with pytest.raises(EntryError, match="nothing that can be tested"):
        stock.tests.record("A-0001", replace(film, name="life_over_days"))
    with pytest.raises(StockError, match="Add it first"):
        stock.tests.record("A-0001", replace(film, photo="0" * 64))


def test_a_lot_is_opened_once(stock: Stockroom) -> None:
    stock.lots.enter(NewAdhesiveLot(kind="vae", name="New tin", bought=date(2026, 2, 1)))
    assert stock.lots.unseal("A-0001").step.name == "Opened A-0001, New tin"
    assert stock.lots.get("A-0001").opened == TODAY
    with pytest.raises(EntryError, match="opened on 2 Mar 2026 already"):
        stock.lots.unseal("A-0001")


def test_a_finished_lot_says_why_and_gives_no_more(stock: Stockroom) -> None:
    stock.lots.enter(PASTE)
    stock.lots.finish("A-0001", "thrown away, sour")
    assert stock.lots.get("A-0001").fate == "thrown away, sour"
    with pytest.raises(StockError, match="thrown away, sour"):
        take(stock)


def test_a_quantity_says_of_what(stock: Stockroom) -> None:
    with pytest.raises(EntryError, match="of what"):
        stock.lots.enter(replace(PASTE, unit=None))
    with pytest.raises(EntryError, match="more than the 200"):
        stock.lots.enter(replace(PASTE, left=201.0))
    with pytest.raises(EntryError, match="counted in g"):
        stock.lots.enter(replace(PASTE, unit=Measure.AREA))


def test_paste_may_go_on_a_strip_whose_piece_is_cut_up(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Callable[[str], object]
) -> None:
    stock.pieces.shelve(replace(red_rib, colours=(), colour_family="red", source_date="new"))
    stock.pieces.cut(spine_strip("C-0001"))  # type: ignore[arg-type]
    stock.lots.enter(PASTE)
    take(stock, laid_on="C-0001")
    assert stock.lots.uses()[0].laid_on == "C-0001"
