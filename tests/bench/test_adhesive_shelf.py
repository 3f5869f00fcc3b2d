"""The adhesive shelf without a window: the order of using up, the morning, what stops a use."""

from dataclasses import fields
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.bench.adhesives.fitness import (
    SHORT,
    SIGNS,
    by_grade,
    finding_words,
    fitness_of,
    next_test,
)
from bindery_stock.bench.adhesives.lot_words import life_lines, lot_facts
from bindery_stock.bench.adhesives.morning import morning
from bindery_stock.bench.adhesives.own_rules import own_rules_words
from bindery_stock.bench.adhesives.shelf_rows import amount_of, lot_rows, stands
from bindery_stock.bench.adhesives.use import Destination, hindrance
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    AdhesiveLot,
    Measure,
    NewPiece,
    PieceState,
    ReorderPoint,
    StockPiece,
    Stockroom,
)
from bindery_stock.trade import (
    Evidence,
    Grade,
    Property,
    Use,
    load_rules,
    shipped_rules,
)
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Kind

TODAY = date(2026, 3, 2)
RULES = shipped_rules()


def lot(number: int = 1, **facts: object) -> AdhesiveLot:
    told = {"kind": "wheat-starch-paste", "name": "Paste"} | facts
    return AdhesiveLot(id=number, code=f"A-{number:04d}", **told)  # type: ignore[arg-type]


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def codes(*lots: AdhesiveLot) -> list[str]:
    return [row.lot.code for row in lot_rows(lots, TODAY, RULES)]


def test_what_is_over_stands_first_then_what_ends_soonest_then_what_cannot_be_told() -> None:
    unknown = lot(1)
    fresh = lot(2, made=TODAY)
    old = lot(3, made=ago(40))
    nearly = lot(4, made=ago(5))
    frozen = lot(5, kind="vae", bought=ago(5), frozen_once=True)
    assert codes(unknown, fresh, old, nearly, frozen) == [
        "A-0003",
        "A-0005",
        "A-0004",
        "A-0002",
        "A-0001",
    ]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(0, 60), max_size=6))
def test_of_two_lots_in_date_the_one_that_ends_first_never_stands_below(ages: list[int]) -> None:
    lots = [lot(number, made=ago(age)) for number, age in enumerate(ages, start=1)]
    ends = [row.life.ends for row in lot_rows(lots, TODAY, RULES)]
    assert ends == sorted(ends)  # type: ignore[type-var]


@pytest.mark.parametrize(
    ("facts", "words", "day"),
    [
        ({"made": ago(0)}, "5 days left", "to 7 Mar 2026"),
        ({"made": ago(5)}, "last day today", "to 2 Mar 2026"),
        ({"made": ago(6)}, "out of date", "since 1 Mar 2026"),
        ({}, "cannot tell", "write the day it was bought or made"),
        ({"kind": "vae", "frozen_once": True}, "over: it was frozen", ""),
    ],
)
def test_the_words_at_the_bar(facts: dict[str, object], words: str, day: str) -> None:
    """Five days for cooked paste at room temperature: common practice, no source."""
    (row,) = lot_rows([lot(**facts)], TODAY, RULES)
    assert (row.life_words, row.life_date) == (words, day)


def test_each_verdict_has_a_sign_and_a_word() -> None:
    assert len(set(SIGNS.values())) == len(set(SHORT.values())) == len(Grade)
    (row,) = lot_rows([lot(made=TODAY)], TODAY, RULES)
    assert {one.use for one in row.fitness} == set(RULES.uses["adhesive"])
    for word, _uses in by_grade(row.fitness):
        sign, said = word.split()
        assert sign in SIGNS.values()
        assert said in SHORT.values()


def test_a_lot_barred_everywhere_says_so_once() -> None:
    (row,) = lot_rows([lot(kind="vae", frozen_once=True)], TODAY, RULES)
    assert row.barred_everywhere
    assert by_grade(row.fitness) == [("✕ no", "every use")]


