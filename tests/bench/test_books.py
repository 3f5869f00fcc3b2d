"""Volumes on the bench: their parts, how cloth is shared out over them, and what a change costs."""

from collections.abc import Iterator
from dataclasses import asdict, replace
from decimal import Decimal
from pathlib import Path

import pytest
from shapely import Polygon

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.case import case_of, damage_marks, ring_on_case
from bindery_stock.bench.books.cost import cost_of
from bindery_stock.bench.books.measure_again import recheck
from bindery_stock.bench.books.part_list import (
    as_matched,
    faces_the_shelf,
    needs_colour,
    parts_of,
    spots_of,
    visibility,
)
from bindery_stock.bench.books.progress import cloth_words, supplies
from bindery_stock.bench.books.share_out import Asked, ask, share
from bindery_stock.bench.books.share_prices import price_settings, priced, spent_words
from bindery_stock.bench.books.share_words import (
    figures_words,
    gain_words,
    kept_for_words,
    seek_words,
    sum_words,
    tally,
)
from bindery_stock.bench.books.shelf_order import SetOnShelf, names, rows
from bindery_stock.bench.books.split_supply import BAND, HOLD_MM, split, splits_kept, with_split
from bindery_stock.bench.books.spoken_for import placement_of
from bindery_stock.bench.books.stale_parts import delta_now, stale
from bindery_stock.bench.books.survey import lined, next_name, survey_from, worked_out
from bindery_stock.errors import EntryError
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Colour,
    ColourSought,
    Cutting,
    KeptShade,
    NewPiece,
    NewRepair,
    Overrides,
    PartState,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, Role, Survey, shipped_rules
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind
from bindery_stock.units import LengthStyle

RED = (33.0, 33.0, 17.0)
RULES = shipped_rules()


def surveyed(*damage: Damage, chord: float = 33.0, old_spine: bool = True) -> Survey:
    return Survey(
        spine_width=chord,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        board_thickness=2.4,
        leaf_height=204.0,
        leaf_width=130.0,
        damage=damage,
        old_spine=old_spine,
    )


def volume(name: str, survey: Survey, *, lab: tuple[float, float, float] = RED) -> NewRepair:
    return NewRepair(
        name=name,
        survey=survey,
        pattern="rib",
        targets=(ColourSought(BookSpot.BOARDS, Colour(lab, u=2.0)),),
    )


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as stockroom:
        yield stockroom


def enter(room: Stockroom, new: NewRepair) -> str:
    code = room.books.add_repair(new).born[0]
    allowances = allowances_for(room.books.overrides(volume=code), room.rules)
    room.books.plan_parts(code, parts_of(room.books.repair(code), allowances, room.rules))
    return code


def shelve(
    room: Stockroom,
    width: float,
    height: float,
    lab: tuple[float, float, float] = RED,
    *,
    kind: Kind = Kind.CLOTH,
    price: str = "",
) -> str:
    return room.pieces.shelve(
        NewPiece(
            kind=kind,
            outline=Outline(((0, 0), (width, 0), (width, height), (0, height))),
            pattern="rib" if kind is Kind.CLOTH else "",
            colours=(Colour(lab, u=2.0),) if kind is Kind.CLOTH else (),
            price=Decimal(price) if price else None,
        )
    ).born[0]


def cloth_parts(room: Stockroom) -> list[BookPart]:
    return [part for part in room.books.parts() if part.kind is Kind.CLOTH]


def asked_of(
    room: Stockroom,
    *,
    reserved: bool = False,
    reason: str = "",
    shelf: SetOnShelf = SetOnShelf(),  # noqa: B008 - frozen
) -> Asked:
    """What is asked where all the cloth parts are to be served from all the shelf."""
    return ask(
        cloth_parts(room),
        room.pieces.listed(),
        room.pieces.reservations() if reserved else [],
        today=room.today,
        rules=room.rules,
        reason=reason,
        shelf=shelf,
    )


# From the survey to the parts


def test_four_bare_corners_are_four_parts_to_cut() -> None:
    new = volume("vol. 5", surveyed(Damage(Harm.CORNERS_BARE, 4, 8.0)))
    parts = parts_of(new, allowances_for(Overrides(), RULES), RULES)
    assert [part.words for part in parts] == [f"corner patch {n} of 4" for n in (1, 2, 3, 4)]
    assert {part.lab for part in parts} == {RED}


