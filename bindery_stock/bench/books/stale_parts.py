"""What a change in stock touches: reserved parts whose piece is no longer what was chosen.

Only these are shared out again; every other reservation stays where it lies.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from bindery_stock.colour import delta_e00
from bindery_stock.stock import BookPart, PartState, PieceState, StockPiece

_WORSE_BY = 1.0
"""ΔE00 by which a colour read again must have grown before it is told: about what is just seen."""


@dataclass(frozen=True, slots=True)
class Stale:
    """A reserved part whose choice no longer holds."""

    part: BookPart
    reason: str


Now = Callable[[BookPart, StockPiece], float | None]
"""ΔE00 of the cloth chosen for a part, of the same cloth as its shade was kept of, as it is now;
None where that cannot be told."""


def stale(
    parts: Iterable[BookPart], pieces: Mapping[str, StockPiece], under_now: Now | None = None
) -> list[Stale]:
    """The reserved parts that must be planned anew, each with the reason.

    ``under_now`` tells of the cloth under a part; without it nothing is said of a shade kept so.
    """
    found = []
    for part in parts:
        if part.state is PartState.RESERVED:
            under = part.shade is not None and part.shade.under
            now = under_now if under else delta_now
            reason = _why(part, pieces.get(part.piece), now)
            if reason:
                found.append(Stale(part, reason))
    return found


def _why(part: BookPart, piece: StockPiece | None, found_now: Now | None) -> str:
    if piece is None or piece.state is not PieceState.ON_SHELF:
        return f"{part.piece} is no longer on the shelf"
    now = None if found_now is None else found_now(part, piece)
    if now is None:
        return ""
    chosen_at = part.delta_e
    if chosen_at is not None and now > chosen_at + _WORSE_BY:
        return f"{piece.code} was {chosen_at:.1f} ΔE00 off when it was chosen, now {now:.1f}"
    allowed = part.tolerance
    # Cloth that was beyond it when the binder chose it has not changed.
    if allowed is not None and now > allowed and (chosen_at is None or chosen_at <= allowed):
        return f"{piece.code} now lies {now:.1f} ΔE00 off, beyond {allowed:g}"
    return ""


def delta_now(part: BookPart, piece: StockPiece) -> float | None:
    """ΔE00 of the best face of a piece from the colour sought, as both are known today.

    None where one of them was not measured.
    """
    measured = [colour.lab for colour in piece.colours if colour.read_by.is_measured]
    if part.lab is None or not part.read_by.is_measured or not measured:
        return None
    return float(min(delta_e00(part.lab, measured)))
