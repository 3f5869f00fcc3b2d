"""Cautions on old cloth. No CIELAB range is published for arsenical cloth, so none is tested."""

import math
from datetime import date
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.colour import ReadBy
from bindery_stock.trade import (
    NOT_A_TEST,
    Grade,
    LabResult,
    Level,
    hazards,
    shipped_rules,
    verdicts,
    wet_work,
)
from bindery_stock.trade.hazards import SEEN_BAND, in_family, may_be_in_family
from bindery_stock.trade.vocabulary import Backing, Kind

GREEN = (50.0, -45.0, 25.0)
CLEAR = LabResult(
    substance="arsenic",
    found=False,
    on=date(2025, 5, 3),
    laboratory="county laboratory",
    method="XRF",
)


def found(item):
    return {h.rule: h for h in hazards(item)}


# University of Delaware and Winterthur Museum; IIC: chiefly the 1840s to 1860s, screened 1830–1870.
@pytest.mark.parametrize(
    ("dated", "stop"),
    [("1829", False), ("1830", True), ("1855", True), ("1870", True), ("1871", False), ("", True)],
)
def test_vivid_green_cloth_of_the_arsenic_years_stops_the_hand(scrap, dated, stop):
    assert ("R32" in found(scrap(colour_family="vivid green", source_date=dated))) is stop


# Max Planck Institute library, Berlin: 1800 to 1935 for paper and edges.
@pytest.mark.parametrize(
    ("dated", "told"),
    [("1799", False), ("1800", True), ("1935", True), ("1936", False), ("mid-19th century", True)],
)
def test_any_green_of_the_wider_years_is_cautioned(scrap, dated, told):
    assert ("R31" in found(scrap(colour_family="green", source_date=dated))) is told


@pytest.mark.parametrize(
    ("family", "rule"),
    [("yellow", "R33"), ("orange", "R33"), ("olive green", "R33"), ("bright red", "R34")],
)
def test_chrome_and_vermilion_colours_are_cautioned(scrap, family, rule):
    assert found(scrap(colour_family=family, source_date="1868"))[rule].level is Level.CAUTION


def test_old_cloth_of_any_colour_may_hold_lead(scrap):
    # University of Delaware and Winterthur Museum: lead in nearly half of the cases tested.
    assert found(scrap(colour_family="brown", source_date="1868"))["R35"].level is Level.INFO


def test_new_cloth_raises_nothing(scrap):
    assert hazards(scrap(colour_family="vivid green", source_date="new")) == []


def test_a_date_that_cannot_be_read_is_no_way_out(scrap):
    hazard = found(scrap(colour_family="green", source_date="grandmother's"))["R31"]
    assert "could not be read" in hazard.reason


def test_a_measured_green_raises_the_caution_on_cloth_ticked_brown(scrap, reading):
    cloth = scrap(colour_family="brown", colours=(reading(GREEN),), source_date="1850")
    assert "R32" in found(cloth)


@given(
    lab=st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128)),
    family=st.sampled_from(sorted(shipped_rules().families)),
    dated=st.sampled_from(["", "1850", "c. 1840", "mid-19th century", "1890s"]),
)
def test_no_measured_colour_ever_clears_a_caution(scrap, reading, lab, family, dated):
    ticked = scrap(colour_family=family, source_date=dated)
    measured = scrap(colour_family=family, source_date=dated, colours=(reading(lab),))
    before, after = found(ticked), found(measured)
    assert before.keys() <= after.keys()
    assert all(after[rule].level.rank >= before[rule].level.rank for rule in before)
    assert wet_work(ticked) is None or wet_work(measured) is not None


def test_a_laboratory_that_finds_no_arsenic_lowers_it_to_a_note_that_stays(scrap):
    cloth = scrap(colour_family="vivid green", source_date="1855", lab_results=(CLEAR,))
    assert found(cloth)["R32"].level is Level.INFO
    assert "county laboratory" in found(cloth)["R32"].reason
    assert found(cloth)["R33"].level is Level.CAUTION  # lead and chromium were not looked for


