"""How much of published perfect packings is used, beside the quick rules of a public library.

Run by hand: ``python -m tests.benchmarks.bench_layout [SECONDS]``. The library's best of all its
rules and orders and the time they took stand beside our layout in that same time, and in SECONDS
(ten); freely, then by edge-to-edge cuts. Nothing may be turned; the whole sheet is the best.
"""

import sys
import time

from bindery_stock.shape import lay_out, sheet
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from tests.shape.perfect_packings import PerfectPacking, perfect_packings, share_by_quick_rules


def used(packing: PerfectPacking, seconds: float, *, guillotine: bool) -> float:
    """Share of the sheet that our layout covers in that time."""
    parts = [RectangleWanted(w, h, turns=(0.0,)) for w, h in packing.parts]
    board = sheet(packing.width, packing.height)
    return lay_out(board, parts, guillotine=guillotine, seconds=seconds).used


def main() -> None:
    """Measure and write a table."""
    longest = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    write = sys.stdout.write
    for guillotine in (False, True):
        write("by edge-to-edge cuts\n" if guillotine else "freely\n")
        write(f"{'sheet':>6} {'parts':>5} {'rules':>7} {'in s':>6} {'ours':>7} {'long':>7}\n")
        for packing in perfect_packings():
            start = time.perf_counter()
            rules = share_by_quick_rules(packing, guillotine=guillotine)
            took = time.perf_counter() - start
            ours = used(packing, took, guillotine=guillotine)
            long = used(packing, longest, guillotine=guillotine)
            write(f"{packing.name:>6} {len(packing.parts):>5} {rules:>7.2%} {took:>6.2f}")
            write(f" {ours:>7.2%} {long:>7.2%}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
