from dataclasses import fields
from pathlib import Path

import pytest

from bindery_stock.bench.books import survey_entries as module
from bindery_stock.bench.books.survey_entries import survey_entries
from bindery_stock.errors import RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Harm, Survey

SHIPPED = (resources() / "survey.toml").read_text("utf-8")


@pytest.fixture
def edited(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(module, "resources", lambda: tmp_path)
    survey_entries.cache_clear()
    yield tmp_path / "survey.toml"
    survey_entries.cache_clear()


def test_every_length_asked_for_is_one_of_the_survey() -> None:
    asked = [one.field for one in survey_entries().lengths]
    assert len(asked) == len(set(asked)) == 10
    assert set(asked) <= {field.name for field in fields(Survey)}


def test_a_flat_back_and_a_book_without_joints_may_measure_nought() -> None:
    assert {one.field for one in survey_entries().lengths if one.may_be_zero} == {"rise", "joint"}


def test_no_volume_takes_the_width_of_its_back_from_its_set() -> None:
    own = {one.field for one in survey_entries().lengths if one.each_its_own}
    assert own == {"spine_width", "rise", "arc"}


def test_a_hole_is_measured_both_ways_and_may_be_one_of_several() -> None:
    (hole,) = (t for _, ticks in survey_entries().groups for t in ticks if t.harm is Harm.HOLE)
    assert (hole.along, hole.across, hole.counted) == ("high", "wide", True)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('field = "joint"', 'field = "jiont"', "jiont"),
        ('harm = "spine cloth lost"', 'harm = "spine cloth gone"', "spine cloth gone"),
        ('along = "high"', 'hihg = "high"', "hihg"),
        ("[[length]]", "[[length", "line"),
    ],
)
def test_a_slip_in_the_file_is_named(edited: Path, old: str, new: str, said: str) -> None:
    assert old in SHIPPED
    edited.write_text(SHIPPED.replace(old, new, 1), "utf-8")
    with pytest.raises(RulesError, match=said):
        survey_entries()


def test_a_harm_without_a_tick_is_missed(edited: Path) -> None:
    before, _, after = SHIPPED.partition('[[group.damage]]\nharm = "spine cloth lost"\n')
    edited.write_text(before + after, "utf-8")
    with pytest.raises(RulesError, match="none is left out"):
        survey_entries()
