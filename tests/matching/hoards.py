"""Small hoards for the tests of matching."""

import math

import numpy as np
from hypothesis import strategies as st
from shapely import Polygon

from bindery_stock.errors import ShapeError
from bindery_stock.matching import Piece
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.shape.outline import Ring

RED = (38.0, 42.0, 24.0)
GREEN = (36.0, -14.0, 10.0)


def box(left: float, low: float, width: float, height: float) -> Ring:
    return (
        (left, low),
        (left + width, low),
        (left + width, low + height),
        (left, low + height),
    )


def sheet(code: str, width: float, height: float, lab=RED, **more) -> Piece:
    return Piece(code, Outline(box(0, 0, width, height)), lab, **more)


def ragged(
    code: str, seed: int, *, across: float, along: float, points: int = 12, lab=None, **more
) -> Piece:
    """A star-shaped scrap about the size asked for, perhaps with a hole and a stain."""
    rng = np.random.default_rng(seed)
    angles = np.sort(rng.uniform(0, 2 * math.pi, points))
    angles += np.linspace(0, 1e-6, points)  # no two alike
    reach = rng.uniform(0.55, 1.0, points)
    ring = tuple(
        (float(across / 2 * r * math.cos(a)), float(along / 2 * r * math.sin(a)))
        for a, r in zip(angles, reach, strict=True)
    )
    holes: tuple[Ring, ...] = ()
    flaws: tuple[Flaw, ...] = ()
    shape = Polygon(ring)
    if rng.random() < 0.4:
        hole = box(rng.uniform(-0.2, 0.1) * across, rng.uniform(-0.2, 0.1) * along, 6, 9)
        if shape.contains(Polygon(hole)):
            holes = (hole,)
    if rng.random() < 0.4:
        stain = box(rng.uniform(-0.3, 0.1) * across, rng.uniform(-0.3, 0.1) * along, 12, 5)
        flaws = (Flaw(FlawKind.STAIN, stain),)
    colour = lab or tuple(float(v) for v in rng.normal(RED, (6, 8, 8)))
    return Piece(code, Outline(ring, holes), colour, flaws=flaws, **more)


@st.composite
def hoards(draw: st.DrawFn, least: int = 1, most: int = 12) -> list[Piece]:
    seeds = draw(st.lists(st.integers(0, 10_000), min_size=least, max_size=most, unique=True))
    pieces: list[Piece] = []
    for number, seed in enumerate(seeds):
        rng = np.random.default_rng(seed + 77)
        try:
            pieces.append(
                ragged(
                    f"C-{number:04}",
                    seed,
                    across=float(rng.uniform(60, 160)),
                    along=float(rng.uniform(80, 260)),
                    points=int(rng.integers(5, 16)),
                )
            )
        except ShapeError:  # a star whose centre lies outside may cross itself: not a scrap
            continue
    return pieces
