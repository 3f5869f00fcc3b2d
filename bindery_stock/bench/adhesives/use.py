"""Something is taken from a lot: for what, what it comes to, and what the gate says to it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask, concern
from bindery_stock.stock import (
    AdhesiveLot,
    BookPart,
    Changes,
    PartState,
    Repair,
    RepairState,
    Stockroom,
    Verb,
)
from bindery_stock.trade import Use, verdicts
from bindery_stock.trade.gate import Ruling, ruling


@dataclass(frozen=True, slots=True)
class Destination:
    """Where something from a lot goes, as far as the words of its purpose name it."""

    piece: str = ""
    """Code of the piece that is kept for the part, or was cut for it; or empty."""
    volume: Repair | None = None


@dataclass(frozen=True, slots=True)
class Destinations:
    """All that words of a purpose can name: the volumes, and their parts."""

    volumes: tuple[Repair, ...]
    parts: Mapping[str, tuple[BookPart, ...]]
    """By the code of their volume."""

    @property
    def offered(self) -> list[str]:
        """Words to choose from: the parts of every volume not done, then other work on it.

        Words so formed find their way into the volume's treatment record.
        """
        found: dict[str, None] = {}
        for volume in self.volumes:
            if volume.state is RepairState.DONE:
                continue
            for part in self.parts.get(volume.code, ()):
                if part.state is not PartState.LEFT_OUT:
                    found[part.purpose] = None
            found[f"other work, {volume.name}"] = None
        return list(found)

    def named(self, purpose: str) -> Destination:
        """What these words name: a part by its whole purpose, else a volume they end in."""
        words = purpose.strip().casefold()
        for volume in self.volumes:
            parts = self.parts.get(volume.code, ())
            pieces = [part.piece for part in parts if part.purpose.casefold() == words]
            if pieces:
                return Destination(next(filter(None, pieces), ""), volume)
        ending = [v for v in self.volumes if f", {words}".endswith(f", {v.name.casefold()}")]
        return Destination(volume=max(ending, key=lambda v: len(v.name), default=None))


def destinations(room: Stockroom) -> Destinations:
    """Every volume and part on the bench, read at once."""
    return destinations_of(room.books.repairs(), room.books.parts())


def destinations_of(volumes: Iterable[Repair], parts: Iterable[BookPart]) -> Destinations:
    """The same, where volumes and parts have been read already."""
    grouped: defaultdict[str, list[BookPart]] = defaultdict(list)
    for part in parts:
        grouped[part.repair].append(part)
    return Destinations(tuple(volumes), {code: tuple(found) for code, found in grouped.items()})


def hindrance(
    room: Stockroom, lot: AdhesiveLot, use: Use, destination: Destination, laid_on: str = ""
) -> Ruling:
    """What the gate will say to this use, told while there is time to think again.

    Nothing is read but the pieces it comes to. Raises ``NotFound`` for a piece that is not there.
    """
    matter = _matter(lot.code, use, destination, laid_on)
    found = concern(
        matter,
        room.pieces.get(matter.piece) if matter.piece else None,
        lot,
        room.pieces.get(matter.laid_on) if matter.laid_on else None,
        destination.volume,
    )
    return ruling(found, room.today, rules=room.rules)


@deed(Bearing.CONSUMES)
def use_some(
    room: Stockroom,
    *,
    lot: str,
    use: Use,
    purpose: str,
    amount: float | None = None,
    laid_on: str = "",
    volume: str = "",
    reason: str = "",
) -> Changes:
    """Take something from a lot; ``amount`` is in its unit, None where nobody weighs it.

    ``laid_on`` is the code of the piece it goes on, or of the one its part was cut from, and
    ``volume`` the code of the volume it is for; what is empty is read from ``purpose`` where that
    names a part or a volume. Raises ``Stopped`` where it would wet what must stay dry, ``Barred``
    where the rules speak against it and no reason is written, ``EntryError`` for an amount that is
    not there, ``StockError`` where the lot is finished.
    """
    with room.step(Verb.USED) as step:
        destination = destinations(room).named(purpose)
        if volume:
            destination = Destination(destination.piece, room.books.repair(volume))
        answer = ask(room, "use_some", _matter(lot, use, destination, laid_on), reason)
        room.lots.use(
            lot,
            use=use,
            purpose=purpose,
            amount=amount,
            laid_on=laid_on or destination.piece,
            verdict=_verdict_words(room, lot, use, answer),
            override_reason="" if answer.is_allowed else reason,
        )
    return step.changes


def _matter(lot: str, use: Use, destination: Destination, laid_on: str) -> Matter:
    """Wet or dry as the lot is; a piece that was typed does not take the place of the part's."""
    comes_to = laid_on or destination.piece
    volume = "" if destination.volume is None else destination.volume.code
    other = destination.piece if destination.piece != comes_to else ""
    return Matter(lot=lot, use=use, laid_on=comes_to, piece=other, volume=volume)


def _verdict_words(room: Stockroom, lot: str, use: Use, answer: Ruling) -> str:
    """What the rules say of this use today, as it is kept with the use."""
    if not answer.is_allowed:
        return " ".join(objection.words for objection in answer.objections)
    found = verdicts(room.lots.get(lot), room.today, rules=room.rules)
    return next((f"{use}: {one.grade}" for one in found if one.use is use), "no rule speaks")
