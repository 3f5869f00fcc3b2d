import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.colour import FAMILIES, family, words
from bindery_stock.colour.words import BEYOND, THRESHOLDS
from bindery_stock.errors import ColourError


@pytest.mark.parametrize(
    ("lab", "name"),
    [
        ((35, 45, 25), "red"),
        ((28, 30, 10), "red"),
        ((70, 30, 10), "pink"),
        ((60, 40, 55), "orange"),
        ((32, 14, 18), "brown"),
        ((65, 8, 25), "brown"),
        ((80, 5, 70), "yellow"),
        ((45, -4, 25), "olive"),
        ((35, -25, 12), "green"),
        ((40, -5, -35), "blue"),
        ((35, 25, -30), "purple"),
        ((14, 1, 2), "black"),
        ((50, 1, -3), "grey"),
        ((93, 0, 4), "white"),
        ((90, 1, 11), "white"),
    ],
)
def test_a_cloth_is_called_what_a_binder_calls_it(lab, name):
    """Common practice, no source: the rule is the module's own."""
    assert family(lab) == name


@given(st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128)))
def test_every_colour_has_a_family(lab):
    assert family(lab) in FAMILIES


def test_words_follow_the_thresholds_published_for_this_formula():
    """Paravina et al. 2015 (0.8, 1.8); ISO 12647-2:2013 as reported in TAGA 2015 (3.5, 5)."""
    assert [bound for bound, _, _ in THRESHOLDS[:4]] == [0.8, 1.8, 3.5, 5.0]
    assert words(0.5) == "no visible difference"
    assert words(1.5) == "very close"
    assert words(4.9) == "a plain difference"
    assert words(30) == BEYOND


def test_every_bound_names_where_it_comes_from():
    assert all(len(source) > 20 for _, _, source in THRESHOLDS)


def test_an_uncertain_difference_is_not_called_close():
    said = words(1.0, 4.5)
    assert "no visible difference" in said
    assert "another shade" in said
    assert words(1.2, 0.2) == "very close"


def test_a_negative_difference_is_refused():
    with pytest.raises(ColourError):
        words(-1)
    with pytest.raises(ColourError):
        words(float("nan"))
