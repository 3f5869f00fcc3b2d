"""The card that is carried to a sale says what to look for, in figures."""

import pytest

from bindery_stock.records.cards import HEIGHT, WIDTH, as_wanted, card_pages, looking_for
from bindery_stock.records.page import Box, Words
from bindery_stock.stock import BookPart, PartState
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle


def part(
    *, lab: tuple[float, float, float] | None = (38.0, 44.0, -0.4), width: float = 58.0
) -> BookPart:
    return BookPart(
        role="reback-inside",
        name="reback strip",
        width=width,
        height=246.0,
        kind=Kind.CLOTH,
        pattern="rib" if lab else "",
        turns=(0.0, 180.0),
        zones=(("shown", 0.0, 0.0, width, 246.0),),
        lab=lab,
        tolerance=4.0 if lab else None,
        id=1,
        repair="V-0001",
        purpose="reback strip, Hollin Vale vol. 4",
        state=PartState.NOTHING_SERVES,
    )


def test_the_card_asks_for_the_part_and_its_margin() -> None:
    card = looking_for(part(), 1.0, LengthStyle())
    assert card.size == "60 × 248 mm"
    assert card.other == "2 3/8 in × 9 3/4 in"
    assert card.what.endswith("rib cloth")
    assert card.colour == "L* 38.0  a* 44.0  b* −0.4, within 4 ΔE00 (CIELAB, D50, 2° observer)"
    assert card.warp == "The warp runs along the second figure."


def test_a_lining_is_looked_for_without_a_colour() -> None:
    card = looking_for(part(lab=None), 1.0, LengthStyle())
    assert (card.what, card.colour) == ("cloth", "")
    (page,) = card_pages([card])
    assert all(not isinstance(mark, Box) or mark.fill is None for mark in page.marks)


@pytest.mark.parametrize("width", [4.0, 58.0, 400.0])
def test_everything_stays_on_the_card(width: float) -> None:
    (page,) = card_pages([looking_for(part(width=width), 1.0, LengthStyle())])
    assert (page.width, page.height) == (WIDTH, HEIGHT) == (105.0, 148.0)
    for mark in page.marks:
        if isinstance(mark, Words | Box):
            assert mark.x >= 0
            assert mark.x + mark.width <= WIDTH
            assert mark.y + mark.height <= HEIGHT
    told = [mark.text for mark in page.marks if isinstance(mark, Words)]
    assert "For reback strip, Hollin Vale vol. 4" in told
    assert any("arsenic" in text for text in told)


def test_the_wanted_list_gets_the_same() -> None:
    want = as_wanted(part(), 1.0)
    assert (want.width, want.height, want.lab) == (60.0, 248.0, (38.0, 44.0, -0.4))
    assert want.purpose == "reback strip, Hollin Vale vol. 4"
