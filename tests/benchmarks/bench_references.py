"""Looking for a target: time and memory beyond a decode, on 24 megapixels.

Run by hand, with one BLAS thread as the program itself has:
``OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_references.py``,
with the photographs of ``BINDERY_TARGET_PHOTOS`` (or ``shared/photos`` beside the checkout). Times
are of the processor, as ratios to Pillow's bare decode in the same run; memory is the peak over
that of the decoded photograph, as a share of it, in a process of its own (Linux)
that holds the libraries already.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.found_target import target_in

_MEMORY = (
    "import re, sys; from pathlib import Path;"
    "import scipy.ndimage, scipy.spatial;"
    "from bindery_stock.colour.decode import open_negative;"
    "from bindery_stock.colour.found_target import target_in;"
    "kept = lambda key: int(re.search(key + r':\\s+(\\d+)',"
    "Path('/proc/self/status').read_text())[1]);"
    "photo = open_negative(Path(sys.argv[1]));"
    "before = kept('VmHWM'); target_in(photo); print(kept('VmHWM') - before)"
)


def _timed(action: Callable[[], object], times: int = 3) -> float:
    taken = []
    for _ in range(times):
        start = time.process_time()
        action()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def _bare(path: Path) -> None:
    with Image.open(path) as image:
        image.load()


def _photographs(folder: Path, photos: Path) -> dict[str, Path]:
    """Cloth-like noise, with nothing on it and with a real target a sixth of its width."""
    rng = np.random.default_rng(1)
    small = rng.normal((130, 60, 50), 12, (1000, 1500, 3))
    cloth = Image.fromarray(np.clip(small, 0, 255).astype(np.uint8)).resize((6000, 4000))
    cloth.save(folder / "nothing.jpg", quality=90)
    with Image.open(photos / "col_1.jpg") as real:
        target = real.convert("RGB").crop((185, 118, 932, 640)).resize((1000, 699))
    cloth.paste(target, (3700, 2500))
    cloth.save(folder / "sixth.jpg", quality=90)
    return {"a sixth of the width": folder / "sixth.jpg", "no target": folder / "nothing.jpg"}


def main() -> None:
    """Both tables."""
    beside = Path(__file__).resolve().parents[2].parent / "shared" / "photos"
    photos = Path(os.environ.get("BINDERY_TARGET_PHOTOS", beside))
    if not (photos / "col_1.jpg").is_file():
        sys.stdout.write("No photographs of a target: set BINDERY_TARGET_PHOTOS.\n")
        return
    with tempfile.TemporaryDirectory() as kept:
        for name, path in _photographs(Path(kept), photos).items():
            bare = _timed(lambda path=path: _bare(path))
            photo = open_negative(path)
            took = _timed(lambda photo=photo: target_in(photo))
            found = target_in(photo)
            command = [sys.executable, "-c", _MEMORY, str(path)]
            peak = int(subprocess.run(command, capture_output=True, check=True).stdout)
            sys.stdout.write(
                f"{name:24s} found {found is not None!s:5s} decode {bare * 1000:5.0f} ms, "
                f"search {took / bare:5.2f} decodes, memory {peak * 1024 / 72e6:.2f} pictures\n"
            )


if __name__ == "__main__":
    main()
