"""The one gate: what the rules say to a deed, asked of what stands in the stockroom now.

``rule`` answers beforehand, for lists and forms. ``ask`` stands inside the step of a deed: it
raises what stops the deed, and keeps the ruling where the binder goes on with a written reason.
``note`` is for what has already happened: it never refuses.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from bindery_stock.errors import Barred, Stopped
from bindery_stock.stock import AdhesiveLot, NewKeptRuling, NewRepair, StockPiece, Stockroom
from bindery_stock.trade import Material, Use
from bindery_stock.trade.covering import CoveringCloth
from bindery_stock.trade.gate import Concern, Leave, Ruling, ruling

_Found = TypeVar("_Found", StockPiece, AdhesiveLot, NewRepair)
_FEW = 2
"""Up to so many things are read one by one; more of them all at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """What a deed is about, by code; what it has nothing to do with is empty."""

    piece: str = ""
    lot: str = ""
    use: Use | None = None
    """What piece or lot is used for; None where that is not known."""
    laid_on: str = ""
    """Code of another piece it comes to."""
    volume: str = ""
    """Code of the volume it is done on or goes into."""
    cutting: bool = False
    wet: bool | None = None
    """Whether water, paste or a damp poultice is in it; None: as the lot is."""


def rule(room: Stockroom, matter: Matter) -> Ruling:
    """What the gate says to this, as things stand. Raises ``NotFound`` for a code that is none."""
    return _rulings(room, [matter])[matter]


def _rulings(room: Stockroom, matters: Iterable[Matter]) -> dict[Matter, Ruling]:
    """What the gate says to each, in a fixed number of statements however many there are."""
    asked = dict.fromkeys(matters)
    pieces = _read(
        [code for matter in asked for code in (matter.piece, matter.laid_on)],
        room.pieces.get,
        lambda: {piece.code: piece for piece in room.pieces.listed()},
    )
    lots = _read(
        [matter.lot for matter in asked],
        room.lots.get,
        lambda: {lot.code: lot for lot in room.lots.listed()},
    )
    volumes = _read(
        [matter.volume for matter in asked],
        room.books.repair,
        lambda: {volume.code: volume for volume in room.books.repairs()},
    )
    return {
        matter: ruling(
            concern(
                matter,
                pieces.get(matter.piece),
                lots.get(matter.lot),
                pieces.get(matter.laid_on),
                volumes.get(matter.volume),
            ),
            room.today,
            rules=room.rules,
        )
        for matter in asked
    }


def _read(
    codes: Iterable[str], one: Callable[[str], _Found], every: Callable[[], dict[str, _Found]]
) -> dict[str, _Found]:
    """What stands under these codes; what is no longer on the shelf is read by itself."""
    wanted = [code for code in dict.fromkeys(codes) if code]
    known = every() if len(wanted) > _FEW else {}
    return {code: known[code] if code in known else one(code) for code in wanted}


def concern(
    matter: Matter,
    piece: StockPiece | None = None,
    lot: AdhesiveLot | None = None,
    laid_on: StockPiece | None = None,
    volume: NewRepair | None = None,
) -> Concern:
    """What the rules are asked, where piece, lot and volume have been read already."""
    touching: list[tuple[str, Material]] = []
    if laid_on is not None:
        touching.append((laid_on.code, laid_on))
    if volume is not None:
        touching.append((volume.name, covering_of(volume)))
    return Concern(
        piece=piece,
        piece_name=matter.piece,
        lot=lot,
        lot_name=matter.lot,
        use=matter.use,
        touching=tuple(touching),
        cutting=matter.cutting,
        wet=matter.wet,
    )


def covering_of(volume: NewRepair) -> CoveringCloth:
    """The cloth of a volume, as the rules know it."""
    return CoveringCloth(
        colour_family=volume.colour_family,
        source_date=volume.dated,
        colours=tuple(target.colour for target in volume.targets),
        lab_results=volume.lab_results,
    )


def ask(room: Stockroom, deed: str, matter: Matter, reason: str = "") -> Ruling:
    """Ask within the step of a deed; the ruling is kept with ``reason`` where one lets it pass.

    Raises ``Stopped`` where no reason lets it pass, ``Barred`` where one is needed and none is
    written.
    """
    return ask_all(room, deed, [matter], reason)[matter]


def ask_all(
    room: Stockroom, deed: str, matters: Iterable[Matter], reason: str = ""
) -> dict[Matter, Ruling]:
    """Ask about many things of one deed at once; raises as ``ask`` where any of them is stopped."""
    found = _rulings(room, matters)
    stopped = [answer.words for answer in found.values() if answer.is_stopped]
    if stopped:
        raise Stopped(" ".join(dict.fromkeys(stopped)))
    against = {m: answer for m, answer in found.items() if answer.leave is Leave.NEEDS_REASON}
    if against and not reason.strip():
        told = " ".join(dict.fromkeys(answer.words for answer in against.values()))
        raise Barred(f"{told} Going on needs a written reason.", field="Reason")
    for matter, answer in against.items():
        _keep(room, deed, matter, answer, reason)
    return found


def note(room: Stockroom, deed: str, matter: Matter, reason: str = "") -> Ruling:
    """Rule on what has happened already, within its step: kept with the ruling, never refused."""
    answer = rule(room, matter)
    if not answer.is_allowed:
        _keep(room, deed, matter, answer, reason)
    return answer


def _keep(room: Stockroom, deed: str, matter: Matter, answer: Ruling, reason: str) -> None:
    room.rulings.keep(
        NewKeptRuling(
            deed=deed,
            leave=answer.leave,
            rules=tuple(objection.rule for objection in answer.objections),
            words=answer.words,
            reason=reason,
            piece=matter.piece or matter.laid_on or None,
            lot=matter.lot or None,
            volume=matter.volume or None,
        )
    )
