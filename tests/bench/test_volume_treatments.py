"""Damage kept by its places, and the treatments chosen for it: parts, hours and papers follow."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bindery_stock.bench.books.examine import examine
from bindery_stock.bench.books.keep_survey import copy_survey, correct_survey, survey
from bindery_stock.bench.books.volume_treatments import (
    choose_treatments,
    open_choice,
    place_damage,
)
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.errors import EntryError
from bindery_stock.records.proposal import proposal_page
from bindery_stock.records.treatment_record import record_page
from bindery_stock.stock import NewRepair, Stockroom
from bindery_stock.trade import Damage, Harm, Survey, default_allowances
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.care import CareOption, CarePlan, TreatmentChoice
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.found_damage import found_places
from bindery_stock.units import LengthStyle, Unit

BOOK = Survey(
    spine_width=30,
    joint=6,
    board_height=200,
    board_width=130,
    leaf_height=194,
    leaf_width=128,
    lift=12,
    damage=(Damage(Harm.JOINT_CRACKED, 1, 40.0),),
)
CRACKED = PlacedDamage(kind="joint-cracked", place=BookPlace.UPPER_JOINT, along=40.0)
LOOSE = PlacedDamage(kind="block-loose", place=BookPlace.UPPER_HINGE, along=60.0)
CLEAR = "black"
"""Of which no caution is known."""
MM = LengthStyle(Unit.MM)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as made:
        yield made


@pytest.fixture
def volume(room: Stockroom) -> str:
    return survey(room, new=NewRepair(name="Nine Weirs", survey=BOOK, colour_family=CLEAR)).born[0]


def choices(room: Stockroom, volume: str, **others: str) -> list[TreatmentChoice]:
    """What is proposed for each damage; another treatment where one is given by its damage."""
    repair = room.books.repair(volume)
    found = []
    for one in open_choice(repair, default_allowances(room.rules), room.rules).proposals:
        least = one.proposed.treatment.key if one.proposed else ""
        other = others.get(one.damage.kind.replace("-", "_"), "")
        reason = "Asked for." if other else ""
        found.append(TreatmentChoice(treatment=other or least, proposed=least, reason=reason))
    return found


def test_an_old_survey_is_read_as_damage_of_which_some_places_are_not_said(
    room: Stockroom, volume: str
) -> None:
    repair = room.books.repair(volume)
    assert found_places(repair.survey, repair.care) == (
        PlacedDamage(kind="joint-cracked", place=BookPlace.NOT_SAID, along=40.0),
    )
    assert not repair.care.told, "nothing was written for it"


def test_damage_is_kept_with_place_and_extent_in_one_step_with_a_way_back(
    room: Stockroom, volume: str
) -> None:
    changes = place_damage(room, volume=volume, damages=[CRACKED, LOOSE])
    assert changes.step.name == "Noted the damage of Nine Weirs by its places"
    repair = room.books.repair(volume)
    assert repair.care.damages == (CRACKED, LOOSE)
    assert [(one.harm, one.extent) for one in repair.survey.damage] == [
        (Harm.JOINT_CRACKED, 40.0),
        (Harm.BLOCK_LOOSE, 60.0),
    ]
    assert place_damage(room, volume=volume, damages=[CRACKED, LOOSE]).nothing
    room.ledger.undo()
    assert room.books.repair(volume).care.damages == ()
    room.ledger.redo()
    assert room.books.repair(volume).care.damages == (CRACKED, LOOSE)


def test_damage_longer_than_its_place_is_refused_with_the_mend(
    room: Stockroom, volume: str
) -> None:
    with pytest.raises(EntryError, match=r"400 mm length cracked is more than .* measure both"):
        place_damage(room, volume=volume, damages=[replace(CRACKED, along=400.0)])


def test_ticks_changed_in_the_survey_are_refused_where_the_places_are_kept(
    room: Stockroom, volume: str
) -> None:
    place_damage(room, volume=volume, damages=[CRACKED])
    with pytest.raises(EntryError, match="is kept by its places: change it there"):
        correct_survey(room, volume=volume, fields={"survey": replace(BOOK, damage=())})


def test_a_loose_block_has_its_hinge_tightened_and_only_that_is_planned(
    room: Stockroom, volume: str
) -> None:
    place_damage(room, volume=volume, damages=[LOOSE])
    changes = choose_treatments(room, volume=volume, choices=choices(room, volume))
    assert changes.step.name == "Chose the treatments of Nine Weirs"
    repair = room.books.repair(volume)
    assert [one.treatment for one in repair.care.choices] == ["hinge-tighten"]
    assert [one.harm for one in repair.survey.damage] == [Harm.BLOCK_LOOSE]
    assert repair.care.options[0].what == "Leave it as it is"
    assert "tighten the inner joint" in repair.care.options[1].what
    assert repair.care.recommended == 1
    room.ledger.undo()
    assert room.books.repair(volume).care.choices == ()


def test_more_than_is_proposed_asks_a_reason_and_brings_its_own_parts(
    room: Stockroom, volume: str
) -> None:
    place_damage(room, volume=volume, damages=[LOOSE])
    with pytest.raises(EntryError, match="Reason: say why another treatment is chosen"):
        TreatmentChoice(treatment="recase", proposed="hinge-tighten")
    before = room.books.parts(volume=volume)
    taken = choices(room, volume, block_loose="recase")
    choose_treatments(room, volume=volume, choices=taken)
    repair = room.books.repair(volume)
    assert [one.harm for one in repair.survey.damage] == [Harm.BLOCK_DETACHED]
    assert {part.role for part in room.books.parts(volume=volume)} > {part.role for part in before}
    assert len(repair.care.options) == 3, "left, the least that is right, and what was chosen"
    choose_treatments(room, volume=volume, choices=choices(room, volume))
    again = room.books.repair(volume)
    assert [one.harm for one in again.survey.damage] == [Harm.BLOCK_LOOSE]
    assert len(again.care.options) == 2
    assert again.care.damages == (LOOSE,), "what was found stays, whatever is chosen"


def test_options_written_by_hand_stay_when_treatments_are_chosen(
    room: Stockroom, volume: str
) -> None:
    own = CareOption(what="Send it to the county conservator", undo="nothing to undo")
    examine(room, volume=volume, care=CarePlan(options=(own,), recommended=0))
    place_damage(room, volume=volume, damages=[LOOSE])
    assert room.books.repair(volume).care.course == own
    choose_treatments(room, volume=volume, choices=choices(room, volume))
    care = room.books.repair(volume).care
    assert own in care.options
    assert care.course != own


def test_other_damage_takes_back_what_was_chosen_for_the_old(room: Stockroom, volume: str) -> None:
    place_damage(room, volume=volume, damages=[LOOSE])
    choose_treatments(room, volume=volume, choices=choices(room, volume))
    place_damage(room, volume=volume, damages=[LOOSE, CRACKED])
    care = room.books.repair(volume).care
    assert (care.choices, care.options, care.recommended) == ((), (), None)


def test_wet_work_on_a_covering_that_may_hold_arsenic_is_chosen_for_no_reason(
    room: Stockroom,
) -> None:
    green = NewRepair(name="Elder Row", survey=BOOK, colour_family="vivid green", dated="1858")
    volume = survey(room, new=green).born[0]
    place_damage(room, volume=volume, damages=[LOOSE])
    taken = [TreatmentChoice(treatment="hinge-tighten", proposed="leave", reason="Asked for.")]
    with pytest.raises(EntryError, match="No wet work on this piece: arsenical green"):
        choose_treatments(room, volume=volume, choices=taken)


def test_a_copy_has_the_damage_as_found_and_none_of_the_treatments(
    room: Stockroom, volume: str
) -> None:
    place_damage(room, volume=volume, damages=[LOOSE])
    choose_treatments(room, volume=volume, choices=choices(room, volume, block_loose="recase"))
    copied = room.books.repair(copy_survey(room, volume=volume, names=["Ten Weirs"]).born[0])
    assert copied.care == CarePlan(damages=(LOOSE,))
    assert [one.harm for one in copied.survey.damage] == [Harm.BLOCK_LOOSE]


def test_proposal_and_report_print_the_damage_found_the_options_and_why(
    room: Stockroom, volume: str
) -> None:
    place_damage(room, volume=volume, damages=[LOOSE])
    choose_treatments(room, volume=volume, choices=choices(room, volume, block_loose="recase"))
    facts = treatment_record(room, volume, MM)
    assert facts.damage == ("Text block loose, endpapers whole, upper inner joint, 60 mm",)
    proposal, report = str(proposal_page(facts)), str(record_page(facts))
    for page in (proposal, report):
        assert "because: Asked for." in page
        assert "Leave it as it is" in page
    assert facts.recommendation == "Option 3 is recommended."
    assert "Treatments chosen, and why" in report
