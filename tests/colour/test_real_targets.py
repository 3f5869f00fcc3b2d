"""Against real photographs of a target; skipped, saying so, where they are not at hand."""

from itertools import combinations

import numpy as np
import pytest

from bindery_stock.colour import Neutral, PhotoVerdict, Target, delta_e00, measure, target_report
from bindery_stock.colour.uncertainty import IN_PHOTO_BARE, IN_PHOTO_TARGET
from bindery_stock.errors import ColourError, ReferenceRefused


@pytest.fixture(scope="module")
def reports(target_photos):
    return {
        name: target_report(
            photo["path"], Target([tuple(photo["centres"][i]) for i in (0, 5, 18, 23)])
        )
        for name, photo in target_photos.items()
    }


def test_patches_left_out_are_found_to_3_9_in_the_mean_and_7_6_in_19_of_20(reports):
    """ISO 19264-1:2021 level A asks 4 of the target's own patches (secondary table)."""
    errors = np.concatenate([report.left_out for report in reports.values()])
    assert np.nanmean(errors) <= 3.9
    assert np.nanpercentile(errors, 95) <= 7.6


def test_no_photograph_is_made_worse(reports):
    for name, report in reports.items():
        assert report.mean < np.nanmean(report.uncorrected), name


def test_the_stated_bands_hold_93_to_97_of_100_left_out_patches_and_are_no_wider_than_need_be(
    reports,
):
    assert all(report.covered >= 0.9 for report in reports.values())
    assert 0.93 <= np.mean([report.covered for report in reports.values()]) <= 0.97
    assert np.median([report.u for report in reports.values()]) <= 6.5


def test_no_more_than_the_clipped_white_is_dropped_from_sound_photographs(reports):
    for name, report in reports.items():
        dropped = [n for n, fault in zip(report.names, report.faults, strict=True) if fault]
        assert dropped in ([], ["white"]), name


def test_a_leaf_over_a_third_of_the_target_is_found_and_dropped(target_photos):
    folder = next(iter(target_photos.values()))["path"].parent
    corners = [(563.0, 375.0), (551.0, 820.0), (285.0, 372.0), (277.0, 817.0)]
    report = target_report(folder / "leaf.png", Target(corners))
    hidden = (6, 7, 12, 13, 18, 19)
    assert all(report.faults[i] for i in hidden)
    assert report.verdict is not PhotoVerdict.GOOD
    assert report.mean < np.nanmean(report.uncorrected)


def test_a_target_among_plot_axes_is_read(target_photos):
    folder = next(iter(target_photos.values()))["path"].parent
    corners = [(704.0, 473.0), (699.0, 696.0), (570.0, 470.0), (567.0, 693.0)]
    report = target_report(folder / "chamber.png", Target(corners))
    assert report.mean <= 3.9


def test_the_band_of_a_grey_card_is_honest_and_a_bare_photograph_has_none(
    target_photos, reports, square
):
    """A patch of the target read bare and by a grey: 9 of 10 within the stated band."""
    grey, beyond = [], set()
    for name, photo in target_photos.items():
        half = photo["pitch_px"] * 0.22
        patches = [square(x, y, half) for x, y in photo["centres"]]
        known = reports[name].known
        reference = Neutral(patches[20], tuple(float(v) for v in known[20]))
        for i in range(0, 24, 3):
            one = measure(photo["path"], patches[i])
            assert one.u is None
            try:
                other = measure(photo["path"], patches[i], neutral=reference)
            except ColourError:
                beyond.add(i)
                continue
            grey.append(float(delta_e00(other.lab, known[i])) <= other.u)
    assert np.mean(grey) >= 0.9
    assert beyond == {18}  # white, burnt out in some: by the card brighter than white, no number


def test_a_card_that_is_taken_never_makes_a_photograph_worse(target_photos, reports, square):
    """Each grey of the target in the place of a card: every photograph keeps one, and no more than
    two of those of middle grey are refused (the gain they ask is beyond 2.6)."""
    taken, refused = [], []
    for name, photo in target_photos.items():
        half = photo["pitch_px"] * 0.22
        patches = [square(x, y, half) for x, y in photo["centres"]]
        known = reports[name].known
        for grey in range(18, 24):
            card = Neutral(patches[grey], tuple(float(v) for v in known[grey]))
            rest = range(0, 18, 2)  # white, burnt out in some, gives no number by a card
            try:
                by_card = [measure(photo["path"], patches[i], neutral=card).lab for i in rest]
            except ReferenceRefused:
                refused.append((name, grey))
                continue
            bare = [measure(photo["path"], patches[i]).lab for i in rest]
            after, before = (
                np.mean(
                    [float(delta_e00(lab, known[i])) for lab, i in zip(labs, rest, strict=True)]
                )
                for labs in (by_card, bare)
            )
            assert after < before, (name, grey)
            taken.append((name, grey))
    assert {name for name, _ in taken} == set(target_photos)
    assert len(taken) == 14
    assert [name for name, grey in refused if grey in (20, 21)] == [
        "pcvt_source1_img.png",
        "pcvt_target_img.png",
    ]


def test_differences_within_one_photograph_keep_to_their_band(reports):
    """Pairs of the target's own patches, read bare and through a fit that had not seen them: of
    those 9 to 20 and those more than 20 apart 94 of 100 and more lie within the band."""
    for seen, way in (("photographed", IN_PHOTO_BARE), ("predicted", IN_PHOTO_TARGET)):
        held: dict[bool, list[bool]] = {False: [], True: []}
        for report in reports.values():
            labs = getattr(report, seen)
            used = np.flatnonzero(np.isfinite(report.left_out))
            for i, j in combinations(used, 2):
                truth = float(delta_e00(report.known[i], report.known[j]))
                if truth < 9:
                    continue
                found = float(delta_e00(labs[i], labs[j]))
                held[truth > 20].append(abs(found - truth) <= way.band(found))
        for far, inside in held.items():
            assert np.mean(inside) >= 0.94, (seen, far, np.mean(inside))
