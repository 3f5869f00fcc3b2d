"""The photographs of a scenario, drawn side by side on as many cores as there are."""

import os
import zlib
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import Any

from sample_db.hoard import Item
from sample_db.render import Photograph, Scrap, Sitting, Truth, photographed
from sample_db.render.book import Volume, board_view, spine_view
from sample_db.render.chart import ChartPhotograph, photographed_chart
from sample_db.shapes import sheet

SIZE = (1600, 1200)
QUALITY = 80
_SWATCH = (150.0, 105.0)


@dataclass(frozen=True)
class Negative:
    """One finished file and what is truly in it."""

    name: str
    data: bytes
    size: tuple[int, int]
    """Width and height of the upright picture, px."""
    truth: Truth


def photograph_of(item: Item, size: tuple[int, int] = SIZE) -> Photograph:
    """The photograph of a piece; of a roll, a corner of it."""
    ring = sheet(*_SWATCH) if item.swatch else item.ring
    seed = zlib.crc32(item.key.encode())
    across = max(100.0, *(x for x, _ in ring), *(y for _, y in ring))
    lean = ((seed % 11 - 5) * 3e-3 / across, (seed // 11 % 11 - 5) * 3e-3 / across)
    sitting = Sitting(
        seed=seed,
        ground=item.ground,
        turn=item.turn + (seed // 7 % 9 - 4) * 0.5,
        camera_turn=(seed // 5 % 7 - 3) * 0.4,
        tilt=lean,
        size=size,
        light=item.light,
    )
    return photographed(Scrap(ring, item.stuff, item.holes, item.marks, item.frayed), sitting)


def negative_of(item: Item, size: tuple[int, int] = SIZE) -> Negative:
    """The file of a piece's photograph."""
    shot = photograph_of(item, size)
    data = shot.jpeg(QUALITY, sideways=item.sideways)
    return Negative(f"{item.key.replace(' ', '-')}.jpg", data, size, shot.truth)


def chart_photograph(size: tuple[int, int] = SIZE) -> ChartPhotograph:
    """The card of known colours, photographed before the pieces in the same light."""
    return photographed_chart(Sitting(seed=2400, turn=1.2, tilt=(2e-5, 3e-5), size=size))


def developed(
    items: Iterable[Item], size: tuple[int, int] = SIZE, *, hands: int | None = None
) -> Iterator[Negative]:
    """Every item's photograph in order, drawn by ``hands`` processes."""
    return _by_many(_Developing(size), list(items), hands)


def book_negatives(
    volumes: dict[str, Volume], size: tuple[int, int] = SIZE, *, hands: int | None = None
) -> Iterator[Negative]:
    """Two photographs of each worn volume: the front board, and the back."""
    jobs = [(name, view, volume) for name, volume in volumes.items() for view in _VIEWS]
    return _by_many(_Portraying(size), jobs, hands)


@dataclass(frozen=True)
class _Developing:
    size: tuple[int, int]

    def __call__(self, item: Item) -> Negative:
        return negative_of(item, self.size)


@dataclass(frozen=True)
class _Portraying:
    size: tuple[int, int]

    def __call__(self, job: tuple[str, str, Volume]) -> Negative:
        name, view, volume = job
        lean = ((volume.seed % 5 - 2) * 2e-5, 4e-5)
        sitting = Sitting(seed=900 + volume.seed, turn=89.0, tilt=lean, size=self.size)
        shot = _VIEWS[view](volume, sitting)
        file = f"{name.replace(' ', '-').replace('.', '')}-{view}.jpg"
        return Negative(file, shot.jpeg(QUALITY), self.size, shot.truth)


_VIEWS: dict[str, Callable[[Volume, Sitting], Photograph]] = {
    "board": board_view,
    "back": spine_view,
}


def _by_many(
    work: Callable[[Any], Negative], jobs: list[Any], hands: int | None
) -> Iterator[Negative]:
    if hands == 1:
        yield from map(work, jobs)
        return
    with ProcessPoolExecutor(hands or os.cpu_count()) as pool:
        yield from pool.map(work, jobs)
