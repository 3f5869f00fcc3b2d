"""Colour: reading a 24-megapixel photograph, ΔE00 of one against many, and corrections compared.

Run by hand, with one BLAS thread as the program itself has:
``OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_colour.py``.
Times are ratios to a public library in the same run; the table of corrections needs photographs of
a target (``BINDERY_TARGET_PHOTOS``, or ``shared/photos`` beside the checkout) and says so where
there are none.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
from PIL import Image

from bindery_stock.colour import Target, delta_e00, draft_photo, measure, target_report
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.difference import pairwise
from bindery_stock.colour.space import (
    SRGB_TO_XYZ,
    XYZ_TO_SRGB,
    apply_matrix,
    lab_to_xyz,
    xyz_to_lab,
)
from bindery_stock.colour.target import find_patches

SMALL = [(1000, 1000), (1300, 1000), (1300, 1300), (1000, 1300)]
MOST = [(100, 100), (3900, 100), (3900, 5900), (100, 5900)]
CORNERS = (0, 5, 18, 23)
METHODS = (
    ("Cheung 2004", {"terms": 3}),
    ("Cheung 2004", {"terms": 7}),
    ("Finlayson 2015", {"degree": 2}),
    ("Finlayson 2015", {"degree": 3}),
    ("Vandermonde", {"degree": 1}),
    ("Vandermonde", {"degree": 2}),
    ("Vandermonde", {"degree": 3}),
)


def _timed(action: Callable[[], object], times: int = 5) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken) * 1000


def _say(line: str = "") -> None:
    sys.stdout.write(line + "\n")


def _photograph(folder: Path) -> Path:
    """24 megapixels of cloth-like noise, JPEG as a camera writes it."""
    rng = np.random.default_rng(1)
    small = rng.normal((130, 60, 50), 12, (1000, 1500, 3))
    picture = Image.fromarray(np.clip(small, 0, 255).astype(np.uint8)).resize((6000, 4000))
    exif = Image.Exif()
    exif[0x0112] = 6
    picture.save(folder / "camera.jpg", quality=90, exif=exif)
    return folder / "camera.jpg"


def _bare(path: Path) -> None:
    with Image.open(path) as image:
        image.load()


def speed(path: Path) -> None:
    """Decode and read, against Pillow's bare decode."""
    bare = _timed(lambda: _bare(path))
    _say(f"24 MP JPEG, Pillow bare decode           {bare:8.0f} ms   1.00")
    for name, action in (
        ("measure, patch of 300 × 300", lambda: measure(path, SMALL)),
        ("measure, patch of most of it", lambda: measure(path, MOST)),
        ("draft of 1600 pixels to show", lambda: draft_photo(path, 1600)),
    ):
        took = _timed(action)
        _say(f"24 MP JPEG, {name:28s} {took:8.0f} ms   {took / bare:.2f}")


def memory(path: Path) -> None:
    """Peak memory over an idle start, in a process of its own, against the decoded picture."""
    if not sys.platform.startswith("linux"):
        _say("Memory is measured on Linux only.")
        return
    code = (
        "import re, sys; from pathlib import Path; from bindery_stock.colour import measure;"
        "kept = lambda key: int(re.search(key + r':\\s+(\\d+)', "
        "Path('/proc/self/status').read_text())[1]);"
        "before = kept('VmRSS');"
        "measure(Path(sys.argv[1]), eval(sys.argv[2]));"
        "print(kept('VmHWM') - before)"
    )
    for name, patch in (("300 × 300", SMALL), ("most of it", MOST)):
        command = [sys.executable, "-c", code, str(path), repr(patch)]
        peak = int(subprocess.run(command, capture_output=True, check=True).stdout)
        ratio = peak * 1024 / (6000 * 4000 * 3)
        _say(f"Memory above idle / picture, {name:12s}  {ratio:8.2f}")


