"""How long lots keep. Day counts without a source named beside them are common practice."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.trade import Ending, Mark, shelf_life, shipped_rules
from bindery_stock.trade.day_counts import after


def test_a_month_from_the_last_of_january_ends_in_february():
    assert after(date(2025, 1, 31), months=1) == date(2025, 2, 28)
    assert after(date(2024, 1, 31), months=1) == date(2024, 2, 29)


def test_a_year_from_a_leap_day_ends_on_the_28th():
    assert after(date(2024, 2, 29), months=12) == date(2025, 2, 28)
    assert after(date(2024, 2, 29), months=48) == date(2028, 2, 29)


@given(st.dates(date(1900, 1, 1), date(2900, 1, 1)), st.integers(0, 600))
def test_months_never_run_past_the_month_they_name(start, months):
    end = after(start, months=months)
    assert (end.year * 12 + end.month) - (start.year * 12 + start.month) == months
    assert end.day <= start.day


@pytest.mark.parametrize(("days", "left", "over"), [(0, 5, False), (5, 0, False), (6, -1, True)])
def test_paste_cooked_in_the_room_is_good_to_the_fifth_day(jar, days, left, over):
    # Rogerson, Book_Arts-L 1997: five to seven days once thinned.
    today = date(2024, 2, 26) + timedelta(days=days)  # across a leap day
    life = shelf_life(jar(made=date(2024, 2, 26)), today)
    assert (life.days_left, life.over) == (left, over)


def test_the_fridge_gives_paste_a_fortnight(jar):
    life = shelf_life(jar(made=date(2025, 3, 1), storage="fridge"), date(2025, 3, 8))
    assert life.ends == date(2025, 3, 15)
    assert life.share_left == pytest.approx(0.5)
    assert life.provenance.mark is Mark.COMMON
    assert "Morse" in life.provenance.words  # Abbey Newsletter 19(5), 1995: 20 days, shown beside


def test_what_ends_first_ends_it(jar):
    lot = jar(
        kind="pva",
        bought=date(2025, 1, 31),
        opened=date(2025, 8, 31),
        expires=date(2025, 12, 24),
    )
    life = shelf_life(lot, date(2025, 9, 1))
    assert life.ending is Ending.SUPPLIER
    assert [count.ends for count in life.counts] == [
        date(2025, 12, 24),
        date(2026, 1, 31),
        date(2026, 2, 28),
    ]


def test_the_shed_halves_what_the_room_gives(jar):
    life = shelf_life(jar(kind="pva", made=date(2025, 6, 1), storage="shed"), date(2025, 6, 1))
    assert life.ends == date(2025, 6, 4)
    assert "shed" in life.counts[0].range_words


def test_a_frozen_dispersion_is_over_whatever_its_dates_say(jar):
    lot = jar(kind="pva", bought=date(2025, 6, 1), frozen_once=True)
    life = shelf_life(lot, date(2025, 6, 2))
    assert life.over
    assert life.ending is Ending.FROZEN
    assert life.share_left == 0.0


def test_spoilage_overrides_the_calendar(jar, tested):
    lot = jar(made=date(2025, 6, 1), properties=tested(spoiled=True))
    assert shelf_life(lot, date(2025, 6, 1)).ending is Ending.SPOILED


def test_a_mixture_keeps_no_longer_than_its_parts(jar):
    old_pva = jar(kind="pva", expires=date(2025, 6, 3))
    mix = jar(kind="pva-methyl-cellulose", made=date(2025, 6, 1), mixed_from=(old_pva,))
    life = shelf_life(mix, date(2025, 6, 1))
    assert (life.ending, life.ends) == (Ending.PART, date(2025, 6, 3))


def test_receipt_counts_before_purchase(jar):
    lot = jar(kind="vae", bought=date(2025, 1, 1), received=date(2025, 2, 1))
    assert shelf_life(lot, date(2025, 3, 1)).ends == date(2026, 2, 1)


def test_a_lot_without_dates_cannot_be_timed_and_says_what_to_write(jar):
    life = shelf_life(jar(), date(2025, 6, 1))
    assert life.ending is Ending.UNKNOWN
    assert life.days_left is None
    assert "write the day" in life.words


def test_a_date_still_to_come_is_noticed(jar):
    life = shelf_life(jar(made=date(2025, 6, 9)), date(2025, 6, 1))
    assert "clock" in life.notices[0]
    assert life.share_left == 1.0


def test_opening_before_buying_is_noticed(jar):
    lot = jar(kind="pva", bought=date(2025, 6, 9), opened=date(2025, 6, 1))
    assert any(
        "before it was bought" in notice for notice in shelf_life(lot, date(2025, 7, 1)).notices
    )


def test_a_class_the_rules_do_not_know_goes_by_the_supplier(jar):
    life = shelf_life(jar(kind="moon glue", expires=date(2025, 6, 3)), date(2025, 6, 1))
    assert life.ends == date(2025, 6, 3)
    assert "no adhesive class" in life.notices[0]


@given(
    made=st.dates(date(2000, 1, 1), date(2100, 1, 1)),
    wait=st.integers(0, 4000),
    store=st.sampled_from(["room", "fridge", "shed"]),
    kind=st.sampled_from(sorted(shipped_rules().adhesives)),
)
def test_life_only_ever_runs_down(jar, made, wait, store, kind):
    lot = jar(kind=kind, made=made, opened=made, bought=made, storage=store)
    now = shelf_life(lot, made + timedelta(days=wait))
    later = shelf_life(lot, made + timedelta(days=wait + 1))
    if now.days_left is not None:
        assert later.days_left == now.days_left - 1
        assert 0.0 <= later.share_left <= now.share_left <= 1.0
        assert now.over is (now.days_left < 0)
