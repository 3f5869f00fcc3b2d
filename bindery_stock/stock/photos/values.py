"""A photograph in the archive."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Photo:
    """One original in the archive. ``sha256`` names the file; it is never rewritten."""

    sha256: str
    name: str
    """The file's name when it came in, shown to the user and never used as a path."""
    width: int
    height: int
    """Pixels of the upright photograph."""
    suffix: str
    """``.jpg``, ``.png``, ``.tif`` …"""
