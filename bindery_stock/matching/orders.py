"""Ways to share out at once: part by part, each taking the best piece that still has room.

They differ in whose turn it is. Closest-first goes through the list as it stands, as a binder does
volume by volume. Shown-first lets the shown parts choose first. In regret order the part that
would lose most by waiting chooses first (J.-Y. Potvin and J.-M. Rousseau, *European Journal of
Operational Research* 66, 1993, 331-340, for the regret measure).
"""

from collections.abc import Callable, Iterable, Mapping

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.share_values import NOWHERE, Sharing

Stop = Callable[[], bool]


def never() -> bool:
    """Nobody asks to stop."""
    return False


def waiting(sharing: Sharing) -> list[int]:
    """The parts that stand nowhere yet."""
    return [part for part, piece in enumerate(sharing.where) if piece == NOWHERE]


def shelf_order(campaign: Campaign) -> Sharing:
    """Each part in turn from the first piece on the shelf that has room, whatever its shade."""
    sharing = Sharing(campaign)
    for part in waiting(sharing):
        _take_first(sharing, part, sorted(campaign.candidates[part]))
    return sharing


def closest_first(campaign: Campaign) -> Sharing:
    """Each part in turn from the closest piece that still has room."""
    return _in_turn(campaign, waiting(Sharing(campaign)))


def fill_closest(sharing: Sharing, stop: Stop = never) -> None:
    """Lay what waits into the closest pieces that have room as they are, the shown parts first."""
    parts = sharing.campaign.parts
    for part in sorted(waiting(sharing), key=lambda p: -parts[p].visibility):
        if stop():
            return
        _take_first(sharing, part, sharing.campaign.candidates[part])


def shown_first(campaign: Campaign) -> Sharing:
    """As closest first, but every shown part before every hidden one."""
    parts = waiting(Sharing(campaign))
    return _in_turn(campaign, sorted(parts, key=lambda p: -campaign.parts[p].visibility))


def _in_turn(campaign: Campaign, parts: Iterable[int]) -> Sharing:
    sharing = Sharing(campaign)
    for part in parts:
        _take_first(sharing, part, campaign.candidates[part])
    return sharing


def _take_first(sharing: Sharing, part: int, pieces: Iterable[int]) -> None:
    for piece in pieces:
        if sharing.extends(part, piece):
            sharing.put(part, piece)
            return


def regret_order(campaign: Campaign, stop: Stop = never) -> Sharing:
    """The part that would lose most by waiting chooses first; hidden ones take what is left.

    What lies in a piece is laid anew only for those that find no room else: that takes its time.
    """
    sharing = Sharing(campaign)
    for shown in (True, False):
        parts = [part for part in waiting(sharing) if campaign.parts[part].shown is shown]
        _fill(sharing, {part: _AsLaid(sharing, part) for part in parts}, stop)
        left = [part for part in waiting(sharing) if campaign.parts[part].shown is shown]
        fill_by_regret(sharing, left, stop)
    return sharing


def plain_regret(campaign: Campaign, stop: Stop = never) -> Sharing:
    """The measure as it is found in textbooks: all parts together, and nothing is laid anew."""
    sharing = Sharing(campaign)
    _fill(sharing, {part: _Plain(sharing, part) for part in waiting(sharing)}, stop)
    return sharing


def fill_by_regret(sharing: Sharing, parts: Iterable[int], stop: Stop = never) -> None:
    """Lay as many of ``parts`` as find room, in regret order, what lies there laid anew if need be.

    Where it is stopped, the parts still waiting stay out.
    """
    _fill(sharing, {part: _Outlook(sharing, part) for part in parts}, stop)


def _fill(sharing: Sharing, outlooks: "Mapping[int, _Outlook]", stop: Stop) -> None:
    outlooks = dict(outlooks)
    for outlook in outlooks.values():
        if stop():
            return
        outlook.look()
    while outlooks and not stop():
        part = max(outlooks, key=lambda p: outlooks[p].urgency)
        ahead = outlooks.pop(part).ahead
        if not ahead:
            continue
        sharing.put(part, ahead[0])
        for outlook in outlooks.values():
            if ahead[0] in outlook.ahead:
                outlook.look()


class _Outlook:
    """The best few pieces for a waiting part. As pieces only fill, what is lost stays lost."""

    ways = 4
    """Pieces looked ahead to. Two, the textbook's number, left out up to 3 parts of 144 more."""

    def __init__(self, sharing: Sharing, part: int) -> None:
        self._sharing, self._part = sharing, part
        self._left = list(reversed(sharing.campaign.candidates[part]))
        self.ahead: list[int] = []
        self.urgency: tuple[float, float, int] = (0.0, 0.0, 0)

    def look(self) -> None:
        """Find the best pieces that still have room, and what waiting would cost."""
        self.ahead = []
        while self._left and len(self.ahead) < self.ways:
            piece = self._left.pop()
            if self._finds_room(piece):
                self.ahead.append(piece)
        self._left.extend(reversed(self.ahead))
        prices = [self._sharing.price(self._part, piece) for piece in self.ahead]
        without = float(self._sharing.campaign.left_out[self._part])
        prices += [without] * (self.ways - len(prices))
        regret = sum(price - prices[0] for price in prices)
        self.urgency = (regret, self._sharing.campaign.parts[self._part].area, -self._part)

    def _finds_room(self, piece: int) -> bool:
        return self._sharing.packs(self._part, piece)


class _AsLaid(_Outlook):
    """All that lies in a piece stays where it is."""

    def _finds_room(self, piece: int) -> bool:
        return self._sharing.extends(self._part, piece)


class _Plain(_AsLaid):
    """The best two."""

    ways = 2
