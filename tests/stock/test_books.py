"""Sets and volumes on the bench: surveyed, planned, shared out, cut, fitted, and taken back."""

import math

import pytest

from bindery_stock.errors import EntryError, NotFound, StockError, UndoRefused
from bindery_stock.shape import Outline, Ring
from bindery_stock.stock import (
    BookPart,
    BookPhoto,
    BookSpot,
    Colour,
    ColourSought,
    Cutting,
    KeptShade,
    NewAdhesiveLot,
    NewBookSet,
    NewPart,
    NewPiece,
    NewRepair,
    NewTreatment,
    PartState,
    PlannedPlacement,
    RepairState,
    Stage,
    Stockroom,
    View,
)
from bindery_stock.trade import Damage, Harm, Hollow, Reback, Survey
from bindery_stock.trade.vocabulary import Kind
from tests.stock.conftest import rectangle

SURVEY = Survey(
    spine_width=33.0,
    rise=5.0,
    joint=7.0,
    board_height=226.0,
    board_width=143.0,
    board_thickness=2.4,
    damage=(Damage(Harm.SPINE_LOST), Damage(Harm.CORNERS_BARE, 4, 12.0), Damage(Harm.MULL_FAILED)),
    reback=Reback.OUTSIDE,
    hollow=Hollow.FOUR,
    brittle=True,
)
STRIP = NewPart(
    role="reback-inside",
    name="reback strip",
    width=60.0,
    height=228.0,
    kind=Kind.CLOTH,
    pattern="rib",
    turns=(0.0, 180.0),
    zones=(("hidden", 0.0, 0.0, 8.0, 228.0), ("shown", 8.0, 0.0, 60.0, 228.0)),
    estimated=True,
    lab=(33.0, 33.0, 17.0),
    u=2.4,
    tolerance=6.0,
    width_sum="A 36 + 2 × J 7 + 2 × U 5 = 60 mm",
    height_sum="H 226 = 226 mm",
    sum_lines=("A 36 mm: arc of the spine (measured)",),
    adhesives=("wheat-starch-paste",),
    note="the join never in a joint",
)


def corner(number: int, side: float = 26.0) -> NewPart:
    return NewPart(
        role="corner-patch",
        name="corner patch",
        number=number,
        of=2,
        width=side,
        height=side,
        kind=Kind.CLOTH,
        turns=(0.0, 90.0),
        zones=(("shown", 0.0, 0.0, side, side),),
    )


@pytest.fixture
def volume(stock: Stockroom) -> str:
    return stock.books.add_repair(NewRepair(name="Hollin Vale vol. 4", survey=SURVEY)).born[0]


@pytest.fixture
def cloth(stock: Stockroom, red_rib: NewPiece) -> str:
    return stock.pieces.shelve(red_rib).born[0]


def parts_of(stock: Stockroom, volume: str) -> dict[str, BookPart]:
    return {part.words: part for part in stock.books.parts(volume=volume)}


def lay(stock: Stockroom, volume: str, words: str, code: str, ring: Ring) -> PlannedPlacement:
    part = parts_of(stock, volume)[words]
    return PlannedPlacement(part=part.id, code=code, corners=ring, shade=KeptShade(2.5))


def test_a_survey_comes_back_to_the_last_measurement(stock: Stockroom) -> None:
    code = stock.books.add_repair(
        NewRepair(
            name=" Hollin Vale vol. 4 ",
            survey=SURVEY,
            title="The Tithe of Wrens",
            author="Ambrose Tarrowgate",
            owner="the reading room",
            volume=4,
            pattern="rib",
            tolerance=5.0,
            hours_estimated=6.5,
            condition="spine lost, boards sound",
        )
    ).born[0]
    kept = stock.books.repair(code)
    assert kept.name == "Hollin Vale vol. 4"
    assert kept.survey == SURVEY
    assert (kept.title, kept.owner, kept.volume) == ("The Tithe of Wrens", "the reading room", 4)
    assert (kept.pattern, kept.tolerance, kept.hours_estimated) == ("rib", 5.0, 6.5)
    assert kept.state is RepairState.SURVEYED
    assert kept.hours_spent == 0.0