def test_each_size_comes_with_the_sum_that_made_it() -> None:
    new = volume("vol. 4", surveyed(Damage(Harm.SPINE_LOST)))
    strip = parts_of(new, allowances_for(Overrides(), RULES), RULES)[0]
    assert strip.role == Role.REBACK_INSIDE
    assert strip.width_sum.endswith(f"= {strip.width:.1f} mm")
    assert any("underlap" in line and "common practice" in line for line in strip.sum_lines)


def test_an_allowance_of_the_volume_goes_over_that_of_all_work(room: Stockroom) -> None:
    code = enter(room, volume("vol. 4", surveyed(Damage(Harm.SPINE_LOST))))
    room.books.set_allowances({"underlap": 6.0, "turn-in": 15.0})
    room.books.set_allowances({"underlap": 10.0}, volume=code)
    found = allowances_for(room.books.overrides(volume=code), room.rules)
    assert (found["underlap"].value, found["underlap"].set_by) == (10.0, "this volume")
    assert (found["turn-in"].value, found["turn-in"].set_by) == (15.0, "all work")


def test_beside_an_old_spine_laid_back_the_joint_is_matched_and_without_it_the_spine() -> None:
    kept = volume("a", surveyed(Damage(Harm.JOINTS_SPLIT)))
    lost = volume("b", surveyed(Damage(Harm.SPINE_LOST), old_spine=False))
    assert spots_of(kept, Role.REBACK_INSIDE)[0] is BookSpot.JOINTS
    assert spots_of(lost, Role.REBACK_INSIDE)[0] is BookSpot.SPINE


def test_a_shown_part_waits_until_its_colour_is_read_and_a_lining_does_not() -> None:
    new = replace(
        volume("a", surveyed(Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED))), targets=()
    )
    parts = parts_of(new, allowances_for(Overrides(), RULES), RULES)
    assert {part.name for part in parts if needs_colour(part)} == {"reback strip"}
    assert "mull" in {part.name for part in parts}


def test_a_spine_seen_whole_counts_for_more_than_a_corners_tip() -> None:
    new = volume("a", surveyed(Damage(Harm.SPINE_LOST), Damage(Harm.CORNERS_BARE, 1, 8.0)))
    parts = {p.name: p for p in parts_of(new, allowances_for(Overrides(), RULES), RULES)}
    whole, tip = visibility(parts["reback strip"]), visibility(parts["corner patch"])
    assert whole == 1.0
    assert tip is not None
    assert 4 * tip < whole


def test_a_rise_of_more_than_half_the_chord_is_refused_by_name() -> None:
    with pytest.raises(EntryError, match="Rise of the back: 20 mm is more than half"):
        survey_from({"spine_width": 33.0, "rise": 20.0, "board_height": 210.0}, ())
    with pytest.raises(EntryError, match="Width of the back"):
        survey_from({"spine_width": None, "board_height": 210.0}, ())


def test_an_arc_shorter_than_its_chord_is_told() -> None:
    new = volume("a", replace(surveyed(Damage(Harm.SPINE_LOST)), arc=30.0))
    told = worked_out(new, allowances_for(Overrides(), RULES), RULES)
    assert any("shorter than the straight width" in line for line in told.warnings)
    assert told.parts
    assert told.hours.high > told.hours.low


def test_the_next_volume_is_called_by_the_next_number() -> None:
    assert next_name("Hollin Vale vol. 9", 9) == "Hollin Vale vol. 10"
    assert next_name("Nine Weirs", None) == "Nine Weirs (next)"


# On the opened case


def test_parts_lie_on_the_opened_case_where_they_are_laid_in_the_book() -> None:
    survey = surveyed(Damage(Harm.SPINE_LOST), Damage(Harm.CORNERS_BARE, 4, 8.0), old_spine=False)
    found = allowances_for(Overrides(), RULES)
    case = case_of(survey, found, RULES)
    assert case.width == pytest.approx(2 * 133 + 2 * 6 + case.spine)
    parts = parts_of(volume("a", survey), found, RULES)
    strip = Polygon(ring_on_case(parts[0], case) or ())
    assert strip.centroid.x == pytest.approx(case.width / 2)
    assert strip.bounds[1] == pytest.approx(-19.05)  # the turn-in over the tail
    assert strip.contains(Polygon(case.back))
    patches = [Polygon(ring_on_case(p, case) or ()) for p in parts if p.name == "corner patch"]
    corners = [m for m in damage_marks(survey, case) if m.harm is Harm.CORNERS_BARE]
    assert len(patches) == len(corners) == 4
    for patch, mark in zip(patches, corners, strict=True):
        assert patch.buffer(1e-6).covers(Polygon(mark.ring))


