"""What giving a piece to one part would cost the other parts that wait."""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.values import Part, Piece


@dataclass(frozen=True, slots=True)
class Burden:
    """What the others would lose."""

    cost: float
    """Weighted ΔE00 that the others' next-best pieces cost more, or their going without."""
    losers: tuple[int, ...]
    """Numbers of the waiting parts that would lose their best piece."""
    stranded: tuple[int, ...] = ()
    """Those of them that no other piece would serve."""


def burdens(part: Part, pieces: Sequence[Piece], waiting: Sequence[Part]) -> dict[str, Burden]:
    """For each of ``pieces`` that holds ``part``, what giving it away would cost ``waiting``.

    A waiting part loses where the piece is the best that would hold it and has no room for it
    beside ``part``. Each waiting part is looked at by itself, so this is the least that is lost.
    """
    campaign = Campaign((part, *waiting), pieces, ())
    claims = [_claim(campaign, number) for number in range(1, len(waiting) + 1)]
    found: dict[str, Burden] = {}
    for piece in campaign.candidates[0]:
        packer, size = campaign.packers[piece], campaign.size(0, piece)
        if not packer.extends((), size):
            continue
        given = packer.lay((), size)
        losers = [
            (number, claim)
            for number, claim in enumerate(claims)
            if claim.best == piece and not packer.packs(given, campaign.size(number + 1, piece))
        ]
        found[campaign.pieces[piece].code] = Burden(
            sum(claim.loss for _, claim in losers),
            tuple(number for number, _ in losers),
            tuple(number for number, claim in losers if claim.alone),
        )
    return found


@dataclass(frozen=True, slots=True)
class _Claim:
    """The piece that would serve a part best, what the next best would cost more, if any."""

    best: int | None
    loss: float
    alone: bool
    """Whether there is no next best."""


def _claim(campaign: Campaign, number: int) -> _Claim:
    fitting = (p for p in campaign.candidates[number] if campaign.fits_alone(number, p))
    best, second = next(fitting, None), next(fitting, None)
    if best is None:
        return _Claim(None, 0.0, alone=False)
    without = float(campaign.left_out[number])
    next_cost = without if second is None else float(campaign.cost[number, second])
    return _Claim(best, next_cost - float(campaign.cost[number, best]), alone=second is None)
