"""Twenty worked cases and more: damage, treatment, parts with their sizes, and the order of work.

Figures of a source are turned from inches once, here. Every source was read in excerpt; book sizes
that a source does not give are for illustration. Where a case has no source it says so.
"""

from dataclasses import dataclass, field, replace

import pytest

from bindery_stock.trade import (
    Covering,
    Hollow,
    Mark,
    Reback,
    Role,
    Survey,
    default_allowances,
    shipped_rules,
)
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.proposals import Rank, propose
from bindery_stock.trade.sizing_rules import Grain
from bindery_stock.trade.treatment_entries import shipped_treatments
from bindery_stock.trade.treatment_work import ChosenTreatment, TreatmentWork, treatment_work
from bindery_stock.trade.volume_facts import VolumeFacts

IN = 25.4
RULES = shipped_rules()
KINDS = shipped_damages()
TREATMENTS = shipped_treatments()


def at(kind: str, place: BookPlace | None = None, **rest) -> PlacedDamage:
    return PlacedDamage(kind=kind, place=place or KINDS[kind].places[0], **rest)


def volume(allowances: dict[str, float] | None = None, **values) -> VolumeFacts:
    facts = {
        name: values.pop(name)
        for name in ("mull_torn", "hard_use", "tube_back", "paper_brittle")
        if name in values
    }
    base = {"spine_width": 1.25 * IN, "joint": 0.25 * IN, "board_height": 9 * IN}
    own = default_allowances().having(allowances or {}, set_by="this volume")
    return VolumeFacts(survey=Survey(**base | values), allowances=own, **facts)


def work(book: VolumeFacts, *pairs: tuple[PlacedDamage, str]) -> TreatmentWork:
    chosen = [ChosenTreatment(damage, TREATMENTS[key]) for damage, key in pairs]
    return treatment_work(chosen, book, KINDS, RULES)


@dataclass(frozen=True, kw_only=True)
class Case:
    source: str
    damage: PlacedDamage
    treatment: str
    book: VolumeFacts
    sizes: dict[Role, tuple[float | None, float | None]] = field(default_factory=dict)
    """Width and height in inches; None where the source gives none."""
    counts: dict[Role, int] = field(default_factory=dict)
    order: tuple[str, ...]
    """Words of the steps in their order."""


CASED = ("Cut the text block free", "each dried before the next", "Case in")
REBACKED = ("take the old spine off whole", "Measure round the back", "lay it one side first",
            "rods in the joints", "Lay the old spine")  # fmt: skip
