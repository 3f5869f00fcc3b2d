"""The one gate: what the rules say to a deed, asked of what stands in the stockroom now.

``rule`` answers beforehand, for lists and forms. ``ask`` stands inside the step of a deed: it
raises what stops the deed, and keeps the ruling where the binder goes on with a written reason.
``note`` is for what has already happened: it never refuses.
"""

from dataclasses import dataclass

from bindery_stock.errors import Barred, Stopped
from bindery_stock.stock import AdhesiveLot, NewKeptRuling, Repair, StockPiece, Stockroom
from bindery_stock.trade import Material, Use
from bindery_stock.trade.covering import CoveringCloth
from bindery_stock.trade.gate import Concern, Leave, Ruling, ruling


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
    piece = room.pieces.get(matter.piece) if matter.piece else None
    lot = room.lots.get(matter.lot) if matter.lot else None
    laid_on = room.pieces.get(matter.laid_on) if matter.laid_on else None
    volume = room.books.repair(matter.volume) if matter.volume else None
    return ruling(concern(matter, piece, lot, laid_on, volume), room.today, rules=room.rules)


def concern(
    matter: Matter,
    piece: StockPiece | None = None,
    lot: AdhesiveLot | None = None,
    laid_on: StockPiece | None = None,
    volume: Repair | None = None,
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


def covering_of(volume: Repair) -> CoveringCloth:
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
    answer = rule(room, matter)
    if answer.is_stopped:
        raise Stopped(answer.words)
    if answer.leave is Leave.NEEDS_REASON:
        if not reason.strip():
            raise Barred(f"{answer.words} Going on needs a written reason.")
        _keep(room, deed, matter, answer, reason)
    return answer


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
