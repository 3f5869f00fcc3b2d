"""Each deed at the gate: what it says, by which rule, and that a refusal changes nothing.

The rules and their sources stand in ``hazards.toml``, ``flags.toml`` and ``lives.toml``: R32, vivid
green of 1830 to 1870 (Winterthur Museum and University of Delaware); R28, pyroxylin; the life of
cooked paste (Rogerson, Book_Arts-L 1997).
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from bindery_stock.bench.deed import DEEDS, Bearing
from bindery_stock.bench.gate import Matter, rule
from bindery_stock.errors import Barred, Stopped
from bindery_stock.stock import Changes, KeptRuling
from bindery_stock.trade.gate import Leave
from tests.bench.deed_rows import ROWS
from tests.bench.small_stock import SmallStock, small_stock

REASON = "practice piece: it never leaves this bench"
YESTERDAY = date(2026, 3, 1)

GATES: dict[str, dict[str, Any]] = {
    "clean": {},
    "green scrap of 1858": {"piece": "green"},
    "unfit cloth": {"piece": "unfit"},
    "expired lot": {"lot": "old"},
    "green volume": {"volume": "green vol."},
}
"""By name, what is put in the place of what is clean. The lot is fresh paste: it is wet."""

S32 = (Leave.STOPPED, "R32")
N28 = (Leave.NEEDS_REASON, "R28")
OLD = (Leave.NEEDS_REASON, "shelf life")
OK = (Leave.ALLOWED, "")
Cell = tuple[Leave, str] | None
"""What the gate says and by which rule; None where the deed has nothing to do with it."""

MATRIX: dict[str, tuple[Cell, ...]] = {
    # deed: clean, green scrap, unfit cloth, expired lot, green volume
    "reserve": (OK, S32, N28, None, None),
    "reserve_part": (OK, S32, N28, None, OK),
    "accept_plan": (OK, S32, N28, None, OK),
    "cut": (OK, S32, N28, None, None),
    "cut_part": (OK, S32, N28, None, OK),
    "cut_length": (OK, S32, N28, None, None),
    "use_some": (OK, S32, OK, OLD, S32),
    "mix": (OK, None, None, OLD, None),
    "record_test": (OK, S32, OK, None, None),
    "note_work": (OK, S32, N28, OLD, S32),
    "fit": (OK, None, None, OLD, None),
    "correct_lot": (OK, None, None, OLD, None),
    "take_in_table": (OK, None, None, None, None),
    "merge": (OK, None, None, None, None),
}
"""Dry work on a green volume passes: the knife goes into the new cloth, not into the covering."""

CELLS = [
    (deed, gate, *cell)
    for deed, row in MATRIX.items()
    if deed in DEEDS
    for gate, cell in zip(GATES, row, strict=True)
    if cell is not None
]
PARTS = {"reserve_part", "accept_plan", "cut_part"}
"""They know the volume by its part."""


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[SmallStock]:
    with small_stock(tmp_path) as made:
        yield made


def given(deed: str, gate: str) -> dict[str, Any]:
    changed = dict(GATES[gate])
    if deed in PARTS and "volume" in changed:
        del changed["volume"]
        changed["part"] = "green reback-inside 1"
    return changed


def done(stock: SmallStock, deed: str, **changed: Any) -> Changes:
    row: Any = ROWS[deed]
    changes: Changes = row(stock, DEEDS[deed].do, **changed)
    return changes


def everything(stock: SmallStock) -> object:
    return stock.room.exchange.whole().tables


def rulings_since(stock: SmallStock, before: list[KeptRuling]) -> list[KeptRuling]:
    return stock.room.rulings.listed()[len(before) :]


def test_every_deed_that_meets_the_gate_has_a_line_in_the_matrix() -> None:
    met = {name for name, entry in DEEDS.items() if entry.bearing is not Bearing.KEEPS}
    assert MATRIX.keys() == met


@pytest.mark.parametrize(("deed", "gate", "leave", "named"), CELLS)
def test_what_the_gate_says_to_a_deed(
    deed: str, gate: str, leave: Leave, named: str, stock: SmallStock
) -> None:
    changed = given(deed, gate)
    before, kept = everything(stock), stock.room.rulings.listed()
    if DEEDS[deed].bearing is Bearing.RECORDS:
        reason = {"reason": REASON} if gate != "clean" else {}
        assert not done(stock, deed, **changed, **reason).nothing
        check_kept(rulings_since(stock, kept), leave, named)
        return
    if leave is Leave.ALLOWED:
        assert not done(stock, deed, **changed).nothing
        assert rulings_since(stock, kept) == []
        return
    with pytest.raises(Stopped if leave is Leave.STOPPED else Barred) as refused:
        done(stock, deed, **changed)
    assert named in str(refused.value)
    assert "What would change this:" in str(refused.value)
    assert everything(stock) == before
    if leave is Leave.STOPPED:
        with pytest.raises(Stopped):
            done(stock, deed, **changed, reason=REASON)
        assert everything(stock) == before
        return
    steps = len(stock.room.ledger.steps())
    assert not done(stock, deed, **changed, reason=REASON).nothing
    assert len(stock.room.ledger.steps()) == steps + 1
    check_kept(rulings_since(stock, kept), leave, named)


def check_kept(rulings: list[KeptRuling], leave: Leave, named: str) -> None:
    if leave is Leave.ALLOWED:
        assert rulings == []
        return
    assert rulings
    for ruling in rulings:
        assert (ruling.leave, ruling.reason) == (leave, REASON)
        assert named in ruling.rules
        assert ruling.words


PAST = [
    ("note_work", {"volume": "green vol."}),
    ("note_work", {"piece": "green"}),
    ("record_test", {"piece": "green"}),
]


@pytest.mark.parametrize(("deed", "changed"), [(d, c) for d, c in PAST if d in DEEDS])
@pytest.mark.parametrize("reason", ["", REASON])
def test_what_was_done_on_a_past_day_is_kept_with_the_ruling_and_not_refused(
    deed: str, changed: dict[str, str], reason: str, stock: SmallStock
) -> None:
    kept = stock.room.rulings.listed()
    assert not done(stock, deed, **changed, on=YESTERDAY, reason=reason).nothing
    (ruling,) = rulings_since(stock, kept)
    assert (ruling.leave, ruling.reason) == (Leave.STOPPED, reason)
    assert "R32" in ruling.rules


@pytest.mark.parametrize(
    ("matter", "leave"),
    [
        ({"piece": "green", "cutting": True}, Leave.STOPPED),
        ({"lot": "fresh", "laid_on": "green"}, Leave.STOPPED),
        ({"lot": "fresh", "volume": "green vol."}, Leave.STOPPED),
        ({"lot": "old"}, Leave.NEEDS_REASON),
        ({"piece": "unfit"}, Leave.NEEDS_REASON),
        ({"piece": "clean", "cutting": True, "volume": "vol. 1"}, Leave.ALLOWED),
        ({"lot": "fresh", "laid_on": "clean", "volume": "vol. 1"}, Leave.ALLOWED),
    ],
)
def test_what_lists_show_beforehand_is_what_the_gate_says_and_changes_nothing(
    matter: dict[str, Any], leave: Leave, stock: SmallStock
) -> None:
    before = everything(stock)
    codes = {
        key: stock.codes[value] if isinstance(value, str) else value
        for key, value in matter.items()
    }
    assert rule(stock.room, Matter(**codes)).leave is leave
    assert everything(stock) == before
