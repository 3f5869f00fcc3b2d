"""Outlines called good are right, on a few photographs of the kinds that deceive most.

``python -m tests.rendered`` looks at hundreds.
"""

import pytest

from tests.rendered.judged import judged


@pytest.mark.parametrize(
    ("kind", "seed"), [("plain", 3), ("frayed", 4), ("soft_shadow", 6), ("wooden", 11)]
)
def test_no_outline_is_called_good_that_is_not(kind: str, seed: int) -> None:
    one = judged(kind, seed)
    assert one.found
    assert one.right or not one.good
    assert one.good == (kind in {"plain", "frayed"})
