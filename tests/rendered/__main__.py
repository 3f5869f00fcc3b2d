"""How far outlines are to be trusted, kind by kind: ``python -m tests.rendered [KIND …]``.

``--each 20`` photographs of each kind (about three seconds each), ``--plain 100`` plain ones. An
outline is right within 0.3 mm outside, 1 % of area and 0.3 mm by its perimeter.
"""

import argparse
import statistics
import sys

from tests.rendered import kinds
from tests.rendered.judged import judged


def main() -> None:
    """Print the table."""
    wish = argparse.ArgumentParser(prog="python -m tests.rendered", description=__doc__)
    wish.add_argument("kinds", nargs="*", default=["plain", *kinds.HARD])
    wish.add_argument("--each", type=int, default=20)
    wish.add_argument("--plain", type=int, default=100)
    given = wish.parse_args()
    write = sys.stdout.write
    write(f"{'kind':20} of  found  right  good  wrongly | area % least median most | mm outside\n")
    for kind in given.kinds:
        every = [
            judged(kind, seed) for seed in range(given.plain if kind == "plain" else given.each)
        ]
        found = [one for one in every if one.found]
        areas = [100 * one.area for one in found] or [0.0]
        out = [one.outside for one in found] or [0.0]
        right, good = sum(one.right for one in found), sum(one.good for one in found)
        wrongly = sum(one.good and not one.right for one in found)
        write(
            f"{kind:20} {len(every):3} {len(found):5} {right:6} {good:5} {wrongly:8} | "
            f"{min(areas):12.1f} {statistics.median(areas):6.2f} {max(areas):5.1f} | "
            f"{statistics.median(out):.2f} to {max(out):.2f}\n"
        )
        sys.stdout.flush()


if __name__ == "__main__":
    main()