def test_a_volume_that_comes_to_the_bench_and_is_done_is_told_so(
    stock: Stockroom, volume: str
) -> None:
    name = stock.books.repair(volume).name
    told = [
        stock.books.correct_repair(volume, state=state).step.name
        for state in (RepairState.ON_BENCH, RepairState.DONE, RepairState.SURVEYED)
    ]
    assert told == [
        f"Took {name} to the bench",
        f"Finished {name}",
        f"Took {name} off the bench again",
    ]


def test_photographs_and_colours_stay_with_their_volume(stock: Stockroom, volume: str) -> None:
    photo = stock.photos.archive(b"a worn spine", name="vol4.jpg", width=800, height=600)
    spine = Colour((43.0, 21.0, 15.0), u=4.0, method="bare photo", photo=photo.sha256)
    boards = Colour((33.0, 33.0, 17.0), u=4.0, photo=photo.sha256)
    stock.books.correct_repair(
        volume,
        photos=(BookPhoto(photo, View.SPINE), BookPhoto(photo, View.DAMAGE, Stage.DURING)),
        targets=(ColourSought(BookSpot.SPINE, spine), ColourSought(BookSpot.BOARDS, boards)),
    )
    kept = stock.books.repair(volume)
    assert [(shot.shows, shot.stage) for shot in kept.photos] == [
        (View.SPINE, Stage.BEFORE),
        (View.DAMAGE, Stage.DURING),
    ]
    assert kept.target(BookSpot.SPINE) == spine
    assert kept.target(BookSpot.JOINTS, BookSpot.BOARDS) == boards
    assert kept.target(BookSpot.CORNERS) is None
    stock.ledger.undo()
    assert stock.books.repair(volume).photos == ()


def test_two_volumes_of_one_name_are_refused(stock: Stockroom, volume: str) -> None:
    with pytest.raises(EntryError, match=f"{volume} is called Hollin Vale vol. 4 already"):
        stock.books.add_repair(NewRepair(name="Hollin Vale vol. 4", survey=SURVEY))
    other = stock.books.add_repair(NewRepair(name="Hollin Vale vol. 5", survey=SURVEY)).born[0]
    with pytest.raises(EntryError, match="already"):
        stock.books.correct_repair(other, name="Hollin Vale vol. 4")


def test_a_survey_copied_to_the_next_volumes_leaves_photographs_behind(stock: Stockroom) -> None:
    vale = stock.books.add_set(
        NewBookSet(title="Chronicles of the Hollin Vale", shared={"board_height": 226.0})
    ).born[0]
    photo = stock.photos.archive(b"a worn spine", name="vol4.jpg", width=800, height=600)
    first = stock.books.add_repair(
        NewRepair(name="vol. 4", survey=SURVEY, book_set=vale, volume=4, photos=(BookPhoto(photo),))
    ).born[0]
    stock.books.set_allowances({"underlap": 10.0}, volume=first)
    born = stock.books.copy_survey(first, ["vol. 5", "vol. 6"]).born
    volumes = stock.books.repairs(book_set=vale)
    assert [(v.name, v.volume) for v in volumes] == [("vol. 4", 4), ("vol. 5", 5), ("vol. 6", 6)]
    assert volumes[1].survey.board_height == 226.0
    assert volumes[1].survey.damage == SURVEY.damage
    assert volumes[1].survey.like_volume
    assert volumes[1].photos == ()
    assert stock.books.overrides(volume=born[1]).volume == {"underlap": 10.0}
    assert len(stock.ledger.steps(code=born[0])) == 1