def test_a_verdict_opens_to_its_rule_reason_source_and_what_would_change_it() -> None:
    for one in fitness_of(lot(made=TODAY), TODAY, RULES):
        told = finding_words(one.verdict.lead)
        assert told.startswith(one.verdict.lead.rule)
        assert one.reason in told
        assert "Source: " in told
        assert one.verdict.lead.provenance.mark.words in told
        assert one.verdict.lead.would_change in told


def test_what_is_unknown_asks_for_a_test_and_the_test_settles_it() -> None:
    film = Property(name="film_ph", value=7.4, evidence=Evidence.BENCH, on=TODAY)
    unknown = fitness_of(lot(kind="pva", bought=ago(10)), TODAY, RULES)
    assert "Dry a film on polyester" in next_test(unknown)
    tested = fitness_of(lot(kind="pva", bought=ago(10), properties=(film,)), TODAY, RULES)
    assert next_test(tested) == ""
    tipping = [next(o.short for o in found if o.use is Use.TIPPING) for found in (unknown, tested)]
    assert tipping == ["? test", "△ care"]


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({}, "how much: not written"),
        ({"quantity": "half a jar"}, "half a jar"),
        ({"unit": Measure.GRAM, "held": 200.0, "left": 150.0}, "150 g of 200 g"),
        ({"unit": Measure.GRAM, "held": 200.0, "left": 200.0}, "200 g"),
        ({"unit": Measure.MILLILITRE, "held": 9.0, "left": 2.5}, "2.5 ml of 9 ml"),
        ({"unit": Measure.SHARE, "held": 1.0, "left": 0.34}, "about a third"),
        ({"unit": Measure.SHARE, "held": 1.0, "left": 0.0}, "none"),
    ],
)
def test_how_much_is_left_in_words(facts: dict[str, object], words: str) -> None:
    assert amount_of(lot(**facts)) == words


def test_a_lot_without_a_place_says_how_it_is_kept() -> None:
    assert stands(lot(storage="shed")) == "in the shed"
    assert stands(lot(storage="fridge", place="Fridge, door")) == "Fridge, door"


def test_the_sheet_names_every_count_that_runs_with_its_mark() -> None:
    tin = lot(
        kind="vae", bought=ago(100), opened=ago(50), expires=TODAY + timedelta(days=20), ph=7.2
    )
    (row,) = lot_rows([tin], TODAY, RULES)
    lines = life_lines(row)
    assert len(lines) == 3
    assert lines[0].startswith("To 22 Mar 2026: the supplier's own date")
    assert all("common practice" in line for line in lines[1:])
    labels = [fact.label for fact in lot_facts(row, RULES)]
    assert {"Bought", "Opened", "Supplier's date", "pH", "Comes off"} <= set(labels)


# The morning


def piece(kind: Kind, width: float, height: float) -> StockPiece:
    new = NewPiece(kind=kind, outline=Outline(((0, 0), (width, 0), (width, height), (0, height))))
    told = {field.name: getattr(new, field.name) for field in fields(NewPiece)}
    at = datetime(2026, 1, 1, tzinfo=UTC)
    return StockPiece(**told, id=1, code="K-0001", state=PieceState.ON_SHELF, shelved_at=at)


def test_the_morning_names_what_ends_this_week_what_is_low_and_what_is_barred() -> None:
    jar = {"unit": Measure.GRAM, "held": 200.0}
    rows = lot_rows(
        [
            lot(1, made=ago(1), left=30.0, **jar),
            lot(2, made=ago(40), left=200.0, **jar),
            lot(3, kind="vae", bought=ago(10)),
        ],
        TODAY,
        RULES,
    )
    points = [
        ReorderPoint(kind="wheat-starch-paste", least=50.0, unit=Measure.GRAM),
        ReorderPoint(kind="kraft", least=600.0, unit=Measure.AREA),
        ReorderPoint(kind="kraft", least=601.0, unit=Measure.AREA),
    ]
    seen = morning(rows, [piece(Kind.KRAFT, 200.0, 300.0)], points, RULES)
    assert [row.lot.code for row in seen.ends_this_week] == ["A-0001"]
    assert [row.lot.code for row in seen.barred] == ["A-0002"]
    assert [low.words for low in seen.low] == [
        "wheat starch paste: 30 g at hand, reorder at 50 g",
        "kraft: 600 cm² at hand, reorder at 601 cm²",
    ]
    assert seen.sentence == (
        "1 lot ends this week, 2 kinds are low, 1 lot is barred and still on the shelf."
    )
    assert morning([], [], [], RULES).is_clear


