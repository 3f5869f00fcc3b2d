"""How much of published perfect packings is used, beside the quick rules of a public library.

Run by hand: ``python -m tests.benchmarks.bench_layout [SECONDS] [SHEET …]``; all 35 sheets where
none is named. The library's best of all its rules and orders and the time they took stand beside
our layout in that same time, and in SECONDS (ten) for sheets of up to 29 parts; for all with
``BINDERY_LONG_LAYOUTS=1``. Freely, then by edge-to-edge cuts. Nothing may be turned; the whole
sheet is the best. Seconds are those of the processor, of this process alone.
"""

import os
import sys
import time
from unittest.mock import patch

from bindery_stock.shape import lay_out, sheet
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from tests.shape.perfect_packings import PerfectPacking, perfect_packings, share_by_quick_rules

_FEW = 29


def used(packing: PerfectPacking, seconds: float, *, guillotine: bool) -> float:
    """Share of the sheet that our layout covers in that time."""
    parts = [RectangleWanted(w, h, turns=(0.0,)) for w, h in packing.parts]
    board = sheet(packing.width, packing.height)
    with patch("bindery_stock.shape.layout.monotonic", time.process_time):
        return lay_out(board, parts, guillotine=guillotine, seconds=seconds).used


def main() -> None:
    """Measure and write a table."""
    longest = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    named = sys.argv[2:]
    all_long = os.environ.get("BINDERY_LONG_LAYOUTS") == "1"
    lay_out(sheet(9, 9), [RectangleWanted(5, 5)] * 2, steps=50)  # libraries are read in beforehand
    write = sys.stdout.write
    for guillotine in (False, True):
        below = 0
        write("by edge-to-edge cuts\n" if guillotine else "freely\n")
        write(f"{'sheet':>6} {'parts':>5} {'rules':>7} {'in s':>6} {'ours':>7} {'long':>7}\n")
        for packing in perfect_packings():
            if named and packing.name not in named:
                continue
            start = time.process_time()
            rules = share_by_quick_rules(packing, guillotine=guillotine)
            took = time.process_time() - start
            ours = used(packing, took, guillotine=guillotine)
            below += ours < rules - 1e-9
            write(f"{packing.name:>6} {len(packing.parts):>5} {rules:>7.2%} {took:>6.2f}")
            write(f" {ours:>7.2%}")
            if all_long or len(packing.parts) <= _FEW:
                write(f" {used(packing, longest, guillotine=guillotine):>7.2%}")
            write("\n")
            sys.stdout.flush()
        write(f"below the best quick rule in the same time: {below}\n")


if __name__ == "__main__":
    main()
