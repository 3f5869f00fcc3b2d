"""Photographs of pieces drawn from a seed, each with the truth about what is in it."""

from sample_db.render.camera import Camera, Matrix, Point, Ring
from sample_db.render.ground import GREY_CARD, MAT, WHITE_CARD
from sample_db.render.light import Light
from sample_db.render.marks import Fade, Fold, Glue, Mark, Stain, TurnIns, Weak, blob
from sample_db.render.photograph import Photograph, Sitting, Truth, photographed
from sample_db.render.scrap import Scrap
from sample_db.render.stamping import Stamping
from sample_db.render.stuff import Stuff
from sample_db.render.tint import Lab, lab, linear
from sample_db.render.weave import Weave

__all__ = [
    "GREY_CARD",
    "MAT",
    "WHITE_CARD",
    "Camera",
    "Fade",
    "Fold",
    "Glue",
    "Lab",
    "Light",
    "Mark",
    "Matrix",
    "Photograph",
    "Point",
    "Ring",
    "Scrap",
    "Sitting",
    "Stain",
    "Stamping",
    "Stuff",
    "Truth",
    "TurnIns",
    "Weak",
    "Weave",
    "blob",
    "lab",
    "linear",
    "photographed",
]
