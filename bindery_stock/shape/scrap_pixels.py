"""What is scrap and what is ground in a photograph, pixel by pixel.

The light over the ground is fitted by a quadratic in the logarithm of the pixels, since a constant
ground fails wherever the light falls off towards the corners; what departs from it is parted by
Otsu's threshold (N. Otsu, *IEEE Transactions on Systems, Man, and Cybernetics* 9, 1979), then by
the line along which ground and scrap differ most beside their noise (R. A. Fisher, *Annals of
Eugenics* 7, 1936).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline import Point
from bindery_stock.shape.photo_pixels import Pixels, shrunk

LEAST_CONTRAST = 0.03
"""Difference of the logarithms of coded pixels below which there is nothing to go by."""
_LONGEST_ROUGH = 420  # pixels of the longer side that are looked through for ground and scrap
_GAMMA = 2.2  # of coded pixels, near enough (IEC 61966-2-1 has 2.2 over most of its range)
_FLOOR = 0.02  # added before the logarithm: the darkest tones are mostly noise
_ROUNDS = 3
_LEAST_NOISES = 2.5  # of the ground: what departs by less is the ground itself
_QUIET = 0.12  # wanted noise of the score whose edge is at a half
_BURNT = 0.985  # of white: what is as bright in every channel tells nothing any more
_GLARING = 0.002  # of the photograph
_STREAKS = 12  # things that fill the photograph are streaks of the ground, from
_STREAKY = 0.4  # of the photograph on
_MOST_NOISE = 0.4  # of the score on the ground: such a ground is as much scrap as the scrap

Scores = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class SeenScrap:
    """What was made out in a photograph, pixel by pixel."""

    score: Scores
    """0 on the ground, 1 on the scrap."""
    scrap: Truths
    """What is surely scrap."""
    bare: Truths
    """What looks like the ground."""
    contrast: float
    """Difference of scrap and ground as logarithms of coded pixels."""
    burnt: Truths
    """Where a lamp is mirrored."""
    noise: float
    """Spread of the score on the ground."""
    over: Scores
    """Logarithms of the pixels above those of the ground: rows × columns × 3."""


def seen(pixels: Pixels, at: Point | None) -> SeenScrap:
    """Look through a photograph for the scrap at a pixel, or the largest that lies free.

    Raises ``ShapeError`` where none is to be seen, naming a mirrored lamp where there is one.
    """
    burnt = _burnt(pixels)
    try:
        return _seen(pixels, at, burnt)
    except ShapeError as error:
        if burnt.mean() > _GLARING:
            raise ShapeError(_GLARE) from error
        raise


def _seen(pixels: Pixels, at: Point | None, burnt: Truths) -> SeenScrap:
    small, times = shrunk(pixels, _LONGEST_ROUGH)
    start = None if at is None else (at[0] / times, at[1] / times)
    parted = _parted(_tones(small), start)
    ground, scrap = (_enlarged(mask, int(times), pixels.shape[:2]) for mask in parted)
    tones = _tones(pixels)
    over = tones - _light(tones, ground)
    contrast = float(np.linalg.norm(over[scrap].mean(axis=0))) if scrap.any() else 0.0
    if contrast < LEAST_CONTRAST:
        raise ShapeError(_UNSEEN)
    # a pixel on the edge is a mixture in linear light, so there halfway is the edge itself
    mixed = np.exp(_GAMMA * over)
    raw = _along_fisher(mixed, ground, scrap)
    score = ndimage.gaussian_filter(raw, _blur(raw, ground))
    off = ndimage.gaussian_filter(mixed, (0.8, 0.8, 0)) - mixed[ground].mean(axis=0)
    apart = mixed[scrap].mean(axis=0) - mixed[ground].mean(axis=0)
    bare = np.asarray((off**2).sum(axis=2) < (apart**2).sum() / 4.0)
    noise = float(score[ground].std())
    if noise > _MOST_NOISE:
        raise ShapeError(_PATTERNED)
    return SeenScrap(score, scrap, bare, contrast, burnt, noise, over)


def _burnt(pixels: Pixels) -> Truths:
    """Where a lamp is mirrored; a ground that is burnt all over is no lamp."""
    burnt = np.asarray(pixels.min(axis=2) >= _BURNT)
    return burnt if burnt.mean() < 0.4 else np.zeros_like(burnt)


_GLARE = (
    "A lamp is mirrored in this photograph, so that the scrap cannot be told from the ground. Move "
    "the lamp or the camera until nothing shines, and photograph it again."
)


def _tones(pixels: Pixels) -> Scores:
    return np.log(pixels.astype(np.float64) + _FLOOR)


def _parted(tones: Scores, at: Point | None) -> tuple[Truths, Truths]:
    """What is surely ground and what is surely scrap, found in turns with the light.

    Whatever else lies there, such as a ruler or a grey card, is neither.
    """
    frame = np.zeros(tones.shape[:2], dtype=bool)
    rim = max(min(frame.shape) // 20, 2)
    frame[:rim] = frame[-rim:] = frame[:, :rim] = frame[:, -rim:] = True
    ground, things, over, strange = frame, ~frame, tones, np.zeros(frame.shape)
    for _ in range(_ROUNDS):
        over = tones - _light(tones, ground)
        strange = _departure(over, ground)
        things = strange > _otsu(strange)
        ground = _all_but(things)
    if float(np.median(strange[things])) < np.log1p(_LEAST_NOISES):
        raise ShapeError(_UNSEEN)
    scrap = _wanted(things, at)
    for _ in range(_ROUNDS):
        score = _along_fisher(over, ground, ndimage.binary_erosion(scrap, iterations=2))
        like = ndimage.gaussian_filter(score, _blur(score, ground)) > 0.5
        near = ndimage.binary_dilation(scrap, iterations=3)
        scrap = _wanted(like & (near | ~things), at)
        ground = _all_but(things | scrap)
        over = tones - _light(tones, ground)
    return ground, ndimage.binary_erosion(scrap, iterations=2)


def _all_but(things: Truths) -> Truths:
    ground = ~ndimage.binary_dilation(things, iterations=3)
    if not 0.001 < things.mean() < 0.95 or ground.mean() < 0.01:
        raise ShapeError(_UNSEEN)
    return np.asarray(ground)


def _enlarged(small: Truths, times: int, shape: tuple[int, ...]) -> Truths:
    """A mask of the shrunk photograph at full size; what was cut off at the rim is neither."""
    large = np.zeros(shape, dtype=bool)
    grown = np.repeat(np.repeat(small, times, axis=0), times, axis=1)
    large[: grown.shape[0], : grown.shape[1]] = grown
    return large


_UNSEEN = (
    "No scrap stands out from the ground in this photograph. Lay it on a plain sheet that "
    "contrasts with it and photograph it again, or trace the outline by hand."
)


_PATTERNED = (
    "The ground is patterned as strongly as the scrap stands out from it, so that the scrap cannot "
    "be told. Lay the whole of it on a plain sheet of another colour, or trace the outline by hand."
)


def _light(tones: Scores, ground: Truths) -> Scores:
    """The light over the ground: a quadratic in each channel, outliers left out once."""
    rows, columns = ground.shape
    y, x = np.meshgrid(np.linspace(-1, 1, rows), np.linspace(-1, 1, columns), indexing="ij")
    terms = np.stack((np.ones_like(x), x, y, x * x, x * y, y * y), axis=-1)
    step = max(int(np.sqrt(ground.sum() / 20_000)), 1)
    chosen = np.zeros_like(ground)
    chosen[::step, ::step] = ground[::step, ::step]
    basis, seen = terms[chosen], tones[chosen]
    weights = np.linalg.lstsq(basis, seen, rcond=None)[0]
    for _ in range(2):
        off = np.abs(seen - np.einsum("ij,jk->ik", basis, weights)).sum(axis=1)
        near = off <= np.median(off) * 4.0 + 1e-9
        basis, seen = basis[near], seen[near]
        weights = np.linalg.lstsq(basis, seen, rcond=None)[0]
    return np.asarray(np.einsum("rcj,jk->rck", terms, weights))


def _departure(over: Scores, ground: Truths) -> Scores:
    """How far each pixel departs from the ground, whichever way, in noises of the ground.

    As a logarithm: a white ruler must not make a brown cloth look like the brown ground.
    """
    smooth = ndimage.gaussian_filter(over, (1.5, 1.5, 0))
    off = np.sqrt((smooth**2).sum(axis=2))
    return np.asarray(np.log1p(off / max(float(np.sqrt((off[ground] ** 2).mean())), 1e-6)))


def _along_fisher(over: Scores, ground: Truths, scrap: Truths) -> Scores:
    """Position along the line on which ground and scrap differ most beside their noise."""
    here, there = over[ground], over[scrap]
    apart = there.mean(axis=0) - here.mean(axis=0)
    noise = np.cov(here[:: max(len(here) // 50_000, 1)], rowvar=False)
    noise = noise + np.cov(there[:: max(len(there) // 50_000, 1)], rowvar=False)
    way = np.linalg.solve(noise + 1e-6 * np.eye(3), apart)
    along = np.einsum("rck,k->rc", over - here.mean(axis=0), way)
    return np.asarray(along / float((apart * way).sum()))


def _blur(score: Scores, ground: Truths) -> float:
    """Pixels over which to smooth so that the noise on the ground becomes quiet."""
    noise = float(score[ground].std()) / max(float(np.percentile(score, 99.0)), 1e-9)
    return float(np.clip(noise / (_QUIET * 2.0 * np.sqrt(np.pi)), 0.7, 4.0))


def _otsu(values: Scores) -> float:
    """The threshold that parts values into the two classes furthest apart."""
    counts, edges = np.histogram(values, bins=256)
    middles = (edges[:-1] + edges[1:]) / 2.0
    below = np.cumsum(counts)
    mass = np.cumsum(counts * middles)
    above = below[-1] - below
    with np.errstate(divide="ignore", invalid="ignore"):
        between = (mass[-1] * below / below[-1] - mass) ** 2 / (below * above)
    return float(middles[int(np.nanargmax(np.where(np.isfinite(between), between, -1.0)))])


def _wanted(things: Truths, at: Point | None) -> Truths:
    """The thing pointed at, or the largest that does not run out of the photograph."""
    labels, count = ndimage.label(things)
    if at is not None:
        row, column = int(at[1]), int(at[0])
        inside = 0 <= row < labels.shape[0] and 0 <= column < labels.shape[1]
        if not inside or labels[row, column] == 0:
            raise ShapeError("There is only ground at the point given. Point at the scrap itself.")
        return np.asarray(labels == labels[row, column])
    sizes = np.bincount(labels.ravel(), minlength=count + 1)
    sizes[0] = 0
    largest = int(sizes.max())
    for edge in (labels[0], labels[-1], labels[:, 0], labels[:, -1]):
        sizes[edge] = 0
    if sizes.max() == 0 or sizes.max() < 0.1 * largest:
        if count > _STREAKS and things.mean() > _STREAKY:
            raise ShapeError(_PATTERNED)
        raise ShapeError(
            "The scrap runs out of the photograph. Photograph the whole of it with some ground all "
            "round."
        )
    return np.asarray(labels == int(np.argmax(sizes)))
