"""Sharing the shelf out over chosen volumes: what is asked, and what came of it in words.

The gate is asked beforehand for each piece and each use that parts are cut for: what it stops is
never allotted, and what needs a written reason only where the binder has written one.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from bindery_stock import matching
from bindery_stock.bench.books.leave_to_share import bars, leave_to_share
from bindery_stock.bench.books.part_list import as_matched, faces_the_shelf, needs_colour, use_of
from bindery_stock.bench.books.shelf_order import Rows, SetOnShelf
from bindery_stock.bench.books.spoken_for import held_pins, spoken_for
from bindery_stock.bench.match.candidates import as_matched as piece_as_matched
from bindery_stock.bench.shelf.colour_maps import ColourMaps
from bindery_stock.errors import EntryError
from bindery_stock.matching import Outcome, PartServed, Pin, Plan, Prices, Unplaced
from bindery_stock.stock import (
    BookPart,
    KeptShade,
    PartState,
    PlannedPlacement,
    Reservation,
    StockPiece,
)
from bindery_stock.trade import Rules, Use
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Kind

KNIFE_MM = 1.0
"""Kept between parts of one piece (common practice, no source)."""
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
    rules: Rules
    refused: Mapping[int, frozenset[str]]
    """By id of the part, the codes of pieces that the gate does not let it have."""
    unreasoned: tuple[tuple[str, str], ...] = ()
    """Codes of pieces left out for some part, as no reason is written, with what the gate says."""
    reason: str = ""
    """The reason with which pieces are taken in that need one."""
    reasoned: Mapping[int, Mapping[str, str]] = field(default_factory=dict)
    """By id of the part, what the gate says to each piece that is taken in with that reason."""
    shelf: Rows = ()
    """The volumes as they stand, by code."""
    to_come: tuple[matching.Part, ...] = ()
    """Parts that cloth is kept for: of volumes not surveyed yet, and a spare strip."""

    def as_matched(self, part: BookPart) -> matching.Part:
        """A part as matching sees it, with the pieces it must not have."""
        return as_matched(part, self.rules, refused=self.refused.get(part.id, frozenset()))


@dataclass(frozen=True, slots=True)
class ShareChoice:
    """What one part gets in a sharing-out."""

    part: BookPart
    placed: PartServed | None
    reason: str
    """Why it gets nothing; empty where it gets something."""
    wanted: bool = False
    """True where nothing in the hoard would serve it even alone."""
    ruling: str = ""
    """What the gate says to its piece, which it gets by the written reason; else empty."""
    held_in: str = ""
    """Where it gets nothing, the piece that would serve it best; empty where none would."""
    held_by: tuple[str, ...] = ()
    """What that piece goes to."""


@dataclass(frozen=True, slots=True)
class Shared:
    """A sharing-out beside what closest-first would have given."""

    asked: Asked
    plan: Plan
    choices: tuple[ShareChoice, ...]
    closest: tuple[ShareChoice, ...]
    prices: Prices

    @property
    def kept_for(self) -> tuple[tuple[str, str], ...]:
        """For each volume to come, and for the spare strip, the piece its cloth is kept in; empty
        where there is none for it.
        """
        first = len(self.asked.parts)
        placed = {one.number: one.code for one in self.plan.placed}
        return tuple(
            (part.name, placed.get(first + n, "")) for n, part in enumerate(self.asked.to_come)
        )

    def why(self, part: BookPart) -> str:
        """Why the part gets its piece, in a sentence. Takes a moment."""
        number = self.asked.parts.index(part)
        choice = self.choices[number]
        if not choice.placed:
            return choice.reason
        why = self.plan.why(number).sentence
        return f"{why}\n△ It needs the written reason. {choice.ruling}" if choice.ruling else why

    def placements(self) -> tuple[PlannedPlacement, ...]:
        """The choices to be reserved."""
        return tuple(
            PlannedPlacement(
                part=choice.part.id,
                code=choice.placed.code,
                corners=choice.placed.placement.corners,
                shade=_shade(choice.placed),
            )
            for choice in self.choices
            if choice.placed is not None
        )

    def unserved(self) -> tuple[int, ...]:
        """Ids of the parts that get nothing."""
        return tuple(choice.part.id for choice in self.choices if choice.placed is None)


def _shade(placed: PartServed) -> KeptShade | None:
    return None if placed.delta_e is None else KeptShade(placed.delta_e, placed.u, placed.under)


def ask(
    parts: Iterable[BookPart],
    pieces: Iterable[StockPiece],
    reservations: Iterable[Reservation],
    *,
    today: date,
    rules: Rules,
    again: Iterable[int] = (),
    reason: str = "",
    shelf: SetOnShelf = SetOnShelf(),  # noqa: B008 - frozen
) -> Asked:
    """Take up the parts that wait (and those in ``again``, though reserved) and the free cloth.

    ``reason`` is what the binder writes for cloth that the gate lets pass only with one. ``shelf``
    tells how the volumes stand, and for how many to come cloth is kept.
    """
    freed = frozenset(again)
    listed = list(parts)
    open_parts = [part for part in listed if part.state in OPEN or part.id in freed]
    given_up = {(part.piece, part.purpose) for part in listed if part.id in freed}
    held = [r for r in reservations if (r.code, r.purpose) not in given_up]
    whole = {r.code for r in held if not r.corners}
    kinds = {part.kind for part in open_parts}
    usable = [p for p in pieces if p.kind in kinds and p.code not in whole]
    leave = leave_to_share(open_parts, usable, today, rules)
    against = {pair: said for pair, said in leave.items() if bars(said, reason)}
    refused = {
        part.id: frozenset(
            code for use, code in against if use == (part.kind, use_of(part.role, rules))
        )
        for part in open_parts
    }
    barred = {
        piece.code
        for piece in usable
        if all(piece.code in refused[part.id] for part in open_parts if part.kind is piece.kind)
    }
    reasoned: dict[tuple[Kind, Use | None], dict[str, str]] = {}
    for (use, code), said in leave.items():
        if said.leave is Leave.NEEDS_REASON and (use, code) not in against:
            reasoned.setdefault(use, {})[code] = said.words
    stopped = {code for (_use, code), said in against.items() if said.is_stopped}
    unreasoned = {code: said.words for (_use, code), said in against.items() if not said.is_stopped}
    return Asked(
        tuple(part for part in open_parts if not needs_colour(part)),
        tuple(part for part in open_parts if needs_colour(part)),
        tuple(piece for piece in usable if piece.code not in barred),
        tuple(sorted(stopped)),
        tuple(r for r in held if r.corners),
        rules,
        refused,
        tuple(sorted(unreasoned.items())),
        reason,
        {part.id: reasoned.get((part.kind, use_of(part.role, rules)), {}) for part in open_parts},
        shelf.rows,
        _expected(listed, refused, rules, shelf),
    )


def _expected(
    parts: Sequence[BookPart],
    refused: Mapping[int, frozenset[str]],
    rules: Rules,
    shelf: SetOnShelf,
) -> tuple[matching.Part, ...]:
    """Parts to keep cloth for, as the spines of the set are: open ones and those served already."""
    spines = [part for part in parts if faces_the_shelf(part)]
    barred = frozenset().union(*(refused.get(part.id, frozenset()) for part in spines))
    seen = [as_matched(part, rules, refused=barred) for part in spines]
    return matching.expected(seen, shelf.to_come, spare=shelf.spare)


def share(
    asked: Asked,
    *,
    pins: Mapping[int, str] | None = None,
    seconds: float = 30.0,
    steps: int | None = None,
    prices: Prices = Prices(),  # noqa: B008 - frozen
    stop: Callable[[], bool] | None = None,
    progress: Tell | None = None,
    maps: ColourMaps | None = None,
) -> Shared:
    """Share the pieces out over the parts. ``pins`` maps ids of parts to codes of pieces.

    With ``maps`` a piece counts by its closest place, and each row tells the cloth under its part.
    ``prices`` say what is counted. Raises ``EntryError`` where pins do not go together.
    """
    wanted = [asked.as_matched(part) for part in asked.parts]
    codes = {piece.code for piece in asked.pieces}
    held = [r for r in asked.held if r.code in codes]
    plan = matching.share_out(
        [*wanted, *asked.to_come, *(spoken_for(r) for r in held)],
        [_with_map(piece, maps, stop) for piece in asked.pieces],
        pins=[
            *_pins(asked, pins or {}),
            *held_pins(held, len(wanted) + len(asked.to_come)),
        ],
        seconds=seconds,
        steps=steps,
        prices=prices,
        knife=KNIFE_MM,
        shelf=asked.shelf,
        stop=stop,
        progress=progress,
    )
    count = len(wanted)
    # Reckoned here, where it may take a moment, and not where it is shown.
    _ = plan.reckoning, plan.closest_first.reckoning
    return Shared(
        asked,
        plan,
        _choices(asked, plan, count),
        _choices(asked, plan.closest_first, count),
        prices,
    )


def _with_map(
    piece: StockPiece, maps: ColourMaps | None, stop: Callable[[], bool] | None
) -> matching.Piece:
    if maps is None or (stop is not None and stop()):
        return piece_as_matched(piece)
    return replace(piece_as_matched(piece), colour_map=maps.of(piece))


def _pins(asked: Asked, pins: Mapping[int, str]) -> list[Pin]:
    for part in asked.parts:
        code = pins.get(part.id, "")
        if code in asked.refused[part.id]:
            raise EntryError(
                "Pinned piece",
                f"{code} is pinned for {part.purpose}, but the rules speak against it. Unpin it, "
                "or write a reason where one lets it pass.",
            )
    return [Pin(n, pins[part.id]) for n, part in enumerate(asked.parts) if part.id in pins]


def _choices(asked: Asked, found: Plan | Outcome, count: int) -> tuple[ShareChoice, ...]:
    placed = {one.number: one for one in found.placed if one.number < count}
    without: dict[int, Unplaced] = {one.number: one for one in found.unplaced}
    choices = []
    for number, part in enumerate(asked.parts):
        if number in placed:
            said = asked.reasoned.get(part.id, {}).get(placed[number].code, "")
            choices.append(ShareChoice(part, placed[number], "", ruling=said))
        else:
            left = without[number]
            choices.append(
                ShareChoice(
                    part,
                    None,
                    left.reason,
                    left.fits_nothing,
                    held_in=left.best,
                    held_by=left.taken_by,
                )
            )
    return tuple(choices)
