"""Where the program finds what was shipped with it, from a checkout or an installed wheel."""

from pathlib import Path

_PACKAGE = Path(__file__).parent


def _shipped(installed: str, checkout: str) -> Path:
    inside = _PACKAGE / installed
    return inside if inside.exists() else _PACKAGE.parent / checkout


def resources() -> Path:
    """The folder of rules, icons and help pages."""
    return _shipped("_resources", "resources")


def sample() -> Path:
    """The sample stockroom as shipped. Never open it itself: work on a copy."""
    return _shipped("_sample", "sample_db/stockroom")
