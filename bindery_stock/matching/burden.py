"""What giving a piece to one part would cost the other parts that wait."""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.matching.campaign import LEFT_OUT, Campaign
from bindery_stock.matching.values import Part, Piece


@dataclass(frozen=True, slots=True)
class Burden:
    """What the others would lose."""

    cost: float
    """Weighted ΔE00 that the others' next-best pieces cost more; 60 for one that has no other."""
    losers: tuple[int, ...]
    """Numbers of the waiting parts that would lose their best piece."""


def burdens(part: Part, pieces: Sequence[Piece], waiting: Sequence[Part]) -> dict[str, Burden]:
    """For each of ``pieces`` that holds ``part``, what giving it away would cost ``waiting``.

    A waiting part loses where the piece is the best that would hold it and has no room for it
    beside ``part``. Each waiting part is looked at by itself, so this is the least that is lost.
    """
    campaign = Campaign((part, *waiting), pieces, ())
    claims = [_best_two(campaign, number) for number in range(1, len(waiting) + 1)]
    found: dict[str, Burden] = {}
    for piece in campaign.candidates[0]:
        packer, size = campaign.packers[piece], campaign.size(0, piece)
        if not packer.extends((), size):
            continue
        given = packer.lay((), size)
        losers = [
            (number, loss)
            for number, (best, loss) in enumerate(claims)
            if best == piece and not packer.packs(given, campaign.size(number + 1, piece))
        ]
        cost = sum(loss for _, loss in losers)
        found[campaign.pieces[piece].code] = Burden(cost, tuple(number for number, _ in losers))
    return found


def _best_two(campaign: Campaign, number: int) -> tuple[int | None, float]:
    """The piece that would serve the part best, and how much the next best would cost more."""
    fitting = (p for p in campaign.candidates[number] if campaign.fits_alone(number, p))
    best, second = next(fitting, None), next(fitting, None)
    if best is None:
        return None, 0.0
    next_cost = LEFT_OUT if second is None else float(campaign.cost[number, second])
    return best, next_cost - float(campaign.cost[number, best])
