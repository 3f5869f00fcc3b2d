"""How long exact fits take, beside a plain union of the sides' sweeps by shapely alone.

Run by hand: ``python -m tests.benchmarks.bench_shape``. Each line gives the median over many
scraps, for one turn, and the ratio to the plain way measured in the same run. A second table tells
how much more the best placement leaves than the middling one of the corners tried.
"""

import statistics
import sys
import time
from collections.abc import Callable, Sequence
from math import pi

import numpy as np
import shapely
from shapely import Polygon

from bindery_stock.shape import Outline, Placement, best_place, cut, lack, largest_rectangle, place
from bindery_stock.shape.best_fit import CORNERS_TRIED, spread_placements
from bindery_stock.shape.ground import ground

TRIES = 60


def scrap(random: np.random.Generator, points: int, roughness: float) -> Outline:
    """A scrap of about 250 × 300 mm with two holes; the roughness is that of its frayed edge."""
    while True:
        angles = np.sort(random.uniform(0, 2 * pi, points))
        lobes = 0.3 * np.cos(2 * angles + random.uniform(0, 6))
        lobes += 0.15 * np.cos(3 * angles + random.uniform(0, 6))
        radius = 1 + lobes + roughness * random.uniform(-0.3, 0.3, points)
        ring = np.stack((110 * radius * np.cos(angles), 150 * radius * np.sin(angles)), axis=1)
        holes = [
            shapely.get_coordinates(shapely.Point(*at).buffer(7, 2))
            for at in random.uniform(-50, 50, (2, 2))
        ]
        if Polygon(ring, holes).is_valid:
            return Outline(
                tuple((x, y) for x, y in ring), tuple(tuple(map(tuple, hole)) for hole in holes)
            )


def plain(outline: Outline, width: float, height: float) -> shapely.Geometry:
    """The inner-fit region with one convex sweep for each side, as shapely would do it."""
    shape = outline.polygon
    rings = [shapely.get_coordinates(r) for r in (shape.exterior, *shape.interiors)]
    start = np.concatenate([ring[:-1] for ring in rings])[:, None]
    end = np.concatenate([ring[1:] for ring in rings])[:, None]
    part = np.array([(0, 0), (width, 0), (width, height), (0, height)])
    sides = shapely.multipoints(np.concatenate((start - part, end - part), axis=1))
    left, low, right, high = shape.bounds
    domain = shapely.box(left, low, right - width, high - height)
    return shapely.difference(domain, shapely.union_all(shapely.convex_hull(sides)))


def milliseconds(task: Callable[[Outline], object], scraps: Sequence[Outline]) -> float:
    """Median time of a task over scraps."""
    times = []
    for each in scraps:
        start = time.perf_counter()
        task(each)
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def side_by_side(scraps: Sequence[Outline]) -> tuple[float, float]:
    """Median milliseconds of a fit and of the plain union, by turns on each scrap."""
    pairs = [
        (
            milliseconds(lambda o: place(o, 48, 200, turns=(0,)), [each] * 3),
            milliseconds(lambda o: plain(o, 48, 200), [each] * 3),
        )
        for each in scraps
    ]
    return statistics.median(p[0] for p in pairs), statistics.median(p[1] for p in pairs)


def main() -> None:
    """Measure and write a table."""
    random = np.random.default_rng(7)
    write = sys.stdout.write
    write(f"{'points':>6} {'edge':>7} {'place ms':>9} {'plain ms':>9} {'ratio':>6}")
    write(f" {'rectangle ms':>13} {'best ms':>8} {'lack ms':>8}\n")
    for points in (20, 100, 500):
        for edge, roughness in (("smooth", 0.02), ("frayed", 0.5)):
            scraps = [scrap(random, points, roughness) for _ in range(TRIES)]
            for each in scraps:
                each.polygon  # noqa: B018 - made once and kept, as in the stockroom
            fit, union = side_by_side(scraps)
            largest = milliseconds(largest_rectangle, scraps[:20])
            best = milliseconds(lambda o: best_place(o, 30, 90), scraps[:10])
            missing = milliseconds(lambda o: lack(o, 120, 290), scraps[:10])
            write(f"{points:>6} {edge:>7} {fit:>9.2f} {union:>9.2f} {fit / union:>6.2f}")
            write(f" {largest:>13.1f} {best:>8.0f} {missing:>8.0f}\n")
    write("\nlargest rectangle left by the best placement, more than by the middling one\n")
    for width, height in ((30, 90), (48, 200), (60, 120)):
        gain = statistics.mean(gains([scrap(random, 100, 0.5) for _ in range(12)], width, height))
        write(f"{width:>6} × {height:<4} {gain:>8.0%}\n")


def gains(scraps: Sequence[Outline], width: float, height: float) -> list[float]:
    """How much more the best of the corners leaves than the middling one, as a share."""
    found = []
    for outline in scraps:
        corners = spread_placements(ground(outline), width, height, [0.0], CORNERS_TRIED)
        left = [largest_left(outline, corner) for corner in corners]
        if left and statistics.median(left):
            found.append(max(left) / statistics.median(left) - 1)
    return found


def largest_left(outline: Outline, placement: Placement) -> float:
    """Area of the largest rectangle along the warp in the remains, mm²."""
    rectangles = [largest_rectangle(remain) for remain in cut(outline, placement)]
    return max((found.width * found.height for found in rectangles if found), default=0.0)


if __name__ == "__main__":
    main()
