"""How far a reading by a target can be believed, photograph by photograph, and what ranks.

Run by hand: ``python -m tests.benchmarks.bench_bands``, with the photographs of
``BINDERY_TARGET_PHOTOS`` (or ``shared/photos`` beside the checkout). Takes some minutes.

*within* and *median u*: each patch is read by a correction, and given a band, that had not seen it
(both made anew from the other 23; published values of the target are the truth). *closest first*:
a book and six cloths within 6 ΔE00 of it, mixed of three patches each in the light of the bare
photograph, and for the truth in that of the published values: how often the truly closest is seen
as the closest, and what is lost in the mean by taking the first.
"""

import json
import os
import sys
from pathlib import Path

import numpy as np

from bindery_stock.colour import Target, delta_e00
from bindery_stock.colour.calibrate import _judge, calibrate
from bindery_stock.colour.decode import Negative, open_negative
from bindery_stock.colour.models import TONED, Sightings
from bindery_stock.colour.space import Array, apply_matrix, lab_to_xyz, xyz_to_lab
from bindery_stock.colour.uncertainty import target_band

_CORNERS = (0, 5, 18, 23)
_MIXES, _POOLS, _CLOTHS, _NEAR = 6000, 1500, 6, 6.0


def nested(seen: Sightings) -> tuple[list[bool], list[float]]:
    """For each patch whether its error lies within its band, and that band."""
    within, bands = [], []
    for patch in range(len(seen.linear)):
        judged = _judge(seen.without(patch))
        best = min(judged, key=lambda one: float(one.left_out.mean()))
        linear, where = seen.linear[patch : patch + 1], seen.where[patch : patch + 1]
        lab = best.chain.predict(linear, where)[0]
        again = [chain.predict(linear, where)[0] for chain in best.without]
        count = len(again)
        jackknife = np.sqrt((count - 1) / count * np.sum(delta_e00(lab, again) ** 2))
        others = [one.chain for one in judged if one.name in TONED and one is not best]
        rivals = delta_e00(lab, [chain.predict(linear, where)[0] for chain in others]).mean()
        rms = float(np.sqrt(np.mean(best.left_out**2)))
        band = target_band(rms, float(jackknife), float(rivals))
        within.append(float(delta_e00(lab, [seen.labs[patch]])[0]) <= band)
        bands.append(band)
    return within, bands


def ranked(photo: Negative, seen: Sightings) -> tuple[float, float]:
    """Share of pools whose truly closest cloth is seen first, and ΔE00 lost by taking the first."""
    rng = np.random.default_rng(1)
    shares = np.zeros((_MIXES, len(seen.linear)))
    for row in shares:
        row[rng.choice(len(row), 3, replace=False)] = rng.dirichlet((0.6, 0.6, 0.6))
    truth = xyz_to_lab(shares @ lab_to_xyz(seen.labs))
    shown: Array = xyz_to_lab(apply_matrix(photo.encoding.matrix, shares @ seen.linear))
    first: list[bool] = []
    lost: list[float] = []
    while len(first) < _POOLS:
        book = int(rng.integers(_MIXES))
        away = delta_e00(truth[book], truth)
        near = np.flatnonzero((away <= _NEAR) & (np.arange(_MIXES) != book))
        if len(near) < _CLOTHS:
            continue
        pool = rng.choice(near, _CLOTHS, replace=False)
        taken = pool[int(np.argmin(delta_e00(shown[book], shown[pool])))]
        first.append(bool(away[taken] == away[pool].min()))
        lost.append(float(away[taken] - away[pool].min()))
    return float(np.mean(first)), float(np.mean(lost))


def main() -> None:
    """The table."""
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    folder = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    marks = folder / "patches.json"
    if not marks.is_file():
        sys.stdout.write("No photographs of a target: set BINDERY_TARGET_PHOTOS.\n")
        return
    shares, every = [], []
    for name, mark in json.loads(marks.read_text(encoding="utf-8")).items():
        photo = open_negative(folder / name)
        target = Target([tuple(mark["centres"][corner]) for corner in _CORNERS])
        fitted = calibrate(photo, target)
        seen = fitted.seen.sightings(photo.encoding.matrix, target.known)
        seen = seen.only(np.array(fitted.used))
        within, bands = nested(seen)
        first, lost = ranked(photo, seen)
        shares.append(np.mean(within))
        every += bands
        sys.stdout.write(
            f"{name:24s} within {np.mean(within):4.0%}  median u {np.median(bands):5.1f}  "
            f"closest first {first:4.0%}, lost {lost:.2f}\n"
        )
        sys.stdout.flush()
    told = f"all: within {np.mean(shares):.1%}, median u {np.median(every):.1f}\n"
    sys.stdout.write(told)


if __name__ == "__main__":
    main()
