"""What one scrap more would buy, by the worked figures: spine 60, tip 12, volume 4, lining 2."""

import pytest

from bindery_stock.matching import Part, Prices, one_more, share_out
from tests.matching.hoards import RED


def test_a_scrap_more_finishes_a_volume_or_serves_a_part_and_the_worthiest_comes_first():
    parts = [
        Part(46, 200, None, shown=False, name="lining, vol. 12", volume="vol. 12"),
        Part(25, 60, RED, weight=0.2, name="tip 1, vol. 3", volume="vol. 3"),
        Part(58, 248, RED, pattern="rib", margin=1.0, name="spine", volume="vol. 12"),
        Part(25, 60, RED, weight=0.2, name="tip 2, vol. 3", volume="vol. 3"),
    ]
    found = one_more(share_out(parts, [], steps=0), Prices())
    assert [scrap.worth for scrap in found] == pytest.approx([64, 12, 12, 2])
    assert found[0].sentence == (
        "A red rib piece of 60 × 250 mm would serve spine, and finish its volume."
    )
    assert found[1].sentence == "A red piece of 25 × 60 mm would serve tip 1, vol. 3."
    assert found[3].finishes == ""


def test_the_scrap_to_look_for_is_told_in_whole_millimetres_never_less_than_is_needed():
    part = Part(72.8241, 248.1, RED, margin=1.0, name="reback strip, vol. 7")
    (scrap,) = one_more(share_out([part], [], steps=0), Prices())
    assert scrap.sentence == "A red piece of 75 × 251 mm would serve reback strip, vol. 7."
