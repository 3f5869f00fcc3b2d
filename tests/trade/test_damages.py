"""Damage with its place and its extent; old surveys carry on."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError, RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Damage, Harm, Survey, default_allowances, shipped_rules
from bindery_stock.trade.book_places import CORNERS, BookPlace, reach
from bindery_stock.trade.damage_entries import load_damages, shipped_damages
from bindery_stock.trade.damage_sense import contradictions
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.survey_ticks import placed_damage, survey_ticks

KINDS = shipped_damages()
SHIPPED = (resources() / "damages.toml").read_text("utf-8")
BOOK = Survey(
    spine_width=30, joint=6, board_height=200, board_width=130, leaf_height=194, leaf_width=128
)
MEASURES = Measures(BOOK, default_allowances(), shipped_rules())


def at(kind: str, place: BookPlace, **rest) -> PlacedDamage:
    return PlacedDamage(kind=kind, place=place, **rest)


def test_all_that_a_binder_finds_has_an_entry():
    """The ten that a list of ticks for parts leaves out; common practice, no source."""
    assert {
        "board-detached",
        "spine-detached",
        "block-loose",
        "leaf-loose",
        "headband-lost",
        "edges-worn",
        "corner-soft",
        "spine-cocked",
        "cloth-lifted",
        "old-tape",
    } <= set(KINDS.by_key)


@pytest.mark.parametrize(
    "damage",
    [
        at("corner-bare", BookPlace.UPPER_HEAD_CORNER, along=65),
        at("joint-cracked", BookPlace.LOWER_JOINT, along=200),
        at("joint-cracked", BookPlace.LOWER_JOINT),
        at("edges-worn", BookPlace.UPPER_TAIL_EDGE, along=130),
        at("edges-worn", BookPlace.UPPER_FORE_EDGE, along=200),
        at("hole", BookPlace.LOWER_BOARD, along=200, across=130, count=1),
        at("mull-failed", BookPlace.BLOCK_SPINE, along=194),
        at("leaf-loose", BookPlace.LEAVES, count=12),
        at("corner-bare", BookPlace.NOT_SAID, along=8, count=3),
    ],
)
def test_damage_that_its_place_can_hold_is_taken(damage):
    KINDS.check(damage, MEASURES)


@pytest.mark.parametrize(
    ("damage", "field", "said"),
    [
        (at("corner-bare", BookPlace.UPPER_HEAD_CORNER, along=65.1), "Along", "65 mm there are"),
        (at("joint-cracked", BookPlace.LOWER_JOINT, along=200.1), "Along", "measure both again"),
        (at("edges-worn", BookPlace.UPPER_TAIL_EDGE, along=131), "Along", "130 mm"),
        (at("hole", BookPlace.LOWER_BOARD, along=20, across=131), "Across", "130 mm"),
        (at("hole", BookPlace.LOWER_BOARD, along=20), "Across", "measure it"),
        (at("mull-failed", BookPlace.BLOCK_SPINE, along=195), "Along", "194 mm"),
        (at("corner-bare", BookPlace.SPINE, along=5), "Place", "another place"),
        (at("case-lost", BookPlace.CASE, along=5), "Along", "leave it empty"),
        (at("corner-bare", BookPlace.UPPER_HEAD_CORNER, along=5, count=2), "Count", "by place"),
        (at("corner-bare", BookPlace.NOT_SAID, along=66), "Along", "65 mm"),
        (at("mermaid", BookPlace.SPINE), "Damage", "mermaid"),
    ],
)
def test_damage_that_cannot_be_is_refused_with_its_mend(damage, field, said):
    with pytest.raises(EntryError, match=said) as raised:
        KINDS.check(damage, MEASURES)
    assert raised.value.field == field


@pytest.mark.parametrize("rest", [{"count": 0}, {"along": 0.0}, {"across": -1.0}])
def test_figures_that_are_none_are_refused(rest):
    with pytest.raises(EntryError):
        at("hole", BookPlace.UPPER_BOARD, **rest)


def test_every_place_of_every_kind_reaches_as_far_as_the_book():
    for kind in KINDS.by_key.values():
        for place in kind.places:
            along, across = reach(place, MEASURES)
            assert along is None or 0 < along <= 200
            assert across is None or 0 < across <= 2 * 130


def test_without_a_width_measured_no_width_is_refused():
    narrow = Survey(spine_width=30, joint=6, board_height=200)
    found = Measures(narrow, default_allowances(), shipped_rules())
    KINDS.check(at("hole", BookPlace.UPPER_BOARD, along=20, across=900), found)
    with pytest.raises(EntryError, match="200 mm"):
        KINDS.check(at("hole", BookPlace.UPPER_BOARD, along=201, across=20), found)


@pytest.mark.parametrize(
    ("damages", "said"),
    [
        ((at("board-lost", BookPlace.UPPER_BOARD),
          at("corner-bare", BookPlace.UPPER_TAIL_CORNER, along=5)), "board that is lost"),
        ((at("board-lost", BookPlace.UPPER_BOARD),
          at("board-detached", BookPlace.UPPER_BOARD)), "cannot both be"),
        ((at("spine-lost", BookPlace.SPINE), at("spine-detached", BookPlace.SPINE)), "both be"),
        ((at("spine-lost", BookPlace.SPINE),), "untick that it is laid back"),
        ((at("case-lost", BookPlace.CASE), at("joint-split", BookPlace.UPPER_JOINT)), "is of it"),
        ((at("case-lost", BookPlace.CASE), at("board-lost", BookPlace.UPPER_BOARD)), "is of it"),
        ((at("block-detached", BookPlace.CASE), at("block-loose", BookPlace.UPPER_HINGE)), "both"),
        ((at("endpaper-lost", BookPlace.UPPER_ENDPAPERS),
          at("flyleaf-lost", BookPlace.UPPER_ENDPAPERS)), "endpapers that are lost"),
        ((at("cap-lost", BookPlace.SPINE_HEAD, along=120),
          at("cap-lost", BookPlace.SPINE_TAIL, along=80)), "measure both again"),
        ((at("joint-tender", BookPlace.UPPER_JOINT),
          at("joint-tender", BookPlace.UPPER_JOINT)), "twice at one place"),
    ],
)  # fmt: skip
def test_damages_that_cannot_stand_side_by_side_are_told_with_the_mend(damages, said):
    told = contradictions(damages, KINDS, MEASURES)
    assert [line for line in told if said in line], told
    assert all(any(m in line for m in ("delete", "measure", "untick")) for line in told)


@pytest.mark.parametrize(
    "damages",
    [
        (at("board-lost", BookPlace.UPPER_BOARD), at("board-detached", BookPlace.LOWER_BOARD)),
        (at("board-lost", BookPlace.UPPER_BOARD),
         at("corner-bare", BookPlace.LOWER_TAIL_CORNER, along=5)),
        (at("endpaper-lost", BookPlace.UPPER_ENDPAPERS),
         at("flyleaf-lost", BookPlace.LOWER_ENDPAPERS)),
        (at("hole", BookPlace.UPPER_BOARD, along=5, across=5),
         at("hole", BookPlace.UPPER_BOARD, along=9, across=9)),
        (at("cap-lost", BookPlace.SPINE_HEAD, along=120),
         at("cap-lost", BookPlace.SPINE_TAIL, along=79)),
        (at("corner-bare", BookPlace.NOT_SAID, along=5),
         at("corner-bare", BookPlace.NOT_SAID, along=9)),
        (at("spine-detached", BookPlace.SPINE), at("joint-split", BookPlace.UPPER_JOINT)),
    ],
)  # fmt: skip
def test_damages_that_can_stand_side_by_side_pass(damages):
    assert contradictions(damages, KINDS, MEASURES) == ()


# Old surveys


@pytest.mark.parametrize("harm", list(Harm))
def test_every_tick_of_a_survey_is_a_damage(harm):
    (tick,) = survey_ticks(placed_damage((Damage(harm, 1, 10.0, 10.0),), KINDS), KINDS)
    assert (tick.harm, tick.count) == (harm, 1)


def test_four_corners_stand_at_their_four_places():
    found = placed_damage((Damage(Harm.CORNERS_BARE, 4, 8.0),), KINDS)
    assert tuple(damage.place for damage in found) == CORNERS
    assert {damage.along for damage in found} == {8.0}


def test_a_tick_that_leaves_the_place_open_says_so():
    (two,) = placed_damage((Damage(Harm.CORNERS_BARE, 2, 8.0),), KINDS)
    assert (two.place, two.count) == (BookPlace.NOT_SAID, 2)


def test_split_joints_are_both_of_them():
    found = placed_damage((Damage(Harm.JOINTS_SPLIT),), KINDS)
    assert [d.place for d in found] == [BookPlace.UPPER_JOINT, BookPlace.LOWER_JOINT]


def test_endpapers_at_one_end_and_at_both_are_told_apart():
    upper = at("endpaper-lost", BookPlace.UPPER_ENDPAPERS)
    lower = at("endpaper-lost", BookPlace.LOWER_ENDPAPERS)
    assert survey_ticks((upper,), KINDS) == (Damage(Harm.ENDPAPER_LOST),)
    assert survey_ticks((upper, lower), KINDS) == (Damage(Harm.ENDPAPERS_LOST),)


def test_loss_at_head_and_tail_keeps_its_end():
    head = at("cap-lost", BookPlace.SPINE_HEAD, along=12.0)
    tail = at("cap-lost", BookPlace.SPINE_TAIL, along=7.0)
    assert survey_ticks((head, tail), KINDS) == (
        Damage(Harm.HEAD_LOST, extent=12.0),
        Damage(Harm.TAIL_LOST, extent=7.0),
    )


_COUNTED = sorted({Harm.CORNERS_BARE, Harm.LEAF_TORN, Harm.JOINT_CRACKED, Harm.HOLE})


@given(
    st.lists(
        st.builds(
            Damage,
            st.sampled_from(_COUNTED),
            st.integers(1, 4),
            extent=st.sampled_from([5.0, 8.0]),
            across=st.just(6.0),
        ),
        max_size=5,
    )
)
def test_a_survey_comes_back_as_it_was(ticks):
    """As many of each, as far, however the ticks were parted."""

    def counted(found):
        total: Counter[tuple[Harm, float | None]] = Counter()
        for tick in found:
            total[tick.harm, tick.extent] += tick.count
        return total

    assert counted(survey_ticks(placed_damage(ticks, KINDS), KINDS)) == counted(ticks)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('term = "hole"', 'term = "hoel"', "hoel"),
        ('places = ["spine"]', 'places = ["spin"]', "“spin” is not one of"),
        ('harm = "outer joint tender"', 'harm = "outer joint tired"', "outer joint tired"),
        ('harm = "spine cocked"', 'harm = "case lost"', "already"),
        ("counted = true", "cuonted = true", "cuonted"),
        ("[damage.hole]", "[damage.hole", r"line \d+"),
        ('places = ["spine"] }]\ntreatments = ["leave", "recase"]',
         'places = ["case"] }]\ntreatments = ["leave", "recase"]', "no place of this damage"),
    ],
)  # fmt: skip
def test_a_slip_among_the_kinds_is_named(tmp_path, old, new, said):
    assert old in SHIPPED
    file = tmp_path / "damages.toml"
    file.write_text(SHIPPED.replace(old, new, 1), "utf-8")
    with pytest.raises(RulesError, match=said) as raised:
        load_damages(file)
    assert "damages.toml, line" in str(raised.value)


def test_a_tick_that_no_kind_stands_for_is_missed(tmp_path):
    start, end = SHIPPED.index("[damage.old-tape]"), len(SHIPPED)
    file = tmp_path / "damages.toml"
    file.write_text(SHIPPED[:start] + SHIPPED[end:], "utf-8")
    with pytest.raises(RulesError, match="old tape"):
        load_damages(file)
