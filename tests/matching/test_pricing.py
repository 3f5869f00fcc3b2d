"""The load of a piece worth most, held against trying every set of parts."""

from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.matching import Part, Pin
from bindery_stock.matching.bound import Bound, floor
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.orders import closest_first
from bindery_stock.matching.pricing import Pricing
from bindery_stock.matching.share_values import Sharing
from bindery_stock.matching.sizes import PackSize, Sizes
from tests.matching.hoards import RED, ragged, sheet


def case(seed: int) -> tuple[Campaign, np.ndarray]:
    """One ragged scrap, eight parts that want it, and what each of them would bring."""
    rng = np.random.default_rng(seed)
    piece = ragged("C-0001", seed, across=140, along=220, points=14)
    parts = [
        Part(
            float(rng.uniform(15, 50)),
            float(rng.uniform(20, 120)),
            RED,
            margin=1.0,
            volume=f"vol. {n % 3}",
        )
        for n in range(8)
    ]
    return Campaign(parts, [piece], ()), rng.uniform(0, 60, len(parts))


def worth_of_every_load(campaign: Campaign, prizes: np.ndarray) -> dict[tuple[int, ...], float]:
    """By trying all sets of parts, whatever the packer says of them: what they bring, less lots and
    whole cloth lost."""
    packer, worths = campaign.packers[0], prizes - campaign.cost[:, 0]
    able = np.flatnonzero(np.isfinite(worths)).tolist()
    found = {}
    for count in range(1, len(able) + 1):
        for load in combinations(able, count):
            content = tuple(sorted(campaign.size(part, 0) for part in load))
            if packer.holds(content):
                found[load] = float(worths[list(load)].sum()) - campaign.extra(0, content, load)
    return found


@pytest.mark.parametrize("seed", range(6))
def test_no_load_is_worth_more_than_the_best(seed):
    campaign, prizes = case(seed)
    found = Pricing(campaign, 0, ()).best(prizes, {}, asks=100_000)
    worths = worth_of_every_load(campaign, prizes)
    assert found.exact
    assert found.worth == pytest.approx(max(0.0, *worths.values()))
    if found.loads:
        assert worths[found.loads[-1]] == pytest.approx(found.worth)


@pytest.mark.parametrize("seed", range(6))
def test_where_questions_run_out_no_load_is_worth_more_than_is_said(seed):
    campaign, prizes = case(seed)
    found = Pricing(campaign, 0, ()).best(prizes, {}, asks=3)
    assert found.at_most >= max(0.0, *worth_of_every_load(campaign, prizes).values()) - 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_every_load_near_the_best_is_found(seed):
    campaign, prizes = case(seed)
    pricing = Pricing(campaign, 0, ())
    best = pricing.best(prizes, {}, asks=100_000).worth
    least = 0.7 * best
    loads, all_of_them = pricing.every(prizes, least, best - least, most=100_000)
    worths = worth_of_every_load(campaign, prizes)
    assert all_of_them
    # A part that is worth a little less than nothing there may still be in the best plan.
    assert set(loads) == {load for load, worth in worths.items() if worth >= least}


def test_pinned_parts_stay_in_and_are_not_priced():
    parts = [Part(57, 228, RED), Part(57, 228, RED), Part(57, 228, RED)]
    campaign = Campaign(parts, [sheet("C-0001", 120, 240)], [Pin(0, "C-0001")])
    pinned = Sharing(campaign).content(0)
    found = Pricing(campaign, 0, pinned).best(np.array((60.0, 10.0, 20.0)), {}, asks=1000)
    assert found.loads[-1] == (2,)
    assert found.worth == pytest.approx(20.0 - 0.2 * 13_680 / 10_000)  # 63 × 240 − 6 × 240 mm lost


def test_the_bound_rises_round_by_round_and_stays_below_a_plan():
    rng = np.random.default_rng(3)
    pieces = [sheet(f"C-{n}", 90, 240, (float(rng.uniform(34, 44)), 42.0, 24.0)) for n in range(4)]
    parts = [Part(float(rng.uniform(30, 60)), 200, RED) for _ in range(7)]
    campaign = Campaign(parts, pieces, ())
    proof, seen = Bound(campaign, 60.0), [0.0]
    while not proof.closed and len(seen) < 60:
        assert proof.round(lambda: False, 60.0)
        seen.append(proof.value)
    assert proof.closed
    assert seen == sorted(seen)
    assert 0.0 < seen[-1] <= closest_first(campaign).objective() + 1e-6


def test_asked_to_stop_a_round_proves_nothing():
    campaign, _ = case(1)
    proof = Bound(campaign, 60.0)
    at_once = proof.value
    assert not proof.round(lambda: True, 60.0)
    assert proof.value == at_once == pytest.approx(floor(campaign))


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), max_size=5),
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), max_size=4),
)
def test_parts_lie_in_the_places_of_larger_ones_where_any_arrangement_lets_them(larger, smaller):
    sizes = Sizes()
    big, small = (
        tuple(sorted(sizes.number(PackSize(w, h, 0.0, (0.0,))) for w, h in pairs))
        for pairs in (larger, smaller)
    )
    places = sizes.replaces(big, small)
    arranged = any(
        all(sizes.needs_at_least(b, s) for b, s in zip(order, small, strict=True))
        for order in permutations(big, len(small))
    )
    assert (places is not None) == arranged
    if places is not None:
        assert len(set(places)) == len(small)
        assert all(sizes.needs_at_least(big[at], s) for at, s in zip(places, small, strict=True))
