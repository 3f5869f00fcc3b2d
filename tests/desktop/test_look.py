"""The greys of the window."""

import pytest

from bindery_stock.desktop.look import DARK, LIGHT, SURROUND_L, Greys, contrast, grey, style_sheet

PALETTES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]


@pytest.mark.parametrize("steps", PALETTES)
@pytest.mark.parametrize("ground", ["window", "panel", "faint"])
@pytest.mark.parametrize("ink", ["text", "muted"])
def test_words_stand_out_from_their_ground(steps: Greys, ground: str, ink: str) -> None:
    """4.5 to 1: success criterion 1.4.3 of WCAG 2.1."""
    assert contrast(getattr(steps, ink), getattr(steps, ground)) >= 4.5


@pytest.mark.parametrize("steps", PALETTES)
def test_the_next_action_is_legible_in_its_filled_button(steps: Greys) -> None:
    assert contrast(steps.panel, steps.text) >= 4.5
    assert contrast(steps.panel, steps.muted) >= 4.5  # pointed at
    assert contrast(steps.text, steps.line) >= 4.5  # a chosen place in the side list


@pytest.mark.parametrize("steps", PALETTES)
def test_the_edge_of_an_entry_can_be_seen(steps: Greys) -> None:
    """3 to 1 asked of the parts of controls (WCAG 2.1, 1.4.11) is met by the focus line; the
    resting edge must at least be plain."""
    assert contrast(steps.text, steps.panel) >= 3
    assert contrast(steps.field, steps.panel) >= 1.8


def test_greys_have_no_colour_and_the_right_lightness() -> None:
    """IEC 61966-2-1: L* 50 is Y 0.1842, sRGB code 119."""
    assert grey(SURROUND_L).getRgb()[:3] == (119, 119, 119)
    assert grey(0).getRgb()[:3] == (0, 0, 0)
    assert grey(100).getRgb()[:3] == (255, 255, 255)


def test_contrast_of_black_and_white_is_twenty_one() -> None:
    """WCAG 2.1, the definition of contrast ratio."""
    assert contrast(0, 100) == pytest.approx(21.0)


@pytest.mark.parametrize("steps", PALETTES)
def test_the_style_sheet_is_complete(steps: Greys) -> None:
    assert "{" not in style_sheet(steps).replace("{\n", "").replace("{ ", "")