@pytest.mark.parametrize(
    "missing",
    [{"on": None}, {"laboratory": ""}, {"method": " "}],
    ids=["date", "laboratory", "method"],
)
def test_a_result_without_date_laboratory_or_method_clears_nothing(scrap, missing):
    from dataclasses import replace

    cloth = scrap(
        colour_family="vivid green", source_date="1855", lab_results=(replace(CLEAR, **missing),)
    )
    assert found(cloth)["R32"].level is Level.STOP
    assert "does not count" in found(cloth)["R32"].reason


def test_a_laboratory_that_finds_lead_stops_the_hand(scrap):
    lead = LabResult(substance="lead", found=True, on=None, laboratory="", method="")
    cloth = scrap(colour_family="yellow", source_date="1868", lab_results=(lead,))
    assert found(cloth)["R33"].level is Level.STOP
    assert lead.words == "lead: found, no method, no laboratory, no date"


def test_lead_that_was_found_in_old_red_cloth_stops_the_knife_in_words_too(scrap):
    lead = LabResult(substance="lead", found=True, on=None, laboratory="", method="")
    gravest = hazards(scrap(colour_family="red", source_date="1868", lab_results=(lead,)))[0]
    assert gravest.level is Level.STOP
    assert "A laboratory found it here. Do not cut" in gravest.caution
    assert gravest.would_change == "Nothing: what was found stays in the record."


def test_wet_work_on_a_flagged_piece_is_refused_and_told_why(scrap):
    refusal = wet_work(scrap(colour_family="vivid green", source_date="1855"))
    assert refusal is not None
    assert "arsenic" in refusal.reason
    assert refusal.closing == NOT_A_TEST


def test_wet_work_on_old_cloth_of_unsaid_colour_asks_for_the_colour(scrap):
    refusal = wet_work(scrap(source_date="1855"))
    assert refusal is not None
    assert "unfaded" in refusal.reason


def test_wet_work_is_free_on_old_brown_cloth(scrap):
    assert wet_work(scrap(colour_family="brown", source_date="1868")) is None


@pytest.mark.parametrize(
    ("family", "dated"),
    [("red", "1880"), ("blue", "1850"), ("vivid green", "1990"), ("", "new")],
)
def test_arsenic_that_was_found_stops_the_hand_whatever_the_colour_and_the_date(
    scrap, family, dated
):
    arsenic = LabResult(substance="arsenic", found=True, on=None, laboratory="", method="")
    piece = scrap(colour_family=family, source_date=dated, lab_results=(arsenic,))
    gravest = hazards(piece)[0]
    assert gravest.name == "a toxic substance, found by a laboratory"
    assert gravest.level is Level.STOP
    assert "arsenic: found" in gravest.reason
    refusal = wet_work(piece)
    assert refusal is not None
    for said in (gravest, refusal):
        assert "Not a test" not in said.closing, "it was tested"
        assert "local rules and licensed practice" in said.closing


def test_what_was_found_is_told_once(scrap):
    """The caution that colour and date raise speaks of it already, and more closely."""
    arsenic = LabResult(substance="arsenic", found=True, on=None, laboratory="", method="")
    piece = scrap(colour_family="vivid green", source_date="1858", lab_results=(arsenic,))
    names = [hazard.name for hazard in hazards(piece)]
    assert "arsenical green, likely by colour and date" in names
    assert "a toxic substance, found by a laboratory" not in names


def test_wet_work_is_freed_by_the_laboratory(scrap):
    results = tuple(
        LabResult(substance=s, found=False, on=date(2025, 5, 3), laboratory="county", method="XRF")
        for s in ("arsenic", "lead", "chromium")
    )
    cloth = scrap(colour_family="vivid green", source_date="1855", lab_results=results)
    assert wet_work(cloth) is None


