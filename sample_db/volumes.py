"""The invented set on the bench, and which of its volumes have been photographed.

*Chronicles of the Hollin Vale* by Ambrose Tarrowgate: made-up titles in uniform red rib.
"""

from dataclasses import dataclass

from sample_db.render import Stuff
from sample_db.render.book import Volume

SET_TITLE = "Chronicles of the Hollin Vale"
AUTHOR = "Ambrose Tarrowgate"
BOARD = (143.0, 226.0)
"""Width and height of every board of the set, mm."""


@dataclass(frozen=True)
class SetVolume:
    """One volume of the set: what is measured when it is surveyed."""

    number: int
    title: str
    chord: float
    """Straight distance across the back between the shoulders, mm."""
    rise: float
    """Height of the round above it, mm."""
    damage: tuple[str, ...]


VOLUMES: tuple[SetVolume, ...] = (
    SetVolume(1, "The Pinder's Tally", 31, 5, ("spine lost", "joints split")),
    SetVolume(2, "Frost on Candle Weir", 30, 5, ("joints split", "head lost")),
    SetVolume(3, "A Parish of Lanterns", 34, 6, ("front joint split",)),
    SetVolume(4, "The Tithe of Wrens", 33, 5, ("spine lost",)),
    SetVolume(5, "Hobbin Lane", 29, 4, ("joints split", "corners bare")),
    SetVolume(6, "Ashlar and Ember", 32, 5, ("head lost",)),
    SetVolume(7, "The Ferryman's Sister", 35, 6, ("spine lost", "mull failed")),
    SetVolume(8, "Saltgrass", 28, 4, ("tail lost",)),
    SetVolume(9, "The Quiet Assize", 33, 5, ("back joint split",)),
    SetVolume(10, "Nine Fords", 31, 5, ("spine lost",)),
    SetVolume(11, "Mistress Garrowby's Clock", 30, 5, ("joints split",)),
    SetVolume(12, "The Orchard Ledger", 36, 6, ("spine lost", "corners bare")),
    SetVolume(13, "Under Tolling Hill", 32, 5, ("head lost", "tail lost")),
    SetVolume(14, "The Reed Cutters", 29, 4, ("front joint split",)),
    SetVolume(15, "A Coat for Michaelmas", 31, 5, ("spine lost",)),
    SetVolume(16, "Larkwater Penance", 34, 6, ("joints split", "mull failed")),
    SetVolume(17, "The Drowned Milestone", 33, 5, ("corners bare",)),
    SetVolume(18, "Bracken and Brass", 30, 5, ("spine lost",)),
    SetVolume(19, "The Winter Drover", 32, 5, ("joints split",)),
    SetVolume(20, "Thimble and Scythe", 28, 4, ("tail lost",)),
    SetVolume(21, "The Second Gleaning", 35, 6, ("spine lost", "head lost")),
    SetVolume(22, "Oxlip Sunday", 31, 5, ("front joint split",)),
    SetVolume(23, "The Beadle's Harvest", 33, 5, ("joints split",)),
    SetVolume(24, "Last Bell at Hollin", 37, 6, ("spine lost", "joints split")),
)

_RED_RIB = Stuff((33.0, 33.0, 17.0), pattern="rib")
PHOTOGRAPHED: dict[str, Volume] = {
    "Hollin Vale vol. 4": Volume(
        _RED_RIB, (43.0, 21.0, 15.0), *BOARD, 35.0, "THE/HOLLIN/VALE", 15.0, (90.0, 225.0), 5
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
