"""More than one colour in a patch: stamping, a stain, two-coloured threads."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.patch import PatchPixels
from bindery_stock.colour.profiles import LightEncoding
from bindery_stock.colour.space import Array, Lab, Mask, apply_matrix, xyz_to_lab

_APART: Final = 4.0
"""Distance of the two middles in standard deviations (K. M. Ashman, C. M. Bird, S. E. Zepf,
Astron. J. 108, 1994, 2348, ask for 2). Halves of one normal heap stand 2.7 apart, those of an even
spread 3.5: more than that has a gap."""
_LEAST_STEP: Final = 6.0
"""ΔE00 between the middles."""
_LEAST_SHARE: Final = 0.08
_ENOUGH: Final = 4_000
"""Pixels: shares to a percent."""


@dataclass(frozen=True, slots=True)
class Cluster:
    """One of several colours of a patch, uncorrected."""

    lab: Lab
    share: float
    """Of the pixels, 0..1."""


def clusters(pixels: PatchPixels, encoding: LightEncoding) -> tuple[Cluster, ...]:
    """The two colours of a patch, larger share first; one where there is no gap between them."""
    codes = pixels.codes
    if len(codes) > _ENOUGH:
        codes = np.random.default_rng(0).choice(codes, _ENOUGH, replace=False)
    light = encoding.linear(codes)
    lab = xyz_to_lab(apply_matrix(encoding.matrix, light))
    first = _halves(lab)
    both = [_cluster(light, encoding.matrix, part) for part in (first, ~first) if part.any()]
    if len(both) < 2 or not _gap(lab, first, both):
        return (_cluster(light, encoding.matrix, np.ones(len(lab), dtype=bool)),)
    return tuple(sorted(both, key=lambda one: -one.share))


def only_meant(pixels: PatchPixels, encoding: LightEncoding, meant: Lab) -> PatchPixels:
    """Of a patch of two colours the pixels of that one which is nearer to ``meant`` (uncorrected).

    A patch of one colour stays as it is.
    """
    both = clusters(pixels, encoding)
    if len(both) < 2:
        return pixels
    middles = np.array([one.lab for one in both])
    wanted = int(np.argmin(delta_e00(meant, middles)))
    lab = xyz_to_lab(apply_matrix(encoding.matrix, encoding.linear(pixels.codes)))
    away = [((lab - middle) ** 2).sum(axis=1) for middle in middles]
    keep = away[wanted] < away[1 - wanted]
    total = round(pixels.total * float(keep.mean()))
    return PatchPixels(pixels.codes[keep], pixels.places[keep], total)


def _halves(lab: Array) -> Mask:
    """Two means, from a cut across the widest axis (deterministic)."""
    centred = lab - lab.mean(axis=0)
    spread = np.einsum("ni,nj->ij", centred, centred)
    axis = np.linalg.eigh(spread)[1][:, -1]
    along = np.einsum("ni,i->n", centred, axis)
    first: Mask = along > 0.5 * (along.min() + along.max())
    for _ in range(12):
        if not first.any() or first.all():
            break
        one, other = lab[first].mean(axis=0), lab[~first].mean(axis=0)
        nearer = ((lab - one) ** 2).sum(axis=1) < ((lab - other) ** 2).sum(axis=1)
        if (nearer == first).all():
            break
        first = nearer
    return np.asarray(first)


def _gap(lab: Array, first: Mask, both: list[Cluster]) -> bool:
    if min(one.share for one in both) < _LEAST_SHARE:
        return False
    if float(delta_e00(both[0].lab, both[1].lab)) < _LEAST_STEP:
        return False
    one, other = lab[first], lab[~first]
    axis = one.mean(axis=0) - other.mean(axis=0)
    length = float(np.linalg.norm(axis))
    a = np.einsum("ni,i->n", one, axis / length)
    b = np.einsum("ni,i->n", other, axis / length)
    deviation = float(np.sqrt((a.var() + b.var()) / 2))
    return length > _APART * max(deviation, 1e-6)


def _cluster(light: Array, matrix: Array, part: Mask) -> Cluster:
    lab = xyz_to_lab(apply_matrix(matrix, light[part].mean(axis=0)))
    return Cluster((float(lab[0]), float(lab[1]), float(lab[2])), float(part.mean()))