CASES = (
    Case(
        source="Dartmouth: inlay board height by exact spine width; cloth 2 in wider, 1 in longer",
        damage=at("spine-detached"),
        treatment="partial-reback",
        book=volume(board_height=7.75 * IN, reback=Reback.REMOUNTED),
        sizes={Role.INLAY: (1.25, 7.75), Role.REBACK_REMOUNTED: (3.25, 8.75)},
        order=REBACKED,
    ),
    Case(
        source="Indiana, partial reback inside: 1/8 in from the back edge, lift about 1 in",
        damage=at("joint-split"),
        treatment="partial-reback",
        book=volume({"underlap": 0.875 * IN}, spine_width=1.5 * IN, lift=IN),
        sizes={Role.REBACK_INSIDE: (4, 10.5), Role.INLAY: (1.5, 9)},
        order=REBACKED,
    ),
    Case(
        source="Indiana, partial reback outside: cut 3/4 in from the back edge",
        damage=at("spine-lost"),
        treatment="partial-reback",
        book=volume(spine_width=1.5 * IN, reback=Reback.OUTSIDE, old_spine=False),
        sizes={Role.REBACK_OUTSIDE: (3.5, 10.5)},
        order=REBACKED,
    ),
    Case(
        source="Vaughn 1912: super about 1 1/2 in on each side; 1/4 in short is ours",
        damage=at("block-detached"),
        treatment="recase",
        book=volume({"mull-flange": 1.5 * IN, "mull-short": 0.25 * IN}, leaf_height=7.5 * IN),
        sizes={Role.MULL: (4.25, 7)},
        order=CASED,
    ),
    Case(
        source="Bailey 1916, heavy reference books: 1/2 in short, laps 2 in",
        damage=at("mull-failed"),
        treatment="recase",
        book=volume(
            {"mull-flange": 2 * IN, "mull-short": 0.5 * IN},
            spine_width=2.5 * IN,
            board_height=11.25 * IN,
            leaf_height=11 * IN,
        ),
        sizes={Role.MULL: (6.5, 10)},
        order=CASED,
    ),
    Case(
        source="Bailey 1916, recasing: canton flannel 3/4 in beyond the back on each side",
        damage=at("block-detached"),
        treatment="recase",
        book=volume({"mull-flange": 0.75 * IN, "mull-short": 0.5 * IN}, leaf_height=7.5 * IN),
        sizes={Role.MULL: (2.75, 6.5)},
        order=CASED,
    ),
    Case(
        source="Bailey 1916, loose joint: jaconet 1 1/4 in by the length of the book",
        damage=at("hinge-cracked"),
        treatment="hinge-cloth",
        book=volume(leaf_height=7.5 * IN, hard_use=True),
        sizes={Role.HINGE_CLOTH: (1.25, 7.5)},
        order=("half on the board and half on the flyleaf",),
    ),
    Case(
        source="Bailey 1916: flyleaf as long as the old leaf and 1/2 in wider, folded",
        damage=at("flyleaf-lost"),
        treatment="flyleaf",
        book=volume(leaf_height=7.5 * IN, leaf_width=5 * IN),
        sizes={Role.FLYLEAF: (5.5, 7.5)},
        counts={Role.FLYLEAF: 1},
        order=("Fold the stub",),
    ),
    Case(
        source="Vaughn 1912: boards as wide as the leaf, 1/4 in longer; 3/4 in turn-in all round",
        damage=at("case-lost"),
        treatment="new-case",
        book=volume(board_height=None, joint=0.125 * IN, leaf_height=7.5 * IN, leaf_width=5 * IN),
        sizes={Role.BOARD: (5, 7.75), Role.CASE_CLOTH: (13, 9.25)},
        counts={Role.BOARD: 2},
        order=("Cut boards and cloth", "Case in"),
    ),
    Case(
        source="Vaughn 1912, half cloth: back 1 1/2 in longer, sides 7/8 in wider than bare board",
        damage=at("case-lost"),
        treatment="new-case",
        book=volume(
            {"square": 0.1875 * IN, "set-off": 0.1875 * IN, "quarter-view": IN},
            board_height=None,
            leaf_height=7.5 * IN,
            leaf_width=5 * IN,
            covering=Covering.QUARTER,
        ),
        sizes={Role.SIDE: (4.875, 9.375), Role.QUARTER_BACK: (None, 9.375)},
        counts={Role.SIDE: 2},
        order=("Cut boards and cloth", "Case in"),
    ),
    Case(
        source="Adam: back cloth 2 cm longer and about 4 cm wider than an inlay of 30 by 230 mm",
        damage=at("case-lost"),
        treatment="new-case",
        book=volume(
            {"turn-in": 10},
            spine_width=30,
            joint=0,
            board_height=230,
            board_width=150,
            covering=Covering.QUARTER,
        ),
        sizes={Role.QUARTER_BACK: (70 / IN, 250 / IN)},
        order=("Cut boards and cloth", "Case in"),
    ),
    Case(
        source="Roberts and Etherington 1982: library turn-in 5/8 in",
        damage=at("case-lost"),
        treatment="new-case",
        book=volume({"turn-in": 0.625 * IN}, board_width=6 * IN),
        sizes={Role.CASE_CLOTH: (None, 10.25)},
        order=("Cut boards and cloth", "Case in"),
    ),
    Case(
        source="Roberts and Etherington 1982: 1/8 in squares bring a royal octavo back to 10 in",
        damage=at("board-lost"),
        treatment="board-new",
        book=volume(board_height=None, leaf_height=9.75 * IN, leaf_width=6 * IN),
        sizes={Role.BOARD: (None, 10), Role.BOARD_CLOTH: (None, 11.5)},
        counts={Role.BOARD: 1, Role.BOARD_CLOTH: 1},
        order=("Cut the board to its fellow", "Join its cloth to the spine"),
    ),
    Case(
        source="Language of Bindings 1392: simple tube twice the spine, cut to the board",
        damage=at("hollow-lost"),
        treatment="hollow-tube",
        book=volume(spine_width=32, board_height=197, hollow=Hollow.SIMPLE),
        sizes={Role.HOLLOW_SIMPLE: (64 / IN, 197 / IN)},
        counts={Role.HOLLOW_SIMPLE: 1},
        order=("Fold the tube",),
    ),
    Case(
        source="Cornell 1986: lining cloth about 2.5 cm on each side",
        damage=at("joint-split"),
        treatment="full-reback",
        book=volume({"mull-flange": 25}, spine_width=32, board_height=197, mull_torn=1.0),
        sizes={Role.MULL: (82 / IN, None)},
        order=(
            "cut the text block free",
            "each dried before the next",
            "Measure round the back",
            "Make the spine up",
            "Case in",
            "Lay the old spine",
        ),
    ),
    Case(
        source="Etherington: 3/16 in wide, 1 in longer than the boards, 1/16 in on spine and board",
        damage=at("joint-tender"),
        treatment="joint-tissue",
        book=volume(joint=IN / 16),
        sizes={Role.JOINT_TISSUE: (3 / 16, 10)},
        order=("lay the toned strip", "turn the ends in"),
    ),
    Case(
        source="Smithsonian Libraries 2014: 1/4 to 5/16 in of heavier paper",
        damage=at("joint-cracked", along=30),
        treatment="joint-tissue",
        book=volume(joint=IN / 8),
        sizes={Role.JOINT_TISSUE: (1 / 4, 10)},
        order=("lay the toned strip", "turn the ends in"),
    ),
    Case(
        source="Indiana, reback inside: squares of 3 mm on three sides",
        damage=at("board-lost"),
        treatment="board-new",
        book=volume({"square": 3}, board_height=None, leaf_height=190, leaf_width=127),
        sizes={Role.BOARD: (None, 196 / IN)},
        order=("Cut the board to its fellow", "Join its cloth to the spine"),
    ),
    Case(
        source="Bailey 1916, specification: 3 tapes to an 8-inch book, 1 1/4 in on each side",
        damage=at("sewing-broken"),
        treatment="resew",
        book=volume({"mull-flange": 1.25 * IN}, leaf_height=8 * IN),
        sizes={Role.SEWING_TAPE: (3.75, None), Role.MULL: (3.75, None)},
        counts={Role.SEWING_TAPE: 3},
        order=(
            "take it down",
            "Guard what is split",
            "Sew to the old pattern",
            "each dried before the next",
            "Case in",
        ),
    ),
    Case(
        source="Dyal and Merrill-Oldham 1998, first repair: rod at head, then tail; press",
        damage=at("block-loose", along=60),
        treatment="hinge-tighten",
        book=volume(),
        order=("at the head, then at the tail", "and press"),
    ),
    Case(
        source="Dyal and Merrill-Oldham 1998, second repair: mask 1/8 in off, fold to the shoulder",
        damage=at("pastedown-lifted", BookPlace.LOWER_HINGE, along=60, across=20),
        treatment="hinge-tighten-open",
        book=volume(board_width=6 * IN),
        order=("Mask an eighth", "and press"),
    ),
    Case(
        source="Etherington: hinge tissue about 1 in, as high as the text block",
        damage=at("hinge-broken", along=40),
        treatment="hinge-tissue",
        book=volume(leaf_height=7.5 * IN),
        sizes={Role.HINGE_TISSUE: (1, 7.5)},
        order=("Tear the tissue",),
    ),
    Case(
        source="Web repair series: a sixteenth of an inch of paste, no more than 3 to 4 leaves",
        damage=at("leaf-loose", count=2),
        treatment="tip-in",
        book=volume(),
        order=("Mask a sixteenth",),
    ),
    Case(
        source="common practice, no source: 12 worn + 10 hold + 13 turned in + 2 of board",
        damage=at("corner-bare", BookPlace.LOWER_TAIL_CORNER, along=12),
        treatment="corner-rebuild",
        book=volume({"corner-hold": 10, "corner-turn-in": 13}, board_thickness=2),
        sizes={Role.CORNER_PATCH: (37 / IN, 37 / IN), Role.CORNER_FILL: (12 / IN, 12 / IN)},
        counts={Role.CORNER_PATCH: 1},
        order=("Bevel what is loose",),
    ),
    Case(
        source="common practice, no source: 10 lost + 13 hold + 19 turned in",
        damage=at("cap-lost", BookPlace.SPINE_TAIL, along=10),
        treatment="cap-piece",
        book=volume(
            {"underlap": 8, "cap-hold": 13, "turn-in": 19},
            spine_width=30,
            joint=6,
            board_height=200,
        ),
        sizes={Role.TAIL_PIECE: (58 / IN, 42 / IN)},
        order=("Open the cap",),
    ),
    Case(
        source="proposed, no source: 2 of board + 2 × 6 on its faces; 60 worn + 2 × 3",
        damage=at("edges-worn", along=60),
        treatment="edge-facing",
        book=volume({"edge-hold": 6, "tear-end": 3}, board_thickness=2, board_width=6 * IN),
        sizes={Role.EDGE_TISSUE: (14 / IN, 66 / IN)},
        order=("Lay the threads",),
    ),
    Case(
        source="from memory, no source: a stuck-on band as wide as the back",
        damage=at("headband-lost"),
        treatment="headband",
        book=volume(spine_width=30),
        sizes={Role.HEADBAND: (30 / IN, 13 / IN)},
        counts={Role.HEADBAND: 1},
        order=("Cut the band to the back",),
    ),
)


