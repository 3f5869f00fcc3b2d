"""The kinds of photograph that a bench gives: a hundred plain ones, and each hard kind."""

from dataclasses import replace
from math import pi

import numpy as np
import shapely
from shapely import Polygon, affinity

from tests.rendered.camera import Camera
from tests.rendered.scene import Cloth, Colour, Glare, Scene, Stripes

PAPER: Colour = (0.72, 0.71, 0.68)
GREY: Colour = (0.42, 0.42, 0.42)
SLATE: Colour = (0.035, 0.035, 0.04)
RED: Colour = (0.22, 0.03, 0.03)
GREEN: Colour = (0.05, 0.09, 0.05)
BLUE: Colour = (0.03, 0.05, 0.14)
BLACK: Colour = (0.025, 0.024, 0.023)
BROWN: Colour = (0.14, 0.075, 0.035)
TAN: Colour = (0.36, 0.25, 0.14)
CREAM: Colour = (0.60, 0.55, 0.42)
PLAIN = (
    (PAPER, RED),
    (PAPER, GREEN),
    (PAPER, BLUE),
    (PAPER, BLACK),
    (PAPER, BROWN),
    (SLATE, TAN),
    (SLATE, CREAM),
    (GREY, RED),
    (GREY, BLUE),
    (PAPER, TAN),
)
"""Ground and cloth."""


def blob(random: np.random.Generator, width: float, height: float) -> Polygon:
    """A ragged scrap torn all round."""
    angles = np.linspace(0, 2 * pi, 240, endpoint=False)
    radius = np.ones(240)
    for wave in range(2, 9):
        radius += random.normal(0, 0.2 / wave**1.4) * np.cos(wave * angles + random.uniform(0, 7))
    radius = np.clip(radius, 0.6, 1.3)
    ring = np.column_stack(
        (width / 2 * radius * np.cos(angles), height / 2 * radius * np.sin(angles))
    )
    return Polygon(ring)


def cut(random: np.random.Generator, width: float, height: float) -> Polygon:
    """A scrap with straight cut sides, one corner missing."""
    w, h = width / 2, height / 2
    corners = np.array([(-w, -h), (w, -h), (w, h * 0.4), (w * 0.5, h), (-w, h)])
    whole = Polygon(corners + random.uniform(-8, 8, corners.shape))
    return affinity.rotate(whole, random.uniform(-12, 12), origin=(0, 0))


def shape(random: np.random.Generator) -> Polygon:
    """A scrap of either sort, now and then with a hole."""
    width, height = random.uniform(90, 190), random.uniform(70, 125)
    whole = (blob if random.random() < 0.6 else cut)(random, width, height)
    if random.random() < 0.3:
        at = shapely.Point(random.uniform(-15, 15), random.uniform(-10, 10))
        whole = whole.difference(at.buffer(random.uniform(3, 8)))
    assert isinstance(whole, Polygon)
    return whole


def camera(random: np.random.Generator) -> Camera:
    """Held by hand, nearly straight above."""
    return Camera(
        tilt=random.uniform(-8, 8),
        swing=random.uniform(-8, 8),
        blur=random.uniform(0.5, 1.1),
        noise=random.uniform(0.003, 0.010),
        vignetting=random.uniform(0.1, 0.4),
        slope=random.uniform(-0.15, 0.15),
        quality=int(random.integers(82, 96)),
    )


def plain(seed: int) -> Scene:
    """A flat scrap on a plain ground that contrasts with it."""
    random = np.random.default_rng(1000 + seed)
    ground, colour = PLAIN[seed % len(PLAIN)]
    turn = random.uniform(0, 2 * pi)
    return Scene(
        (Cloth(shape(random), colour, fray=random.choice((0.0, 0.0, 0.3))),),
        ground,
        seed,
        lamp=(0.8 * np.cos(turn), 0.8 * np.sin(turn)),
        softness=random.uniform(0.2, 0.7),
        depth=random.uniform(0.2, 0.55),
        camera=camera(random),
    )


