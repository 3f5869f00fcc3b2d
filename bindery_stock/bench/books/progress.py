"""How far a set is: what is wanted of each cloth, and how far the cloth goes."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from bindery_stock.bench.books.part_list import REBACKS
from bindery_stock.bench.books.share_out import OPEN, ask, share
from bindery_stock.colour import family
from bindery_stock.stock import BookPart, PartState, Repair, Reservation, StockPiece
from bindery_stock.trade import Role, Rules

_SPINE_ROLES = {role.value for role in REBACKS}
IN_HAND = frozenset({PartState.CUT, PartState.FITTED})


@dataclass(frozen=True, slots=True)
class Supply:
    """One cloth: how many spines still want it, and for how many there is cloth."""

    cloth: str
    """``Red rib``."""
    wanted: int
    reserved: int
    """Of the wanted, those whose cloth is reserved already."""
    enough_for: int
    """Of the wanted, those for which cloth is reserved or can be had, sharing out at once."""

    @property
    def words(self) -> str:
        """``Red rib: 11 spines wanted, cloth for 9.``"""
        noun = "spine" if self.wanted == 1 else "spines"
        if self.enough_for >= self.wanted:
            much = "cloth for it" if self.wanted == 1 else "cloth for all"
        elif self.enough_for == 0:
            much = "cloth for none"
        else:
            much = f"cloth for {self.enough_for}"
        return f"{self.cloth}: {self.wanted} {noun} wanted, {much}."


def supplies(
    parts: Iterable[BookPart],
    pieces: Sequence[StockPiece],
    reservations: Sequence[Reservation],
    *,
    today: date,
    rules: Rules,
    stop: Callable[[], bool] | None = None,
) -> list[Supply]:
    """How far the cloth of each grain and colour goes; takes seconds, so away from the window.

    Found by really laying the spines that wait into the free cloth, at once and without search:
    a better plan may serve more.
    """
    spines = [
        part
        for part in parts
        if part.role in _SPINE_ROLES
        and part.layer != "beneath"
        and part.state not in IN_HAND
        and part.state is not PartState.LEFT_OUT
    ]
    by_cloth: defaultdict[str, list[BookPart]] = defaultdict(list)
    for part in spines:
        by_cloth[cloth_words(part)].append(part)
    waiting = [part for part in spines if part.state in OPEN and part.lab is not None]
    served: set[int] = set()
    if waiting:
        found = share(
            ask(waiting, pieces, reservations, today=today, rules=rules), steps=0, stop=stop
        )
        served = {choice.part.id for choice in found.choices if choice.placed is not None}
    told = []
    for cloth, of_it in sorted(by_cloth.items()):
        reserved = sum(part.state is PartState.RESERVED for part in of_it)
        more = sum(part.id in served for part in of_it)
        told.append(Supply(cloth, len(of_it), reserved, reserved + more))
    return told


def cloth_words(part: BookPart) -> str:
    """``Red rib``, ``Green cloth``; ``Colour not read`` where it was not."""
    if part.lab is None:
        return "Colour not read"
    return f"{family(part.lab)} {part.pattern or part.kind.value}".capitalize()


@dataclass(frozen=True, slots=True)
class Progress:
    """A set in figures."""

    volumes: int
    done: int
    parts: int
    in_hand: int
    reserved: int
    unserved: int
    hours_low: float
    hours_high: float
    hours_spent: float

    @property
    def words(self) -> str:
        """One line for the head of a set."""
        hours = (
            f"{self.hours_low:.0f} h"
            if round(self.hours_low) == round(self.hours_high)
            else f"{self.hours_low:.0f} to {self.hours_high:.0f} h"
        )
        return (
            f"{self.done} of {self.volumes} volumes done · {self.in_hand} of {self.parts} parts "
            f"cut, {self.reserved} reserved · {self.hours_spent:g} h spent of about {hours}"
        )


def progress(
    repairs: Sequence[Repair], parts: Iterable[BookPart], hours: Iterable[tuple[float, float]]
) -> Progress:
    """Count a set. ``hours`` are the estimates of its volumes, least and most."""
    listed = [part for part in parts if part.state is not PartState.LEFT_OUT]
    estimates = list(hours)
    return Progress(
        volumes=len(repairs),
        done=sum(repair.state.value == "done" for repair in repairs),
        parts=len(listed),
        in_hand=sum(part.state in IN_HAND for part in listed),
        reserved=sum(part.state is PartState.RESERVED for part in listed),
        unserved=sum(part.state is PartState.NOTHING_SERVES for part in listed),
        hours_low=sum(low for low, _ in estimates),
        hours_high=sum(high for _, high in estimates),
        hours_spent=sum(repair.hours_spent for repair in repairs),
    )


COLUMNS: tuple[tuple[str, frozenset[Role]], ...] = (
    ("Reback strip", REBACKS),
    ("Head and tail", frozenset({Role.HEAD_PIECE, Role.TAIL_PIECE})),
    ("Joint strips", frozenset({Role.JOINT_CLOTH, Role.JOINT_TISSUE})),
    ("Corner patches", frozenset({Role.CORNER_PATCH, Role.CORNER_TRIANGLE})),
    ("Hole patches", frozenset({Role.HOLE_PATCH})),
    (
        "Case",
        frozenset({Role.BOARD, Role.BOARD_CLOTH, Role.CASE_CLOTH, Role.QUARTER_BACK, Role.SIDE}),
    ),
    (
        "Linings",
        frozenset(
            {
                Role.MULL,
                Role.LINING_TISSUE,
                Role.LINING_KRAFT,
                Role.HOLLOW_SIMPLE,
                Role.HOLLOW_THREE,
                Role.HOLLOW_FOUR,
                Role.HOLLOW_THREE_AND_HALF,
                Role.INLAY,
                Role.SEWING_TAPE,
            }
        ),
    ),
    ("Hinges", frozenset({Role.HINGE_CLOTH, Role.HINGE_TISSUE})),
    ("Ends", frozenset({Role.ENDPAPER, Role.FLYLEAF})),
    (
        "Leaves",
        frozenset({Role.SECTION_GUARD, Role.LEAF_TEAR, Role.FOLD_GUARD, Role.PASTEDOWN_FILLER}),
    ),
)
"""The columns of a set's board, and the roles that stand in each."""


def column_of(role: str) -> str:
    """The column in which a part of this role stands."""
    return next((words for words, roles in COLUMNS if role in roles), "Other")


def columns(parts: Iterable[BookPart]) -> list[str]:
    """The columns that a set has parts for, in their order."""
    there = {column_of(part.role) for part in parts}
    return [words for words, _ in (*COLUMNS, ("Other", frozenset())) if words in there]
