"""What of a part is seen on the finished book, and which flaws may lie where."""

from collections.abc import Sequence
from enum import StrEnum

from bindery_stock.errors import EntryError
from bindery_stock.shape import WHERE_FLAWS_MAY_LIE, FlawKind, Sight, Zone
from bindery_stock.shape.zones import kept_clear

PLURAL = {
    FlawKind.HOLE: "holes",
    FlawKind.WEAK: "weak places",
    FlawKind.STAIN: "stains",
    FlawKind.STAMPING: "old stamping",
    FlawKind.GLUE: "glue",
}


class Seen(StrEnum):
    """How much of a part is seen."""

    ALL = "All of it"
    BANDS = "Joints and caps only"
    NONE = "Hidden"


def strip_zones(
    width: float, height: float, *, under: float, joint: float, cap: float, turn: float
) -> tuple[Zone, ...]:
    """The zones of a reback strip with the old spine laid back on it, all in mm.

    On each side ``under`` lies beneath the old cloth and ``joint`` is the band seen beside it;
    at head and tail ``turn`` is turned in and ``cap`` is seen above the old spine. Raises
    ``EntryError`` where the bands leave no room for each other.
    """
    if 2 * (under + joint) > width:
        raise EntryError(
            "Joint band",
            f"Joint band: {joint:g} mm and {under:g} mm under the old cloth, on both sides, are "
            f"more than the strip is wide ({width:g} mm). Make one of them less.",
        )
    if 2 * (turn + cap) > height:
        raise EntryError(
            "Cap",
            f"Cap: {cap:g} mm and {turn:g} mm turned in, at both ends, are more than the strip is "
            f"long ({height:g} mm). Make one of them less.",
        )
    side = under + joint
    low, high = turn, height - turn
    shown = [
        (under, low, side, high),
        (width - side, low, width - under, high),
        (side, low, width - side, low + cap),
        (side, high - cap, width - side, high),
    ]
    return (
        Zone(Sight.HIDDEN, 0.0, 0.0, width, height),
        *(Zone(Sight.SHOWN, *box) for box in shown if box[0] < box[2] and box[1] < box[3]),
    )


def hidden_boxes(
    zones: Sequence[Zone], width: float, height: float
) -> list[tuple[float, float, float, float]]:
    """The places of a part that are not seen: left, low, right, high in its own mm."""
    kind = FlawKind.STAIN  # any will do: what is asked is where only the shown may not lie
    return kept_clear(kind, zones, width, height, {kind: frozenset({Sight.SHOWN})})


def policy_words() -> str:
    """Which flaws may lie where, in a sentence with its mark."""
    under = [PLURAL[kind] for kind in FlawKind if Sight.HIDDEN in WHERE_FLAWS_MAY_LIE[kind]]
    never = [PLURAL[kind] for kind in FlawKind if not WHERE_FLAWS_MAY_LIE[kind]]
    return (
        f"{_listed(under).capitalize()} may lie where the part is hidden; {_listed(never)} may "
        "lie nowhere in it (common practice, no source)."
    )


def _listed(words: list[str]) -> str:
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)
