"""Bounds of a sharing-out that are told at once, before a load is looked for.

``floor`` serves every part from its cheapest piece, as if it were alone. ``by_area`` minds that the
parts of a piece are together no larger than it is, that those too tall to lie one above the other
lie side by side on the line across its middle, that what they take is lost to its whole cloth,
that a volume with a part left out is unfinished and that one with a part served has a lot: a linear
programme, in which a part may still be mixed from several pieces.
"""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import Polygon

from bindery_stock.matching.campaign import SHEET, Campaign
from bindery_stock.matching.values import Part


def floor(campaign: Campaign) -> float:
    """Every part served by its cheapest piece, as if alone; what nothing serves is left out."""
    cheapest = campaign.cost.min(axis=1, initial=np.inf)
    parts = np.minimum(cheapest, campaign.left_out)
    unserved = list(campaign.volumes.unserved)
    parts[unserved] = campaign.left_out[unserved]
    return float(parts.sum()) + campaign.volumes.price * campaign.volumes.broken


def by_area(campaign: Campaign, time_limit: float) -> float:
    """The bound of the linear programme, or the floor where the time is too short for it."""
    from scipy.optimize import linprog  # noqa: PLC0415 - at first use
    from scipy.sparse import csc_array  # noqa: PLC0415 - at first use

    if not campaign.parts or not campaign.pieces:
        return floor(campaign)
    programme = _AreaProgramme(campaign)
    answer = linprog(  # type: ignore[call-overload] # its stubs know no sparse matrices
        programme.costs,
        A_ub=csc_array(
            (programme.values, (programme.rows, programme.columns)),
            shape=(len(programme.limits), len(programme.costs)),
        ),
        b_ub=programme.limits,
        bounds=programme.bounds,
        method="highs",
        options={"time_limit": time_limit},
    )
    if answer.status != 0:
        return floor(campaign)
    least = float(answer.fun) * (1 - _SOLVER) + campaign.volumes.price * campaign.volumes.broken
    return max(least, floor(campaign))


_SOLVER = 1e-6
"""Share of the answer that the solver may be off by."""


_HAIR = 1e-3  # mm


def _least_spans(part: Part) -> tuple[float, float]:
    """How far a part reaches at least across and along the warp, whichever way it may lie."""
    if part.triangular or part.free or any(turn % 90 for turn in part.turns):
        return 0.0, 0.0
    if all(turn % 180 == 0 for turn in part.turns):
        return part.width, part.height
    if all(turn % 180 == 90 for turn in part.turns):
        return part.height, part.width
    return part.narrowest, part.narrowest


class _AreaProgramme:
    """The linear programme: a column for each pairing, each part left out, each volume, each piece
    of whole cloth lost and each lot; every row says that something is at most so much.
    """

    def __init__(self, campaign: Campaign) -> None:
        self.costs: list[float] = []
        self.bounds: list[tuple[float, float | None]] = []
        self.rows: list[int] = []
        self.columns: list[int] = []
        self.values: list[float] = []
        self.limits: list[float] = []
        pinned = {n for n, pin in campaign.pins.items() if pin.placement is not None}
        able = np.isfinite(campaign.cost)
        able[list(campaign.volumes.unserved)] = False
        for part in pinned:  # it stands where it lies, whatever it costs there
            self._column(float(campaign.cost[part].min()), 1.0, 1.0)
        pairs = [pair for pair in np.argwhere(able).tolist() if pair[0] not in pinned]
        self._pairs = [self._column(float(campaign.cost[part, at])) for part, at in pairs]
        self._out = [
            self._column(float(price), 0.0 if part in campaign.pins else None)
            for part, price in enumerate(campaign.left_out)
        ]
        by_part: dict[int, list[int]] = {}
        by_piece: dict[int, list[tuple[int, int]]] = {}
        for (part, at), column in zip(pairs, self._pairs, strict=True):
            by_part.setdefault(part, []).append(column)
            by_piece.setdefault(at, []).append((column, part))
        for part in range(len(campaign.parts)):
            if part not in pinned:
                self._row([(c, -1.0) for c in (*by_part.get(part, ()), self._out[part])], -1.0)
        areas = [part.area for part in campaign.parts]
        spans = [_least_spans(part) for part in campaign.parts]
        for at, held in by_piece.items():
            self._areas(campaign, at, [(column, areas[part]) for column, part in held])
            reaching = [(column, *spans[part]) for column, part in held]
            self._middles(campaign.pieces[at].outline.polygon, reaching)
        self._volumes(campaign)
        self._lots(campaign, pinned)

    def _column(self, cost: float, most: float | None = None, least: float = 0.0) -> int:
        self.costs.append(cost)
        self.bounds.append((least, most))
        return len(self.costs) - 1

    def _row(self, entries: Iterable[tuple[int, float]], limit: float) -> None:
        for column, value in entries:
            self.rows.append(len(self.limits))
            self.columns.append(column)
            self.values.append(value)
        self.limits.append(limit)

    def _areas(self, campaign: Campaign, at: int, areas: list[tuple[int, float]]) -> None:
        """The parts are no larger than the piece, and what they take is lost to its rectangle."""
        whole = campaign.whole(at)
        self._row(areas, whole.area)
        lost = self._column(campaign.prices.cloth)
        self._row([*areas, (lost, -SHEET)], whole.area - whole.best)

    def _middles(self, polygon: Polygon, held: list[tuple[int, float, float]]) -> None:
        """What reaches over the middle, wherever it lies, has its own stretch of the line there.

        ``held`` are columns, and how far their part reaches at least across and along the warp.
        """
        left, low, right, high = polygon.bounds
        for upright in (False, True):
            ends = ((left + right) / 2, low, (left + right) / 2, high)
            ends = ends if upright else (left, (low + high) / 2, right, (low + high) / 2)
            reach = ((right - left) if upright else (high - low)) / 2 + _HAIR
            crossing = [
                (column, along if upright else across)
                for column, across, along in held
                if (across if upright else along) > reach
            ]
            if len(crossing) > 1:
                line = shapely.linestrings([ends[:2], ends[2:]])
                room = float(shapely.length(shapely.intersection(polygon, line)))
                self._row(crossing, room + _HAIR)

    def _volumes(self, campaign: Campaign) -> None:
        for members in campaign.volumes.members:
            unfinished = self._column(campaign.volumes.price)
            for part in members:
                self._row([(self._out[part], 1.0), (unfinished, -1.0)], 0.0)

    @staticmethod
    def _shades(campaign: Campaign) -> dict[int, list[int]]:
        """The parts of each shade that no fixed part has paid a lot for."""
        paid = campaign.paid_shades
        found: dict[int, list[int]] = {}
        for part, shade in enumerate(campaign.shades):
            if shade >= 0 and shade not in paid:
                found.setdefault(shade, []).append(part)
        return found

    def _lots(self, campaign: Campaign, pinned: set[int]) -> None:
        """A shade of which a part is served has a lot at least."""
        for parts in self._shades(campaign).values():
            lot = self._column(campaign.prices.lot)
            for part in parts:
                if part not in pinned:
                    self._row([(lot, -1.0), (self._out[part], -1.0)], -1.0)
