"""Photographs of a volume under repair: its back bare, its back lined, its back in new cloth."""

from sample_db.render.book import Volume, spine_marks
from sample_db.render.camera import Ring
from sample_db.render.marks import Mark, Stain, blob
from sample_db.render.photograph import Photograph, Sitting, photographed
from sample_db.render.scrap import Scrap
from sample_db.render.stuff import Stuff
from sample_db.render.wear import Joint, Round, Rubbed, Split, torn_edge

_OLD_LINING = Stuff((61.0, 7.0, 22.0), kind="kraft", mottled=0.16, thickness=0.3)
_OLD_MULL = Stuff((70.0, 4.0, 19.0), kind="mull", thickness=0.3)
_NEW_MULL = Stuff((86.0, 1.0, 8.0), kind="mull", thickness=0.3)
_KRAFT = Stuff((56.0, 10.0, 25.0), kind="kraft", thickness=0.5)
_BOARDS = 8.0
"""How much of each board is seen beside the back, mm."""
_SPARE = 9.0
"""The boards stand out so far beyond what lies on the back, mm."""


def _rectangle(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


def _boards(volume: Volume, *, split: bool = False) -> Scrap:
    """The two boards beside the back, seen edge on over the joints."""
    arc, h = volume.arc, volume.height
    cloth = Stuff(volume.cloth.lab, pattern=volume.cloth.pattern, rubbed=0.45, thickness=6.0)
    marks: list[Mark] = [Joint(-2.5), Joint(arc + 2.5)]
    if split:
        marks += [Split(-0.6, 2.0, h - 3.0, 1.8), Split(arc + 0.6, 2.0, h - 3.0, 1.6)]
    marks.append(Rubbed((-_BOARDS, 0.0, arc + _BOARDS, h), reach=1.2, corners=3.0))
    ring = _rectangle(-_BOARDS, 0.5, arc + _BOARDS, h - 0.5)
    return Scrap(ring, cloth, marks=tuple(marks), frayed=0.0)


def bare_back(volume: Volume, sitting: Sitting) -> Photograph:
    """The back without its cloth: old linings, torn and stained, and both joints split."""
    arc, h = volume.arc, volume.height
    mull = Scrap(_rectangle(0.3, 4.0, arc - 0.3, h - 5.0), _OLD_MULL, frayed=0.8)
    foot = torn_edge(1.5, arc - 1.5, 9.0, 8.0, volume.seed)
    head = torn_edge(arc - 1.5, 1.5, h - 16.0, -14.0, volume.seed + 1)
    lining = Scrap(
        (*foot, *head),
        _OLD_LINING,
        marks=(
            Round(0.0, arc, 5.0),
            Stain(blob(arc * 0.6, h * 0.3, 18.0, 44.0, volume.seed), 0.45),
            Stain(blob(arc * 0.4, h * 0.72, 14.0, 30.0, volume.seed + 3), 0.3),
        ),
        frayed=0.7,
    )
    return photographed(lining, sitting, beneath=(_boards(volume, split=True), mull), spare=_SPARE)


def lined_back(volume: Volume, sitting: Sitting) -> Photograph:
    """The back cleaned and lined: mull from joint to joint, a kraft hollow upon it."""
    arc, h = volume.arc, volume.height
    mull = Scrap(
        _rectangle(-5.5, 6.0, arc + 5.5, h - 6.0),
        _NEW_MULL,
        marks=(Round(0.0, arc, 5.0),),
        frayed=0.7,
    )
    hollow = Scrap(
        _rectangle(0.5, 3.0, arc - 0.5, h - 3.0), _KRAFT, marks=(Round(0.0, arc, 5.5),), frayed=0.0
    )
    return photographed(hollow, sitting, beneath=(_boards(volume), mull), spare=_SPARE)


def rebacked(volume: Volume, new: Stuff, sitting: Sitting, *, old_back: bool) -> Photograph:
    """The back in its new cloth, the old back laid over it where that was kept."""
    arc, h = volume.arc, volume.height
    strip = Scrap(
        _rectangle(-4.0, 0.0, arc + 4.0, h),
        new,
        marks=(Joint(-2.5), Joint(arc + 2.5), Round(0.0, arc, 5.5)),
        frayed=0.0,
    )
    boards = _boards(volume)
    if not old_back:
        return photographed(strip, sitting, beneath=(boards,), spare=_SPARE)
    head = torn_edge(arc - 2.2, 2.2, h - 3.5, -volume.lost_at_head, volume.seed)
    outline = ((2.2, 2.0), (arc - 2.2, 2.0), (arc - 2.2, h - 4.0), *head, (2.2, h - 4.0))
    faded = Stuff(
        volume.sunned, pattern=volume.cloth.pattern, rubbed=0.7, mottled=0.08, thickness=0.4
    )
    old = Scrap(outline, faded, marks=spine_marks(volume), frayed=0.3)
    return photographed(old, sitting, beneath=(boards, strip), spare=_SPARE)
