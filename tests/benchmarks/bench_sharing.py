"""How well, and how fast, a hoard is shared out over a set.

Run on demand: ``python -m tests.benchmarks.bench_sharing [volumes pieces seconds]``. The campaigns
are seeded and made by ``campaigns.py``. For each: parts served and the whole sum, for shelf order,
closest-first, shown-first, plain regret, regret order, the first plan, the search, and the bound.
Seconds are those the process itself takes, so that what else the machine
does counts little. They are also told as a ratio to shapely's own union of the same outlines'
buffers, run beside it, so that runs on different machines can be compared.
"""

import sys
import time

import numpy as np
import shapely

from bindery_stock.matching import Part, Piece, share_out
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.orders import (
    closest_first,
    plain_regret,
    regret_order,
    shelf_order,
    shown_first,
)
from tests.benchmarks.campaigns import hoard, volumes

SCARCE, PLENTY = 0.8, 1.4
ORDERS = {
    "shelf order": shelf_order,
    "closest-first": closest_first,
    "shown-first": shown_first,
    "plain regret": plain_regret,
    "regret order": regret_order,
}


def yardstick(pieces: list[Piece]) -> float:
    """Seconds shapely takes to draw every outline in by 1 mm, one hundred times."""
    outlines = np.array([piece.outline.polygon for piece in pieces], dtype=object)
    start = time.process_time()
    for _ in range(100):
        shapely.buffer(outlines, -1.0)
    return time.process_time() - start


def compare(name: str, parts: list[Part], pieces: list[Piece], seconds: float) -> None:
    """Print one campaign."""
    out = sys.stdout.write
    unit = yardstick(pieces)
    out(f"{name}: {len(parts)} parts, {len(pieces)} pieces\n")
    for title, order in ORDERS.items():
        start = time.process_time()
        sharing = order(Campaign(parts, pieces, ()))
        took = time.process_time() - start
        served = len(parts) - sharing.where.count(-1)
        out(f"  {title:14}{served:5} served {sharing.objective():9.1f}  {took:6.1f} s")
        out(f"  {took / unit:7.1f} × shapely\n")
    start = time.process_time()
    plan = share_out(parts, pieces, seconds=0)
    took = time.process_time() - start
    out(f"  {'first plan':14}{len(plan.placed):5} served {plan.objective:9.1f}  {took:6.1f} s")
    out(f"  {took / unit:7.1f} × shapely, bound {plan.bound:.1f}, gap {plan.gap:.2%}\n")
    plan = share_out(parts, pieces, seconds=seconds, now=time.process_time)
    out(f"  {'search':14}{len(plan.placed):5} served {plan.objective:9.1f}  {seconds:6.1f} s\n")
    out(f"  {'bound':14}{'':12} {plan.bound:9.1f}  gap {plan.gap:.2%}, to buy {plan.to_buy:.0f}\n")
    sys.stdout.flush()


def main() -> None:
    """Print the campaigns asked for, or the small ones."""
    count, pieces, seconds = (int(text) for text in (sys.argv[1:4] or ("24", "120", "30")))
    for seed in (1, 2):
        for word, plenty in (("scarce", SCARCE), ("plenty", PLENTY)):
            name = f"{count} volumes, {word}, seed {seed}"
            compare(name, volumes(count, seed), hoard(pieces, seed, plenty=plenty), seconds)


if __name__ == "__main__":
    main()
