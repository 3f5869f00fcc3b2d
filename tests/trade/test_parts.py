"""Sizes of parts against worked examples from published manuals. Book sizes are for illustration.

Inches in the sources are turned into mm once, here.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.trade import (
    Covering,
    Damage,
    Grain,
    Harm,
    Hollow,
    Mark,
    Reback,
    Role,
    Survey,
    default_allowances,
    parts_for,
    shipped_rules,
    survey_warnings,
)

IN = 25.4
DEFAULTS = default_allowances()


def part(survey, role, **allowances):
    own = {key.replace("_", "-"): value for key, value in allowances.items()}
    plans = parts_for(survey, DEFAULTS.having(own, set_by="this volume"))
    return next(plan for plan in plans if plan.role is role)


def inches(*values):
    return tuple(pytest.approx(value * IN, abs=0.02) for value in values)


def size(plan):
    return plan.width, plan.height


def book(**values):
    base = {"spine_width": 1.25 * IN, "joint": 0.25 * IN, "board_height": 9 * IN}
    return Survey(**base | values)


def test_new_spine_with_the_original_remounted():
    # Dartmouth College Library, Simple Book Repair Manual: inlay board height by exact spine
    # width; cloth 2 in wider and 1 in longer than the inlay.
    survey = book(
        board_height=7.75 * IN, reback=Reback.REMOUNTED, damage=(Damage(Harm.JOINTS_SPLIT),)
    )
    assert size(part(survey, Role.INLAY)) == inches(1.25, 7.75)
    cloth = part(survey, Role.REBACK_REMOUNTED)
    assert size(cloth) == inches(3.25, 8.75)
    # With a joint of 1/4 in and 1/8 in bared, old cloth covers 5/8 in of the new on each side.
    assert cloth.zones[0] == (
        "hidden",
        0.0,
        0.0,
        pytest.approx(0.625 * IN),
        pytest.approx(8.75 * IN),
    )


def test_partial_reback_inside():
    # Indiana University Libraries: old cloth cut 1/8 in from the back edge, lift about 1 in;
    # turn-in ¾ in from memory, the same figure in Vaughn 1912.
    survey = book(spine_width=1.5 * IN, lift=1 * IN, damage=(Damage(Harm.JOINTS_SPLIT),))
    strip = part(
        survey, Role.REBACK_INSIDE, underlap=0.875 * IN, view=0.125 * IN, turn_in=0.75 * IN
    )
    assert size(strip) == inches(4, 10.5)
    assert strip.warnings == ()


@pytest.mark.parametrize(("underlap", "width"), [(0.25, 2.75), (0.375, 3.0)])
def test_partial_reback_inside_with_the_habitual_underlap(underlap, width):
    # A quarter inch to a centimetre on each board: common practice, no source.
    survey = book(spine_width=1.5 * IN, damage=(Damage(Harm.JOINTS_SPLIT),))
    strip = part(survey, Role.REBACK_INSIDE, underlap=underlap * IN, view=0.125 * IN)
    assert strip.width == pytest.approx(width * IN)


def test_partial_reback_outside():
    # Indiana University Libraries: cut ¾ in from the back edge, that cloth removed.
    survey = book(spine_width=1.5 * IN, reback=Reback.OUTSIDE, damage=(Damage(Harm.JOINTS_SPLIT),))
    assert size(part(survey, Role.REBACK_OUTSIDE)) == inches(3.5, 10.5)


def test_super_by_vaughn():
    # Vaughn 1912: turned about 1½ in on to the endpapers; ¼ in short at each end is ours.
    survey = book(leaf_height=7.5 * IN, damage=(Damage(Harm.MULL_FAILED),))
    mull = part(survey, Role.MULL, mull_flange=1.5 * IN, mull_short=0.25 * IN)
    assert size(mull) == inches(4.25, 7)


def test_lining_of_heavy_reference_books():
    # Bailey 1916: stops ½ in from head and tail; laps 2 in and more on each side.
    survey = book(spine_width=2.5 * IN, leaf_height=11 * IN, damage=(Damage(Harm.MULL_FAILED),))
    mull = part(survey, Role.MULL, mull_flange=2 * IN, mull_short=0.5 * IN)
    assert size(mull) == inches(6.5, 10)


def test_flannel_for_recasing():
    # Bailey 1916: canton flannel ¾ in beyond the back on each side.
    survey = book(leaf_height=7.5 * IN, damage=(Damage(Harm.BLOCK_DETACHED),))
    mull = part(survey, Role.MULL, mull_flange=0.75 * IN, mull_short=0.5 * IN)
    assert size(mull) == inches(2.75, 6.5)


def test_jaconet_for_a_loose_joint():
    # Bailey 1916: 1¼ in by the length of the book, half and half.
    survey = book(leaf_height=7.5 * IN, damage=(Damage(Harm.HINGE_BROKEN),))
    assert size(part(survey, Role.HINGE_CLOTH)) == inches(1.25, 7.5)


def test_new_flyleaf():
    # Bailey 1916: as long as the old leaf and ½ in wider, folded.
    survey = book(leaf_height=7.5 * IN, leaf_width=5 * IN, damage=(Damage(Harm.FLYLEAF_LOST),))
    assert size(part(survey, Role.FLYLEAF)) == inches(5.5, 7.5)


def test_full_cloth_case():
    # Vaughn 1912: boards as wide as the leaf and ¼ in longer; ¾ in turn-in all round.
    survey = Survey(
        spine_width=1.25 * IN,
        joint=0.125 * IN,
        leaf_height=7.5 * IN,
        leaf_width=5 * IN,
        damage=(Damage(Harm.CASE_LOST),),
    )
    assert size(part(survey, Role.BOARD)) == inches(5, 7.75)
    assert size(part(survey, Role.CASE_CLOTH)) == inches(13, 9.25)


# Vaughn 1912: a case has a front board and a back board; common practice too.
def test_a_case_has_two_boards_and_a_volume_wants_those_it_lost():
    case = book(leaf_height=7.5 * IN, leaf_width=5 * IN, damage=(Damage(Harm.CASE_LOST),))
    assert part(case, Role.BOARD).count == 2
    for lost in (1, 2):
        survey = book(leaf_width=5 * IN, damage=(Damage(Harm.BOARDS_LOST, lost),))
        assert part(survey, Role.BOARD).count == lost


def test_half_cloth_recover():
    # Vaughn 1912: boards 3/8 in longer than the book; back cloth 1½ in longer than the boards;
    # side paper 7/8 in wider than the bare board.
    survey = book(
        board_height=None,
        leaf_height=7.5 * IN,
        leaf_width=5 * IN,
        covering=Covering.QUARTER,
        damage=(Damage(Harm.CASE_LOST),),
    )
    own = {"square": 0.1875 * IN, "set_off": 0.1875 * IN, "quarter_view": 1 * IN}
    assert size(part(survey, Role.BOARD, **own)) == inches(5, 7.875)
    assert part(survey, Role.QUARTER_BACK, **own).height == pytest.approx(9.375 * IN)
    assert size(part(survey, Role.SIDE, **own)) == inches(4.875, 9.375)


@pytest.mark.parametrize(
    ("turn_in", "height", "whole"),
    [(10, 250, (350, 250)), (12.5, 255, None), (15, 260, (360, 260))],
)
def test_quarter_and_whole_cloth_by_adam(turn_in, height, whole):
    # Adam, Practical Bookbinding: back cloth 2 to 2.5 cm longer and about 4 cm wider than the
    # inlay; whole cloth 1 to 1.5 cm larger all round. Joints are taken within the 30 mm.
    dims = {"spine_width": 30, "joint": 0, "board_height": 230, "board_width": 150}
    quarter = Survey(**dims, covering=Covering.QUARTER, damage=(Damage(Harm.CASE_LOST),))
    assert size(part(quarter, Role.QUARTER_BACK, turn_in=turn_in)) == (70, height)
    if whole:
        full = Survey(**dims, damage=(Damage(Harm.CASE_LOST),))
        assert size(part(full, Role.CASE_CLOTH, turn_in=turn_in)) == whole


@pytest.mark.parametrize(("turn_in", "height"), [(0.625, 10.25), (0.5, 10)])
def test_turn_in_of_library_and_edition_work(turn_in, height):
    # Roberts and Etherington 1982: library 5/8 in; edition seldom over ½ in.
    survey = book(board_width=6 * IN, damage=(Damage(Harm.CASE_LOST),))
    assert part(survey, Role.CASE_CLOTH, turn_in=turn_in * IN).height == pytest.approx(height * IN)


def test_bound_height_comes_back_to_the_untrimmed_sheet():
    # Roberts and Etherington 1982: 1/8 in off head and tail, 1/8 in squares; royal octavo 10 in.
    trimmed = (10 - 2 * 0.125) * IN
    survey = book(
        board_height=None,
        leaf_height=trimmed,
        leaf_width=6 * IN,
        damage=(Damage(Harm.BOARDS_LOST),),
    )
    assert part(survey, Role.BOARD).height == pytest.approx(10 * IN)


@pytest.mark.parametrize(
    ("hollow", "role", "width"),
    [
        (Hollow.SIMPLE, Role.HOLLOW_SIMPLE, 64),
        (Hollow.THREE, Role.HOLLOW_THREE, 96),
        (Hollow.FOUR, Role.HOLLOW_FOUR, 128),
        (Hollow.THREE_AND_HALF, Role.HOLLOW_THREE_AND_HALF, 112),
    ],
)
def test_hollow_tubes(hollow, role, width):
    # Ligatus 1392; Roberts and Etherington 1982; Cornell 1986: widths of the spine, board height.
    survey = Survey(
        spine_width=32,
        joint=6,
        board_height=197,
        hollow=hollow,
        damage=(Damage(Harm.MULL_FAILED),),
    )
    assert size(part(survey, role, hollow_ease=0)) == (width, 197)


def test_lining_cloth_by_cornell():
    # Cornell University Library 1986: about 2.5 cm on each side.
    survey = Survey(spine_width=32, joint=6, board_height=197, damage=(Damage(Harm.MULL_FAILED),))
    assert part(survey, Role.MULL, mull_flange=25).width == 82


def test_tissue_over_a_tender_joint():
    # Etherington, Guild of Book Workers: about 3/16 in wide and 1 in longer than the boards, with
    # about 1/16 in on the spine and on the board: a tight joint of 1/16 in.
    survey = book(joint=IN / 16, damage=(Damage(Harm.JOINT_TENDER, 2),))
    tissue = part(survey, Role.JOINT_TISSUE)
    assert size(tissue) == inches(0.1875, 10)
    assert tissue.count == 2


def test_squares_of_three_millimetres():
    # Indiana University Libraries, reback inside: 3 mm on three sides.
    survey = Survey(
        spine_width=30, joint=6, leaf_height=190, leaf_width=127, damage=(Damage(Harm.BOARDS_LOST),)
    )
    assert part(survey, Role.BOARD, square=3).height == 196


@pytest.mark.parametrize(("height", "tapes"), [(8, 3), (8.1, 4), (12, 4), (12.1, 5)])
def test_tapes_and_lining_by_specification(height, tapes):
    # Bailey 1916: tapes and lining 1¼ in and more each side; 3 tapes to an 8-inch book, 4 to 12.
    survey = book(leaf_height=height * IN, damage=(Damage(Harm.SEWING_BROKEN),))
    tape = part(survey, Role.SEWING_TAPE)
    assert tape.width == pytest.approx(3.75 * IN)
    assert tape.count == tapes
    assert part(survey, Role.MULL, mull_flange=1.25 * IN).width == pytest.approx(3.75 * IN)


def test_a_strip_under_the_old_spine_is_seen_only_at_joints_caps_and_loss():
    survey = Survey(
        spine_width=30,
        joint=6,
        board_height=200,
        damage=(Damage(Harm.JOINTS_SPLIT), Damage(Harm.HEAD_LOST, extent=12)),
    )
    strip = part(survey, Role.REBACK_INSIDE, underlap=8, view=3, turn_in=19, cap_view=3)
    shown = [zone[1:] for zone in strip.zones if zone[0] == "shown"]
    assert shown == [
        (8, 19, 17, 219),
        (17, 19, 47, 22),
        (17, 207, 47, 219),
        (47, 19, 56, 219),
    ]
    assert not [p for p in parts_for(survey) if p.role is Role.HEAD_PIECE]


def test_without_the_old_spine_all_between_the_underlaps_is_seen():
    survey = Survey(spine_width=30, joint=6, board_height=200, damage=(Damage(Harm.SPINE_LOST),))
    strip = part(survey, Role.REBACK_INSIDE, underlap=8, view=3)
    assert strip.shown_area == pytest.approx((30 + 2 * 9) * 200)


def test_a_head_piece_shows_only_what_was_lost():
    survey = Survey(
        spine_width=30, joint=6, board_height=200, damage=(Damage(Harm.HEAD_LOST, extent=10),)
    )
    piece = part(survey, Role.HEAD_PIECE, underlap=8, cap_hold=13, turn_in=19)
    assert size(piece) == (58, 42)
    assert [z[1:] for z in piece.zones if z[0] == "shown"] == [(8, 13, 50, 23)]


def test_a_tail_piece_is_the_head_piece_turned_over():
    survey = Survey(
        spine_width=30, joint=6, board_height=200, damage=(Damage(Harm.TAIL_LOST, extent=10),)
    )
    piece = part(survey, Role.TAIL_PIECE, underlap=8, cap_hold=13, turn_in=19)
    assert [z[1:] for z in piece.zones if z[0] == "shown"] == [(8, 19, 50, 29)]


def test_a_corner_patch_shows_only_its_tip():
    survey = book(board_thickness=2, damage=(Damage(Harm.CORNERS_BARE, 4, extent=6),))
    patch = part(survey, Role.CORNER_PATCH, corner_hold=10, corner_turn_in=13)
    assert size(patch) == (31, 31)
    assert patch.count == 4
    assert patch.shown_area == pytest.approx(36)


def test_a_corner_cut_as_a_triangle_takes_what_is_turned_in_twice():
    """By hand: 12 worn, 10 of hold, 13 turned in over 2.5 of board: 12 + 10 + 2 × 15.5 = 53."""
    survey = book(board_thickness=2.5, damage=(Damage(Harm.CORNERS_BARE, 4, extent=12),))
    patch = part(survey, Role.CORNER_TRIANGLE, corner_hold=10, corner_turn_in=13, corner_cut=1)
    assert size(patch) == (53, 53)
    assert patch.count == 4
    assert patch.shown_area == pytest.approx(144)
    for told in (patch.note, patch.rule):
        assert "right-angled triangle" in told
        assert "square" not in told


def test_cloth_runs_with_the_spine_and_a_tear_any_way():
    survey = book(damage=(Damage(Harm.JOINTS_SPLIT), Damage(Harm.LEAF_TORN, extent=30)))
    assert part(survey, Role.REBACK_INSIDE).turns == (0, 180)
    assert part(survey, Role.LEAF_TEAR).grain is Grain.EITHER


def test_a_size_is_an_estimate_until_the_linings_are_on():
    before = book(rise=5, damage=(Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED)))
    after = book(
        rise=5, over_linings=True, damage=(Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED))
    )
    assert part(before, Role.REBACK_INSIDE).estimated
    assert not part(after, Role.REBACK_INSIDE).estimated
    assert part(before, Role.REBACK_INSIDE).width > part(after, Role.REBACK_INSIDE).width


@pytest.mark.parametrize(("width", "rise", "angle"), [(40, 20, math.pi), (40, 0, 0.0)])
def test_new_linings_lengthen_the_back_by_its_angle_times_their_thickness(width, rise, angle):
    """Elementary geometry: arcs of one centre, radius r and r + t, differ by the angle times t.

    A half-round back turns through half a circle, π; a flat back through nothing.
    """
    damage = (Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED))
    before = book(spine_width=width, rise=rise, damage=damage)
    after = book(spine_width=width, rise=rise, damage=damage, over_linings=True)
    thickness = DEFAULTS["lining-thickness"].value
    assert thickness > 0
    grown = part(before, Role.REBACK_INSIDE).width - part(after, Role.REBACK_INSIDE).width
    assert grown == pytest.approx(angle * thickness)


def test_every_term_of_a_sum_carries_its_mark_and_source():
    strip = part(book(rise=4, damage=(Damage(Harm.SPINE_LOST),)), Role.REBACK_INSIDE)
    marks = {term.symbol: term.provenance.mark for term in strip.width_sum.terms}
    assert marks == {
        "A": Mark.COMPUTED,
        "J": Mark.MEASURED,
        "V": Mark.PUBLISHED,
        "U": Mark.COMMON,
    }
    assert any("Indiana University" in line for line in strip.width_sum.lines)


def test_a_sum_reads_as_it_is_reckoned():
    survey = Survey(spine_width=34, joint=6, board_height=222, damage=(Damage(Harm.SPINE_LOST),))
    strip = part(survey, Role.REBACK_INSIDE, underlap=8, view=3, turn_in=19)
    assert strip.width_sum.text == "A 34 + 2 × J 6 + 2 × V 3 + 2 × U 8 = 68 mm"
    assert strip.height_sum.text == "H 222 + 2 × N 19 = 260 mm"


def test_an_allowance_set_for_one_volume_says_so():
    changed = DEFAULTS.having({"underlap": 10}, set_by="this set").having(
        {"underlap": 12}, set_by="this volume"
    )
    assert (changed["underlap"].value, changed["underlap"].set_by) == (12, "this volume")
    assert "this volume" in changed["underlap"].provenance.words
    assert DEFAULTS["underlap"].set_by == "default"


@pytest.mark.parametrize(
    ("survey_values", "allowances", "said"),
    [
        ({"lift": 6}, {"underlap": 8}, "further than the old cloth lifts"),
        ({}, {"turn_in": 9.9}, "short"),
    ],
)
def test_a_strip_that_will_not_hold_warns(survey_values, allowances, said):
    survey = book(damage=(Damage(Harm.JOINTS_SPLIT),), **survey_values)
    assert any(said in w for w in part(survey, Role.REBACK_INSIDE, **allowances).warnings)


def test_a_turn_in_of_ten_does_not_warn():
    survey = book(damage=(Damage(Harm.JOINTS_SPLIT),))
    assert part(survey, Role.REBACK_INSIDE, turn_in=10).warnings == ()


@pytest.mark.parametrize(
    ("arc", "said"), [(29, "shorter"), (35.2, "measure again"), (34.5, None), (None, None)]
)
def test_gauge_and_geometry_are_compared(arc, said):
    # 32 mm chord, 5 mm rise: 34.0 mm; a gap of over 1 mm warns.
    survey = Survey(spine_width=32, rise=5, joint=6, board_height=200, arc=arc)
    told = survey_warnings(survey)
    assert bool(told) is (said is not None)
    assert said is None or said in told[0]


def test_an_allowance_outside_its_range_is_told():
    changed = DEFAULTS.having({"underlap": 40}, set_by="this set")
    told = survey_warnings(Survey(spine_width=32, joint=6, board_height=200), changed)
    assert "usual 6 to 25.4" in told[0]


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"spine_width": 0}, "Spine width"),
        ({"joint": -1}, "Joint"),
        ({"board_height": float("nan")}, "Board height"),
        ({"rise": 20}, "Rise"),
        ({"board_height": None}, "Height"),
    ],
)
def test_measurements_that_cannot_be_are_named(values, named):
    with pytest.raises(EntryError, match=named):
        parts_for(book(damage=(Damage(Harm.SPINE_LOST),), **values))


@pytest.mark.parametrize(
    ("harm", "rest"),
    [(Harm.HEAD_LOST, {}), (Harm.HOLE, {"extent": 5}), (Harm.CORNERS_BARE, {"count": 0})],
)
def test_a_tick_that_says_too_little_is_refused(harm, rest):
    with pytest.raises(EntryError, match=harm.value):
        Damage(harm, **rest)


def test_an_unknown_allowance_is_named():
    with pytest.raises(EntryError, match="overlap"):
        DEFAULTS.having({"overlap": 3}, set_by="this set")


@pytest.mark.parametrize("value", [-1, 501, float("nan")])
def test_an_allowance_that_cannot_be_is_refused(value):
    with pytest.raises(EntryError, match="underlap"):
        DEFAULTS.having({"underlap": value}, set_by="this set")


def test_allowances_that_leave_nothing_to_cut_are_refused():
    survey = book(damage=(Damage(Harm.PASTEDOWN_LIFTED, extent=2, across=2),))
    with pytest.raises(EntryError, match="nothing is left"):
        parts_for(survey)


def test_flyleaves_want_a_leaf_or_a_board_measured():
    with pytest.raises(EntryError, match="Leaf width"):
        parts_for(book(damage=(Damage(Harm.FLYLEAF_LOST),)))


def _ticks():
    return st.builds(
        Damage,
        st.sampled_from(list(Harm)),
        st.integers(1, 4),
        extent=st.floats(5, 40),
        across=st.floats(5, 40),
    )


def measured(least, greatest):
    """A length as it is measured: to the micrometre."""
    return st.floats(least, greatest).map(lambda mm: round(mm, 3))


surveys = st.builds(
    Survey,
    spine_width=st.floats(8, 90),
    rise=measured(0, 4),
    joint=measured(0, 10),
    board_height=st.floats(100, 450),
    board_width=st.floats(70, 300),
    damage=st.lists(_ticks(), max_size=6).map(tuple),
    old_spine=st.booleans(),
    reback=st.sampled_from(list(Reback)),
    hollow=st.sampled_from(list(Hollow)),
    covering=st.sampled_from(list(Covering)),
)


@given(surveys)
def test_zones_tile_every_part_exactly(survey):
    for plan in parts_for(survey):
        area = sum((r - a) * (h - b) for _, a, b, r, h in plan.zones)
        assert area == pytest.approx(plan.width * plan.height, rel=1e-9)
        for _, left, low, right, high in plan.zones:
            assert -1e-9 <= left < right <= plan.width + 1e-6
            assert -1e-9 <= low < high <= plan.height + 1e-6


@given(surveys)
def test_a_thicker_underlap_never_narrows_a_part(survey):
    more = DEFAULTS.having({"underlap": 15}, set_by="this volume")
    for plain, wide in zip(parts_for(survey), parts_for(survey, more), strict=True):
        assert wide.width >= plain.width - 1e-9


def test_every_role_can_be_planned():
    planned = set()
    for harm in Harm:
        tick = (Damage(harm, extent=20, across=20),)
        for reback in Reback:
            for hollow in Hollow:
                for covering in Covering:
                    survey = Survey(
                        spine_width=30,
                        joint=6,
                        board_height=200,
                        board_width=130,
                        damage=tick,
                        reback=reback,
                        hollow=hollow,
                        covering=covering,
                    )
                    planned |= {plan.role for plan in parts_for(survey)}
    triangles = DEFAULTS.having({"corner-cut": 1}, set_by="all work")
    bare = book(damage=(Damage(Harm.CORNERS_BARE, extent=6),))
    planned |= {plan.role for plan in parts_for(bare, triangles)}
    assert planned == set(Role)


def test_the_rules_describe_every_role():
    assert set(shipped_rules().parts) == {role.value for role in Role}


def test_suggested_adhesives_fit_the_work():
    rules = shipped_rules()
    for rule in rules.parts.values():
        assert all(key in rules.adhesives for key in rule.adhesives)


def test_an_unmeasured_joint_takes_the_quarter_inch_of_the_manuals():
    # Dana, A Library Primer: a quarter of an inch.
    survey = Survey(spine_width=30, board_height=200, damage=(Damage(Harm.SPINE_LOST),))
    joint = part(survey, Role.REBACK_INSIDE).width_sum.terms[1]
    assert (joint.symbol, joint.total) == ("J", pytest.approx(0.5 * IN))
    assert joint.provenance.mark is Mark.PUBLISHED
