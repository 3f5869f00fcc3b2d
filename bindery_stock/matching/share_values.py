"""A sharing-out under way: which part comes from which piece, and what it costs so far."""

import math
from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.fits import Lying
from bindery_stock.matching.sizes import Content

NOWHERE = -1


@dataclass(frozen=True, slots=True)
class Snapshot:
    """Where each part stands, to come back to."""

    where: tuple[int, ...]


class Sharing:
    """Parts laid into pieces. Every state it can be in is one the packer has laid."""

    def __init__(self, campaign: Campaign) -> None:
        """Begin with the pinned parts only; raises ``EntryError`` where they do not go together."""
        self.campaign = campaign
        self.where = [NOWHERE] * len(campaign.parts)
        self.parts_in: list[list[int]] = [[] for _ in campaign.pieces]
        self._content: list[Content] = [() for _ in campaign.pieces]
        self._extra = [0.0] * len(campaign.pieces)
        self._stale: set[int] = set()
        """Pieces whose load has changed since what it costs beside its parts was worked out."""
        for number, pin in campaign.pins.items():
            piece = campaign.piece_number(pin.code)
            if pin.placement is not None:
                self.where[number] = piece
            elif self.packs(number, piece):
                self.put(number, piece)
            else:
                raise EntryError(
                    "Pinned piece",
                    f"{campaign.name(number)} is pinned to {pin.code} but finds no place in it "
                    "beside the other pinned parts. Unpin it or choose another piece.",
                )

    def cost(self, part: int) -> float:
        """What the part costs where it stands."""
        piece = self.where[part]
        if piece == NOWHERE:
            return float(self.campaign.left_out[part])
        return self.price(part, piece)

    def price(self, part: int, piece: int) -> float:
        """What the part would cost there; a pinned part costs what its shade costs."""
        return float(self.campaign.cost[part, piece])

    def jumps(self, part: int, piece: int) -> float:
        """What the jumps to its neighbours on the shelf would cost, were the part cut there."""
        campaign = self.campaign
        if piece == NOWHERE or not campaign.shelf.neighbours:
            return 0.0
        return campaign.prices.jump * campaign.shelf.around(part, piece, self.where)

    def objective(self) -> float:
        """The whole sum: parts, volumes, lots, whole cloth lost and jumps on the shelf."""
        for piece in self._stale:
            content, parts = self._content[piece], self.parts_in[piece]
            self._extra[piece] = self.campaign.extra(piece, content, parts)
        self._stale.clear()
        volumes = self.campaign.volumes
        return (
            math.fsum(self.cost(part) for part in range(len(self.where)))
            + math.fsum(self._extra)
            + volumes.price * (volumes.unfinished(self.where) + volumes.broken)
            + self.campaign.prices.jump * self.campaign.shelf.all_jumps(self.where)
        )

    def extends(self, part: int, piece: int) -> bool:
        """Whether the part finds room with all others lying as they do."""
        size = self.campaign.size(part, piece)
        return self.campaign.packers[piece].extends(self._content[piece], size)

    def packs(self, part: int, piece: int, without: tuple[int, ...] = ()) -> bool:
        """Whether the part finds room, the others laid anew if need be, some of them gone."""
        packer, content = self.campaign.packers[piece], self._content[piece]
        for gone in without:
            content = packer.less(content, self.campaign.size(gone, piece))
        return packer.packs(content, self.campaign.size(part, piece))

    def put(self, part: int, piece: int) -> None:
        """Lay the part in the piece. It must have been found to go there."""
        size, packer = self.campaign.size(part, piece), self.campaign.packers[piece]
        self._content[piece] = packer.lay(self._content[piece], size)
        self.where[part] = piece
        self.parts_in[piece].append(part)
        self._stale.add(piece)

    def content(self, piece: int) -> Content:
        """The sizes laid in the piece, pinned ones among them."""
        return self._content[piece]

    def take(self, part: int) -> None:
        """Take the part out of its piece; the others stay."""
        piece = self.where[part]
        self.parts_in[piece].remove(part)
        packer, size = self.campaign.packers[piece], self.campaign.size(part, piece)
        self._content[piece] = packer.less(self._content[piece], size)
        self.where[part] = NOWHERE
        self._stale.add(piece)

    def snapshot(self) -> Snapshot:
        """Where everything stands."""
        return Snapshot(tuple(self.where))

    def restore(self, snapshot: Snapshot) -> None:
        """Go back to where everything stood."""
        touched = set()
        for part, (now, then) in enumerate(zip(self.where, snapshot.where, strict=True)):
            if now != then:
                touched |= {now, then}
                if now != NOWHERE:
                    self.parts_in[now].remove(part)
                if then != NOWHERE:
                    self.parts_in[then].append(part)
                self.where[part] = then
        for piece in touched - {NOWHERE}:
            self._content[piece] = self._sizes(piece, self.parts_in[piece])
            self._stale.add(piece)

    def placements(self) -> dict[int, Lying]:
        """Where each placed part lies in its piece."""
        pins = self.campaign.pins
        found = {n: pin.placement for n, pin in pins.items() if pin.placement is not None}
        for piece, parts in enumerate(self.parts_in):
            if parts:
                laid = self.campaign.packers[piece].laid(self._content[piece])
                found |= dict(zip(self._sorted(piece, parts), laid.placements, strict=True))
        return found

    def _sorted(self, piece: int, parts: list[int]) -> list[int]:
        return sorted(parts, key=lambda part: (self.campaign.size(part, piece), part))

    def _sizes(self, piece: int, parts: list[int]) -> Content:
        return tuple(sorted(self.campaign.size(part, piece) for part in parts))
