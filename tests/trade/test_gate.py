"""The gate: what stops, what needs a written reason, and what passes.

The facts of the trade stand in the rules files, each with its source: R31 to R34 in
``hazards.toml`` (Winterthur Museum and University of Delaware; Tedone, Grayburn and Wittine,
Studies in Conservation 2025), fits in ``fits.toml``, lives in ``lives.toml``.
"""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bindery_stock.trade import (
    NOT_A_TEST,
    Evidence,
    LabResult,
    Mark,
    Property,
    Use,
    hazards,
    shipped_rules,
)
from bindery_stock.trade.covering import CoveringCloth
from bindery_stock.trade.gate import ALLOWED, Concern, Leave, is_wet, ruling
from bindery_stock.trade.vocabulary import Backing, Kind

TODAY = date(2025, 6, 1)
GREEN = (50.0, -45.0, 25.0)
VIVID = {"colour_family": "vivid green", "source_date": "1858"}


def looked_for(*substances, found=False, on=date(2025, 5, 3), method="XRF"):
    return tuple(
        LabResult(substance=one, found=found, on=on, laboratory="county laboratory", method=method)
        for one in substances
    )


# R31 and R32 ask for arsenic, R33 (chrome yellow or green) for lead and chromium.
CLEARED = looked_for("arsenic", "lead", "chromium")


def rule(**concern):
    return ruling(Concern(**concern), TODAY)


def rules_of(answer):
    return {objection.rule for objection in answer.objections}


@pytest.fixture
def green(scrap):
    """Vivid green cloth of 1858, in the years screened for arsenic (1830 to 1870)."""
    return scrap(**VIVID)


@pytest.fixture
def brown(scrap):
    return scrap(colour_family="brown", source_date="1868")


@pytest.fixture
def paste(jar):
    return jar(made=TODAY, ph=7.0)


def test_what_concerns_nothing_is_allowed():
    assert rule() is ALLOWED
    assert ALLOWED.is_allowed
    assert ALLOWED.words == ""


def test_wet_work_on_vivid_green_cloth_is_stopped(green):
    answer = rule(piece=green, piece_name="C-0042", wet=True)
    assert answer.is_stopped
    assert {"R31", "R32", "R33"} <= rules_of(answer)
    assert {objection.about for objection in answer.objections} == {"C-0042"}


def test_wet_work_on_a_vivid_green_covering_is_stopped():
    covering = CoveringCloth(**VIVID)
    answer = rule(touching=(("Hollin Vale vol. 4", covering),), wet=True)
    assert answer.is_stopped
    assert "R32" in rules_of(answer)
    assert {objection.about for objection in answer.objections} == {"Hollin Vale vol. 4"}


def test_a_reading_of_green_stops_it_as_a_tick_does(reading):
    covering = CoveringCloth(colours=(reading(GREEN),), source_date="1858")
    assert rule(touching=(("vol. 4", covering),), wet=True).is_stopped


@pytest.mark.parametrize(("dated", "stopped"), [("1858", True), ("1958", False), ("new", False)])
def test_cloth_out_of_the_dangerous_years_may_be_wetted(scrap, dated, stopped):
    cloth = scrap(colour_family="vivid green", source_date=dated)
    assert rule(piece=cloth, wet=True).is_stopped is stopped


@pytest.mark.parametrize("bound", ["piece", "covering"])
def test_a_complete_laboratory_result_lets_wet_work_pass(scrap, bound):
    if bound == "piece":
        answer = rule(piece=scrap(**VIVID, lab_results=CLEARED), wet=True)
    else:
        covering = CoveringCloth(**VIVID, lab_results=CLEARED)
        answer = rule(touching=(("vol. 4", covering),), wet=True)
    assert answer.is_allowed


@pytest.mark.parametrize(
    "results",
    [
        looked_for("arsenic"),  # R33 still asks for lead and chromium
        looked_for("arsenic", "lead", "chromium", on=None),
        looked_for("arsenic", "lead", "chromium", method=""),
        (*CLEARED, *looked_for("arsenic", found=True)),
    ],
    ids=["one of three", "no date", "no method", "found once"],
)
def test_a_result_that_is_wanting_something_lets_nothing_pass(scrap, results):
    assert rule(piece=scrap(**VIVID, lab_results=results), wet=True).is_stopped


