"""Lengths as typed and read."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.units import LengthStyle, Unit, format_inches, format_mm, parse_length


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("240", 240.0),
        ("31,5 cm", 315.0),
        ("12 1/2 in", 317.5),
        ("1-1/2 in", 38.1),
        ('9/16"', 14.2875),
        ("1.500", 1.5),
        ("2 m", 2000.0),
    ],
)
def test_a_length_is_read_as_a_binder_writes_it(typed: str, mm: float) -> None:
    assert parse_length(typed) == pytest.approx(mm)


@pytest.mark.parametrize(
    "typed", ["", "nan", "inf", "1e5", "-3", "1 500", "1,500.2", "5 ft", "1/0 in"]
)
def test_what_is_not_a_length_is_refused_by_name(typed: str) -> None:
    with pytest.raises(EntryError, match="Width") as refusal:
        parse_length(typed, field="Width")
    assert refusal.value.field == "Width"


@pytest.mark.parametrize("typed", ["0", "0 in", "101 m"])
def test_nothing_and_too_much_are_refused(typed: str) -> None:
    with pytest.raises(EntryError):
        parse_length(typed)


def test_a_bare_number_is_in_the_chosen_unit() -> None:
    assert parse_length("2", Unit.INCH) == pytest.approx(50.8)


@pytest.mark.parametrize(
    ("mm", "shown"),
    [(57.15, "2 1/4 in"), (4.7625, "3/16 in"), (25.4, "1 in"), (0.79375, "1/32 in"), (0.0, "0 in")],
)
def test_inches_are_shown_as_reduced_fractions(mm: float, shown: str) -> None:
    assert format_inches(mm) == shown


def test_millimetres_say_nothing_needless() -> None:
    assert format_mm(57.0) == "57 mm"
    assert format_mm(-0.04) == "0 mm"
    assert format_mm(2.5, point=",") == "2,5 mm"


def test_a_pair_names_its_unit_once() -> None:
    assert LengthStyle().pair(58, 228) == "58 × 228 mm"
    assert LengthStyle(Unit.INCH).pair(57.15, 228.6) == "2 1/4 × 9 in"


def test_a_strip_needed_in_millimetres_is_offered_in_sixteenths_and_no_smaller() -> None:
    """58 × 228 mm are 2.283 × 8.976 in; worked by hand."""
    inches = LengthStyle(Unit.INCH)
    assert inches.pair(inches.offered(58), inches.offered(228)) == "2 5/16 × 9 in"
    assert inches.offered(57.15) == pytest.approx(57.15)  # 2 1/4 in already
    assert LengthStyle().offered(58.3) == 58.3


@settings(max_examples=40)
@given(st.floats(2, 3000))
def test_no_offer_is_smaller_and_nothing_told_is_more_than_there_is(mm: float) -> None:
    for lengths in (LengthStyle(), LengthStyle(Unit.INCH)):
        assert mm - 1e-5 <= lengths.offered(mm) <= mm + 25.4 / 16
        assert mm - 25.4 / 16 <= lengths.at_most(mm) <= mm + 1e-5
        assert parse_length(lengths.show(lengths.at_most(mm))) <= mm + 1e-5


@given(st.integers(1, 32 * 3000))
def test_shown_inches_read_back_as_the_same_length(thirty_seconds: int) -> None:
    mm = thirty_seconds * 25.4 / 32
    assert parse_length(format_inches(mm)) == pytest.approx(mm)