def test_allowances_are_set_for_all_work_a_set_and_a_volume(stock: Stockroom) -> None:
    vale = stock.books.add_set(NewBookSet(title="Hollin Vale")).born[0]
    own = stock.books.add_repair(NewRepair(name="vol. 1", survey=SURVEY, book_set=vale)).born[0]
    other = stock.books.add_repair(NewRepair(name="Nine Weirs", survey=SURVEY)).born[0]
    stock.books.set_allowances({"underlap": 7.0})
    stock.books.set_allowances({"underlap": 9.0, "turn-in": 15.0}, book_set=vale)
    stock.books.set_allowances({"underlap": 11.0}, volume=own)
    levels = stock.books.overrides(volume=own)
    assert (levels.all_work, levels.volume) == ({"underlap": 7.0}, {"underlap": 11.0})
    assert levels.book_set == {"underlap": 9.0, "turn-in": 15.0}
    assert stock.books.overrides(volume=other).book_set == {}
    stock.books.set_allowances({"turn-in": None}, book_set=vale)
    assert stock.books.overrides(book_set=vale).book_set == {"underlap": 9.0}
    assert stock.books.set_allowances({"underlap": 11.0}, volume=own).nothing


@pytest.mark.parametrize("values", [{"overlap": 3.0}, {"underlap": math.nan}, {"underlap": -1.0}])
def test_an_allowance_that_cannot_be_is_refused(
    stock: Stockroom, volume: str, values: dict[str, float]
) -> None:
    with pytest.raises(EntryError):
        stock.books.set_allowances(values, volume=volume)
    assert stock.books.overrides(volume=volume).volume == {}


def test_a_set_shares_only_what_a_survey_knows(stock: Stockroom) -> None:
    with pytest.raises(EntryError, match="gilding"):
        stock.books.add_set(NewBookSet(title="A set", shared={"gilding": 3.0}))
    with pytest.raises(EntryError, match="Board height"):
        stock.books.add_set(NewBookSet(title="A set", shared={"board_height": -3.0}))


def test_planned_parts_come_back_to_the_last_zone(stock: Stockroom, volume: str) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1), corner(2)])
    strip, first, second = stock.books.parts(volume=volume)
    assert strip.purpose == "reback strip, Hollin Vale vol. 4"
    assert (first.purpose, second.words) == (
        "corner patch 1 of 2, Hollin Vale vol. 4",
        "corner patch 2 of 2",
    )
    assert (strip.width, strip.height, strip.lab, strip.u) == (60.0, 228.0, STRIP.lab, 2.4)
    assert (strip.zones, strip.turns, strip.sum_lines) == (
        STRIP.zones,
        STRIP.turns,
        STRIP.sum_lines,
    )
    assert strip.state is PartState.WANTED
    assert strip.estimated
    unchanged = stock.books.plan_parts(volume, [STRIP, corner(1), corner(2)])
    assert unchanged.nothing
    assert "already as you have them" in unchanged.step.name


def test_a_plan_is_accepted_in_one_step_and_taken_back_in_one(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1), corner(2)])
    before = stock.ledger.steps(limit=1)[0].number
    changes = stock.books.accept_plan(
        [
            lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228)),
            lay(stock, volume, "corner patch 1 of 2", cloth, rectangle(62, 0, 88, 26)),
        ],
        unserved=[parts_of(stock, volume)["corner patch 2 of 2"].id],
    )
    assert changes.step.number == before + 1
    assert changes.step.name == "Shared out 2 parts over 1 piece; nothing serves 1"
    assert stock.books.repair(volume).id in changes.touched["repair"]
    held = parts_of(stock, volume)
    assert held["reback strip"].state is PartState.RESERVED
    assert held["reback strip"].piece == cloth
    assert held["reback strip"].corners == rectangle(0, 0, 60, 228)
    assert held["reback strip"].delta_e == 2.5
    assert held["corner patch 2 of 2"].state is PartState.NOTHING_SERVES
    assert len(stock.pieces.reservations(cloth)) == 2
    stock.ledger.undo()
    assert {part.state for part in stock.books.parts(volume=volume)} == {PartState.WANTED}
    assert stock.pieces.reservations() == []


def test_a_plan_that_no_longer_fits_reserves_nothing(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1), corner(2)])
    stock.pieces.reserve(
        cloth, "another book", width=30, height=30, corners=rectangle(60, 0, 90, 30)
    )
    with pytest.raises(StockError, match="overlaps what is reserved for another book"):
        stock.books.accept_plan(
            [
                lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228)),
                lay(stock, volume, "corner patch 1 of 2", cloth, rectangle(62, 0, 88, 26)),
            ]
        )
    assert [held.purpose for held in stock.pieces.reservations()] == ["another book"]