def test_a_corner_patch_is_cut_square_and_covers_the_wear_when_it_is_mitred(
    room: Stockroom,
) -> None:
    """The mitre stands off the tip by the board's thickness (S. J. Vaughn, 1912)."""
    survey = surveyed(Damage(Harm.CORNERS_BARE, 4, 8.0))
    enter(room, volume("vol. 1", survey))
    patch = next(part for part in cloth_parts(room) if part.name == "corner patch")
    offered = as_matched(patch)
    ((_, left, low, right, high),) = (zone for zone in patch.zones if zone[0] == "shown")
    wear = Polygon(((left, low), (right, low), (right, high), (left, high)))
    thickness = survey.board_thickness
    assert thickness is not None
    off = left + low - thickness * 2**0.5
    mitred = offered.outline.polygon.difference(Polygon(((0, 0), (off, 0), (0, off))))
    assert not offered.triangular
    assert wear.area == pytest.approx(64)
    assert mitred.intersection(wear).area == pytest.approx(wear.area)
    half = Polygon(((0, 0), (patch.width, 0), (0, patch.height)))  # cut as a triangle
    assert half.intersection(wear).area < 0.3 * wear.area
    for told in (patch.note, RULES.parts["corner-patch"].rule):
        assert "square" in told
        assert "mitre" in told.lower()
        assert "triang" not in told
        assert "right-angled" not in told


def test_a_corner_cut_as_a_triangle_is_one_in_the_drawing_the_match_and_the_note() -> None:
    """The binder's habit for all work; each of the four covers the wear it is laid on."""
    survey = surveyed(Damage(Harm.CORNERS_BARE, 4, 12.0))
    found = allowances_for(Overrides(all_work={"corner-cut": 1}), RULES)
    case = case_of(survey, found, RULES)
    patches = [p for p in parts_of(volume("a", survey), found, RULES) if p.name == "corner patch"]
    wear = [m for m in damage_marks(survey, case) if m.harm is Harm.CORNERS_BARE]
    assert [patch.turns for patch in patches] == [(0, 180), (90, 270), (90, 270), (0, 180)]
    for patch, mark in zip(patches, wear, strict=True):
        ring = ring_on_case(patch, case)
        assert ring is not None
        assert len(ring) == 3
        worn = Polygon(mark.ring)
        assert Polygon(ring).intersection(worn).area == pytest.approx(worn.area)
        assert Polygon(ring).area == pytest.approx(patch.width * patch.height / 2)
        assert "triangle" in patch.note
        assert any("right-angled triangle" in line for line in patch.sum_lines)


def test_a_triangle_for_a_corner_is_matched_as_one_on_rib_of_either_hand(room: Stockroom) -> None:
    room.books.set_allowances({"corner-cut": 1.0})
    enter(room, volume("vol. 1", surveyed(Damage(Harm.CORNERS_BARE, 4, 12.0))))
    patches = [part for part in cloth_parts(room) if part.name == "corner patch"]
    offered = [as_matched(patch) for patch in patches]
    assert all(one.triangular and not one.zones for one in offered)
    assert {one.turns_in("rib") for one in offered} == {(0, 180), (90, 270)}


def test_a_head_piece_covers_what_is_lost_at_the_head() -> None:
    survey = surveyed(Damage(Harm.HEAD_LOST, extent=14.0))
    found = allowances_for(Overrides(), RULES)
    case = case_of(survey, found, RULES)
    (piece,) = parts_of(volume("a", survey), found, RULES)
    ring = Polygon(ring_on_case(piece, case) or ())
    (lost,) = damage_marks(survey, case)
    assert ring.covers(Polygon(lost.ring))
    assert ring.bounds[3] > case.board_height


# Sharing out


