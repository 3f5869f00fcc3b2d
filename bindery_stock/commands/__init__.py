"""The command line for scripts. Opens no window and loads no Qt."""

from collections.abc import Sequence

from bindery_stock.commands.names import COMMANDS, NAMES

__all__ = ["COMMANDS", "NAMES", "run"]


def run(arguments: Sequence[str]) -> int:
    """Run one command; returns the exit code (see ``parser.EXIT_CODES``).

    What commands are made of is loaded only here: ``--version`` must not wait for it.
    """
    from bindery_stock.commands.outcome import run_command  # noqa: PLC0415 - at first use

    return run_command(arguments)