def test_cutting_one_part_moves_the_other_reservations_to_the_offcuts(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1), corner(2)])
    stock.books.accept_plan(
        [
            lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228)),
            lay(stock, volume, "corner patch 1 of 2", cloth, rectangle(62, 0, 88, 26)),
        ]
    )
    strip = parts_of(stock, volume)["reback strip"]
    changes = stock.books.cut_part(strip.id, cutting(cloth))
    held = parts_of(stock, volume)
    assert held["reback strip"].state is PartState.CUT
    assert held["reback strip"].piece == cloth
    patch = held["corner patch 1 of 2"]
    assert patch.state is PartState.RESERVED
    assert patch.piece == changes.born[0]
    assert stock.pieces.cutting(cloth) is not None
    stock.books.cut_part(
        patch.id,
        Cutting(
            code=patch.piece,
            purpose="corner",
            width=26,
            height=26,
            corners=patch.corners,
            offcuts=(Outline(rectangle(60, 30, 100, 300)),),
        ),
    )
    assert parts_of(stock, volume)["corner patch 1 of 2"].state is PartState.CUT
    stock.ledger.undo()
    stock.ledger.undo()
    assert parts_of(stock, volume)["reback strip"].state is PartState.RESERVED
    assert parts_of(stock, volume)["corner patch 1 of 2"].piece == cloth


def cutting(code: str) -> Cutting:
    return Cutting(
        code=code,
        purpose="reback strip",
        width=60.0,
        height=228.0,
        corners=rectangle(0, 0, 60, 228),
        offcuts=(Outline(rectangle(60, 0, 100, 300)), Outline(rectangle(0, 228, 60, 300))),
    )


def test_a_piece_cut_from_the_shelf_for_a_reserved_part_moves_the_part_on(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP])
    stock.books.accept_plan([lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228))])
    cut = cutting(cloth)
    stock.pieces.cut(
        Cutting(
            code=cloth,
            purpose="reback strip, Hollin Vale vol. 4",
            width=60.0,
            height=228.0,
            corners=cut.corners,
            offcuts=cut.offcuts,
        )
    )
    assert stock.books.parts(volume=volume)[0].state is PartState.CUT


def test_a_part_cut_from_another_piece_gives_its_own_up(
    stock: Stockroom, volume: str, cloth: str, red_rib: NewPiece
) -> None:
    other = stock.pieces.shelve(red_rib).born[0]
    stock.books.plan_parts(volume, [STRIP])
    stock.books.accept_plan([lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228))])
    stock.books.cut_part(stock.books.parts(volume=volume)[0].id, cutting(other))
    assert stock.pieces.reservations() == []
    assert stock.books.parts(volume=volume)[0].piece == other


def test_releasing_a_piece_lets_its_part_wait_again(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP])
    stock.books.accept_plan([lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228))])
    stock.pieces.release(cloth)
    assert stock.books.parts(volume=volume)[0].state is PartState.WANTED
    assert stock.books.parts(volume=volume)[0].delta_e is None
    with pytest.raises(StockError, match="nothing to release"):
        stock.books.release_parts([stock.books.parts(volume=volume)[0].id])


def test_a_part_measured_again_keeps_its_cloth_only_where_it_is_laid_again(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1)])
    stock.books.accept_plan(
        [
            lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228)),
            lay(stock, volume, "corner patch 1 of 2", cloth, rectangle(62, 0, 88, 26)),
        ]
    )
    wider = NewPart(**{**{f: getattr(STRIP, f) for f in STRIP.__slots__}, "width": 61.5})
    strip = parts_of(stock, volume)["reback strip"]
    stock.books.plan_parts(
        volume,
        [wider, corner(1)],
        again=[PlannedPlacement(part=strip.id, code=cloth, corners=rectangle(0, 0, 61.5, 228))],
    )
    held = parts_of(stock, volume)
    assert (held["reback strip"].state, held["reback strip"].width) == (PartState.RESERVED, 61.5)
    assert held["corner patch 1 of 2"].state is PartState.RESERVED
    stock.books.plan_parts(volume, [STRIP, corner(1)])
    assert parts_of(stock, volume)["reback strip"].state is PartState.WANTED
    assert parts_of(stock, volume)["corner patch 1 of 2"].state is PartState.RESERVED