def test_there_are_twenty_cases_with_a_published_source():
    assert sum("no source" not in case.source for case in CASES) >= 20


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.source.split(":")[0])
def test_a_worked_case(case):
    option = propose((case.damage,), case.book)[0].option(case.treatment)
    assert option.rank is not Rank.REFUSED
    done = work(case.book, (case.damage, case.treatment))
    found = {part.role: part for part in done.parts}
    for role, (wide, high) in case.sizes.items():
        if wide is not None:
            assert found[role].width == pytest.approx(wide * IN, abs=0.02)
        if high is not None:
            assert found[role].height == pytest.approx(high * IN, abs=0.02)
    for role, count in case.counts.items():
        assert found[role].count == count
    assert bool(done.parts) is bool(TREATMENTS[case.treatment].parts)
    steps = [step.do for step in done.steps]
    where = [next(i for i, do in enumerate(steps) if words in do) for words in case.order]
    assert where == sorted(where)
    assert len(where) == len(set(where)) == len(steps)


# Every treatment of the file


@pytest.mark.parametrize("key", sorted(TREATMENTS.by_key))
def test_the_parts_named_are_those_that_the_sums_give(key):
    """By every habit of the survey, for every damage that the treatment serves."""
    treatment, given = TREATMENTS[key], set()
    for kind in KINDS.by_key.values():
        if key not in kind.treatments:
            continue
        for place in kind.places:
            damage = at(
                kind.key,
                place,
                along=10 if kind.along else None,
                across=10 if kind.across else None,
            )
            for reback, hollow, covering, cut in (
                (Reback.INSIDE, Hollow.SIMPLE, Covering.FULL, 0),
                (Reback.OUTSIDE, Hollow.THREE, Covering.QUARTER, 1),
                (Reback.REMOUNTED, Hollow.FOUR, Covering.FULL, 0),
                (Reback.INSIDE, Hollow.THREE_AND_HALF, Covering.FULL, 0),
            ):
                book = volume(
                    {"corner-cut": cut},
                    board_width=150,
                    reback=reback,
                    hollow=hollow,
                    covering=covering,
                )
                given |= {part.role for part in work(book, (damage, key)).parts}
    assert given == set(treatment.parts)


