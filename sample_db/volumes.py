"""The invented set on the bench, and which of its volumes have been photographed.

*Chronicles of the Hollin Vale* by Ambrose Tarrowgate: made-up titles in uniform red rib.
"""

from dataclasses import dataclass

from bindery_stock.trade import Damage, Harm, Survey
from sample_db.render import Stuff
from sample_db.render.book import Volume

SET_TITLE = "Chronicles of the Hollin Vale"
AUTHOR = "Ambrose Tarrowgate"
BOARD = (133.0, 210.0)
"""Width and height of every board of the set, mm."""
_THICK, _LEAF = 2.4, (130.0, 204.0)
_JOINT, _LIFT = 6.0, 12.0


@dataclass(frozen=True)
class SetVolume:
    """One volume of the set, surveyed."""

    number: int
    title: str
    survey: Survey


def _volume(number: int, title: str, chord: float, rise: float, *damage: Damage) -> SetVolume:
    """One volume; ``chord`` and ``rise`` of its back in mm. The rest is the set's."""
    survey = Survey(
        spine_width=chord,
        rise=rise,
        joint=_JOINT,
        lift=_LIFT,
        board_width=BOARD[0],
        board_height=BOARD[1],
        board_thickness=_THICK,
        leaf_width=_LEAF[0],
        leaf_height=_LEAF[1],
        damage=damage,
        old_spine=Harm.SPINE_LOST not in {one.harm for one in damage},
        like_volume=number > 1,
    )
    return SetVolume(number, title, survey)


_LOST = Damage(Harm.SPINE_LOST)
_SPLIT = Damage(Harm.JOINTS_SPLIT)
_CRACKED = Damage(Harm.JOINT_CRACKED)
_HEAD = Damage(Harm.HEAD_LOST, extent=14.0)
_TAIL = Damage(Harm.TAIL_LOST, extent=11.0)
_CORNERS = Damage(Harm.CORNERS_BARE, count=4, extent=8.0)
_MULL = Damage(Harm.MULL_FAILED)

VOLUMES: tuple[SetVolume, ...] = (
    _volume(1, "The Pinder's Tally", 31, 5, _LOST, _SPLIT),
    _volume(2, "Frost on Candle Weir", 30, 5, _SPLIT, _HEAD),
    _volume(3, "A Parish of Lanterns", 34, 6, _CRACKED),
    _volume(4, "The Tithe of Wrens", 33, 5, _LOST),
    _volume(5, "Hobbin Lane", 29, 4, _SPLIT, _CORNERS),
    _volume(6, "Ashlar and Ember", 32, 5, _HEAD),
    _volume(7, "The Ferryman's Sister", 35, 6, _LOST, _MULL),
    _volume(8, "Saltgrass", 28, 4, _TAIL),
    _volume(9, "The Quiet Assize", 33, 5, _CRACKED),
    _volume(10, "Nine Fords", 31, 5, _LOST),
    _volume(11, "Mistress Garrowby's Clock", 30, 5, _SPLIT),
    _volume(12, "The Orchard Ledger", 36, 6, _LOST, _CORNERS),
    _volume(13, "Under Tolling Hill", 32, 5, _HEAD, _TAIL),
    _volume(14, "The Reed Cutters", 29, 4, _CRACKED),
    _volume(15, "A Coat for Michaelmas", 31, 5, _LOST),
    _volume(16, "Larkwater Penance", 34, 6, _SPLIT, _MULL),
    _volume(17, "The Drowned Milestone", 33, 5, _CORNERS),
    _volume(18, "Bracken and Brass", 30, 5, _LOST),
    _volume(19, "The Winter Drover", 32, 5, _SPLIT),
    _volume(20, "Thimble and Scythe", 28, 4, _TAIL),
    _volume(21, "The Second Gleaning", 35, 6, _LOST, _HEAD),
    _volume(22, "Oxlip Sunday", 31, 5, _CRACKED),
    _volume(23, "The Beadle's Harvest", 33, 5, _SPLIT),
    _volume(24, "Last Bell at Hollin", 37, 6, _LOST, _SPLIT),
)


def name_of(number: int) -> str:
    """What the binder calls a volume of the set."""
    return f"Hollin Vale vol. {number}"


_RED_RIB = Stuff((33.0, 33.0, 17.0), pattern="rib")
PHOTOGRAPHED: dict[str, Volume] = {
    "Hollin Vale vol. 4": Volume(
        _RED_RIB, (43.0, 21.0, 15.0), *BOARD, 35.0, "THE/HOLLIN/VALE", 15.0, (84.0, 209.0), 5
    ),
    "Hollin Vale vol. 7": Volume(
        _RED_RIB, (40.0, 24.0, 16.0), *BOARD, 38.0, "THE/HOLLIN/VALE", 7.0, (0.0, 120.0), 6
    ),
    "Nine Weirs": Volume(
        Stuff((20.0, 3.0, -13.0), pattern="sand"),
        (31.0, -1.0, -8.0),
        122.0,
        190.0,
        31.0,
        "NINE/WEIRS",
        11.0,
        (120.0, 189.0),
        8,
    ),
}
"""Worn volumes of which there are photographs: the boards and the back of each."""
