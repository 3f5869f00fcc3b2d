"""Which scrap of the shelf each outline of one photograph is: by its label, or by its shape.

A label speaks only where the outline it lies on, or close by, can be that piece; where label and
shape speak against each other, and where several may be meant, nothing is told.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shapely import Polygon

from bindery_stock.shape import Outline
from bindery_stock.shape.told_outline import ToldOutline, told_outline

_AREA: Final = (0.7, 1.35)
"""Times the area kept that an outline may have and still be the piece of its label, which may hide
some of it."""
_MOST_SYMBOL: Final = 0.1
"""Share of an outline that the symbol of a label takes at the most, unless it is the label's own
outline: on our sheets it takes a sixth of the label and more."""
_REACH: Final = 25.0
"""mm from a label to the scrap that it lies beside: our own choice, a finger's breadth and half a
label."""
_CLEARLY_NEARER: Final = 2.0
_SLACK: Final = 2.0  # mm


class ToldBy(StrEnum):
    """How a scrap in the photograph is known."""

    LABEL = "by its label"
    OUTLINE = "by its outline"
    HAND = "pointed at"


@dataclass(frozen=True, slots=True)
class Lettered:
    """A label that was read, on the bench."""

    code: str
    symbol: Polygon
    """In mm."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What is known of one outline."""

    code: str = ""
    """Empty where it is not told."""
    by: ToldBy | None = None
    face_down: bool = False
    is_label: bool = False
    """Whether it is the outline of a label and no scrap."""
    remark: str = ""
    """Why it is not told, where there is a reason; empty otherwise."""


def told_scraps(
    found: Sequence[Outline],
    labels: Sequence[Lettered],
    shelf: Mapping[str, Outline],
    laid: Collection[str] = (),
    *,
    book: int | None = None,
) -> tuple[Telling, ...]:
    """What each outline of a photograph is, in mm of one scale; ``laid`` are known to lie there.

    The outline numbered ``book`` is the book's and is no scrap.
    """
    told = [Telling() for _ in found]
    bodies = [Polygon(outline.exterior) for outline in found]
    claims: dict[int, set[str]] = {}
    for label in labels:
        on = _on(label, bodies)
        if on is not None and on != book and _is_label(label, bodies[on], shelf):
            told[on] = Telling(is_label=True)
            on = None
        free = [n for n in range(len(found)) if n != book and not told[n].is_label]
        if on is None or on == book:
            on = _beside(label, bodies, free, shelf)
        if on is not None:
            claims.setdefault(on, set()).add(label.code)
    for number, codes in claims.items():
        told[number] = _labelled(found[number], codes, shelf, laid)
    _only_once(told, "Two scraps bear the label of {code}.")
    _by_shape(told, found, shelf, laid, book)
    return tuple(told)


def _on(label: Lettered, bodies: Sequence[Polygon]) -> int | None:
    """The smallest outline that a label lies in."""
    middle = label.symbol.centroid
    inside = [n for n, body in enumerate(bodies) if body.contains(middle)]
    return min(inside, key=lambda n: bodies[n].area, default=None)


def _is_label(label: Lettered, body: Polygon, shelf: Mapping[str, Outline]) -> bool:
    if label.code in shelf and _may_be(body, shelf[label.code]):
        return False
    return bool(label.symbol.area > _MOST_SYMBOL * body.area)


def _may_be(body: Polygon, kept: Outline) -> bool:
    least, most = _AREA
    whole = Polygon(kept.exterior).area
    return bool(least * whole <= body.area <= most * whole)


def _beside(
    label: Lettered, bodies: Sequence[Polygon], free: Sequence[int], shelf: Mapping[str, Outline]
) -> int | None:
    """The one scrap that a label lies close by, and can be the label of."""
    if label.code not in shelf:
        return None
    far = {
        n: float(bodies[n].distance(label.symbol))
        for n in free
        if _may_be(bodies[n], shelf[label.code])
    }
    near = sorted((n for n in far if far[n] <= _REACH), key=far.__getitem__)
    if len(near) > 1 and far[near[1]] < _CLEARLY_NEARER * far[near[0]] + _SLACK:
        return None
    return near[0] if near else None


def _labelled(
    outline: Outline, codes: Collection[str], shelf: Mapping[str, Outline], laid: Collection[str]
) -> Telling:
    """What the labels on an outline say of it."""
    if len(codes) > 1:
        several = " and ".join(sorted(codes))
        return Telling(
            remark=f"The labels of {several} lie on it: do two scraps touch? Lay them apart, or "
            "draw round each."
        )
    (code,) = codes
    if code not in shelf:
        return Telling(remark=f"Its label says {code}, which is not on the shelf.")
    if not _may_be(Polygon(outline.exterior), shelf[code]):
        return Telling(
            remark=f"Its label says {code}, but it is not of that size: do two scraps touch, or is "
            "it the label of another?"
        )
    shape = told_outline(outline, shelf, first=laid)
    if shape is not None and shape.code != code:
        return Telling(
            remark=f"Its label says {code}, its outline is that of {shape.code}: see which it is."
        )
    return Telling(code, ToldBy.LABEL, face_down=shape is not None and shape.likeness.mirrored)


def _only_once(told: list[Telling], words: str) -> None:
    """No piece lies in two places: what is told of several is told of none."""
    codes = [one.code for one in told if one.code]
    for number, one in enumerate(told):
        if one.code and codes.count(one.code) > 1:
            told[number] = Telling(remark=words.format(code=one.code))


def _by_shape(
    told: list[Telling],
    found: Sequence[Outline],
    shelf: Mapping[str, Outline],
    laid: Collection[str],
    book: int | None,
) -> None:
    """Tell what has no label, and no remark, by its outline."""
    known = {one.code for one in told if one.code}
    left = {code: outline for code, outline in shelf.items() if code not in known}
    seen: dict[int, ToldOutline] = {}
    for number, one in enumerate(told):
        if number == book or one.code or one.is_label or one.remark:
            continue
        shape = told_outline(found[number], left, first=[code for code in laid if code in left])
        if shape is not None:
            seen[number] = shape
    for number, shape in seen.items():
        told[number] = Telling(shape.code, ToldBy.OUTLINE, face_down=shape.likeness.mirrored)
    _only_once(told, "Two outlines here are those of {code}.")
