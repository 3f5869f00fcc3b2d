"""Sharing the shelf out over chosen volumes: what is asked, and what came of it in words."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from bindery_stock import matching
from bindery_stock.bench.books.part_list import as_matched, needs_colour
from bindery_stock.bench.match.candidates import as_matched as piece_as_matched
from bindery_stock.bench.shelf.cautions import gravest
from bindery_stock.matching import Lying, Outcome, PartServed, Pin, Plan, Unplaced
from bindery_stock.shape import PatchPlacement, Placement, Ring
from bindery_stock.stock import BookPart, PartState, PlannedPlacement, Reservation, StockPiece
from bindery_stock.trade import Level

OPEN = frozenset({PartState.WANTED, PartState.NOTHING_SERVES})
Tell = Callable[[str, float, float], None]


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be shared out, and over what."""

    parts: tuple[BookPart, ...]
    """Parts that wait for cloth."""
    uncoloured: tuple[BookPart, ...]
    """Parts that cannot be matched before their colour is read."""
    pieces: tuple[StockPiece, ...]
    set_aside: tuple[str, ...]
    """Codes of pieces left out because a caution says not to work them."""
    held: tuple[Reservation, ...]
    """What is spoken for already, and stays where it lies."""


@dataclass(frozen=True, slots=True)
class ShareChoice:
    """What one part gets in a sharing-out."""

    part: BookPart
    placed: PartServed | None
    reason: str
    """Why it gets nothing; empty where it gets something."""
    wanted: bool = False
    """True where nothing in the hoard would serve it even alone."""


@dataclass(frozen=True, slots=True)
class Shared:
    """A sharing-out beside what closest-first would have given."""

    asked: Asked
    plan: Plan
    choices: tuple[ShareChoice, ...]
    closest: tuple[ShareChoice, ...]

    def why(self, part: BookPart) -> str:
        """Why the part gets its piece, in a sentence. Takes a moment."""
        number = self.asked.parts.index(part)
        choice = self.choices[number]
        return self.plan.why(number).sentence if choice.placed else choice.reason

    def layings(self) -> tuple[PlannedPlacement, ...]:
        """The choices to be reserved."""
        return tuple(
            PlannedPlacement(
                part=choice.part.id,
                code=choice.placed.code,
                corners=choice.placed.placement.corners,
                delta_e=choice.placed.delta_e,
            )
            for choice in self.choices
            if choice.placed is not None
        )

    def unserved(self) -> tuple[int, ...]:
        """Ids of the parts that get nothing."""
        return tuple(choice.part.id for choice in self.choices if choice.placed is None)


def ask(
    parts: Iterable[BookPart],
    pieces: Iterable[StockPiece],
    reservations: Iterable[Reservation],
    *,
    again: Iterable[int] = (),
) -> Asked:
    """Take up the parts that wait (and those in ``again``, though reserved) and the free cloth."""
    freed = frozenset(again)
    listed = list(parts)
    open_parts = [part for part in listed if part.state in OPEN or part.id in freed]
    given_up = {(part.piece, part.purpose) for part in listed if part.id in freed}
    held = [r for r in reservations if (r.code, r.purpose) not in given_up]
    whole = {r.code for r in held if not r.corners}
    kinds = {part.kind for part in open_parts}
    usable = [p for p in pieces if p.kind in kinds and p.code not in whole]
    barred = {piece.code for piece in usable if gravest(piece) is Level.STOP}
    return Asked(
        tuple(part for part in open_parts if not needs_colour(part)),
        tuple(part for part in open_parts if needs_colour(part)),
        tuple(piece for piece in usable if piece.code not in barred),
        tuple(sorted(barred)),
        tuple(r for r in held if r.corners),
    )


