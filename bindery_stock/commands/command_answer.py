"""What a command answers, and how it reads a stock folder."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bindery_stock.stock import Stockroom


@dataclass(frozen=True, slots=True)
class CommandAnswer:
    """What a command found or did."""

    words: str
    data: dict[str, Any]
    good: bool = True
    """False where the answer is no: not sound, nothing serves."""


def opened_to_read(folder: Path) -> Stockroom:
    """For reading: that works beside an open window."""
    return Stockroom.open(folder, read_only=True)