def _scarce(room: Stockroom) -> tuple[str, str]:
    """Two strips wanted: the first would take the only piece that is tall enough for the second."""
    best, other = shelve(room, 75.0, 252.0), shelve(room, 69.0, 252.0, (35.0, 33.0, 17.0))
    for name, chord in (("vol. 1", 29.0), ("vol. 2", 36.0)):
        enter(room, volume(name, surveyed(Damage(Harm.SPINE_LOST), chord=chord, old_spine=False)))
    return best, other


def test_closest_first_takes_the_good_cloth_and_the_plan_saves_it(room: Stockroom) -> None:
    best, other = _scarce(room)
    found = share(asked_of(room), steps=50)
    assert [c.placed.code if c.placed else "" for c in found.choices] == [other, best]
    assert [c.placed.code if c.placed else "" for c in found.closest] == [best, ""]
    mine = tally(found.choices, found.plan.objective)
    theirs = tally(found.closest, found.plan.closest_first.objective)
    assert (mine.shown_served, theirs.shown_served) == (2, 1)
    assert "1 more shown part is served" in gain_words(mine, theirs)
    assert best in found.why(found.choices[0].part)


def test_a_sharing_out_is_told_by_what_is_seen_and_by_the_scrap_that_would_buy_most(
    room: Stockroom,
) -> None:
    best, _other = _scarce(room)
    found = share(asked_of(room), steps=20)
    mine = tally(found.choices, found.plan.objective)
    theirs = tally(found.closest, found.plan.closest_first.objective)
    told = figures_words(mine)
    assert "2 of 2 shown parts" in told
    assert "2 of 2 volumes" in told
    assert "vol. 1" in told  # the farther shade
    assert f"{mine.objective:.0f}" not in told
    assert "1 of 2 volumes" in figures_words(theirs)
    assert f"{theirs.objective:.1f}" in sum_words(mine, theirs)
    assert seek_words(found) == ""
    room.pieces.discard(best, "torn")
    short = share(asked_of(room), steps=20)
    (line, first) = seek_words(short).split("\n")
    assert "scrap" in line
    assert ", and finish its volume" in first
    assert first.endswith("It is worth 64.")


def test_what_each_price_cost_is_told_in_the_words_of_the_trade(room: Stockroom) -> None:
    _scarce(room)
    prices = priced(["jump=1", "volume=9,5"])
    assert (prices.jump, prices.volume, prices.left_out) == (1.0, 9.5, 60.0)
    assert price_settings(prices) == ["volume=9.5", "jump=1"]
    side_by_side = (tuple(one.code for one in room.books.repairs()),)
    asked = asked_of(room, shelf=SetOnShelf(side_by_side))
    found = share(asked, steps=20, prices=prices)
    told = found.plan.reckoning
    assert set(spent_words(told)) == set(asdict(prices))
    (jump,) = told.jumps
    spent = f"1 jump between neighbours on the shelf, {jump.delta_e:.1f} ΔE00 in all: "
    assert spent_words(told)["jump"] == f"{spent}{jump.delta_e:.1f}"
    mine = tally(found.choices, found.plan.objective, reckoning=told)
    called = names(room.books.repairs())
    figures = figures_words(mine, called)
    assert f"Greatest jump on the shelf: vol. 1 | vol. 2, ΔE00 {jump.delta_e:.1f} ±" in figures
    assert f"Whole cloth kept: {told.kept} of 2 large pieces" in figures
    sums = sum_words(mine, mine, prices)
    assert "1 for each ΔE00 between neighbours on the shelf" in sums
    assert spent in sums
    for wrong in ("shade=3", "jump", "jump=-1", "jump=much", "jump=1e9"):
        with pytest.raises(EntryError, match="no price"):
            priced([wrong])


def test_volumes_stand_side_by_side_where_their_numbers_follow(room: Stockroom) -> None:
    codes = {}
    for number in (7, 3, 4, None, 6):
        new = volume(f"vol. {number}", surveyed(Damage(Harm.SPINE_LOST)))
        codes[number] = enter(room, replace(new, volume=number))
    found = rows(room.books.repairs())
    assert found == ((codes[3], codes[4]), (codes[6], codes[7]))