def share(
    asked: Asked,
    *,
    pins: Mapping[int, str] | None = None,
    seconds: float = 30.0,
    steps: int | None = None,
    stop: Callable[[], bool] | None = None,
    progress: Tell | None = None,
) -> Shared:
    """Share the pieces out over the parts. ``pins`` maps ids of parts to codes of pieces.

    Raises ``EntryError`` where what is pinned does not go together.
    """
    wanted = [as_matched(part) for part in asked.parts]
    codes = {piece.code for piece in asked.pieces}
    held = [r for r in asked.held if r.code in codes]
    plan = matching.share_out(
        [*wanted, *(_spoken_for(r) for r in held)],
        [piece_as_matched(piece) for piece in asked.pieces],
        pins=[*_pins(asked.parts, pins or {}), *_held_pins(held, len(wanted))],
        seconds=seconds,
        steps=steps,
        stop=stop,
        progress=progress,
    )
    count = len(wanted)
    return Shared(
        asked,
        plan,
        _choices(asked.parts, plan, count),
        _choices(asked.parts, plan.closest_first, count),
    )


def _pins(parts: Sequence[BookPart], pins: Mapping[int, str]) -> list[Pin]:
    return [Pin(n, pins[part.id]) for n, part in enumerate(parts) if part.id in pins]


def _spoken_for(held: Reservation) -> matching.Part:
    return matching.Part(
        held.width,
        held.height,
        None,
        shown=False,
        name=held.purpose,
        triangular=len(held.corners) == 3,
    )


def _held_pins(held: Sequence[Reservation], first: int) -> list[Pin]:
    return [Pin(first + n, r.code, _lying(r)) for n, r in enumerate(held)]


def _lying(held: Reservation) -> Lying:
    if len(held.corners) == 3:  # a corner patch
        return PatchPlacement(held.corners, 0.0, tight=False)
    return placement_of(held.corners, held.width, held.height)


def placement_of(corners: Ring, width: float, height: float) -> Placement:
    """A placement from the corners of a part, its own lower-left corner first."""
    a, b, c, d = corners
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 360.0
    return Placement((a, b, c, d), round(turn, 6), False, width, height)


def _choices(
    parts: Sequence[BookPart], found: Plan | Outcome, count: int
) -> tuple[ShareChoice, ...]:
    placed = {one.number: one for one in found.placed if one.number < count}
    without: dict[int, Unplaced] = {one.number: one for one in found.unplaced}
    choices = []
    for number, part in enumerate(parts):
        if number in placed:
            choices.append(ShareChoice(part, placed[number], ""))
        else:
            left = without[number]
            choices.append(ShareChoice(part, None, left.reason, left.fits_nothing))
    return tuple(choices)


@dataclass(frozen=True, slots=True)
class Tally:
    """How a sharing-out does, in figures."""

    served: int
    parts: int
    shown_served: int
    shown: int
    mean_delta_e: float | None
    """Over the shown parts that are served."""
    objective: float


def tally(choices: Sequence[ShareChoice], objective: float) -> Tally:
    """Count what a sharing-out serves and how closely."""
    served = [choice for choice in choices if choice.placed is not None]
    shown = [choice for choice in served if choice.part.shown]
    shades = [c.placed.delta_e for c in shown if c.placed and c.placed.delta_e is not None]
    return Tally(
        len(served),
        len(choices),
        len(shown),
        sum(choice.part.shown for choice in choices),
        sum(shades) / len(shades) if shades else None,
        objective,
    )


def gain_words(plan: Tally, closest: Tally) -> str:
    """What the plan gains over closest-first, in a sentence."""
    more = plan.shown_served - closest.shown_served
    if plan.objective >= closest.objective - 0.05 and more <= 0:
        if plan.served == plan.parts:
            return "Closest-first does as well here: there is cloth enough for everyone."
        return "Closest-first does as well here."
    gains = []
    if more > 0:
        gains.append(f"{more} more shown {'part is' if more == 1 else 'parts are'} served")
    if plan.mean_delta_e is not None and closest.mean_delta_e is not None:
        nearer = closest.mean_delta_e - plan.mean_delta_e
        if nearer >= 0.05:
            gains.append(f"shown cloth lies {nearer:.1f} ΔE00 nearer on average")
        elif nearer <= -0.05 and more > 0:
            gains.append(f"at {-nearer:.1f} ΔE00 more on average")
    saved = closest.objective - plan.objective
    gains.append(f"{saved:.0f} less on the whole count")
    return f"Against closest-first {', '.join(gains)}."