@pytest.mark.parametrize("lab", [(40.0, 5.0, 5.0), (30.0, 45.0, 25.0), (50.0, 0.0, 0.0)])
def test_a_reading_never_clears_a_caution(scrap, reading, lab):
    measured = scrap(**VIVID, colours=(reading(lab),))
    assert rule(piece=measured, wet=True).is_stopped
    assert rule(piece=measured, cutting=True).is_stopped
    covering = CoveringCloth(**VIVID, colours=(reading(lab),))
    assert rule(touching=(("vol. 4", covering),), wet=True).is_stopped


def test_what_was_tested_at_the_bench_clears_nothing_either(scrap):
    arsenic = Property(name="arsenic", value=False, evidence=Evidence.BENCH, on=TODAY)
    assert "arsenic" not in shipped_rules().properties
    with_test = scrap(**VIVID, properties=(arsenic,))
    assert "R32" in {hazard.rule for hazard in hazards(with_test)}


def test_dry_work_on_green_cloth_is_no_wet_work(green):
    assert rule(touching=(("C-0042", green),), wet=False).is_allowed


def test_all_that_paste_touches_is_asked_about(green, brown, paste):
    covering = CoveringCloth(**VIVID)
    answer = rule(
        piece=brown,
        piece_name="C-0001",
        lot=paste,
        lot_name="A-0001",
        use=Use.CLOTH_TO_BOARD,
        touching=(("C-0042", green), ("vol. 4", covering)),
    )
    assert answer.is_stopped
    stopping = {one.about for one in answer.objections if one.leave is Leave.STOPPED}
    assert stopping == {"C-0042", "vol. 4"}


@pytest.mark.parametrize(
    ("kind", "wet"),
    [
        ("wheat-starch-paste", True),
        ("pva", True),
        ("methyl-cellulose", True),
        ("hydroxypropyl-cellulose", False),  # in alcohol, without water: Stambolov, second-hand
        ("no such class", True),
    ],
)
def test_an_adhesive_carried_in_water_is_wet_work_and_an_unknown_one_counts_as_wet(
    jar, green, kind, wet
):
    concern = Concern(lot=jar(kind=kind, made=TODAY), touching=(("C-0042", green),))
    assert is_wet(concern, shipped_rules()) is wet
    assert ruling(concern, TODAY).is_stopped is wet


def test_what_is_said_of_wet_or_dry_goes_before_the_class(paste, green):
    assert not is_wet(Concern(lot=paste, wet=False), shipped_rules())
    assert is_wet(Concern(wet=True), shipped_rules())


def test_a_knife_into_a_piece_that_stops_is_stopped(green):
    answer = rule(piece=green, piece_name="C-0042", cutting=True)
    assert answer.is_stopped
    assert rules_of(answer) == {"R32"}
    assert "not to be cut" in answer.words


def test_a_knife_into_a_piece_with_a_caution_alone_passes(scrap):
    cautioned = scrap(colour_family="bright red", source_date="1868")
    assert "R34" in {hazard.rule for hazard in hazards(cautioned)}
    assert rule(piece=cautioned, cutting=True).is_allowed


def test_a_knife_into_living_mould_is_stopped(scrap):
    mouldy = scrap(
        colour_family="brown",
        source_date="1868",
        properties=(Property(name="mould", value="active", evidence=Evidence.LOOK, on=TODAY),),
    )
    assert rules_of(rule(piece=mouldy, cutting=True)) == {"mould-active"}


def test_neither_paste_nor_water_comes_to_living_mould(scrap):
    """NEDCC leaflet 3.8 and CCAHA: dry it first; that this stops wet work is our own reading."""
    mouldy = scrap(
        colour_family="brown",
        source_date="1868",
        properties=(Property(name="mould", value="active", evidence=Evidence.LOOK, on=TODAY),),
    )
    answer = rule(touching=(("C-0042", mouldy),), wet=True)
    assert answer.is_stopped
    assert rules_of(answer) == {"mould-active"}
    assert rule(touching=(("C-0042", mouldy),), wet=False).is_allowed


# Rogerson, Book_Arts-L 1997: five to seven days once thinned; the program counts five.
@pytest.mark.parametrize(("days", "leave"), [(5, Leave.ALLOWED), (6, Leave.NEEDS_REASON)])
@pytest.mark.parametrize("use", [Use.SPINE_LINING, Use.HIDDEN, None])
def test_a_lot_past_its_life_needs_a_reason_for_whatever_use(jar, days, leave, use):
    lot = jar(made=TODAY - timedelta(days=days), ph=7.0)
    answer = rule(lot=lot, lot_name="A-0001", use=use)
    assert answer.leave is leave
    assert ("shelf life" in rules_of(answer)) is (leave is Leave.NEEDS_REASON)