@pytest.mark.parametrize(("days", "this_week"), [(-1, False), (0, True), (7, True), (8, False)])
def test_this_week_is_today_and_seven_days(days: int, this_week: bool) -> None:
    tin = lot(kind="vae", bought=ago(10), expires=TODAY + timedelta(days=days))
    (row,) = lot_rows([tin], TODAY, RULES)
    assert row.ends_soon is this_week


# What stops a use


def test_a_use_is_hindered_only_by_what_bars_it(tmp_path: Path) -> None:
    with Stockroom.create(tmp_path / "stock", clock=_noon) as room:
        fresh = lot(kind="pva", bought=ago(10), ph=7.5)
        assert hindrance(room, fresh, Use.BOX, Destination()).is_allowed
        leather = hindrance(room, fresh, Use.LEATHER, Destination())
        assert leather.leave is Leave.NEEDS_REASON
        assert "not for conservation" in leather.words


def test_water_on_a_piece_that_must_stay_dry_is_final(tmp_path: Path) -> None:
    with Stockroom.create(tmp_path / "stock", clock=_noon) as room:
        outline = Outline(((0, 0), (100, 0), (100, 100), (0, 100)))
        new = NewPiece(kind=Kind.CLOTH, outline=outline)
        green = room.pieces.shelve(new).born[0]  # no date, no colour family: it may be anything
        wet = hindrance(room, lot(made=TODAY), Use.CLOTH_TO_BOARD, Destination(), green)
        assert wet.is_stopped
        assert "colour family" in wet.words
        dry = lot(kind="heat-set-tissue", bought=ago(10))
        assert not hindrance(room, dry, Use.MENDING, Destination(), green).is_stopped


def _noon() -> datetime:
    return datetime(2026, 3, 2, 12, tzinfo=UTC)


# The binder's own rules


def test_what_the_binders_own_rules_add_and_replace_is_told(tmp_path: Path) -> None:
    own = tmp_path / "rules.toml"
    own.write_text(
        """
[life.pva-opened]
adhesive = "pva"
since = "opened"
months = 3
mark = "own rule"

[rule.no-pva-here]
applies = ["adhesive"]
all = [{ fact = "kind", is = "pva" }]
no = ["box making"]
reason = "Not at this bench."
would_change = "Nothing."
mark = "own rule"
""",
        encoding="utf-8",
    )
    rules = load_rules(own)
    told = own_rules_words(rules, own)
    assert "Added: rule.no-pva-here." in told
    assert "In place of shipped ones: life.pva-opened." in told
    assert own_rules_words(RULES, own) == ""
    (row,) = lot_rows([lot(kind="pva", opened=ago(80), bought=ago(80))], TODAY, rules)
    assert any("rules.toml, line 2, in place of lives.toml" in line for line in life_lines(row))
    box = next(one for one in row.fitness if one.use is Use.BOX)
    assert (box.short, box.reason) == ("✕ no", "Not at this bench.")


def test_rules_in_the_stock_folder_judge_the_use_itself(tmp_path: Path) -> None:
    Stockroom.create(tmp_path / "stock").close()
    (tmp_path / "stock" / "rules.toml").write_text("[rule.R48\n", encoding="utf-8")
    with Stockroom.open(tmp_path / "stock") as room:
        assert "rules.toml, line 1" in room.rules_trouble
        assert own_rules_words(room.rules, room.own_rules) == ""
