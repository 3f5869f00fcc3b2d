"""What a start costs: processor time of fresh interpreters, as a ratio to ``import numpy``.

``python tests/benchmarks/bench_start.py [stock folder]`` prints seconds and ratios; with a stock
folder also what a match in it costs from the command line.
"""

import os
import statistics
import subprocess
import sys

RUNS = 5


def processor_seconds(*given: str) -> float:
    """The middle of several runs of this interpreter, its own start included."""
    took = []
    for _ in range(RUNS):
        before = os.times()
        subprocess.run([sys.executable, *given], stdout=subprocess.DEVNULL, check=True)
        after = os.times()
        took.append(
            after.children_user
            + after.children_system
            - before.children_user
            - before.children_system
        )
    return statistics.median(took)


def main(folder: str | None) -> None:
    """Measure and print."""
    package = "import bindery_stock.{}"
    program = ["-m", "bindery_stock"]
    wanted = {
        "import numpy": ["-c", "import numpy"],
        "--version": [*program, "--version"],
        "the package": ["-c", "import bindery_stock"],
        **{
            room: ["-c", package.format(room)]
            for room in ("colour", "shape", "trade", "matching", "stock", "commands.answers")
        },
    }
    if folder is not None:
        wanted["a match"] = [*program, "match", folder, "--size", "58x228", "--lab", "38,45,-3"]
    reference = processor_seconds(*wanted["import numpy"])
    for what, given in wanted.items():
        took = processor_seconds(*given)
        sys.stdout.write(f"{what:<20}{took:8.2f} s {took / reference:8.2f} × numpy\n")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)