def test_only_a_spine_that_is_seen_stands_on_the_shelf(room: Stockroom) -> None:
    lost, laid_back = (
        surveyed(Damage(Harm.SPINE_LOST), old_spine=False),
        surveyed(Damage(Harm.JOINTS_SPLIT), Damage(Harm.CORNERS_BARE, 2, 8.0)),
    )
    for name, one in (("a", lost), ("b", laid_back)):
        enter(room, volume(name, one))
    seen = [(p.purpose, p.name) for p in cloth_parts(room) if faces_the_shelf(p)]
    assert seen == [("reback strip, a", "reback strip")]


def test_cloth_is_kept_free_for_volumes_to_come_and_nothing_of_it_reserved(
    room: Stockroom,
) -> None:
    best, other = _scarce(room)
    more = shelve(room, 90.0, 260.0)
    found = share(asked_of(room, shelf=SetOnShelf(to_come=1, spare=True)), steps=50)
    (coming, spare) = found.asked.to_come
    largest = max(cloth_parts(room), key=lambda part: part.width * part.height)
    assert (coming.width, coming.height) == (largest.width + 3, largest.height + 3)
    assert coming.visibility == pytest.approx(0.5)
    assert spare.visibility == pytest.approx(0.1)
    assert dict(found.kept_for) == {"spine of volume 1 of 1 to come": more, "spare strip": ""}
    assert {c.placed.code for c in found.choices if c.placed} == {best, other}
    assert len(found.placements()) == 2
    assert kept_for_words(found) == (
        f"Cloth is kept free for 1 of 2 strips that may be wanted later: {more}. "
        "Nothing of it is reserved."
    )
    # Without them the larger piece may go to what waits now.
    plain = share(asked_of(room), steps=50)
    assert plain.kept_for == ()
    assert kept_for_words(plain) == ""


def test_a_part_that_waits_says_what_its_cloth_went_to(room: Stockroom) -> None:
    best, other = _scarce(room)
    room.pieces.discard(other, "torn")
    found = share(asked_of(room), steps=20)
    (out,) = [choice for choice in found.choices if choice.placed is None]
    (taker,) = [choice for choice in found.choices if choice.placed]
    assert (out.held_in, out.held_by) == (best, (taker.part.purpose,))
    assert f"goes to {taker.part.purpose}" in out.reason


def test_a_scrap_is_not_said_to_finish_a_volume_whose_colour_is_still_to_be_read(
    room: Stockroom,
) -> None:
    enter(room, volume("vol. 1", surveyed(Damage(Harm.SPINE_LOST), old_spine=False)))
    found = share(asked_of(room), steps=5)
    assert ", and finish its volume" in seek_words(found)
    unread = replace(found.asked, uncoloured=found.asked.parts)
    assert "finish" not in seek_words(replace(found, asked=unread))


def test_an_accepted_plan_reserves_what_it_showed(room: Stockroom) -> None:
    _scarce(room)
    found = share(asked_of(room), steps=20)
    room.books.accept_plan(found.placements(), unserved=found.unserved())
    for choice, part in zip(found.choices, cloth_parts(room), strict=True):
        assert choice.placed is not None
        assert (part.state, part.piece) == (PartState.RESERVED, choice.placed.code)
        assert part.delta_e == pytest.approx(choice.placed.delta_e)
        again = placement_of(part.corners, part.width, part.height)
        assert again.turn == pytest.approx(choice.placed.placement.turn % 360.0)


def test_a_pinned_choice_is_kept_though_it_costs_the_others(room: Stockroom) -> None:
    best, _ = _scarce(room)
    first = cloth_parts(room)[0]
    found = share(asked_of(room), pins={first.id: best}, steps=20)
    assert found.choices[0].placed is not None
    assert (found.choices[0].placed.code, found.choices[0].placed.pinned) == (best, True)
    assert found.choices[1].placed is None


def test_what_is_reserved_for_another_book_stays_where_it_lies(room: Stockroom) -> None:
    best, other = _scarce(room)
    ring = ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0))
    room.pieces.reserve(best, "another book", width=30, height=30, corners=ring)
    found = share(asked_of(room, reserved=True), steps=20)
    for choice in found.choices:
        if choice.placed is not None and choice.placed.code == best:
            assert choice.placed.placement.polygon.intersection(Polygon(ring)).area < 1e-6
    assert {c.placed.code for c in found.choices if c.placed} == {other}


