"""Split supply: matching cloth for the shown bands only, plain toned cotton beneath.

Where the old spine is laid back on a new strip, only the joints and the caps are seen. Matching
cloth can then be had in narrow strips, each running a hold under the old spine and under the lifted
cloth of the board, on a whole strip of plain cotton: the join lies under the old spine, never in a
joint. Common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bindery_stock.stock import BookPart, NewPart
from bindery_stock.trade import Zone

HOLD_MM = 6.0
"""How far a band runs on under the old spine, beyond what is seen; our own choice."""
BAND, BENEATH = "band", "beneath"
_SAME_MM = 1e-6
_WORTH_IT = 0.2
"""Least share of the matching cloth that must be saved before the way is offered."""


@dataclass(frozen=True, slots=True)
class Split:
    """A part cut from two cloths."""

    bands: tuple[NewPart, ...]
    beneath: NewPart
    matching_before: float
    """mm² of matching cloth for the part in one."""
    matching_after: float
    """mm² of matching cloth for the bands."""

    @property
    def saved(self) -> float:
        """Share of the matching cloth that is saved, 0 to 1."""
        return 1.0 - self.matching_after / self.matching_before

    @property
    def words(self) -> str:
        """What it saves, in a sentence."""
        return (
            f"{len(self.bands)} bands of matching cloth on plain toned cotton take "
            f"{self.matching_after / 100:.0f} cm² instead of {self.matching_before / 100:.0f}: "
            f"{self.saved * 100:.0f} % of the right cloth is saved. The joins lie under the old "
            "spine, never in a joint."
        )


def split(part: NewPart | BookPart) -> Split | None:
    """The part as bands on plain cotton, or nothing where that would not be worth the joins."""
    if not part.role.startswith("reback") or part.layer or not part.shown:
        return None
    runs = _shown_columns(part.zones)
    if len(runs) != 2:  # joints only where the old spine hides the middle
        return None
    low = min(z[2] for z in part.zones if z[0] == "shown")
    bands = [_band(part, number, left, right) for number, (left, right) in enumerate(runs, start=1)]
    caps = _caps(part, runs[0][1], runs[1][0], low)
    shown = (*bands, *caps)
    named = tuple(
        replace(band, number=number, of=len(shown)) for number, band in enumerate(shown, start=1)
    )
    before = part.width * part.height
    after = sum(band.width * band.height for band in named)
    if 1.0 - after / before < _WORTH_IT:
        return None
    beneath = replace(
        _plain(part),
        name=f"plain cotton, {part.name}",
        layer=BENEATH,
        zones=(("hidden", 0.0, 0.0, part.width, part.height),),
        pattern="",
        lab=None,
        u=None,
        tolerance=None,
        note="Toned cotton; the bands are laid on it and the old spine over their joins.",
    )
    return Split(named, beneath, before, after)


def _plain(part: NewPart | BookPart) -> NewPart:
    names = NewPart.__dataclass_fields__
    return NewPart(**{name: getattr(part, name) for name in names})


def _shown_columns(zones: Sequence[Zone]) -> list[tuple[float, float]]:
    """The stretches across the spine that are seen along its whole length."""
    tall = max((z[4] - z[2] for z in zones if z[0] == "shown"), default=0.0)
    columns = sorted(
        (z[1], z[3]) for z in zones if z[0] == "shown" and z[4] - z[2] >= tall - _SAME_MM
    )
    merged: list[tuple[float, float]] = []
    for left, right in columns:
        if merged and left <= merged[-1][1] + _SAME_MM:
            merged[-1] = (merged[-1][0], right)
        else:
            merged.append((left, right))
    return merged


def _band(part: NewPart | BookPart, number: int, left: float, right: float) -> NewPart:
    """A strip down one joint: its hidden underlap under the board's cloth, and the hold inward."""
    outward = left if number == 1 else part.width - right
    seen = right - left
    width = outward + seen + HOLD_MM
    start = outward if number == 1 else HOLD_MM
    shown: list[Zone] = [
        ("shown", start, z[2], start + seen, z[4])
        for z in part.zones
        if z[0] == "shown" and abs(z[1] - left) < _SAME_MM
    ]
    rows = [(z[2], z[4]) for z in shown]
    hidden: list[Zone] = [
        ("hidden", 0.0, 0.0, start, part.height),
        ("hidden", start + seen, 0.0, width, part.height),
        ("hidden", start, 0.0, start + seen, rows[0][0]),
        ("hidden", start, rows[-1][1], start + seen, part.height),
    ]
    return replace(
        _plain(part),
        name=f"band of the {part.name}",
        layer=BAND,
        width=width,
        zones=(*shown, *(z for z in hidden if z[3] > z[1] and z[4] > z[2])),
        width_sum=f"seen {seen:.1f} + underlap {outward:.1f} + hold {HOLD_MM:g} = {width:.1f} mm",
        note="Join under the old spine, never in the joint.",
    )


def _caps(part: NewPart | BookPart, left: float, right: float, low: float) -> list[NewPart]:
    """The pieces over head and tail, where the middle is seen there."""
    caps = []
    middle = [
        z
        for z in part.zones
        if z[0] == "shown" and z[1] >= left - _SAME_MM and z[3] <= right + _SAME_MM
    ]
    for zone in sorted(middle, key=lambda z: z[2]):
        at_tail = abs(zone[2] - low) < _SAME_MM
        turn = zone[2] if at_tail else part.height - zone[4]
        seen = zone[4] - zone[2]
        height = turn + seen + HOLD_MM
        start = turn if at_tail else HOLD_MM
        width = right - left
        caps.append(
            replace(
                _plain(part),
                name=f"band of the {part.name}",
                layer=BAND,
                width=width,
                height=height,
                zones=(
                    ("hidden", 0.0, 0.0, width, start),
                    ("shown", 0.0, start, width, start + seen),
                    ("hidden", 0.0, start + seen, width, height),
                ),
                width_sum=f"spine between the bands = {width:.1f} mm",
                height_sum=(
                    f"seen {seen:.1f} + turn-in {turn:.1f} + hold {HOLD_MM:g} = {height:.1f} mm"
                ),
                note="Join under the old spine, never in the joint.",
            )
        )
    return caps


def with_split(parts: Sequence[NewPart], key: tuple[str, str, int]) -> list[NewPart]:
    """The parts of a volume, the one of this key cut from two cloths where that is worth it."""
    found: list[NewPart] = []
    for part in parts:
        made = split(part) if part.key == key else None
        found += [part] if made is None else [*made.bands, made.beneath]
    return found


def splits_kept(parts: Sequence[NewPart], there: Sequence[BookPart]) -> list[NewPart]:
    """Parts worked out anew, those cut from two cloths before cut from two cloths again."""
    found = list(parts)
    for role in {part.role for part in there if part.layer}:
        found = with_split(found, (role, "", 1))
    return found
