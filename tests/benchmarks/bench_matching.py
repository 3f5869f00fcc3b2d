"""How long ranking one part takes over a thousand, ten thousand and a hundred thousand pieces.

Run on demand: ``python -m tests.benchmarks.bench_matching``. Irregular scraps of some thirty
points, a third of them too small, are drawn from a seeded generator. Times are told in seconds,
with the columns of the hoard made anew each time and with them kept, and as a ratio (of the first)
to shapely's own bounds and areas of the same outlines in the same run.
"""

import sys
import time
from collections.abc import Callable

import numpy as np
import shapely

from bindery_stock.matching import Hoard, Part, Piece, rank
from bindery_stock.shape import Outline

SHAPES = 2_000
"""Distinct outlines; larger hoards use them again with other colours."""
RUNS = 7


def scrap(rng: np.random.Generator) -> Outline:
    """An irregular scrap of thirty points."""
    across, along = rng.uniform(25, 110), rng.uniform(90, 330)
    angles = np.sort(rng.uniform(0, 2 * np.pi, 30)) + np.arange(30) * 1e-6
    square = 1 / np.maximum(np.abs(np.cos(angles)), np.abs(np.sin(angles)))
    reach = square * rng.uniform(0.86, 1.0, 30)
    ring = zip(across / 2 * reach * np.cos(angles), along / 2 * reach * np.sin(angles), strict=True)
    return Outline(tuple((float(x), float(y)) for x, y in ring))


def hoard(count: int, seed: int = 1) -> list[Piece]:
    """``count`` scraps in shades of four families."""
    rng = np.random.default_rng(seed)
    outlines = [scrap(rng) for _ in range(min(count, SHAPES))]
    families = np.array(((38, 42, 24), (36, -16, 12), (34, 4, -26), (36, 14, 18)), dtype=float)
    labs = families[rng.integers(0, 4, count)] + rng.normal(0, (7, 6, 6), (count, 3))
    labs[:, 0] = labs[:, 0].clip(2, 98)
    return [
        Piece(f"C-{n:06}", outlines[n % len(outlines)], (float(a), float(b), float(c)), u=1.5)
        for n, (a, b, c) in enumerate(labs.tolist())
    ]


def median_seconds(job: Callable[[], object]) -> float:
    """The median of several runs."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        job()
        times.append(time.perf_counter() - start)
    return float(np.median(times))


PARTS = {
    "spine strip 48 × 235": Part(48, 235, (38, 42, 24), margin=1.0),
    "large strip 90 × 260": Part(90, 260, (38, 42, 24), margin=1.0),
    "hidden lining 40 × 200": Part(40, 200, (38, 42, 24), shown=False),
    "within ΔE00 4, 48 × 235": Part(48, 235, (38, 42, 24), tolerance=4.0),
}


def main() -> None:
    """Print the table."""
    out = sys.stdout.write
    out(f"{'part':26}{'pieces':>8}{'stand':>7}{'anew, s':>9}{'kept, s':>9}{'× shapely':>11}\n")
    for count in (1_000, 10_000, 100_000):
        pieces = hoard(count)
        outlines = np.array([piece.outline.polygon for piece in pieces], dtype=object)
        kept = Hoard.of(pieces)
        yardstick = median_seconds(lambda o=outlines: (shapely.bounds(o), shapely.area(o)))
        for name, part in PARTS.items():
            stand = len(rank(part, kept).matches)
            anew = median_seconds(lambda p=part, h=pieces: rank(p, h))
            seconds = median_seconds(lambda p=part, h=kept: rank(p, h))
            out(f"{name:26}{count:8}{stand:7}{anew:9.3f}{seconds:9.3f}{anew / yardstick:11.1f}\n")


if __name__ == "__main__":
    main()