@pytest.mark.parametrize(
    ("kind", "values", "rule", "level"),
    [
        (Kind.CLOTH, {"mould": "active"}, "mould-active", Level.STOP),
        (Kind.PAPER, {"mould": "dormant"}, "mould-dormant", Level.CAUTION),
        (Kind.LEATHER, {"red_rot": True}, "red-rot", Level.CAUTION),
        (Kind.BOARD, {"fibrous_grey": True}, "asbestos-board", Level.STOP),
    ],
)
def test_what_is_seen_on_a_piece_is_cautioned(scrap, tested, kind, values, rule, level):
    assert found(scrap(kind=kind, properties=tested(**values)))[rule].level is level


def test_pyroxylin_cloth_is_cautioned(scrap):
    assert "pyroxylin" in found(scrap(backing=Backing.PYROXYLIN, source_date="new"))


def test_solvent_adhesives_are_cautioned(jar):
    assert "solvent" in found(jar(kind="rubber-cement"))
    assert "solvent-ether" in found(jar(kind="hydroxypropyl-cellulose"))
    assert found(jar(kind="wheat-starch-paste")) == {}


def test_a_stop_bars_every_use_of_the_piece(scrap):
    cloth = scrap(colour_family="vivid green", source_date="1855", backing=Backing.STARCH)
    for verdict in verdicts(cloth, date(2025, 6, 1)):
        assert verdict.stops
        assert verdict.grade is Grade.NOT
        assert "Follow your local rules" in verdict.lead.reason


@given(
    family=st.sampled_from(sorted(shipped_rules().families)),
    kind=st.sampled_from(sorted(Kind)),
    dated=st.sampled_from(["", "1850", "1920", "new"]),
)
def test_every_caution_gives_advice_and_defers(scrap, family, kind, dated):
    for hazard in hazards(scrap(kind=kind, colour_family=family, source_date=dated)):
        assert hazard.advice
        assert hazard.would_change
        assert "local rules and licensed practice" in hazard.closing
        assert "Not a test result" in hazard.closing


@pytest.mark.parametrize("lab", [(50.0, 0.0, 0.0), (40.0, 10.0, 18.0), (38.0, -12.0, -14.0)])
def test_old_cloth_that_was_only_seen_may_be_the_green_its_photograph_does_not_show(
    scrap, reading, lab
):
    """Never likely (a stop) by a colour that lies elsewhere: possible, which keeps water away."""
    told = found(scrap(colours=(reading(lab, ReadBy.SEEN),), source_date="1855"))
    assert told["R31"].level is Level.CAUTION
    assert "seen and not measured" in told["R31"].reason
    assert "R32" not in told
    measured = scrap(colours=(reading(lab, ReadBy.TARGET),), source_date="1855")
    assert "R31" not in found(measured)


def test_a_vivid_green_that_was_only_seen_stops_the_hand_as_one_that_was_measured(scrap, reading):
    seen = scrap(colours=(reading(GREEN, ReadBy.SEEN),), source_date="1855")
    assert found(seen)["R32"].level is Level.STOP


def test_a_colour_far_from_every_green_is_none_though_it_was_only_seen(scrap, reading):
    blue = scrap(colours=(reading((30.0, 20.0, -50.0), ReadBy.SEEN),), source_date="1855")
    assert not found(blue).keys() & {"R31", "R32", "R33", "R34"}


def test_whatever_lies_within_25_of_a_colour_seen_is_held_possible():
    """Against trying colours about it one by one."""
    around = [(0.0, 0.0)] + [
        (r * math.cos(math.radians(turn)), r * math.sin(math.radians(turn)))
        for r, turn in product((8.0, 16.0, SEEN_BAND), range(0, 360, 10))
    ]
    plane = list(product(range(-80, 81, 20), repeat=2))
    for family in shipped_rules().families.values():
        for (a, b), lightness in product(plane, (10.0, 50.0)):
            there = any(
                in_family((lightness + rise, a + da, b + db), family)
                for (da, db), rise in product(around, (-SEEN_BAND, 0.0, SEEN_BAND))
            )
            assert not there or may_be_in_family((lightness, a, b), family)