def differences(science: ModuleType) -> None:
    """ΔE00 of one colour against many, against colour-science and scikit-image."""
    others = {"colour-science": science.difference.delta_E_CIE2000}
    try:
        from skimage.color import deltaE_ciede2000
    except ModuleNotFoundError:
        _say("scikit-image is not installed: ΔE00 is held against colour-science alone.")
    else:
        others["scikit-image"] = deltaE_ciede2000
    rng = np.random.default_rng(2)
    for count in (1_000, 10_000, 100_000):
        many = rng.uniform((0, -60, -60), (100, 60, 60), (count, 3))
        one = many[0]
        rows = np.broadcast_to(one, many.shape)
        ours = _timed(lambda many=many, one=one: delta_e00(one, many), 9)
        for name, theirs in others.items():
            took = _timed(lambda many=many, rows=rows, theirs=theirs: theirs(rows, many), 9)
            most = float(np.abs(delta_e00(one, many) - theirs(rows, many)).max())
            _say(
                f"ΔE00, 1 × {count:7d}, against {name:14s}  {ours:8.2f} ms   {ours / took:.2f}"
                f"   at most {most:.0e} apart"
            )


def _left_out(
    science: ModuleType,
    linear: np.ndarray,
    known: np.ndarray,
    used: np.ndarray,
    name: str,
    extra: dict[str, int],
) -> np.ndarray:
    wanted = apply_matrix(XYZ_TO_SRGB, lab_to_xyz(known))
    predicted = np.full((24, 3), np.nan)
    for i in np.flatnonzero(used):
        keep = used & (np.arange(24) != i)
        fixed = science.colour_correction(
            linear[i], linear[keep], wanted[keep], method=name, **extra
        )
        predicted[i] = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, fixed))
    out = np.full(24, np.nan)
    out[used] = pairwise(predicted[used], known[used])
    return out


def corrections(science: ModuleType, folder: Path) -> None:
    """Left-out ΔE00 of every photograph, ours and colour-science's methods."""
    photos = json.loads((folder / "patches.json").read_text(encoding="utf-8"))
    ours, others = {}, {}
    _say("\nPhotograph                     bare   mean    p95    max  covered  correction")
    for name, mark in photos.items():
        target = Target([tuple(mark["centres"][i]) for i in CORNERS])
        report = target_report(folder / name, target)
        ours[name] = report.left_out
        _say(
            f"{name:28s} {np.nanmean(report.uncorrected):6.2f} {report.mean:6.2f} "
            f"{report.p95:6.2f} {np.nanmax(report.left_out):6.2f} {report.covered:7.0%}  "
            f"{report.model}"
        )
        negative = open_negative(folder / name)
        seen = find_patches(negative, target)
        srgb = apply_matrix(XYZ_TO_SRGB, apply_matrix(negative.encoding.matrix, seen.linear))
        used = np.isfinite(report.left_out)
        for method, extra in METHODS:
            key = f"{method} {next(iter(extra.values()))}"
            found = _left_out(science, srgb, report.known, used, method, extra)
            others.setdefault(key, []).append(found)
    _say("\nAll photographs, patches left out (the same patches for all)   mean    p95")
    pooled = np.concatenate(list(ours.values()))
    _say(f"{'this program':58s} {np.nanmean(pooled):8.2f} {np.nanpercentile(pooled, 95):6.2f}")
    for key, found in others.items():
        pooled = np.concatenate(found)
        _say(
            f"colour-science {key:43s} {np.nanmean(pooled):8.2f} "
            f"{np.nanpercentile(pooled, 95):6.2f}"
        )


def main() -> None:
    """All tables."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour as science
    with tempfile.TemporaryDirectory() as folder:
        path = _photograph(Path(folder))
        speed(path)
        memory(path)
    differences(science)
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    folder = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    if (folder / "patches.json").is_file():
        corrections(science, folder)
    else:
        _say("No photographs of a target: set BINDERY_TARGET_PHOTOS to compare corrections.")


if __name__ == "__main__":
    main()