def _only(scene: Scene, **changes: object) -> Scene:
    return replace(scene, scraps=(replace(scene.scraps[0], **changes),))  # type: ignore[arg-type]


def low_contrast(seed: int) -> Scene:
    """Cloth hardly different from the ground: brown on brown, grey on grey, cream on paper."""
    ground, colour = (
        ((0.19, 0.12, 0.07), (0.14, 0.085, 0.045)),
        ((0.10, 0.10, 0.10), (0.075, 0.078, 0.08)),
        (PAPER, (0.60, 0.58, 0.52)),
    )[seed % 3]
    return replace(_only(plain(seed), colour=colour), ground=ground)


def brown_on_brown(seed: int) -> Scene:
    """Brown cloth on a brown bench with a grain."""
    scene = _only(plain(seed), colour=(0.13, 0.07, 0.035))
    return replace(scene, ground=(0.23, 0.145, 0.085), wood=0.14)


def soft_shadow(seed: int) -> Scene:
    """A low lamp: a deep, soft shadow beside the scrap."""
    scene = _only(plain(seed), lift=2.5, towards=float(37 * seed % 360))
    return replace(scene, lamp=(2.2, -1.2), softness=1.4, depth=0.7)


def lifted(seed: int) -> Scene:
    """Dark cloth on white with one edge standing up by some millimetres."""
    scene = _only(
        plain(seed),
        colour=(BLACK, GREEN, BLUE)[seed % 3],
        lift=4.0 + 1.5 * (seed % 5),
        towards=float(-40 + 31 * seed % 80),
    )
    return replace(scene, ground=PAPER, lamp=(0.9, -0.3), softness=0.4, depth=0.8)


def frayed(seed: int) -> Scene:
    """A fringe of 1.5 to 4 mm all round, and loose threads."""
    return _only(plain(seed), fray=1.5 + 0.5 * (seed % 6), threads=seed % 5)


def loose_threads(seed: int) -> Scene:
    """A clean edge with long loose threads."""
    return _only(plain(seed), threads=6)


def tilted(seed: int) -> Scene:
    """Taken aslant by 15 to 22 degrees."""
    scene = plain(seed)
    return replace(scene, camera=replace(scene.camera, tilt=15.0 + seed % 8))


def striped_like_ground(seed: int) -> Scene:
    """Stripes of the colour of the ground, all across the cloth."""
    scene = plain(seed)
    stripes = Stripes(scene.ground, 9.0 + 2 * (seed % 4), 0.5, float(25 * seed % 180))
    return _only(scene, stripes=stripes)


def striped(seed: int) -> Scene:
    """Stripes of another colour, neither like the ground."""
    scene = plain(seed)
    other = TAN if scene.ground == PAPER else CREAM if scene.ground == SLATE else BLACK
    if scene.scraps[0].colour == other:
        other = BROWN
    return _only(scene, stripes=Stripes(other, 8.0 + seed % 5, 0.4, float(25 * seed % 180)))


def wooden(seed: int) -> Scene:
    """On a wooden bench with a strong grain."""
    scene = plain(seed)
    return replace(scene, ground=(0.40, 0.27, 0.15), wood=0.16 + 0.02 * (seed % 5))


def checked_ground(seed: int) -> Scene:
    """On a striped ground, neither stripe like the cloth."""
    scene = _only(plain(seed), colour=(RED, GREEN, BLUE)[seed % 3])
    return replace(scene, ground=PAPER, pattern=Stripes((0.45, 0.47, 0.50), 14.0, 0.5, 20.0))


