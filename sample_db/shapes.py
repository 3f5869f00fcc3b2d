"""The shapes in which cloth comes off old books and out of the offcut tin; millimetres.

Every ring starts at the lower left, goes counter-clockwise, touches x = 0 and y = 0, and wanders a
little, as a hand with scissors does.
"""

import math

import numpy as np

from sample_db.render import Point, Ring

_STRIDE = 34.0


def side(width: float, height: float, turn: float, seed: int) -> Ring:
    """The cloth of one board, its turn-ins opened out and the corners cut off at the mitre."""
    w, h, t = width + 2 * turn, height + 2 * turn, turn * 1.02
    corners = ((t, 0), (w - t, 0), (w, t), (w, h - t), (w - t, h), (t, h), (0, h - t), (0, t))
    return by_hand(corners, seed, 0.5)


def strip(width: float, height: float, seed: int, *, skew: float = 0.0) -> Ring:
    """A strip along the warp, ``skew`` mm wider at the head than at the foot."""
    corners = ((0, 0), (width - skew, 0), (width, height), (0, height))
    return by_hand(corners, seed, 0.6)


def ell(width: float, height: float, gone_w: float, gone_h: float, seed: int) -> Ring:
    """What is left when a part has been cut from the upper right corner."""
    w, h, x, y = width, height, width - gone_w, height - gone_h
    return by_hand(((0, 0), (w, 0), (w, y), (x, y), (x, h), (0, h)), seed, 0.5)


def bitten(width: float, height: float, at: float, deep: float, long: float, seed: int) -> Ring:
    """A sheet with a ragged bite out of its right side, ``at`` mm up."""
    rng = np.random.default_rng(seed)
    bite = []
    for k in range(9):
        t = k / 8
        reach = deep * math.sin(math.pi * t) ** 0.55 * (1 + 0.12 * float(rng.normal()))
        bite.append((width - reach, at - long / 2 + long * t))
    return by_hand(((0, 0), (width, 0), *bite, (width, height), (0, height)), seed, 0.4)


def oddment(width: float, height: float, points: int, seed: int) -> Ring:
    """An odd many-cornered piece."""
    rng = np.random.default_rng(seed)
    turns = (np.arange(points) + rng.uniform(-0.28, 0.28, points)) * (2 * math.pi / points)
    corners = []
    for turn in turns + rng.uniform(0, 1):
        c, s = math.cos(turn), math.sin(turn)
        reach = 1 / max(abs(c), abs(s)) ** 0.75 * rng.uniform(0.84, 1.0)
        corners.append((width / 2 * reach * c, height / 2 * reach * s))
    return by_hand(tuple(corners), seed, 0.6)


def skin(width: float, height: float, seed: int) -> Ring:
    """A piece of a skin: two cut sides and a flowing natural edge."""
    corners: list[Point] = [(0, 0), (width, 0)]
    rng = np.random.default_rng(seed)
    for k in range(1, 9):
        t = k / 9
        sway = 1 - 0.22 * t - 0.14 * math.sin(5.2 * t) + 0.03 * float(rng.normal())
        corners.append((width * sway, height * (0.12 + 0.88 * t)))
    corners.append((width * 0.22, height))
    return by_hand((*corners, (0, height * 0.86)), seed, 0.3)


def sheet(width: float, height: float) -> Ring:
    """A sheet cut square at the mill or the guillotine."""
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def by_hand(corners: tuple[Point, ...], seed: int, wander: float) -> Ring:
    """The corners joined by lines that wander by about ``wander`` mm."""
    rng = np.random.default_rng(seed)
    out: list[Point] = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        n = max(1, round(length / _STRIDE))
        for k in range(n):
            t = k / n
            off = float(rng.normal(0, wander)) * (0.5 if k == 0 else 1.0)
            across = (-(y1 - y0) / length * off, (x1 - x0) / length * off)
            out.append((x0 + t * (x1 - x0) + across[0], y0 + t * (y1 - y0) + across[1]))
    left, foot = min(p[0] for p in out), min(p[1] for p in out)
    return tuple((round(x - left, 2), round(y - foot, 2)) for x, y in out)
