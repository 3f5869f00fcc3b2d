"""What no layout can exceed: the most area of given parts that a piece could hold.

Areas alone, and lengths made longer where nothing goes beside them: a part wider than the piece
less ``e`` counts as wide as the piece, since only what is narrower than ``e`` goes beside it, and
that counts as nothing (the dual feasible functions of S. Fekete and J. Schepers, *Mathematical
Methods of Operations Research* 60, 2004; from memory). HiGHS chooses the parts.
"""

from collections.abc import Sequence
from itertools import product

import numpy as np

from bindery_stock.shape.sheet_parts import Size

_SLACK = 1e-6  # share of a length: what is proved with rounding must hold without
_THRESHOLDS = 8  # for each axis
_NODES = 200


def most_area(
    box: Size, area: float, ways: Sequence[Sequence[Size]], areas: Sequence[float], gap: float
) -> float:
    """Area in mm² that parts can cover at most, whatever the layout.

    ``box`` is the upright box about the usable ground, mm; ``area`` that of the ground, mm²;
    ``ways`` the upright sizes that each part may lie in, none where it may lie aslant; ``areas``
    that of each part; ``gap`` what the knife takes between parts.
    """
    if not areas:
        return 0.0
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 - at first use

    worth = np.array(areas)
    rows = [worth / (area * (1.0 + _SLACK))] if area > 0.0 else [np.full(len(worth), 2.0)]
    wide, high = box[0] + gap, box[1] + gap
    grown = [[((w + gap) / wide, (h + gap) / high) for w, h in each] for each in ways]
    widths = _thresholds([w for each in grown for w, _ in each])
    heights = _thresholds([h for each in grown for _, h in each])
    rows += [
        np.array([_least(each, across, along) for each in grown])
        for across, along in product(widths, heights)
    ]
    found = milp(
        -worth,
        integrality=np.ones(len(worth), dtype=np.intp),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(np.array(rows), ub=np.ones(len(rows))),
        options={"node_limit": _NODES},
    )
    dual = found.mip_dual_bound
    plain = min(float(worth.sum()), area)
    return plain if dual is None else min(plain, -float(dual) * (1.0 + _SLACK))


def _thresholds(lengths: Sequence[float]) -> list[float]:
    """Shares up to one half at which it matters what counts as nothing; the first is none."""
    own = {min(each, 1.0 - each) for each in lengths if 0.0 < each < 1.0}
    some = sorted(each for each in own if each <= 0.5)
    pick = np.linspace(0, len(some) - 1, min(len(some), _THRESHOLDS)).astype(int)
    # a little more than the length itself, or it would count as going beside its counterpart
    return [0.0, 0.5, *(min(some[at] + 4.0 * _SLACK, 0.5) for at in pick)]


def _least(ways: Sequence[Size], across: float, along: float) -> float:
    """Share of the box that a part takes at least, whichever way it lies."""
    shares = (_longer(w, across) * _longer(h, along) for w, h in ways)
    return min(shares, default=0.0)


def _longer(share: float, threshold: float) -> float:
    if share > 1.0 + _SLACK:
        return 1e3  # it does not go in at all
    if share > 1.0 - threshold + _SLACK:
        return 1.0
    return share * (1.0 - _SLACK) if share > threshold + _SLACK or threshold == 0.0 else 0.0
