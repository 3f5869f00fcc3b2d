"""Cards to carry to a sale: what cloth is looked for, in what colour and how large.

One card a part, A6 (ISO 216). The colour is printed as well as a printer can, which is not well
enough to match by: the figures beside it are what counts.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.colour import family
from bindery_stock.records.page import Box, Lab, Mark, Page, Words, warp_arrow
from bindery_stock.stock import BookPart, NewWanted
from bindery_stock.units import LengthStyle

WIDTH, HEIGHT = 105.0, 148.0
"""A6, mm."""
_EDGE = 8.0
_SWATCH = 34.0
_MATCH_BY_FIGURES = (
    "Printed colours are not true: match by the figures, or by a scrap held to the book."
)
_CAUTION = (
    "△ Old cloth may hold arsenic or lead and carry mould: keep a find bagged until it is known."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LookingFor:
    """What one card asks for."""

    what: str
    """``red rib cloth``."""
    size: str
    """At least this, the margin for the knife included."""
    other: str
    """The same in the other unit."""
    colour: str
    """CIELAB in figures, and how close it must come; empty where colour does not matter."""
    lab: Lab | None
    purpose: str
    warp: str
    width: float
    height: float


def looking_for(part: BookPart, margin: float, lengths: LengthStyle) -> LookingFor:
    """What to look for so that a part can be cut from it with ``margin`` mm all round."""
    width, height = part.width + 2 * margin, part.height + 2 * margin
    words = [family(part.lab) if part.lab else "", part.pattern, part.kind.value]
    colour = ""
    if part.lab is not None:
        names = zip(("L*", "a*", "b*"), part.lab, strict=True)
        figures = "  ".join(f"{name} {value:.1f}".replace("-", "−") for name, value in names)
        within = "" if part.tolerance is None else f", within {part.tolerance:g} ΔE00"
        colour = f"{figures}{within} (CIELAB, D50, 2° observer)"
    along = all(turn % 180 == 0 for turn in part.turns)
    return LookingFor(
        what=" ".join(word for word in words if word),
        size=lengths.pair(width, height),
        other=f"{lengths.other(width)} × {lengths.other(height)}",
        colour=colour,
        lab=part.lab,
        purpose=part.purpose,
        warp="The warp runs along the second figure." if along else "The warp may run either way.",
        width=width,
        height=height,
    )


def as_wanted(part: BookPart, margin: float) -> NewWanted:
    """The same as a line of the wanted list."""
    words = [family(part.lab) if part.lab else "", part.pattern, part.kind.value]
    return NewWanted(
        what=" ".join(word for word in words if word),
        purpose=part.purpose,
        width=part.width + 2 * margin,
        height=part.height + 2 * margin,
        lab=part.lab,
    )


def card_pages(wants: Sequence[LookingFor]) -> list[Page]:
    """One A6 page for each."""
    return [Page(width=WIDTH, height=HEIGHT, marks=_marks(want)) for want in wants]


def _marks(want: LookingFor) -> tuple[Mark, ...]:
    room = WIDTH - 2 * _EDGE
    marks: list[Mark] = [
        Words(x=_EDGE, y=_EDGE, width=room, height=5.0, text="Looking for", size=3.4),
        Words(x=_EDGE, y=13.5, width=room, height=9.0, text=want.what, size=7.0, bold=True),
        Words(x=_EDGE, y=24.5, width=room, height=7.0, text=f"at least {want.size}", size=5.2),
        Words(x=_EDGE, y=32.0, width=room, height=4.5, text=want.other, size=3.2),
        Words(x=_EDGE, y=37.0, width=room, height=4.5, text=want.warp, size=3.0),
    ]
    top = 44.0
    if want.lab is not None:
        marks.append(Box(x=_EDGE, y=top, width=_SWATCH, height=_SWATCH, fill=want.lab, line=0.0))
        beside = _EDGE + _SWATCH + 4.0
        narrow = room - _SWATCH - 4.0
        marks += [
            Words(
                x=beside, y=top, width=narrow, height=17.0, text=want.colour, size=3.2, wrap=True
            ),
            Words(
                x=beside, y=top + 19.0, width=narrow, height=15.0, text=_MATCH_BY_FIGURES, size=2.8,
                wrap=True,
            ),
        ]  # fmt: skip
        top += _SWATCH + 4.0
    marks += _shape(want, top, HEIGHT - _EDGE - 22.0 - top)
    foot = HEIGHT - _EDGE - 19.0
    marks += [
        Words(
            x=_EDGE, y=foot, width=room, height=9.0, text=f"For {want.purpose}", size=3.2, wrap=True
        ),
        Words(x=_EDGE, y=foot + 10.0, width=room, height=9.0, text=_CAUTION, size=2.7, wrap=True),
    ]  # fmt: skip
    return tuple(marks)


def _shape(want: LookingFor, top: float, high: float) -> list[Mark]:
    """The least piece, to a scale that is told."""
    room = WIDTH - 2 * _EDGE - 34.0
    scale = min(1.0, high / want.height, room / want.width)
    told = "full size" if scale == 1.0 else f"1 : {1 / scale:.1f}"
    width, height = want.width * scale, want.height * scale
    return [
        Box(x=_EDGE, y=top, width=width, height=height, line=0.3),
        *warp_arrow(_EDGE + width + 3.0, top, min(14.0, height)),
        Words(
            x=_EDGE + width + 12.0, y=top, width=22.0, height=4.0, text=told, size=2.8,
        ),
    ]  # fmt: skip