def test_a_part_whose_colour_is_not_read_is_told_and_not_shared_out(room: Stockroom) -> None:
    shelve(room, 75.0, 252.0)
    enter(room, replace(volume("vol. 1", surveyed(Damage(Harm.SPINE_LOST))), targets=()))
    asked = asked_of(room)
    assert asked.parts == ()
    assert [part.words for part in asked.uncoloured] == ["reback strip"]


def test_hinges_and_guards_of_plain_cotton_leave_the_ribbed_scraps_alone(room: Stockroom) -> None:
    """Jaconet and cambric are plain cotton (A. L. Bailey, Library Bookbinding, 1916)."""
    shelve(room, 200.0, 252.0)
    enter(
        room,
        volume("vol. 1", surveyed(Damage(Harm.HINGE_BROKEN, 1), Damage(Harm.SECTIONS_LOOSE, 1))),
    )
    asked = asked_of(room)
    assert {part.role for part in asked.parts} == {"hinge-cloth", "section-guard"}
    assert all(choice.wanted for choice in share(asked, steps=5).choices)
    (cotton,) = room.pieces.shelve(
        NewPiece(
            kind=Kind.CLOTH,
            outline=Outline(((0, 0), (200, 0), (200, 252), (0, 252))),
            pattern="calico",
            fibre=Fibre.COTTON,
            backing=Backing.NONE,
        )
    ).born
    found = share(asked_of(room), steps=5)
    assert {c.placed.code for c in found.choices if c.placed} == {cotton}
    assert all(choice.placed for choice in found.choices)


def test_the_set_says_how_far_its_cloth_goes(room: Stockroom) -> None:
    shelve(room, 80.0, 252.0)
    for number in (1, 2):
        enter(room, volume(f"vol. {number}", surveyed(Damage(Harm.SPINE_LOST))))
    (red,) = supplies(
        cloth_parts(room), room.pieces.listed(), [], today=room.today, rules=room.rules
    )
    assert red.words == "Red rib: 2 spines wanted, cloth for 1."
    assert cloth_words(cloth_parts(room)[0]) == "Red rib"


# When something changes


def test_a_back_measured_again_keeps_its_cloth_where_it_still_fits(room: Stockroom) -> None:
    code = shelve(room, 75.0, 252.0)
    damage = (Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED))
    repair = enter(room, volume("vol. 7", surveyed(*damage, old_spine=False)))
    found = share(asked_of(room), steps=5)
    room.books.accept_plan(found.placements())
    strip = cloth_parts(room)[0]
    assert strip.estimated
    for wider, fits in ((1.5, True), (9.0, False)):
        survey = lined(room.books.repair(repair).survey, strip.width - 34.35 + wider)
        new = replace(room.books.repair(repair), survey=survey)
        parts = parts_of(new, allowances_for(Overrides(), RULES), RULES)
        again = recheck(
            room.books.parts(volume=repair),
            parts,
            {p.code: p for p in room.pieces.listed()},
            room.pieces.reservations(),
            LengthStyle(),
        )
        (change,) = [c for c in again.changes if c.old.id == strip.id]
        assert (change.laying is not None) is fits
        assert (f"still fits in {code}" in change.words) is fits
        assert again.given_up == (() if fits else (strip,))
        assert not next(p for p in parts if p.key == strip.key).estimated


def test_only_what_a_worse_colour_touches_is_planned_anew(room: Stockroom) -> None:
    best, other = _scarce(room)
    found = share(asked_of(room), steps=20)
    room.books.accept_plan(found.placements())
    pieces = {piece.code: piece for piece in room.pieces.listed()}
    assert stale(cloth_parts(room), pieces) == []
    room.pieces.correct(other, colours=(Colour((43.0, 30.0, 17.0), u=1.0, method="by daylight"),))
    pieces = {piece.code: piece for piece in room.pieces.listed()}
    (touched,) = stale(cloth_parts(room), pieces)
    assert touched.part.piece == other
    assert "when it was chosen, now" in touched.reason
    anew = ask(
        cloth_parts(room),
        room.pieces.listed(),
        room.pieces.reservations(),
        today=room.today,
        rules=room.rules,
        again=[touched.part.id],
    )
    assert [part.id for part in anew.parts] == [touched.part.id]
    assert [held.code for held in anew.held] == [best]