# fit:pva of fits.toml, common practice (Barrow 1965, second-hand).
@pytest.mark.parametrize(
    ("use", "leave"),
    [
        (Use.MENDING, Leave.NEEDS_REASON),
        (Use.LEATHER, Leave.NEEDS_REASON),
        (Use.BOX, Leave.ALLOWED),
        (Use.SPINE_LINING, Leave.ALLOWED),
        (None, Leave.ALLOWED),
    ],
)
def test_an_adhesive_unfit_for_the_use_needs_a_reason_and_only_for_that_use(jar, use, leave):
    answer = rule(lot=jar(kind="pva", bought=TODAY, ph=7.0), lot_name="A-0002", use=use)
    assert answer.leave is leave
    assert ("fit:pva" in rules_of(answer)) is (leave is Leave.NEEDS_REASON)


@pytest.fixture
def acid_paper(scrap, tested):
    """Paper of pH 6.5: not for mending, with care where it is hidden."""
    return scrap(kind=Kind.PAPER, source_date="new", properties=tested(ph=6.5))


# ANSI/NISO Z39.48-1992 and ISO 9706:1994: pH of the cold extract 7.5 to 10; the lines at 7 and
# 6 are those of tests/trade/test_material_limits.py.
@pytest.mark.parametrize(
    ("use", "leave"),
    [(Use.MENDING, Leave.NEEDS_REASON), (Use.HIDDEN, Leave.ALLOWED), (None, Leave.ALLOWED)],
)
def test_a_material_unfit_for_the_use_needs_a_reason_and_only_for_that_use(acid_paper, use, leave):
    answer = rule(piece=acid_paper, piece_name="P-0001", use=use)
    assert answer.leave is leave
    assert bool(answer.objections) is (leave is Leave.NEEDS_REASON)


# Cellulose nitrate: Roberts and Etherington 1982, as in hazards.toml and flags.toml.
@pytest.mark.parametrize("use", [Use.CLOTH_TO_BOARD, Use.HIDDEN, None])
def test_a_material_unfit_for_every_use_needs_a_reason_whether_the_use_is_known_or_not(scrap, use):
    coated = scrap(backing=Backing.PYROXYLIN, colour_family="brown", source_date="1968")
    answer = rule(piece=coated, piece_name="C-0009", use=use)
    assert answer.leave is Leave.NEEDS_REASON
    assert {objection.about for objection in answer.objections} == {"C-0009"}


def test_the_gravest_comes_first_and_gives_the_ruling(green, jar):
    answer = rule(
        piece=green,
        piece_name="C-0042",
        lot=jar(kind="pva", bought=date(2015, 1, 1)),
        lot_name="A-0002",
        use=Use.MENDING,
        cutting=True,
    )
    ranks = [objection.leave.rank for objection in answer.objections]
    assert ranks == sorted(ranks, reverse=True)
    assert answer.leave is answer.objections[0].leave is Leave.STOPPED
    assert {Leave.STOPPED, Leave.NEEDS_REASON} == {one.leave for one in answer.objections}


def test_each_objection_carries_rule_reason_mark_and_what_would_change_it(green, jar, acid_paper):
    rules = shipped_rules()
    asked = [
        rule(piece=green, piece_name="C-0042", wet=True, cutting=True),
        rule(lot=jar(made=date(2025, 1, 1)), lot_name="A-0001", use=Use.SPINE_LINING),
        rule(lot=jar(kind="pva", bought=TODAY), lot_name="A-0002", use=Use.LEATHER),
        rule(piece=acid_paper, piece_name="P-0001", use=Use.MENDING),
    ]
    told = [objection for answer in asked for objection in answer.objections]
    assert {"R32", "shelf life", "fit:pva"} <= {one.rule for one in told}
    for one in told:
        assert one.about
        assert one.reason
        assert one.would_change
        assert one.provenance.mark in Mark
        assert one.words == f"{one.about}: {one.reason} ({one.rule}; {one.provenance.mark.words})"
    by_rule = {one.rule: one for one in told}
    assert by_rule["R32"].provenance == rules.hazards["R32"].provenance
    assert by_rule["fit:pva"].provenance.mark is Mark.COMMON
    assert by_rule["R32"].reason.endswith(NOT_A_TEST)
    assert "laboratory" in by_rule["R32"].would_change
    for answer in asked:
        assert f"What would change this: {answer.objections[0].would_change}" in answer.words


def test_the_binders_own_rules_are_asked(green):
    rules = shipped_rules()
    lenient = replace(rules, hazards={})
    assert ruling(Concern(piece=green, wet=True, cutting=True), TODAY, rules=lenient).is_allowed
