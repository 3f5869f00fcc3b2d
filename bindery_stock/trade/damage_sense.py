"""Damages of one volume that cannot stand side by side, each told with its mend."""

from collections.abc import Iterator, Sequence

from bindery_stock.trade.book_places import (
    BOARDS,
    ENDPAPERS,
    HINGES,
    JOINTS,
    ON_BOARD,
    BookPlace,
)
from bindery_stock.trade.damages import DamageKinds, PlacedDamage
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.sums import of
from bindery_stock.units import format_mm

_END_OF = {
    **dict(zip(HINGES, ENDPAPERS, strict=True)),
    **dict(zip(ENDPAPERS, ENDPAPERS, strict=True)),
}
_OF_THE_CASE = frozenset(
    {*BOARDS, *ON_BOARD, *JOINTS, BookPlace.SPINE, BookPlace.SPINE_HEAD, BookPlace.SPINE_TAIL}
)
_ONCE = (
    ("spine-lost", "spine-detached"),
    ("spine-lost", "cap-lost"),
    ("block-detached", "block-loose"),
    ("board-lost", "board-detached"),
)
"""Pairs of which one takes the place of the other, at the same place or of the whole volume."""
_NOT_SAID = BookPlace.NOT_SAID
_ENDPAPER_HARM = frozenset({"pastedown-lifted", "flyleaf-lost", "hinge-cracked"})


def contradictions(
    damages: Sequence[PlacedDamage], kinds: DamageKinds, measures: Measures
) -> tuple[str, ...]:
    """What cannot be among the damages, in sentences; nothing where all agree."""
    return tuple(
        dict.fromkeys(
            (
                *_twice(damages, kinds),
                *_once(damages, kinds),
                *_on_what_is_lost(damages, kinds),
                *_laid_back(damages, measures),
                *_caps(damages, measures),
            )
        )
    )


def _named(damage: PlacedDamage, kinds: DamageKinds) -> str:
    return f"“{kinds.words(damage)}”"


def _twice(damages: Sequence[PlacedDamage], kinds: DamageKinds) -> Iterator[str]:
    seen = set()
    for damage in damages:
        key = (damage.kind, damage.place)
        if key in seen and not kinds[damage.kind].counted and damage.place is not _NOT_SAID:
            yield (
                f"{_named(damage, kinds)} stands twice at one place: delete one, or give the other "
                "its place."
            )
        seen.add(key)


def _once(damages: Sequence[PlacedDamage], kinds: DamageKinds) -> Iterator[str]:
    for one, other in _ONCE:
        for first in (d for d in damages if d.kind == one):
            for second in (d for d in damages if d.kind == other):
                if first.place in BOARDS and second.place not in (first.place, _NOT_SAID):
                    continue
                yield (
                    f"{_named(first, kinds)} and {_named(second, kinds)} cannot both be: delete "
                    "one of the two."
                )


def _on_what_is_lost(damages: Sequence[PlacedDamage], kinds: DamageKinds) -> Iterator[str]:
    lost = {d.place for d in damages if d.kind == "board-lost"}
    ends = {d.place for d in damages if d.kind == "endpaper-lost"}
    case = any(d.kind == "case-lost" for d in damages)
    for damage in damages:
        if damage.kind in {"board-lost", "board-detached", "case-lost", "endpaper-lost"}:
            if case and damage.kind in {"board-lost", "board-detached"}:
                yield f"The case is lost, and {_named(damage, kinds)} is of it: delete one."
            continue
        board = ON_BOARD.get(damage.place, damage.place)
        if board in lost:
            yield (
                f"{_named(damage, kinds)} is on a board that is lost: delete one, or give another "
                "place."
            )
        if case and damage.place in _OF_THE_CASE:
            yield f"The case is lost, and {_named(damage, kinds)} is of it: delete one of the two."
        if damage.kind in _ENDPAPER_HARM and _END_OF.get(damage.place) in ends:
            yield (
                f"{_named(damage, kinds)} is at endpapers that are lost: delete one, or give "
                "another place."
            )


def _laid_back(damages: Sequence[PlacedDamage], measures: Measures) -> Iterator[str]:
    if measures.survey.old_spine and any(d.kind == "spine-lost" for d in damages):
        yield (
            "The old spine is to be laid back, but it is lost: untick that it is laid back, or "
            "give it as detached."
        )


def _caps(damages: Sequence[PlacedDamage], measures: Measures) -> Iterator[str]:
    high = of(measures.board_height).total
    gone = sum(d.along or 0.0 for d in damages if d.kind == "cap-lost")
    if gone >= high:
        yield (
            f"Head and tail together lose {format_mm(gone)} of a spine of {format_mm(high)}: "
            "measure both again, or give the spine as lacking."
        )
