"""Ranking: only what truly fits is offered, closest first, and the rest says what it lacks."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from bindery_stock.colour import ReadBy, delta_e00
from bindery_stock.errors import ColourError, EntryError, ShapeError
from bindery_stock.matching import ANOTHER_COLOUR, Face, Hoard, Part, Piece, rank
from bindery_stock.shape import Flaw, FlawKind, Outline, Placement, place
from bindery_stock.trade.vocabulary import Kind
from tests.matching.hoards import GREEN, RED, box, hoards, sheet


def codes(ranking) -> list[str]:
    return [match.code for match in ranking.matches]


def test_the_closest_colour_that_is_large_enough_comes_first():
    near = sheet("C-0001", 60, 250, (39, 42, 24))
    nearer_but_small = sheet("C-0002", 60, 200, RED)
    far = sheet("C-0003", 300, 300, (50, 42, 24))
    ranking = rank(Part(57, 228, RED), [far, nearer_but_small, near])
    assert codes(ranking) == ["C-0001", "C-0003"]
    assert ranking.near_misses[0].code == "C-0002"
    assert "28" in ranking.near_misses[0].lack
    assert "warp" in ranking.near_misses[0].lack


def test_a_strip_cut_across_the_warp_is_not_offered():
    lying = sheet("C-0001", 250, 60)
    assert codes(rank(Part(57, 228, RED), [lying])) == []
    assert codes(rank(Part(57, 228, RED, turns=(0, 90)), [lying])) == ["C-0001"]


def test_a_near_miss_says_that_it_is_long_enough_only_across_the_warp():
    (miss,) = rank(Part(57, 228, RED), [sheet("C-0001", 250, 60)]).near_misses
    assert "across the warp" in miss.lack


@pytest.mark.parametrize("pattern", ["rib", "diagonal rib", "moiré"])
def test_a_shown_strip_is_not_turned_a_quarter_in_cloth_with_lines(pattern):
    lying = sheet("C-0001", 250, 60, pattern=pattern)
    part = Part(57, 228, RED, turns=(0, 90))
    ranking = rank(part, [lying])
    assert codes(ranking) == []
    hidden = Part(57, 228, RED, turns=(0, 90), shown=False)
    assert codes(rank(hidden, [lying])) == ["C-0001"]


def test_a_triangle_keeps_to_the_hand_it_was_asked_for_in_cloth_with_lines():
    """A quarter turned, an even-legged one fits the opposite corner and not its own."""
    asked = Part(40, 40, RED, turns=(0, 90, 180, 270), triangular=True)
    assert asked.turns_in("rib") == (0, 180)
    assert asked.turns_in("calico") == (0, 90, 180, 270)
    assert Part(40, 40, RED, turns=(90, 270), triangular=True).turns_in("rib") == (90, 270)
    assert Part(40, 30, RED, turns=(90, 270), triangular=True).turns_in("rib") == ()


@settings(max_examples=40, deadline=None)
@given(
    hoards(),
    st.floats(8, 90),
    st.floats(20, 160),
    st.sampled_from([(0, 180), (0, 90), (30,), (90,)]),
    st.sampled_from([0.0, 2.5]),
)
def test_ranking_agrees_with_trying_every_piece(pieces, width, height, turns, margin):
    part = Part(width, height, RED, turns=turns, margin=margin)
    standing = [
        (float(delta_e00(RED, [piece.lab])[0]), piece.code)
        for piece in pieces
        if place(piece.outline, width, height, turns=turns, margin=margin, flaws=piece.flaws)
    ]
    expected = [code for delta_e, code in sorted(standing) if delta_e <= ANOTHER_COLOUR]
    assert codes(rank(part, pieces)) == expected
    for few in (1, 3):
        assert codes(rank(part, pieces, limit=few)) == expected[:few]


@settings(max_examples=40, deadline=None)
@given(hoards(), st.floats(8, 90), st.floats(20, 160), st.floats(0, 6))
def test_every_placement_lies_in_the_cloth_and_keeps_its_margin(pieces, width, height, margin):
    for match in rank(Part(width, height, RED, margin=margin), pieces).matches:
        free = match.piece.outline.polygon
        for flaw in match.piece.flaws:
            free = free.difference(flaw.polygon)
        drawn = Polygon(match.placement.corners)
        assert shapely.covers(shapely.buffer(free, 2e-6), drawn)
        assert shapely.distance(free.boundary, drawn) >= margin - 2e-6
        assert drawn.area == pytest.approx(width * height)


@settings(max_examples=25, deadline=None)
@given(hoards(), st.floats(8, 60), st.floats(20, 120), st.sampled_from([(0, 180), (90,), (0, 90)]))
def test_a_known_usable_rectangle_changes_no_answer(pieces, width, height, turns):
    part = Part(width, height, RED, turns=turns, margin=1.0)
    knowing = [Piece(p.code, p.outline, p.lab, flaws=p.flaws, usable=usable(p)) for p in pieces]
    with_it, without = rank(part, knowing), rank(part, pieces)
    assert codes(with_it) == codes(without)
    for match in with_it.matches:
        free = match.piece.outline.polygon
        for flaw in match.piece.flaws:
            free = free.difference(flaw.polygon)
        assert shapely.covers(shapely.buffer(free, 2e-6), match.placement.polygon)


def usable(piece: Piece) -> Placement | None:
    """A free rectangle of the piece, half as high again as wide, as large as halving finds."""
    found, width = None, piece.outline.width
    while found is None and width > 1:
        found = place(piece.outline, width, 1.5 * width, flaws=piece.flaws)
        width *= 0.9
    return found


def test_a_usable_rectangle_that_no_longer_holds_offers_no_false_fit():
    whole = usable(sheet("", 100, 100))
    shrunk = sheet("C-0001", 40, 40, usable=whole)
    assert codes(rank(Part(60, 60, RED), [shrunk])) == []


def test_ranking_goes_on_beyond_the_close_colours_until_enough_stand():
    small = [sheet(f"C-{n:04}", 59, 230, RED, flaws=(_stain(30, 115),)) for n in range(30)]
    far = [sheet(f"D-{n:04}", 80, 260, GREEN) for n in range(5)]
    ranking = rank(Part(57, 228, RED, tolerance=100), small + far, limit=3)
    assert codes(ranking) == ["D-0000", "D-0001", "D-0002"]
    assert all("stain" in miss.lack for miss in ranking.near_misses)


def _stain(x: float, y: float) -> Flaw:
    return Flaw(FlawKind.STAIN, box(x, y, 5, 5))


def test_a_piece_beyond_the_tolerance_is_a_near_miss_that_says_so():
    ranking = rank(Part(57, 228, RED, tolerance=3), [sheet("C-0001", 99, 299, GREEN)])
    assert codes(ranking) == []
    (miss,) = ranking.near_misses
    assert miss.delta_e == pytest.approx(float(delta_e00(RED, [GREEN])[0]))
    assert "ΔE00" in miss.lack
    assert "3" in miss.lack
    assert "too" not in miss.lack  # its size would do


def test_a_piece_of_another_colour_does_not_serve_a_part_that_is_seen():
    green = sheet("C-0001", 99, 299, GREEN)
    ranking = rank(Part(57, 228, RED), [green])
    assert codes(ranking) == []
    (miss,) = ranking.near_misses
    assert miss.lack.startswith("another colour: ΔE00 ")
    assert "beyond 20" in miss.lack
    assert codes(rank(Part(57, 228, RED, tolerance=100), [green])) == ["C-0001"]
    assert codes(rank(Part(57, 228, None), [green])) == ["C-0001"]


def test_a_hidden_part_takes_any_shade():
    green = sheet("C-0001", 99, 299, GREEN)
    assert codes(rank(Part(57, 228, RED, shown=False), [green])) == ["C-0001"]


def test_a_piece_of_the_wrong_shade_and_size_says_both():
    ranking = rank(Part(57, 228, RED, tolerance=3), [sheet("C-0001", 99, 200, GREEN)])
    lack = ranking.near_misses[0].lack
    assert "ΔE00" in lack
    assert "28 mm too short along the warp" in lack


def test_a_part_larger_than_anything_leaves_near_misses_that_each_say_what_they_lack():
    pieces = [sheet(f"C-{n:04}", 50 + n, 200) for n in range(6)]
    ranking = rank(Part(5000, 9000, RED), pieces)
    assert codes(ranking) == []
    assert len(ranking.near_misses) == 6
    assert all("mm too" in miss.lack for miss in ranking.near_misses)


def test_a_hidden_lining_takes_the_poorest_cloth_that_will_do():
    good = sheet("C-0001", 400, 400, RED)
    poor = sheet("C-0002", 60, 240, GREEN)
    useless = sheet("C-0003", 20, 240, GREEN)
    assert codes(rank(Part(57, 228, RED, shown=False), [good, poor, useless])) == [
        "C-0002",
        "C-0001",
    ]
    shown = Part(57, 228, RED, tolerance=100)
    assert codes(rank(shown, [good, poor])) == ["C-0001", "C-0002"]


def test_mull_needs_no_colour():
    ranking = rank(Part(57, 228, None), [sheet("M-0001", 60, 240, None)])
    assert codes(ranking) == ["M-0001"]
    assert ranking.matches[0].delta_e is None
    assert ranking.matches[0].words == ""


def test_cloth_whose_colour_was_never_measured_is_a_near_miss():
    (miss,) = rank(Part(57, 228, RED), [sheet("C-0001", 60, 240, None)]).near_misses
    assert miss.delta_e is None
    assert "colour has not been measured" in miss.lack


def test_paper_is_not_offered_where_cloth_is_asked():
    cloth = sheet("C-0001", 60, 240, GREEN, kind=Kind.CLOTH)
    paper = sheet("P-0001", 60, 240, RED, kind=Kind.PAPER)
    ranking = rank(Part(57, 228, RED, kind=Kind.CLOTH, tolerance=100), [paper, cloth])
    assert codes(ranking) == ["C-0001"]
    assert ranking.near_misses == ()


def test_only_the_grain_pattern_asked_for_is_offered():
    rib, calico = (sheet(code, 60, 240, pattern=code) for code in ("rib", "calico"))
    assert codes(rank(Part(57, 228, RED, pattern="rib"), [calico, rib])) == ["rib"]


def test_the_best_face_is_matched_and_named():
    faded = sheet(
        "C-0001",
        60,
        240,
        (60, 20, 15),
        u=1.0,
        faces=(Face("reverse", GREEN), Face("sheltered", RED, 3.0)),
    )
    (match,) = rank(Part(57, 228, RED, u=4.0), [faded]).matches
    assert match.face == "sheltered"
    assert match.delta_e == pytest.approx(0.0, abs=1e-6)
    assert match.u == pytest.approx(5.0)


def test_the_uncertainty_of_a_match_is_unknown_where_the_reading_has_none():
    (match,) = rank(Part(57, 228, RED, u=4.0), [sheet("C-0001", 60, 240)]).matches
    assert match.u is None


def test_candidates_whose_bands_overlap_are_a_tie():
    shades = [(38, 42, 24), (39, 42, 24), (52, 42, 24), (53, 42, 24), (80, 42, 24)]
    pieces = [sheet(f"C-{n}", 60, 240, lab, u=1.0) for n, lab in enumerate(shades)]
    ties = rank(Part(57, 228, RED, tolerance=100), pieces).ties()
    assert [[match.code for match in tie] for tie in ties] == [
        ["C-0", "C-1"],
        ["C-2", "C-3"],
        ["C-4"],
    ]


def test_red_and_tan_read_by_a_card_are_no_tie():
    """24.7 apart: their bands of 14 overlap, yet no card errs so far one way and the other."""
    tan = (60.0, 12.0, 27.0)
    red, other = (
        sheet(code, 60, 240, lab, u=14.0, read_by=ReadBy.CARD)
        for code, lab in (("C-0001", (39, 42, 24)), ("C-0002", tan))
    )
    assert float(delta_e00(RED, [tan])[0]) > 24
    part = Part(57, 228, RED, u=14.0, read_by=ReadBy.CARD, tolerance=100)
    first, second = rank(part, [red, other]).matches
    assert first.band[1] > second.band[0]
    assert first.tie != second.tie


def test_the_closest_six_by_a_target_tie_as_far_as_targets_can_be_wrong():
    """Across cameras the truly closest is within best + 3.5 + 0.6 · best: own measurement."""
    greys = [(40.0 + n, 0.0, 0.0) for n in range(2, 8)]
    pieces = [
        sheet(f"C-{n}", 60, 240, lab, u=6.0, read_by=ReadBy.TARGET) for n, lab in enumerate(greys)
    ]
    part = Part(57, 228, (40.0, 0.0, 0.0), u=6.0, read_by=ReadBy.TARGET)
    ranking = rank(part, pieces)
    best = ranking.matches[0].delta_e
    held = [match.code for match in ranking.matches if match.delta_e <= 1.6 * best + 3.5]
    assert [match.code for match in ranking.matches if match.tie == 0] == held
    assert 2 < len(held) < 6


def test_cloth_that_was_only_seen_stands_after_all_that_was_measured_and_in_its_family_alone():
    seen = {"u": None, "read_by": ReadBy.SEEN}
    pieces = [
        sheet("C-0001", 60, 240, RED, **seen),
        sheet("C-0002", 60, 240, GREEN, **seen),
        sheet("C-0003", 60, 240, (44, 40, 20), u=6.0, read_by=ReadBy.TARGET),
        sheet("C-0004", 60, 240, GREEN, family="red", **seen),
    ]
    ranking = rank(Part(57, 228, RED, u=6.0, read_by=ReadBy.TARGET), pieces)
    assert codes(ranking) == ["C-0003", "C-0001", "C-0004"]
    for match in ranking.matches[1:]:
        assert (match.delta_e, match.u, match.band) == (None, None, None)
        assert match.is_seen
        assert match.words == "seen, not measured"
    assert [[match.code for match in tie] for tie in ranking.ties()] == [
        ["C-0003"],
        ["C-0001", "C-0004"],
    ]
    assert [miss.code for miss in ranking.near_misses] == ["C-0002"]
    assert ranking.near_misses[0].delta_e is None


def test_a_book_that_was_only_seen_has_no_figures_and_offers_its_colour_family():
    pieces = [
        sheet("C-0001", 60, 240, GREEN, u=6.0, read_by=ReadBy.TARGET),
        sheet("C-0002", 60, 240, (44, 40, 20), u=6.0, read_by=ReadBy.TARGET),
        sheet("C-0003", 60, 240, RED, u=6.0, read_by=ReadBy.TARGET),
    ]
    ranking = rank(Part(57, 228, RED, read_by=ReadBy.SEEN), pieces)
    assert codes(ranking) == ["C-0002", "C-0003"], "in the order given: nothing ranks them"
    assert [match.delta_e for match in ranking.matches] == [None, None]
    assert len(ranking.ties()) == 1


def test_a_hidden_part_takes_any_cloth_that_was_only_seen():
    green = sheet("C-0001", 60, 240, GREEN, read_by=ReadBy.SEEN)
    assert codes(rank(Part(57, 228, RED, shown=False), [green])) == ["C-0001"]


def test_a_measured_sheltered_face_speaks_for_cloth_whose_shown_face_was_only_seen():
    piece = sheet(
        "C-0001",
        60,
        240,
        RED,
        read_by=ReadBy.SEEN,
        faces=(Face("sheltered", (39, 42, 24), 6.0, ReadBy.TARGET),),
    )
    (match,) = rank(Part(57, 228, RED), [piece]).matches
    assert (match.face, match.is_seen, match.read_by) == ("sheltered", False, ReadBy.TARGET)


def test_what_is_left_is_the_rest_of_the_sheet():
    (match,) = rank(Part(60, 240, RED), [sheet("C-0001", 100, 240)]).matches
    assert match.left.area == pytest.approx(40 * 240)
    assert (match.left.width, match.left.height) == pytest.approx((40, 240), abs=0.01)


def test_a_tight_fit_is_offered_and_told():
    (match,) = rank(Part(57, 228, RED, margin=1.5), [sheet("C-0001", 60, 231)]).matches
    assert match.placement.tight


def test_ranking_stops_when_asked_and_says_so():
    pieces = [sheet(f"C-{n:04}", 60, 240) for n in range(50)]
    told: list[tuple[int, int]] = []
    ranking = rank(
        Part(57, 228, RED),
        pieces,
        stop=lambda: len(told) >= 4,
        progress=lambda stood, wanted: told.append((stood, wanted)),
    )
    assert ranking.stopped
    assert told == [(1, 20), (2, 20), (3, 20), (4, 20)]
    assert len(ranking.matches) == 4


def test_an_empty_shelf_offers_nothing():
    ranking = rank(Part(57, 228, RED), [])
    assert ranking.matches == ()
    assert ranking.near_misses == ()


def test_a_hoard_kept_between_rankings_answers_as_its_pieces_do():
    pieces = [sheet(f"C-{n:04}", 50 + n, 240, (30 + n, 40, 24)) for n in range(20)]
    kept = Hoard.of(pieces)
    for width in (50, 57, 64):
        part = Part(width, 228, RED)
        assert codes(rank(part, kept)) == codes(rank(part, pieces))


@pytest.mark.parametrize("size", [0, -1, math.nan, math.inf])
def test_a_part_without_size_is_refused(size):
    with pytest.raises(ShapeError, match="width"):
        Part(size, 228, RED)
    with pytest.raises(ShapeError, match="height"):
        Part(57, size, RED)


@pytest.mark.parametrize("lab", [(101, 0, 0), (50, 400, 0), (50, 0, math.nan), (-1, 0, 0)])
def test_a_colour_out_of_range_is_refused(lab):
    with pytest.raises(ColourError):
        Part(57, 228, lab)
    with pytest.raises(ColourError):
        sheet("C-0001", 60, 240, lab)


def test_senseless_margins_turns_tolerances_and_limits_are_refused():
    with pytest.raises(ShapeError, match="margin"):
        Part(57, 228, RED, margin=-1)
    with pytest.raises(ShapeError, match="turn"):
        Part(57, 228, RED, turns=())
    with pytest.raises(ColourError, match="tolerance"):
        Part(57, 228, RED, tolerance=-0.1)
    with pytest.raises(EntryError):
        rank(Part(57, 228, RED), [], limit=0)


def test_the_order_of_equals_is_the_order_given():
    pieces = [sheet(code, 60, 240) for code in ("C-0003", "C-0001", "C-0002")]
    assert codes(rank(Part(57, 228, RED), pieces)) == ["C-0003", "C-0001", "C-0002"]


def test_a_cheap_refusal_never_refuses_what_fits():
    rng = np.random.default_rng(5)
    for _ in range(200):
        width, height = rng.uniform(5, 300, 2)
        turn, margin = float(rng.choice([0, 30, 45, 90, 137])), float(rng.choice([0, 3.0]))
        part = Part(width, height, RED, turns=(turn,), margin=margin)
        angle = math.radians(turn)
        grown = shapely.buffer(shapely.box(0, 0, width, height), margin, quad_segs=64)
        ring = [
            (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
            for x, y in grown.exterior.coords[:-1]
        ]
        piece = Piece("C-0001", Outline(tuple(ring)), RED)
        assert Hoard.of([piece]).may_hold(part).all()


def test_a_piece_against_which_something_speaks_is_the_first_near_miss_with_those_words():
    nearest, near = sheet("C-0001", 60, 250, RED), sheet("C-0002", 60, 250, (39, 42, 24))
    small = sheet("C-0003", 60, 100, RED)
    asked = []

    def against(piece):
        asked.append(piece.code)
        return "spoken for" if piece.code == "C-0001" else ""

    ranking = rank(Part(57, 228, RED), [small, nearest, near], limit=1, near=1, against=against)
    assert [match.code for match in ranking.matches] == ["C-0002"]
    assert [(miss.code, miss.lack) for miss in ranking.near_misses] == [("C-0001", "spoken for")]
    assert asked == ["C-0001", "C-0002"], "what does not hold the part is not asked about"