# Work that is shared


def split_and_out(**values) -> tuple[VolumeFacts, list[tuple[PlacedDamage, str]]]:
    book = volume(board_width=150, **values)
    return book, [
        (at("joint-split"), "full-reback"),
        (at("mull-failed"), "full-reback"),
        (at("wrong-glue"), "reline"),
        (at("cap-lost", along=12), "cap-piece"),
        (at("block-loose"), "hinge-tighten"),
    ]


def test_recasing_and_lining_are_counted_once_however_many_treatments_want_them():
    book, pairs = split_and_out()
    together = work(book, *pairs)
    alone = work(book, pairs[0])
    assert (together.hours.low, together.hours.high) == (alone.hours.low, alone.hours.high)
    roles = [part.role for part in together.parts]
    for role in (Role.MULL, Role.LINING_TISSUE, Role.HOLLOW_THREE, Role.REBACK_INSIDE):
        assert roles.count(role) == 1
    assert Role.HEAD_PIECE not in roles
    assert dict(together.taken_in) == {
        "reline": "full-reback",
        "cap-piece": "full-reback",
        "hinge-tighten": "full-reback",
    }
    assert [step.do for step in together.steps] == [step.do for step in alone.steps]


def test_the_loss_that_a_reback_takes_in_is_still_seen_on_its_strip():
    book, pairs = split_and_out()
    strips = [
        next(p for p in work(book, *some).parts if p.role is Role.REBACK_INSIDE)
        for some in (pairs, pairs[:1])
    ]
    assert strips[0].shown_area > strips[1].shown_area


