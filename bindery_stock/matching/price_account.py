"""What a sharing-out comes to, price by price: what each price cost in it, and for how much."""

import math
from dataclasses import dataclass

from bindery_stock.matching.campaign import SHEET, Campaign
from bindery_stock.matching.share_values import NOWHERE, Sharing


@dataclass(frozen=True, slots=True)
class Jump:
    """Two volumes side by side on the shelf, and how far their new cloth is apart."""

    left: str
    """The volume on the left."""
    right: str
    delta_e: float
    u: float | None
    """95 % uncertainty of that ΔE00, where both readings have one."""


@dataclass(frozen=True, slots=True)
class Reckoning:
    """Prices are in ΔE00 of a fully seen spine; together they are the objective."""

    waiting: int
    """Parts left out; those that count nothing are not among them."""
    left_out: float
    shade: float
    """The shades of all parts that are served, weighted."""
    unfinished: int
    """Volumes that lack a shown part."""
    volumes: float
    more_lots: int
    """Pieces that volumes are cut from, volume by volume and colour by colour."""
    lots: float
    lost_mm2: float
    """Of the largest rectangles of all pieces together."""
    cloth: float
    jumps: tuple[Jump, ...]
    """Every two spines side by side, as the rows stand."""
    jump: float
    large: int
    """Pieces with a rectangle of 10,000 mm² at least, what lies in them already apart."""
    kept: int
    """Those of them that nothing is cut from."""

    @property
    def total(self) -> float:
        """The objective."""
        prices = (self.left_out, self.shade, self.volumes, self.lots, self.cloth, self.jump)
        return math.fsum(prices)

    @property
    def greatest_jump(self) -> Jump | None:
        """The greatest jump on the shelf, or nothing where no two spines stand side by side."""
        return max(self.jumps, key=lambda jump: jump.delta_e, default=None)


def reckoned(sharing: Sharing) -> Reckoning:
    """The reckoning of a sharing-out as it stands."""
    campaign, where = sharing.campaign, sharing.where
    prices, volumes = campaign.prices, campaign.volumes
    used = [piece for piece, parts in enumerate(sharing.parts_in) if parts]
    more_lots = sum(
        campaign.more_lots(piece, sharing.parts_in[piece])
        for piece in used
        if sharing.content(piece)
    )
    lost = math.fsum(
        campaign.lost(piece, sharing.content(piece)) for piece in used if sharing.content(piece)
    )
    unfinished = volumes.unfinished(where) + volumes.broken
    large = _large(campaign)
    waiting = [n for n, at in enumerate(where) if at == NOWHERE]
    return Reckoning(
        sum(campaign.parts[n].visibility > 0 for n in waiting),
        math.fsum(sharing.cost(n) for n in waiting),
        math.fsum(sharing.cost(n) for n, at in enumerate(where) if at != NOWHERE),
        unfinished,
        volumes.price * unfinished,
        more_lots,
        prices.lot * more_lots,
        lost,
        prices.cloth * lost / SHEET,
        _jumps(sharing),
        prices.jump * campaign.shelf.all_jumps(where),
        len(large),
        sum(not sharing.content(piece) for piece in large),
    )


def _large(campaign: Campaign) -> list[int]:
    areas = (piece.outline.area for piece in campaign.pieces)
    return [n for n, area in enumerate(areas) if area >= SHEET and campaign.whole(n).best >= SHEET]


def _jumps(sharing: Sharing) -> tuple[Jump, ...]:
    shelf, where, parts = sharing.campaign.shelf, sharing.where, sharing.campaign.parts
    return tuple(
        Jump(
            parts[left].volume,
            parts[right].volume,
            shelf.jump(left, where[left], right, where[right]),
            shelf.band(left, where[left], right, where[right]),
        )
        for left, right in shelf.neighbours
        if NOWHERE not in (where[left], where[right])
    )
