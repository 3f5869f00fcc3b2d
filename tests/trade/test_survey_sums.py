"""What a survey comes to where one side, one end or one choice is meant; and what cannot be so."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.trade import (
    Damage,
    Harm,
    Hollow,
    Mark,
    Reback,
    Role,
    Survey,
    default_allowances,
    hours_for,
    parts_for,
    survey_warnings,
)

IN = 25.4
HOLLOWS = frozenset(
    {Role.HOLLOW_SIMPLE, Role.HOLLOW_THREE, Role.HOLLOW_FOUR, Role.HOLLOW_THREE_AND_HALF}
)


def book(*damage: Damage, **values: object) -> Survey:
    base: dict[str, object] = {
        "spine_width": 30.0,
        "joint": 6.0,
        "board_height": 200.0,
        "board_width": 130.0,
    }
    return Survey(**base | values, damage=damage)


def roles(survey: Survey) -> list[Role]:
    return [part.role for part in parts_for(survey)]


def part(survey: Survey, role: Role):
    return next(one for one in parts_for(survey) if one.role is role)


def test_a_lost_board_is_made_anew_with_its_cloth():
    """By hand: 130 of board, 6 of joint, 8 under the spine cloth, 19.05 turned in; 200 + 38.1."""
    survey = book(Damage(Harm.BOARDS_LOST, 1))
    cloth = part(survey, Role.BOARD_CLOTH)
    assert cloth.count == part(survey, Role.BOARD).count == 1
    assert (cloth.width, cloth.height) == pytest.approx((163.05, 238.1))
    assert cloth.shown_area == pytest.approx((130 + 6) * 200)


def test_the_cloth_of_a_lost_board_stops_at_the_new_spine():
    """By hand, of a reback: 130 board less 3.175 of the strip in view + 19.05 turned in."""
    survey = book(Damage(Harm.BOARDS_LOST, 1), Damage(Harm.SPINE_LOST), old_spine=False)
    cloth = part(survey, Role.BOARD_CLOTH)
    assert cloth.width == pytest.approx(130 - 3.175 + 19.05)
    assert cloth.shown_area == pytest.approx((130 - 3.175) * 200)


def test_a_new_case_has_one_cloth_over_both_boards():
    assert Role.BOARD_CLOTH not in roles(book(Damage(Harm.CASE_LOST), Damage(Harm.BOARDS_LOST)))


def test_endpapers_lost_at_one_end_take_one_folio():
    # Indiana University Libraries, recase: one folio at each end of the book.
    one = part(book(Damage(Harm.ENDPAPER_LOST)), Role.ENDPAPER)
    both = part(book(Damage(Harm.ENDPAPERS_LOST)), Role.ENDPAPER)
    assert (one.count, both.count) == (1, 2)
    assert (one.width, one.height) == (both.width, both.height)
    one_and_both = book(Damage(Harm.ENDPAPER_LOST), Damage(Harm.ENDPAPERS_LOST))
    assert [p.count for p in parts_for(one_and_both) if p.role is Role.ENDPAPER] == [2]


@pytest.mark.parametrize(
    ("hollow", "role"),
    [
        (Hollow.SIMPLE, Role.HOLLOW_SIMPLE),
        (Hollow.THREE, Role.HOLLOW_THREE),
        (Hollow.FOUR, Role.HOLLOW_FOUR),
        (Hollow.THREE_AND_HALF, Role.HOLLOW_THREE_AND_HALF),
        (Hollow.NONE, None),
    ],
)
@pytest.mark.parametrize("harm", [Harm.JOINTS_SPLIT, Harm.SPINE_LOST])
def test_the_hollow_chosen_is_made_for_a_reback_by_itself(hollow, role, harm):
    found = HOLLOWS & set(roles(book(Damage(harm), hollow=hollow, old_spine=False)))
    assert found == (set() if role is None else {role})


def test_a_hollow_is_made_once_where_spine_and_linings_are_both_renewed():
    found = roles(book(Damage(Harm.JOINTS_SPLIT), Damage(Harm.MULL_FAILED)))
    assert found.count(Role.HOLLOW_THREE) == 1


@pytest.mark.parametrize("joint", [2.0, 6.0, 10.0])
def test_tissue_over_a_joint_spans_the_joint_measured(joint):
    # Etherington: about 1/16 in on the spine and on the board; the rest spans the joint.
    tissue = part(book(Damage(Harm.JOINT_TENDER), joint=joint), Role.JOINT_TISSUE)
    assert tissue.width == pytest.approx(joint + 2 * IN / 16)


@pytest.mark.parametrize("joint", [0.0, IN / 16])
def test_tissue_over_a_tight_joint_is_as_wide_as_for_leather(joint):
    # Etherington: about 3/16 in, of tight leather joints, which leaves 1/16 in for the crack.
    tissue = part(book(Damage(Harm.JOINT_TENDER), joint=joint), Role.JOINT_TISSUE)
    assert tissue.width == pytest.approx(3 * IN / 16)


@pytest.mark.parametrize(("joint", "width"), [(1 / 8, 1 / 4), (3 / 16, 5 / 16)])
def test_tissue_over_a_cloth_groove_keeps_to_the_published_widths(joint, width):
    # Smithsonian Libraries, 2014: 1/4 to 5/16 in of heavier paper.
    tissue = part(book(Damage(Harm.JOINT_TENDER), joint=joint * IN), Role.JOINT_TISSUE)
    assert tissue.width == pytest.approx(width * IN)


def test_tissue_over_an_unmeasured_joint_follows_the_joint_allowed():
    tissue = part(book(Damage(Harm.JOINT_TENDER), joint=None), Role.JOINT_TISSUE)
    assert tissue.width == pytest.approx(default_allowances()["joint"].value + 2 * IN / 16)


@given(st.floats(0, 12), st.floats(0, 12))
def test_a_wider_joint_never_takes_narrower_tissue(one, other):
    widths = [
        part(book(Damage(Harm.JOINT_TENDER), joint=j), Role.JOINT_TISSUE).width
        for j in sorted((one, other))
    ]
    assert widths[0] <= widths[1]


def hours(*harms: Harm) -> tuple[float, float]:
    found = hours_for(book(*(Damage(harm) for harm in harms)))
    return found.low, found.high


def test_sewing_again_counts_the_recasing_that_follows_it():
    """Common practice: 3 to 6 of sewing, 4 to 7 of recasing, 0.5 to 1 of record."""
    assert hours(Harm.SEWING_BROKEN) == (7.5, 14)


def test_recasing_is_counted_once_however_many_reasons_it_has():
    once = hours(Harm.SEWING_BROKEN)
    assert hours(Harm.SEWING_BROKEN, Harm.BLOCK_DETACHED, Harm.MULL_FAILED) == once


def test_a_lost_case_and_a_failed_spine_take_longer_than_a_lost_case():
    alone, both = hours(Harm.CASE_LOST), hours(Harm.CASE_LOST, Harm.BLOCK_DETACHED)
    assert alone == (3, 5.5)
    assert both[0] > alone[0]
    assert both[1] > alone[1]
    assert hours(Harm.CASE_LOST, Harm.BLOCK_DETACHED, Harm.WRONG_GLUE) == both


def test_one_board_takes_half_the_hours_of_two():
    one = hours_for(book(Damage(Harm.BOARDS_LOST, 1)))
    two = hours_for(book(Damage(Harm.BOARDS_LOST, 2)))
    boards = [next(line for line in found.lines if "board" in line.words) for found in (one, two)]
    assert boards[1].high == 2 * boards[0].high > 0
    assert boards[0].provenance.mark is Mark.PROPOSED


@pytest.mark.parametrize(
    ("survey", "said"),
    [
        (book(board_height=180.0, leaf_height=216.0), "stand out over boards"),
        (book(board_height=250.0, leaf_height=200.0), "squares"),
        (book(leaf_width=140.0), "stand out over boards"),
        (book(Damage(Harm.SPINE_LOST)), "laid back"),
        (
            book(Damage(Harm.SPINE_LOST), reback=Reback.REMOUNTED, old_spine=False),
            "nothing to remount",
        ),
        (book(Damage(Harm.JOINT_CRACKED, extent=201)), "longer than"),
        (book(Damage(Harm.HEAD_LOST, extent=120), Damage(Harm.TAIL_LOST, extent=90)), "together"),
        (book(Damage(Harm.HOLE, extent=10, across=131)), "wider than"),
        (book(Damage(Harm.CORNERS_BARE, 5, extent=5)), "no more than 4"),
        (book(Damage(Harm.CORNERS_BARE, 2, extent=5), Damage(Harm.CORNERS_BARE, 3, extent=9)), "4"),
        (book(Damage(Harm.BOARDS_LOST, 3)), "no more than 2"),
        (book(Damage(Harm.CORNERS_BARE, extent=70)), "longer than"),
        (book(Damage(Harm.ENDPAPER_LOST), Damage(Harm.ENDPAPERS_LOST)), "untick"),
        (book(Damage(Harm.CASE_LOST), Damage(Harm.CORNERS_BARE, extent=5)), "case"),
    ],
)
def test_what_cannot_be_is_told_with_its_mend(survey, said):
    told = survey_warnings(survey)
    assert [line for line in told if said in line], told
    mends = ("measure", "untick", "give", "count")
    assert all(any(mend in line.lower() for mend in mends) for line in told), told


@pytest.mark.parametrize(
    "survey",
    [
        book(leaf_height=200.0, leaf_width=130.0),
        book(leaf_height=193.65, leaf_width=130.0),
        book(Damage(Harm.SPINE_LOST), old_spine=False),
        book(Damage(Harm.JOINT_CRACKED, 2, extent=200)),
        book(Damage(Harm.HEAD_LOST, extent=100), Damage(Harm.TAIL_LOST, extent=99)),
        book(Damage(Harm.CORNERS_BARE, 4, extent=65)),
    ],
)
def test_what_can_just_be_passes(survey):
    assert survey_warnings(survey) == ()


def test_leaves_that_stand_out_are_named_with_both_figures():
    told = survey_warnings(replace(book(), board_height=180.0, leaf_height=216.0))
    assert "216 mm" in told[0]
    assert "180 mm" in told[0]