@pytest.mark.parametrize(("left", "kept"), [(None, True), (67, True), (65, False)])
def test_of_a_spine_less_than_a_third_of_it_only_the_title_is_laid_back(left, kept):
    """Proposed: then the new cloth is seen from head to tail."""
    book = volume(spine_width=30, joint=6, board_height=200)
    done = work(book, (at("spine-detached", along=left), "partial-reback"))
    strip = next(part for part in done.parts if part.role is Role.REBACK_INSIDE)
    whole = (30 + 2 * (6 + default_allowances()["view"].value)) * 200
    assert (strip.shown_area < whole - 1) is kept


def test_sewing_again_takes_recasing_in():
    book = volume(board_width=150)
    sewn = work(book, (at("sewing-broken"), "resew"))
    both = work(book, (at("sewing-broken"), "resew"), (at("block-detached"), "recase"))
    assert (both.hours.low, both.hours.high) == (sewn.hours.low, sewn.hours.high) == (7.5, 14)
    assert [part.role for part in both.parts] == [part.role for part in sewn.parts]
    assert dict(both.taken_in) == {"recase": "resew"}


def test_two_corners_are_two_patches_and_two_times_the_hours():
    book = volume(board_width=150)
    corners = [
        (at("corner-bare", place, along=8), "corner-rebuild")
        for place in (BookPlace.UPPER_HEAD_CORNER, BookPlace.LOWER_HEAD_CORNER)
    ]
    one, two = work(book, corners[0]), work(book, *corners)
    assert sum(p.count for p in two.parts if p.role is Role.CORNER_PATCH) == 2
    assert two.hours.high - 1 == pytest.approx(2 * (one.hours.high - 1))
    assert len(two.steps) == len(one.steps)


def test_a_new_case_on_a_failed_spine_brings_its_linings():
    book = volume(board_width=150)
    found = work(book, (at("case-lost"), "new-case"), (at("wrong-glue"), "reline"))
    roles = {part.role for part in found.parts}
    assert {Role.CASE_CLOTH, Role.MULL} <= roles
    assert found.hours.low > work(book, (at("case-lost"), "new-case")).hours.low


def test_endpapers_of_one_end_are_one_folio_and_of_both_two():
    book = volume(board_width=150, leaf_height=220, leaf_width=148)
    ends = [(at("endpaper-lost", place), "endpapers") for place in KINDS["endpaper-lost"].places]
    counts = [
        next(p.count for p in work(book, *some).parts if p.role is Role.ENDPAPER)
        for some in (ends[:1], ends)
    ]
    assert counts == [1, 2]


def test_the_order_of_a_whole_book_runs_from_the_back_to_the_press():
    """Common practice, agreeing with the order of Indiana's pages: lift, line, spine, case in."""
    book = volume(board_width=150)
    found = work(
        book,
        (at("corner-bare", along=8), "corner-rebuild"),
        (at("joint-split"), "full-reback"),
        (at("leaf-torn", along=30), "leaf-mend"),
        (at("joint-tender"), "leave"),
    )
    told = [step.do for step in found.steps]

    def stands(words):
        return next(i for i, do in enumerate(told) if words in do)

    marks = ["old spine off whole", "each dried", "Close the tear", "Measure round", "Bevel",
             "Case in", "Lay the old spine", "Box or tie"]  # fmt: skip
    assert [stands(words) for words in marks] == sorted(stands(words) for words in marks)
    assert any("give the reason" in line for line in found.warnings)


