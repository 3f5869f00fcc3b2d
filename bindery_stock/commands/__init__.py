"""The command line for scripts. Opens no window and loads no Qt."""

from bindery_stock.commands.parser import NAMES
from bindery_stock.commands.run import run

__all__ = ["NAMES", "run"]
