"""Bettering a sharing-out step by step, for as long as the binder lets it.

Two kinds of step. A part that could be served better asks for a closer piece: it moves in where
there is room, or one or two parts of that piece make way and go elsewhere, if all together cost
less. When no such step is left, some pieces are emptied and their parts shared out anew in regret
order (P. Shaw, CP98, LNCS 1520, 1998, 417-431: large neighbourhoods).
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations

from bindery_stock.matching.along_shelf import change_places
from bindery_stock.matching.orders import fill_by_regret, waiting
from bindery_stock.matching.share_values import NOWHERE, Sharing

Tell = Callable[[float], None]

GAIN = 1e-6
"""A step must gain more than this, so that none is taken back by rounding."""
_CLOSER = 12  # pieces a part asks for
_ELSEWHERE = 16  # pieces tried for a part that makes way
_PAIRS_IN = 5  # parts in a piece, beyond which pairs are not tried
_ASTRAY = 10.0
"""How much worse than the best a sharing-out may be to be worked at further."""
_EMPTIED = (2, 3, 4, 5, 7)
"""How many pieces are emptied in one go; fewer get stuck early."""
_BY_REGRET, _BY_SIZE = 0.2, 0.6
"""Shares of the refillings in regret order, and in that or by size; the rest by chance."""
_PASSED_OVER = 0.1
_SEED = 1868


@dataclass(slots=True)
class Budget:
    """How long the search may go on: until so many steps are taken, or a question says stop."""

    steps: int | None
    stop: Callable[[], bool]
    taken: int = 0

    def spent(self) -> bool:
        """Whether the search must end; counts a step if not."""
        if self.steps is not None and self.taken >= self.steps:
            return True
        if self.stop():
            return True
        self.taken += 1
        return False


def better(sharing: Sharing, budget: Budget, tell: Tell) -> None:
    """Better ``sharing`` in place until the budget is spent; ``tell`` hears of each gain.

    A sharing-out a little worse than the best goes on being worked at (G. Dueck, *Journal of
    Computational Physics* 104, 1993, 86-92: record-to-record travel); the best is what stays.
    """
    chance = random.Random(_SEED)
    if not any(_astray(sharing, part) > GAIN for part in free(sharing)):
        return
    _settle(sharing, budget, free(sharing))
    change_places(sharing, budget.spent)
    best, kept = sharing.objective(), sharing.snapshot()
    tell(best)
    while not budget.spent():
        before = sharing.snapshot()
        emptied = _empty_some(sharing, chance)
        if not emptied:
            break
        _refill(sharing, emptied, chance, budget.stop)
        _settle(sharing, budget, emptied)
        now = sharing.objective()
        if now > best + _ASTRAY:
            sharing.restore(before)
        elif now < best - GAIN:
            change_places(sharing, budget.spent)
            best, kept = sharing.objective(), sharing.snapshot()
            tell(best)
    sharing.restore(kept)


def _refill(
    sharing: Sharing, parts: list[int], chance: random.Random, stop: Callable[[], bool]
) -> None:
    """Share the parts out anew: in regret order, the largest first, or as chance will have it.

    Now and then a part passes a piece over, so that the same parts do not always end alike
    (J. Christiaens and G. Vanden Berghe, *Transportation Science* 54, 2020, 417-433: blinks).
    """
    how = chance.random()
    if how < _BY_REGRET:
        fill_by_regret(sharing, parts, stop)
        return
    chance.shuffle(parts)
    if how < _BY_SIZE:
        parts.sort(key=lambda part: -sharing.campaign.parts[part].area)
    for part in parts:
        if stop():
            return
        for piece in sharing.campaign.candidates[part]:
            if chance.random() >= _PASSED_OVER and sharing.packs(part, piece):
                sharing.put(part, piece)
                break


def free(sharing: Sharing) -> list[int]:
    """The parts that are not pinned and that some piece may serve."""
    campaign = sharing.campaign
    return [
        part
        for part in range(len(campaign.parts))
        if part not in campaign.pins and campaign.candidates[part]
    ]


def cheapest(sharing: Sharing, part: int) -> float:
    """What the part would cost in the best piece that may hold it."""
    return sharing.price(part, sharing.campaign.candidates[part][0])


def _astray(sharing: Sharing, part: int) -> float:
    """How much more the part costs than in its best piece, its jumps on the shelf among it."""
    here = sharing.jumps(part, sharing.where[part])
    return sharing.cost(part) - cheapest(sharing, part) + here


def _settle(sharing: Sharing, budget: Budget, parts: list[int]) -> None:
    """Let the parts ask for closer pieces until none of them gains."""
    asking = sorted(parts, key=lambda p: (cheapest(sharing, p) - sharing.cost(p), p))
    while asking:
        gained: list[int] = []
        for part in asking:
            for piece in closer(sharing, part):
                if budget.spent():
                    return
                moved = _ask(sharing, part, piece)
                if moved:
                    gained += moved
                    break
        asking = list(dict.fromkeys(gained))


def closer(sharing: Sharing, part: int) -> Iterator[int]:
    """The pieces where the part would cost less than where it stands, the closest first."""
    now = sharing.cost(part) + sharing.jumps(part, sharing.where[part])
    for piece in sharing.campaign.candidates[part][:_CLOSER]:
        if sharing.price(part, piece) >= now - GAIN:
            return
        if sharing.price(part, piece) + sharing.jumps(part, piece) < now - GAIN:
            yield piece


def _ask(sharing: Sharing, part: int, piece: int) -> list[int]:
    """Move the part into the piece if that gains; gives the parts that moved."""
    gain = sharing.cost(part) - sharing.price(part, piece)
    gain += sharing.jumps(part, sharing.where[part]) - sharing.jumps(part, piece)
    now = sharing.objective()
    if sharing.packs(part, piece):
        before = sharing.snapshot()
        move(sharing, part, piece)
        if sharing.objective() < now - GAIN:
            return [part]
        sharing.restore(before)
    gain += sharing.campaign.prices.volume if sharing.where[part] == NOWHERE else 0.0
    for leaving in _who_may_leave(sharing, piece, gain):
        if sharing.packs(part, piece, leaving):
            before = sharing.snapshot()
            exchange(sharing, part, piece, leaving)
            if sharing.objective() < now - GAIN:
                return [part, *leaving]
            sharing.restore(before)
    return []


def move(sharing: Sharing, part: int, piece: int) -> None:
    """Take the part from where it stands, if anywhere, and lay it in the piece."""
    if sharing.where[part] != NOWHERE:
        sharing.take(part)
    sharing.put(part, piece)


def exchange(sharing: Sharing, part: int, piece: int, leaving: tuple[int, ...]) -> None:
    """Lay the part in the piece; those that make way go wherever is best for them, if anywhere."""
    for leaver in leaving:
        sharing.take(leaver)
    move(sharing, part, piece)
    for leaver in sorted(leaving, key=lambda p: -sharing.campaign.parts[p].area):
        for other in sharing.campaign.candidates[leaver][:_ELSEWHERE]:
            if other != piece and sharing.packs(leaver, other):
                sharing.put(leaver, other)
                break


def leavers(sharing: Sharing, piece: int) -> list[tuple[int, ...]]:
    """Who might make way in a piece: nobody, each one, each pair, and all that are not pinned."""
    movable = [p for p in sorted(sharing.parts_in[piece]) if p not in sharing.campaign.pins]
    few = [group for count in (0, 1, 2) for group in combinations(movable, count)]
    return few if len(movable) <= 2 else [*few, tuple(movable)]


def _who_may_leave(sharing: Sharing, piece: int, gain: float) -> Iterator[tuple[int, ...]]:
    """One or two parts of the piece that would lose less than ``gain`` at the least."""
    losses: dict[int, float] = {}
    for part in sharing.parts_in[piece]:
        if part not in sharing.campaign.pins:
            elsewhere = (p for p in sharing.campaign.candidates[part] if p != piece)
            without = float(sharing.campaign.left_out[part])
            next_best = next((sharing.price(part, p) for p in elsewhere), without)
            losses[part] = max(next_best - sharing.cost(part), 0.0)
    singly = sorted((loss, (part,)) for part, loss in losses.items())
    pairs = [
        (losses[a] + losses[b], (a, b))
        for a, b in combinations(sorted(losses), 2)
        if len(losses) <= _PAIRS_IN
    ]
    for loss, leaving in [*singly, *sorted(pairs)]:
        if loss < gain - GAIN:
            yield leaving


def _empty_some(sharing: Sharing, chance: random.Random) -> list[int]:
    """Take the parts out of two or three pieces that an ill-served part would like to have."""
    ill = {p: far for p in free(sharing) if (far := _astray(sharing, p)) > GAIN}
    if not ill:
        return []
    part = chance.choices(list(ill), list(ill.values()))[0]
    near = sharing.campaign.candidates[part][: 2 * _CLOSER]
    pieces = chance.sample(near, min(len(near), chance.choice(_EMPTIED)))
    here = sharing.where[part]
    if here != NOWHERE and here not in pieces:
        pieces.append(here)
    pins = sharing.campaign.pins
    emptied = [p for piece in pieces for p in sharing.parts_in[piece] if p not in pins]
    for taken in emptied:
        sharing.take(taken)
    lost = [p for p in waiting(sharing) if p not in emptied and sharing.campaign.candidates[p]]
    return [*emptied, *chance.sample(lost, min(len(lost), 6))]