def touching(seed: int) -> Scene:
    """Two scraps side by side that touch along part of an edge; alike, or of two cloths."""
    random = np.random.default_rng(4000 + seed)
    scene = plain(seed)
    left = shapely.box(-115, -60 + random.uniform(-8, 8), -12, 62)
    right = shapely.box(-12 + (0.0, 0.15, 0.3)[seed % 3], -48, 92, 40 + random.uniform(-9, 9))
    one = scene.scraps[0].colour
    ground = scene.ground
    near = {PAPER: BROWN, SLATE: (0.42, 0.36, 0.24), GREY: GREEN}[ground]
    other = one if seed % 2 else near
    return replace(scene, scraps=(Cloth(left, one), Cloth(right, other)))


def waisted(seed: int) -> Scene:
    """One scrap shaped as two that touch: there is no seam to be seen."""
    scene = touching(2 * seed + 1)
    one, other = (each.body for each in scene.scraps)
    whole = one.union(other.union(affinity.translate(other, -2.0)))
    return replace(scene, scraps=(replace(scene.scraps[0], body=whole),))


def line_up(seed: int) -> Scene:
    """Six things in two rows, of one cloth; the last of them is two scraps that touch."""
    random = np.random.default_rng(6000 + seed)
    scene = plain(seed)
    colour = scene.scraps[0].colour
    places = [(-82, 40), (-6, 42), (68, 40), (-84, -42), (-22, -40)]
    bodies = [affinity.translate(blob(random, 56, 50), *place) for place in places]
    bodies.append(shapely.box(22, -68, 58, -14))
    bodies.append(shapely.box(58.0 + 0.15 * (seed % 3), -60, 92, -20 + random.uniform(-3, 3)))
    return replace(scene, scraps=tuple(Cloth(body, colour) for body in bodies))


def grained(seed: int) -> Scene:
    """Cloth embossed with a coarse grain."""
    return _only(plain(seed), grain=0.10 + 0.03 * (seed % 4))


def stamped(seed: int) -> Scene:
    """Cloth stamped with lozenges all over."""
    return _only(plain(seed), stamp=0.25 + 0.1 * (seed % 4))


def apart(seed: int) -> Scene:
    """Three scraps of one cloth lying free of each other."""
    random = np.random.default_rng(5000 + seed)
    scene = plain(seed)
    colour = scene.scraps[0].colour
    places = ((-80, 35), (0, -40), (78, 30))
    scraps = tuple(
        Cloth(affinity.translate(blob(random, 62, 58), *place), colour) for place in places
    )
    return replace(scene, scraps=scraps)


def small_hole(seed: int) -> Scene:
    """A hole of 1.3 mm, as of a worm or a nail."""
    scene = plain(seed)
    body = scene.scraps[0].body
    at = shapely.Polygon(body.exterior).representative_point()
    whole = Polygon(body.exterior).difference(at.buffer(0.65, 16))
    return _only(scene, body=whole)


def glare(seed: int) -> Scene:
    """A lamp mirrored across the edge of the scrap, in a dark glossy ground or in the cloth."""
    scene = _only(plain(seed), colour=(TAN, (0.12, 0.16, 0.20), RED)[seed % 3])
    edge = scene.scraps[0].body.exterior.interpolate(0.13 * seed % 1.0, normalized=True)
    ground = SLATE if seed % 2 else PAPER
    return replace(scene, ground=ground, glare=Glare((edge.x, edge.y), 12.0 + 3 * (seed % 4)))


def bright_glare(seed: int) -> Scene:
    """A lamp mirrored in a dark glossy ground so that it runs out of the photograph."""
    scene = _only(plain(seed), colour=TAN)
    return replace(scene, ground=SLATE, glare=Glare((120.0, 70.0), 95.0, 2.5))


HARD = {
    each.__name__: each
    for each in (
        low_contrast,
        brown_on_brown,
        soft_shadow,
        lifted,
        frayed,
        loose_threads,
        tilted,
        striped_like_ground,
        striped,
        grained,
        stamped,
        wooden,
        checked_ground,
        touching,
        waisted,
        line_up,
        apart,
        small_hole,
        glare,
        bright_glare,
    )
}
"""Every kind that is not plain, by name."""