def test_cloth_chosen_beyond_the_tolerance_is_not_called_changed(room: Stockroom) -> None:
    far = shelve(room, 75.0, 252.0, (45.0, 20.0, 15.0))
    new = volume("vol. 1", surveyed(Damage(Harm.SPINE_LOST), old_spine=False))
    enter(room, replace(new, tolerance=3.0))
    (part,) = cloth_parts(room)
    piece = room.pieces.get(far)
    away = delta_now(part, piece)
    assert away is not None
    assert away > 3.0
    ring = ((1.0, 1.0), (1.0 + part.width, 1.0), (1.0 + part.width, 250.0), (1.0, 250.0))
    room.books.accept_plan(
        [PlannedPlacement(part=part.id, code=far, corners=ring, shade=KeptShade(away))]
    )
    assert stale(cloth_parts(room), {far: piece}) == []


# Split supply


def test_bands_of_matching_cloth_save_it_and_never_join_in_a_joint() -> None:
    found = allowances_for(Overrides(), RULES)
    strip = parts_of(volume("a", surveyed(Damage(Harm.JOINTS_SPLIT))), found, RULES)[0]
    made = split(strip)
    assert made is not None
    assert made.saved > 0.2
    assert made.beneath.lab is None
    assert not made.beneath.shown
    for band in made.bands:
        assert band.layer == BAND
        for sight, left, low, right, high in band.zones:
            if sight == "shown":
                joins = [edge for edge in (left, band.width - right) if edge > 0]
                ends = [edge for edge in (low, band.height - high) if edge > 0]
                assert all(edge >= HOLD_MM - 1e-6 for edge in (*joins, *ends))
    seen = sum((z[3] - z[1]) * (z[4] - z[2]) for z in strip.zones if z[0] == "shown")
    kept = sum(
        (z[3] - z[1]) * (z[4] - z[2]) for b in made.bands for z in b.zones if z[0] == "shown"
    )
    assert kept == pytest.approx(seen)


def test_a_spine_seen_whole_is_not_cut_from_two_cloths() -> None:
    found = allowances_for(Overrides(), RULES)
    lost = surveyed(Damage(Harm.SPINE_LOST), old_spine=False)
    assert split(parts_of(volume("a", lost), found, RULES)[0]) is None


def test_a_split_part_stays_split_when_its_volume_is_measured_again(room: Stockroom) -> None:
    code = enter(room, volume("vol. 2", surveyed(Damage(Harm.JOINTS_SPLIT))))
    found = allowances_for(Overrides(), RULES)
    whole = parts_of(room.books.repair(code), found, RULES)
    room.books.plan_parts(code, with_split(whole, whole[0].key))
    wider = replace(room.books.repair(code), survey=surveyed(Damage(Harm.JOINTS_SPLIT), chord=34.0))
    again = splits_kept(parts_of(wider, found, RULES), room.books.parts(volume=code))
    assert [part.layer for part in again if part.role == Role.REBACK_INSIDE] == [
        *[BAND] * 4,
        "beneath",
    ]
    room.books.plan_parts(code, again)


# What it cost


def test_a_part_costs_its_share_of_the_piece_it_goes_back_to(room: Stockroom) -> None:
    code = shelve(room, 200.0, 500.0, price="10.00")
    volume_code = enter(room, volume("vol. 1", surveyed(Damage(Harm.CORNERS_BARE, 2, 8.0))))
    first, second = cloth_parts(room)
    left = code
    for part, low in ((first, 0.0), (second, 250.0)):
        high = low + part.height
        changes = room.books.cut_part(
            part.id,
            Cutting(
                code=left,
                purpose="",
                width=part.width,
                height=part.height,
                corners=((0, low), (part.width, low), (part.width, high), (0, high)),
                offcuts=(Outline(((0, high), (200, high), (200, 500), (0, 500))),),
            ),
        )
        left = changes.born[0]
    spent = room.books.repair(volume_code).hours_spent
    cost = cost_of(
        cloth_parts(room), spent, lambda c: [room.pieces.get(c), *room.pieces.ancestors(c)]
    )
    share_of = Decimal(first.width * first.height / 100_000.0) * 10
    assert cost.lines[0].price == share_of.quantize(Decimal("0.01"))
    assert cost.lines[1].price == cost.lines[0].price
    assert cost.unpriced == 0
    assert "Material" in cost.words
