"""Flaws allowed or not by the zone of the part they come to lie in."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, box

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline, Placement, Sight, Zone, lack, place
from tests.shape.scraps import frayed

# A reback strip 60 mm wide: the two joints show, the middle lies under the old spine.
JOINTS = (
    Zone(Sight.SHOWN, 0, 0, 15, 200),
    Zone(Sight.HIDDEN, 15, 0, 45, 200),
    Zone(Sight.SHOWN, 45, 0, 60, 200),
)
STRIP = Outline(((0, 0), (60, 0), (60, 200), (0, 200)))


def spot(kind: FlawKind, x: float, y: float, size: float = 4.0) -> Flaw:
    return Flaw(kind, ((x, y), (x + size, y), (x + size, y + size), (x, y + size)))


def test_a_stain_under_the_old_spine_is_fine_and_on_the_joint_is_not() -> None:
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.STAIN, 28, 90)], zones=JOINTS) is not None
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.STAIN, 5, 90)], zones=JOINTS) is None
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.STAIN, 28, 90)]) is None


def test_a_stain_that_touches_the_edge_of_the_joint_is_fine() -> None:
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.STAIN, 15, 90, 30)], zones=JOINTS) is not None
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.STAIN, 14.9, 90)], zones=JOINTS) is None


@pytest.mark.parametrize("kind", [FlawKind.HOLE, FlawKind.WEAK])
def test_what_weakens_the_cloth_may_lie_nowhere(kind: FlawKind) -> None:
    assert place(STRIP, 60, 200, flaws=[spot(kind, 28, 90)], zones=JOINTS) is None


def test_the_rule_may_be_changed() -> None:
    rule = {FlawKind.WEAK: frozenset({Sight.HIDDEN, Sight.SHOWN})}
    assert place(STRIP, 60, 200, flaws=[spot(FlawKind.WEAK, 5, 5)], zones=JOINTS, rule=rule)


def test_a_part_turned_head_to_tail_may_hide_what_it_showed() -> None:
    cap = (Zone(Sight.SHOWN, 0, 150, 60, 200), Zone(Sight.HIDDEN, 0, 0, 60, 150))
    stain = [spot(FlawKind.STAIN, 28, 180)]
    assert place(STRIP, 60, 200, flaws=stain, zones=cap, turns=(0,)) is None
    found = place(STRIP, 60, 200, flaws=stain, zones=cap, turns=(0, 180))
    assert found is not None
    assert found.turn == 180


def test_what_no_zone_covers_counts_as_shown() -> None:
    hidden = (Zone(Sight.HIDDEN, 15, 0, 45, 100),)
    for y, fits in ((90, True), (120, False)):
        stain = [spot(FlawKind.STAIN, 28, y)]
        found = place(STRIP, 60, 200, turns=(0,), flaws=stain, zones=hidden)
        assert (found is not None) is fits


def test_the_margin_is_kept_between_a_shown_zone_and_a_stain() -> None:
    wide = Outline(((0, 0), (80, 0), (80, 200), (0, 200)))
    stain = [spot(FlawKind.STAIN, 38, 90)]
    assert place(wide, 60, 190, flaws=stain, zones=JOINTS, margin=2) is not None
    assert place(wide, 60, 190, flaws=[spot(FlawKind.STAIN, 4, 90, 40)], zones=JOINTS) is None


def zone_polygons(found: Placement, zones: tuple[Zone, ...]) -> list[tuple[Sight, object]]:
    """The zones as they lie, by shapely's own turning."""
    x, y = found.corners[0]
    lain = []
    for zone in zones:
        flat = box(zone.left, zone.low, zone.right, zone.high)
        turned = affinity.rotate(flat, found.turn, origin=(0, 0))
        lain.append((zone.sight, affinity.translate(turned, x, y)))
    return lain


@settings(max_examples=80, deadline=None)
@given(seed=st.integers(0, 10_000), turn=st.sampled_from([0, 180, 90, 23.0]))
def test_no_stain_ever_shows_and_brute_force_finds_no_more(seed: int, turn: float) -> None:
    outline = frayed(seed, 16)
    random = np.random.default_rng(seed)
    flaws = [spot(FlawKind.STAIN, *random.uniform(-40, 30, 2), random.uniform(4, 20)) for _ in "ab"]
    zones = (
        Zone(Sight.SHOWN, 0, 0, 8, 70),
        Zone(Sight.HIDDEN, 8, 0, 24, 70),
        Zone(Sight.SHOWN, 24, 0, 30, 70),
    )
    found = place(outline, 30, 70, turns=(turn,), flaws=flaws, zones=zones)
    if found is not None:
        assert found.polygon.difference(outline.polygon).area < 1e-9
        for sight, polygon in zone_polygons(found, zones):
            if sight is Sight.SHOWN:
                assert all(polygon.intersection(f.polygon).area < 1e-6 for f in flaws)  # type: ignore[attr-defined]
        return
    straight = affinity.rotate(outline.polygon, -turn, origin=(0, 0))
    stains = [affinity.rotate(f.polygon, -turn, origin=(0, 0)) for f in flaws]
    left, low, right, high = straight.bounds
    for x in np.arange(left, right - 30, 2.5):
        for y in np.arange(low, high - 70, 2.5):
            if straight.covers(box(x, y, x + 30, y + 70)):
                shown = [box(x, y, x + 8, y + 70), box(x + 24, y, x + 30, y + 70)]
                assert any(s.intersects(stain) for s in shown for stain in stains)


@pytest.mark.parametrize("turn", [0, 90, 33.0])
@pytest.mark.parametrize("part", range(12))
def test_a_hidden_zone_as_wide_as_the_part_hides_whatever_its_measures_are(
    part: int, turn: float
) -> None:
    """A measure not exact in binary leaves no hair at the part's edge, nor between two zones."""
    width, height = np.random.default_rng(part).uniform((20, 60), (60, 150))
    zones = (
        Zone(Sight.SHOWN, 0, 0, width, height * 0.3),
        Zone(Sight.HIDDEN, 0, height * 0.1 + height * 0.2, width, height),
    )
    straight = affinity.rotate(box(0, 0, width + 2, height + 2), turn, origin=(0, 0))
    stain = affinity.rotate(box(-5, height * 0.5, width + 9, height), turn, origin=(0, 0))
    flaw = Flaw(FlawKind.STAIN, tuple(stain.exterior.coords[:-1]))
    outline = Outline.from_polygon(straight)
    assert place(outline, width, height, turns=(turn,), flaws=[flaw], zones=zones) is not None
    head_to_tail = (turn + 180,)
    assert place(outline, width, height, turns=head_to_tail, flaws=[flaw], zones=zones) is None


def test_a_zone_without_size_is_refused() -> None:
    with pytest.raises(ShapeError):
        Zone(Sight.SHOWN, 10, 0, 10, 5)


def test_the_near_miss_names_the_flaw_in_the_shown_zone() -> None:
    missing = lack(STRIP, 60, 200, flaws=[spot(FlawKind.GLUE, 5, 90)], zones=JOINTS)
    assert missing is not None
    assert missing.words == "fits but for the glue"
    assert lack(STRIP, 60, 200, flaws=[spot(FlawKind.GLUE, 25, 90)], zones=JOINTS) is None