def test_a_case_cannot_be_new_and_its_own():
    book = volume(board_width=150)
    found = work(book, (at("case-lost"), "new-case"), (at("block-detached"), "recase"))
    assert any("choose one of the two" in line for line in found.warnings)


def test_drying_is_told_with_how_and_where_it_is_from():
    for treatment in TREATMENTS.by_key.values():
        for step in treatment.steps:
            assert step.dry_low <= step.dry_high
            assert bool(step.under) is bool(step.dry_high)
            assert step.provenance.words
    press = TREATMENTS["full-reback"].steps[-2]
    assert (press.dry_low, press.dry_high) == (12, 24)  # common practice, no source
    assert press.provenance.mark is Mark.COMMON


# Hours against what is published


def alone(damage: PlacedDamage, key: str) -> tuple[float, float]:
    found = propose((damage,), volume(board_width=150))[0].option(key).hours
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("damage", "key"),
    [
        (at("leaf-loose"), "tip-in"),
        (at("leaf-torn", along=40), "leaf-mend"),
        (at("block-loose"), "hinge-tighten"),
    ],
)
def test_small_repairs_keep_to_the_first_level(damage, key):
    # Association of Research Libraries: level 1, under 15 minutes: tip-in, page mend, hinge
    # tightening.
    assert alone(damage, key)[1] <= 0.25 + 1e-9


@pytest.mark.parametrize(
    ("damage", "key"),
    [(at("endpaper-lost"), "endpapers"), (at("hinge-cracked"), "hinge-tissue")],
)
def test_endpapers_and_hinges_keep_to_the_second_level(damage, key):
    # Association of Research Libraries: level 2, 15 minutes to 2 hours: endsheets among it; the
    # inner hinge is ours.
    low, high = alone(damage, key)
    assert low >= 0.25
    assert high <= 2


def test_a_spine_that_is_kept_takes_longer_than_the_library_band():
    # Association of Research Libraries: spine replacement and recasing 15 minutes to 2 hours, of
    # lending stock in batches. Keeping the old spine, toning and one volume at a time lie above
    # it: a difference that is meant, by common practice.
    assert alone(at("joint-split"), "partial-reback")[0] > 2
    assert alone(at("block-detached"), "recase")[0] > 2


@pytest.mark.parametrize(("inches", "hours"), [(1, 1), (3, 3), (3.2, 4)])
def test_tape_takes_an_hour_an_inch(inches, hours):
    # Duke University Libraries 2012: one hour an inch.
    assert alone(at("old-tape", along=inches * IN), "tape-removal") == (hours, hours)


def test_sewing_again_takes_several_hours():
    # Michigan State University Libraries: sewing several hours; by itself, recasing left out.
    sewing = alone(at("sewing-broken"), "resew")[0] - alone(at("block-detached"), "recase")[0]
    assert sewing == pytest.approx(3)


def test_hours_that_nobody_has_published_are_not_given():
    found = propose((at("board-detached"),), volume(board_width=150))[0].option("board-slot")
    assert found.hours is None
    done = work(volume(board_width=150), (at("board-detached"), "board-slot"))
    assert done.hours_unknown == ("board-slot",)


def test_brittle_cloth_and_folios_scale_the_hours_of_a_treatment():
    plain = volume(board_width=150)
    folio = replace(plain, survey=replace(plain.survey, folio=True))
    hours = [
        propose((at("hinge-cracked"),), book)[0].option("hinge-tissue").hours
        for book in (plain, folio)
    ]
    assert hours[0] is not None
    assert hours[1] == pytest.approx([1.5 * one for one in hours[0]])


def test_cloth_of_a_treatment_keeps_to_the_grain():
    book = volume(board_width=150)
    for part in work(book, (at("board-lost"), "board-new")).parts:
        assert part.grain is Grain.ALONG
