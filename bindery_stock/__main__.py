"""The way in: ``python -m bindery_stock`` or ``bindery-stock``."""

import sys


def main() -> int:
    """Open the desktop; the exit code says how it ended."""
    return 0


if __name__ == "__main__":
    sys.exit(main())
