"""Dates and quantities as they are typed, and the answers of tests."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.bench.adhesives.tests import (
    WET_TESTS,
    answer_of,
    keep_photo,
    questions,
    substances,
    wet_words,
    wets,
)
from bindery_stock.bench.adhesives.typed import SHARES, read_amount, read_day
from bindery_stock.bench.shelf.cautions import caution_line
from bindery_stock.errors import EntryError, PhotoError
from bindery_stock.shape import Outline
from bindery_stock.stock import AdhesiveLot, Measure, PieceState, StockPiece, Stockroom
from bindery_stock.trade import Evidence, LabResult, Property, shipped_rules
from bindery_stock.trade.day_counts import written
from bindery_stock.trade.vocabulary import Kind

TODAY = date(2026, 11, 25)
RULES = shipped_rules()
GREEN = StockPiece(
    kind=Kind.CLOTH,
    outline=Outline(((0, 0), (90, 0), (90, 120), (0, 120))),
    source_date="1855",
    colour_family="vivid green",
    id=1,
    code="C-0001",
    state=PieceState.ON_SHELF,
    shelved_at=datetime(2026, 1, 1, tzinfo=UTC),
)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-11-25", TODAY),
        ("25 Nov 2026", TODAY),
        ("25. november 2026", TODAY),
        ("today", TODAY),
        (" Yesterday ", date(2026, 11, 24)),
        ("29 Feb 2024", date(2024, 2, 29)),
        ("", None),
    ],
)
def test_a_day_is_read_as_it_is_written(typed: str, day: date | None) -> None:
    assert read_day(typed, TODAY, "Opened") == day


@pytest.mark.parametrize("typed", ["3/4/2026", "29 Feb 2025", "2026-13-01", "31 Foo 2026", "soon"])
def test_a_day_that_is_none_or_could_be_two_is_refused(typed: str) -> None:
    with pytest.raises(EntryError, match="Opened"):
        read_day(typed, TODAY, "Opened")


@given(st.dates(date(1900, 1, 1), date(2200, 1, 1)))
def test_a_day_as_the_program_writes_it_is_read_back(day: date) -> None:
    assert read_day(written(day), TODAY, "Made") == day
    assert read_day(day.isoformat(), TODAY, "Made") == day


@pytest.mark.parametrize(
    ("typed", "unit", "amount"),
    [
        ("30", Measure.GRAM, 30.0),
        ("30 g", Measure.GRAM, 30.0),
        ("2,5 ml", Measure.MILLILITRE, 2.5),
        ("a third", Measure.SHARE, 1 / 3),
        ("About half", Measure.SHARE, 0.5),
        ("1/4", Measure.SHARE, 0.25),
        ("", Measure.GRAM, None),
    ],
)
def test_a_quantity_is_read(typed: str, unit: Measure, amount: float | None) -> None:
    assert read_amount(typed, unit, "Left") == amount


@pytest.mark.parametrize("typed", ["some", "nan", "inf", "1/0", "3 kg"])
def test_a_quantity_that_is_none_is_refused(typed: str) -> None:
    with pytest.raises(EntryError, match="Left"):
        read_amount(typed, Measure.GRAM, "Left")


def test_every_share_that_is_offered_is_understood() -> None:
    amounts = [read_amount(words, Measure.SHARE, "Left") for words in SHARES]
    assert amounts == sorted(a for a in amounts if a is not None)
    assert amounts[-1] == 1.0


# Tests


def test_what_is_open_and_cheap_is_asked_first() -> None:
    asked = questions(GREEN, RULES)
    assert not any(q.kind.derived for q in asked)
    assert {"mould", "bleeds"} <= {q.kind.key for q in asked}
    efforts = [q.kind.effort.rank for q in asked]
    assert efforts == sorted(efforts)
    looked = Property(name=asked[0].kind.key, value="none seen", evidence=Evidence.LOOK)
    if asked[0].kind.choices:
        known = questions(replace(GREEN, properties=(looked,)), RULES)
        assert known[-1].kind is asked[0].kind
        assert known[-1].known.startswith("none seen")


def test_an_adhesive_is_asked_other_things_than_a_cloth() -> None:
    tin = AdhesiveLot(kind="vae", name="Tin", id=1, code="A-0001")
    names = {q.kind.key for q in questions(tin, RULES)}
    assert {"spoiled", "film_ph", "reversible", "lumpy"} <= names
    assert "mould" not in names


def test_an_answer_is_a_number_a_word_or_yes_and_no() -> None:
    kinds = RULES.properties
    assert answer_of(kinds["ph"], "7,5") == 7.5
    assert answer_of(kinds["bleeds"], "no") is False
    assert answer_of(kinds["mould"], "dormant") == "dormant"
    for name, typed in (("ph", "15"), ("ph", "acid"), ("bleeds", "maybe"), ("mould", "green")):
        with pytest.raises(EntryError):
            answer_of(kinds[name], typed)


@pytest.mark.parametrize("name", sorted(WET_TESTS))
def test_a_wet_test_wets_only_where_it_was_done_at_the_bench(name: str) -> None:
    """That it is stopped on a flagged cloth: ``test_lot_deeds.py``."""
    assert wets(name, Evidence.BENCH)
    assert not wets(name, Evidence.SUPPLIER)
    assert not wets("mould", Evidence.BENCH)


def test_only_complete_laboratory_results_let_a_flagged_cloth_be_wetted() -> None:
    def cleared(laboratory: str) -> StockPiece:
        results = tuple(
            LabResult(substance=s, found=False, on=TODAY, laboratory=laboratory, method="XRF")
            for s in substances(RULES)
        )
        return replace(GREEN, lab_results=results)

    assert "No wet work" in wet_words(GREEN, RULES)
    assert "No wet work" in wet_words(cleared(""), RULES)
    assert wet_words(cleared("a laboratory"), RULES) == ""
    assert caution_line(cleared("a laboratory"), RULES) == ""


def test_the_caution_in_one_line_has_a_sign_a_word_and_says_that_it_is_no_test_result() -> None:
    told = caution_line(GREEN, RULES)
    assert told.startswith("△ Stop: arsenical green")
    assert "Not a test result: have it tested" in told
    assert "local rules and licensed practice" in told


def test_a_file_that_is_no_photograph_is_no_evidence(tmp_path: Path) -> None:
    path = tmp_path / "strip.jpg"
    path.write_bytes(b"not a picture")
    with Stockroom.create(tmp_path / "stock") as room, pytest.raises(PhotoError, match="strip"):
        keep_photo(room, path)
