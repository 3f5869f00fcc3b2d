"""Seeded synthetic campaigns: uniform volumes in four cloths, and a hoard that may be too small."""

import numpy as np

from bindery_stock.matching import Part, Piece
from bindery_stock.shape import Outline

FAMILIES = np.array(((38, 42, 24), (36, -16, 12), (34, 4, -26), (36, 14, 18)), dtype=float)


def scrap(rng: np.random.Generator, across: float, along: float) -> Outline:
    """An irregular scrap of thirty points within a box of that size, mm."""
    angles = np.sort(rng.uniform(0, 2 * np.pi, 30)) + np.arange(30) * 1e-6
    square = 1 / np.maximum(np.abs(np.cos(angles)), np.abs(np.sin(angles)))
    reach = square * rng.uniform(0.86, 1.0, 30)
    ring = zip(across / 2 * reach * np.cos(angles), along / 2 * reach * np.sin(angles), strict=True)
    return Outline(tuple((float(x), float(y)) for x, y in ring))


def hoard(count: int, seed: int, *, plenty: float = 1.0) -> list[Piece]:
    """Scraps of four cloths; ``plenty`` scales their size."""
    rng = np.random.default_rng((seed, 1))
    pieces = []
    for number in range(count):
        across, along = rng.uniform(50, 130) * plenty, rng.uniform(110, 320) * plenty
        lab = FAMILIES[rng.integers(4)] + rng.normal(0, (5, 4, 4))
        colour = tuple(float(v) for v in lab)
        outline = scrap(rng, across, along)
        pieces.append(Piece(f"C-{number:04}", outline, (colour[0], colour[1], colour[2])))
    return pieces


def volumes(count: int, seed: int) -> list[Part]:
    """Six parts a volume: the strip, head and tail pieces, two corner patches, a hidden lining."""
    rng = np.random.default_rng((seed, 2))
    parts: list[Part] = []
    for number in range(count):
        target = FAMILIES[rng.integers(4)] + rng.normal(0, (4, 3, 3))
        lab = (float(target[0]), float(target[1]), float(target[2]))
        height, thickness = float(rng.uniform(170, 235)), float(rng.uniform(22, 42))
        for name, width, along, shown in (
            ("spine strip", thickness + 24, height, True),
            ("head piece", thickness + 16, 38.0, True),
            ("tail piece", thickness + 16, 38.0, True),
            ("corner patch", 42.0, 46.0, True),
            ("corner patch", 42.0, 46.0, True),
            ("lining", thickness, height - 6, False),
        ):
            title = f"{name}, vol. {number + 1}"
            volume = f"vol. {number + 1}"
            parts.append(
                Part(width, along, lab, name=title, shown=shown, margin=1.0, volume=volume)
            )
    return parts
