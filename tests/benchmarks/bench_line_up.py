"""How many patches tell a cloth from another: ``python -m tests.benchmarks.bench_line_up``.

Contrast is that of real pairs of patches, truly ΔE00 9 to 20 apart, in bare photographs of a target
(``BINDERY_TARGET_PHOTOS``, or ``shared/photos`` beside the checkout), scaled to 3. On both cloths
lies the unevenness of cloths of the sample, each read in so many patches as they place themselves.
"""

import json
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely

from bindery_stock.bench.photo_table.marks import patches_within
from bindery_stock.colour import SINCE_2014, delta_e00
from bindery_stock.colour.line_up import read_line_up
from bindery_stock.colour.uncertainty import differs_in_photo
from bindery_stock.errors import ColourError
from bindery_stock.shape import PhotoScale
from bindery_stock.stock import Stockroom
from bindery_stock.trade.vocabulary import Kind

ROOT = Path(__file__).resolve().parents[2]
PHOTOS = Path(os.environ.get("BINDERY_TARGET_PHOTOS", ROOT.parent / "shared" / "photos"))
SAMPLE = ROOT / "sample_db" / "stockroom"
APART = 3.0


@dataclass(frozen=True)
class Uneven:
    """One cloth of the sample: its patches about their mean, and the band of that mean."""

    away: np.ndarray
    noise: float


def uneven_cloths(patches: int, every: int = 3) -> list[Uneven]:
    """The unevenness of cloths of the sample in so many patches each."""
    found = []
    with Stockroom.open(SAMPLE, read_only=True) as room:
        cloths = [p for p in room.pieces.listed() if p.marks and p.kind is Kind.CLOTH]
        for piece in cloths[::every]:
            mark = piece.marks[0]
            scale = PhotoScale(mark.to_mm, 0.0, None, "")
            free = shapely.Polygon(scale.to_px(piece.outline.exterior)).buffer(0)
            for flaw in piece.flaws:
                free = free.difference(shapely.Polygon(scale.to_px(flaw.ring)).buffer(0))
            offered = patches_within(free, patches)
            try:
                read = read_line_up(room.photos.path(mark.photo.sha256), offered, []).book
            except ColourError:
                continue  # too narrow for a patch
            labs = np.array(read.patches)
            if len(labs) >= min(patches, 3):
                found.append(Uneven(labs - labs.mean(axis=0), read.noise))
    return found


def real_pairs(only: int | None = None) -> Iterator[tuple[str, np.ndarray, np.ndarray]]:
    """Photograph, first colour, and second colour as far from it as 3 would be read there.

    Of ``only`` so many photographs, the smallest files.
    """
    known = np.array(SINCE_2014.labs)
    marks = json.loads((PHOTOS / "patches.json").read_text("utf-8"))
    smallest = sorted(marks, key=lambda name: (PHOTOS / name).stat().st_size)[:only]
    for name, photo in ((name, marks[name]) for name in smallest):
        half = photo["pitch_px"] * 0.22
        squares = [
            [
                (
                    (x - half, y - half),
                    (x + half, y - half),
                    (x + half, y + half),
                    (x - half, y + half),
                )
            ]
            for x, y in photo["centres"]
        ]
        read = read_line_up(PHOTOS / name, squares[0], squares)
        labs = np.array([one.comparison.second.lab for one in sorted(read.ranked, key=_key)])
        for i in range(24):
            true = np.asarray(delta_e00(known[i], known))
            for j in np.flatnonzero((true >= 9.0) & (true <= 20.0)):
                seen = float(delta_e00(labs[i], labs[j]))
                yield name, labs[i], _towards(labs[i], labs[j], APART * seen / true[j])


def _key(one: object) -> int:
    return one.key  # type: ignore[attr-defined,no-any-return]


def _towards(start: np.ndarray, end: np.ndarray, apart: float) -> np.ndarray:
    low, high = 0.0, 1.0
    for _ in range(25):
        middle = (low + high) / 2
        near = float(delta_e00(start, start + middle * (end - start))) < apart
        low, high = (middle, high) if near else (low, middle)
    return start + low * (end - start)


def told_apart(pairs: list[tuple[str, np.ndarray, np.ndarray]], cloths: list[Uneven]) -> np.ndarray:
    """Shares of pairs told apart, and of single cloths taken for two."""
    random = np.random.default_rng(0)

    def mean(cloth: Uneven) -> np.ndarray:
        return np.asarray(random.choice(cloth.away, len(cloth.away)).mean(axis=0))

    said = []
    for _, one, other in pairs:
        for _ in range(4):
            a, b = (cloths[n] for n in random.choice(len(cloths), 2, replace=False))
            first, second = one + mean(a), mean(b)
            apart = float(delta_e00(first, other + second))
            alike = float(delta_e00(first, one + second))
            said.append([differs_in_photo(de, a.noise, b.noise) for de in (apart, alike)])
    return np.mean(said, axis=0)


def main() -> None:
    """Print the table."""
    pairs = list(real_pairs())
    sys.stdout.write(f"{len(pairs)} pairs at ΔE00 3\npatches  cloths  band  told apart  wrongly\n")
    for patches in (3, 5, 7, 9, 12):
        cloths = uneven_cloths(patches)
        apart, alike = told_apart(pairs, cloths)
        band = float(np.median([cloth.noise for cloth in cloths]))
        sys.stdout.write(f"{patches:7} {len(cloths):7} {band:5.2f} {apart:11.3f} {alike:8.3f}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
