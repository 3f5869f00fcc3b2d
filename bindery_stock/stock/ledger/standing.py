"""Which steps stand, which have been taken back, and what can be undone or done again next."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from bindery_stock.stock.ledger.values import Verb


@dataclass(frozen=True, slots=True)
class Standing:
    """What the list of steps adds up to."""

    undo: tuple[int, ...] = ()
    """Numbers of the steps that stand, in the order in which they took effect."""
    redo: tuple[int, ...] = ()
    """Numbers of the steps taken back that can be done again; the last is the next."""
    gone: frozenset[int] = frozenset()
    """Numbers of all steps that have been taken back."""
    reversed_by: Mapping[int, int] = field(default_factory=dict)
    """For each step ever taken back, the step that last undid or redid it."""
    through: int = 0
    """Number of the last step counted."""


def fold(steps: Iterable[tuple[int, str, int | None]], onto: Standing = Standing()) -> Standing:
    """Go through ``(number, verb, undoes)`` in order, from where ``onto`` left off.

    Doing something new ends the chance to redo what was taken back before. A step that undid or
    redid another is gone once a later one reversed it.
    """
    undo, redo, gone = list(onto.undo), list(onto.redo), set(onto.gone)
    reversed_by, through = dict(onto.reversed_by), onto.through
    for number, verb, undoes in steps:
        through = number
        if undoes is None:
            undo.append(number)
            redo.clear()
            continue
        if undoes in reversed_by:
            gone.add(reversed_by[undoes])
        reversed_by[undoes] = number
        if verb == Verb.UNDONE:
            undo.remove(undoes)
            redo.append(undoes)
            gone.add(undoes)
        else:
            redo.remove(undoes)
            undo.append(undoes)
            gone.discard(undoes)
    return Standing(tuple(undo), tuple(redo), frozenset(gone), reversed_by, through)
