"""Photographs of worn volumes, from which the colour wanted for a repair is taken."""

from dataclasses import dataclass

from sample_db.render.marks import Fade, Mark, Stain, blob
from sample_db.render.photograph import Photograph, Sitting, photographed
from sample_db.render.scrap import Scrap
from sample_db.render.stamping import Stamping
from sample_db.render.stuff import Stuff
from sample_db.render.tint import Lab
from sample_db.render.wear import Joint, Round, Rubbed, Split, torn_edge

_LEAVES = Stuff((80.0, 2.0, 13.0), kind="paper", thickness=9.0)
_MULL = Stuff((68.0, 4.0, 20.0), kind="kraft", thickness=0.3)


@dataclass(frozen=True)
class Volume:
    """A cloth-bound volume as it looks on the bench; millimetres."""

    cloth: Stuff
    sunned: Lab
    """The body colour of the spine, which the light has reached."""
    width: float
    height: float
    arc: float
    lettering: str = ""
    lost_at_head: float = 0.0
    split: tuple[float, float] | None = None
    """From and to which height the joint is split."""
    seed: int = 1


def board_view(volume: Volume, sitting: Sitting) -> Photograph:
    """The front board from above, the spine edge at the left, leaves showing at the others."""
    w, h = volume.width, volume.height
    outline = ((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))
    marks: list[Mark] = [
        Fade("left", 0.0, 26.0, 0.5),
        Joint(6.0),
        Stamping((17.0, 11.0, w - 9.0, h - 11.0), "frame", gilt=False),
        Stamping((w / 2 - 20, h / 2 - 24, w / 2 + 26, h / 2 + 22), "ornament", worn=0.35),
        Stain(blob(w * 0.72, h * 0.22, 44.0, 38.0, volume.seed), 0.35),
        Rubbed((0.0, 0.0, w, h)),
    ]
    if volume.split:
        marks.append(Split(2.6, volume.split[0], volume.split[1], 1.3))
    leaves = Scrap(
        ((4.0, 3.5), (w + 1.6, 2.6), (w + 1.2, h - 3.0), (4.0, h - 3.5)), _LEAVES, frayed=0.0
    )
    lower = Scrap(
        ((1.0, -1.6), (w + 3.0, -1.6), (w + 3.0, h - 1.4), (1.0, h - 1.4)),
        volume.cloth,
        frayed=0.0,
    )
    return photographed(
        Scrap(outline, volume.cloth, marks=tuple(marks), frayed=0.05),
        sitting,
        beneath=(lower, leaves),
    )


def spine_marks(volume: Volume) -> tuple[Mark, ...]:
    """What time and the blocking press have left on the cloth of the back."""
    arc, h = volume.arc, volume.height
    return (
        Round(0.0, arc, 5.5),
        Stamping((3.0, h - 26.0, arc - 3.0, h - 16.0), "rules", worn=0.4),
        Stamping((3.0, 9.0, arc - 3.0, 19.0), "rules", worn=0.3),
        Stamping((4.0, h - 84.0, arc - 4.0, h - 40.0), "lettering", volume.lettering, worn=0.32),
        Rubbed((-3.0, 0.0, arc + 3.0, h), reach=1.6, corners=2.0),
    )


def spine_view(volume: Volume, sitting: Sitting) -> Photograph:
    """The back of the volume, faded; what is lost at the head shows the linings beneath."""
    arc, h, lost = volume.arc, volume.height, volume.lost_at_head
    head = torn_edge(arc - 1.0, 1.0, h - 0.5, -lost, volume.seed)
    outline = ((0.0, 0.0), (arc, 0.0), (arc, h - 1.0), *head, (0.0, h - 1.0))
    spine = Stuff(
        volume.sunned,
        pattern=volume.cloth.pattern,
        weave=volume.cloth.weave,
        rubbed=0.8,
        mottled=0.08,
        thickness=0.4,
    )
    marks = list(spine_marks(volume))
    if volume.split:
        marks.append(Split(2.4, volume.split[0], volume.split[1], 2.2))
    board = Stuff(volume.cloth.lab, pattern=volume.cloth.pattern, thickness=6.0)
    block = ((-7.0, 0.5), (arc + 7.0, 0.5), (arc + 7.0, h - 0.5), (-7.0, h - 0.5))
    lining = ((1.0, 2.0), (arc - 1.0, 2.0), (arc - 1.0, h - 4.0), (1.0, h - 4.0))
    return photographed(
        Scrap(outline, spine, marks=tuple(marks), frayed=0.35),
        sitting,
        beneath=(
            Scrap(block, board, marks=(Joint(-2.5), Joint(arc + 2.5)), frayed=0.0),
            Scrap(lining, _MULL, marks=(Round(0.0, arc, 5.0),), frayed=0.1),
        ),
    )