def test_what_is_cut_stays_when_the_survey_changes(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP, corner(1)])
    stock.books.cut_part(parts_of(stock, volume)["reback strip"].id, cutting(cloth))
    stock.books.plan_parts(volume, [corner(1, side=30.0)])
    held = parts_of(stock, volume)
    assert held["reback strip"].state is PartState.CUT
    assert held["corner patch 1 of 2"].width == 30.0


def test_a_part_is_fitted_once_and_only_when_cut(stock: Stockroom, volume: str, cloth: str) -> None:
    stock.books.plan_parts(volume, [STRIP])
    stock.books.accept_plan([lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228))])
    part = stock.books.parts(volume=volume)[0].id
    with pytest.raises(StockError, match=f"cut it from {cloth} first"):
        stock.books.mark_fitted([part])
    stock.books.cut_part(part, cutting(cloth))
    stock.books.mark_fitted(
        [part], NewTreatment(what="Laid the new strip under", undo="warm water", part=part)
    )
    assert stock.books.parts(volume=volume)[0].state is PartState.FITTED
    assert [line.undo for line in stock.books.treatments(volume)] == ["warm water"]
    with pytest.raises(StockError, match="in the book already"):
        stock.books.mark_fitted([part])
    with pytest.raises(StockError, match="Undo that step first"):
        stock.books.leave_out([part])


def test_a_part_left_out_frees_its_cloth_and_can_be_wanted_again(
    stock: Stockroom, volume: str, cloth: str
) -> None:
    stock.books.plan_parts(volume, [STRIP])
    stock.books.accept_plan([lay(stock, volume, "reback strip", cloth, rectangle(0, 0, 60, 228))])
    part = stock.books.parts(volume=volume)[0].id
    stock.books.leave_out([part])
    assert stock.books.parts(volume=volume)[0].state is PartState.LEFT_OUT
    assert stock.pieces.reservations() == []
    stock.books.want_again([part])
    assert stock.books.parts(volume=volume)[0].state is PartState.WANTED


def test_hours_add_up_over_the_treatment(stock: Stockroom, volume: str, cloth: str) -> None:
    paste = stock.lots.enter(NewAdhesiveLot(kind="wheat-starch-paste", name="Paste")).born[0]
    stock.books.spend_hours(volume, 1.5, "lifting the old cloth")
    stock.books.record_treatment(
        volume,
        NewTreatment(
            what="Lined the spine",
            undo="poultice of methyl cellulose",
            hours=0.75,
            piece=cloth,
            lot=paste,
            amount="10 g",
            override="no other paste at hand",
        ),
    )
    assert stock.books.repair(volume).hours_spent == 2.25
    lifted, lined = stock.books.treatments(volume)
    assert (lifted.what, lifted.hours, lifted.piece) == ("lifting the old cloth", 1.5, None)
    assert (lined.piece, lined.lot, lined.override) == (cloth, paste, "no other paste at hand")
    with pytest.raises(EntryError, match="Hours"):
        stock.books.spend_hours(volume, -1.0, "thinking")
    with pytest.raises(NotFound):
        stock.books.record_treatment(volume, NewTreatment(what="Glued", lot="A-9999"))


def test_a_survey_cannot_be_taken_back_while_its_parts_stand(stock: Stockroom, volume: str) -> None:
    surveyed = stock.ledger.steps(limit=1)[0].number
    stock.books.plan_parts(volume, [STRIP])
    with pytest.raises(UndoRefused, match="Planned the parts"):
        stock.ledger.undo(surveyed)
    stock.ledger.undo()
    stock.ledger.undo()
    with pytest.raises(NotFound):
        stock.books.repair(volume)
