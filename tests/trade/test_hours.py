"""Hours: estimates without a source, save the bands of the Association of Research Libraries."""

import pytest

from bindery_stock.trade import Damage, Harm, Mark, Survey, hours_for


def survey(*damage, **values):
    return Survey(spine_width=30, joint=6, board_height=200, damage=damage, **values)


def test_a_sound_book_takes_only_its_record():
    hours = hours_for(survey())
    assert (hours.low, hours.high) == (0.5, 1)
    assert hours.level == 2  # Association of Research Libraries: 15 minutes to 2 hours


def test_a_partial_reback_takes_in_its_caps_and_joints():
    plain = hours_for(survey(Damage(Harm.JOINTS_SPLIT)))
    worse = hours_for(survey(Damage(Harm.JOINTS_SPLIT), Damage(Harm.HEAD_LOST, extent=8)))
    assert (plain.low, plain.high) == (3, 6.5)
    assert (worse.low, worse.high) == (3, 6.5)
    assert plain.level == 3


def test_corners_are_counted_each():
    hours = hours_for(survey(Damage(Harm.CORNERS_BARE, 4, extent=5)))
    assert (hours.low, hours.high) == pytest.approx((1.7, 3.0))


def test_a_recase_takes_in_the_reback():
    hours = hours_for(survey(Damage(Harm.JOINTS_SPLIT), Damage(Harm.MULL_FAILED)))
    assert (hours.low, hours.high) == (5, 9.5)


@pytest.mark.parametrize(
    ("values", "scale"),
    [
        ({"folio": True}, 1.5),
        ({"like_volume": True}, 0.7),
        ({"brittle": True}, 1.3),
        ({"folio": True, "brittle": True}, 1.95),
    ],
)
def test_folios_batches_and_brittle_cloth_scale_the_hours(values, scale):
    hours = hours_for(survey(**values))
    assert hours.scale == pytest.approx(scale)
    assert hours.high == pytest.approx(scale)


def test_every_line_says_that_it_is_habit_or_proposed():
    hours = hours_for(survey(Damage(Harm.SEWING_BROKEN), Damage(Harm.CASE_LOST)))
    assert {line.provenance.mark for line in hours.lines} == {Mark.COMMON, Mark.PROPOSED}
