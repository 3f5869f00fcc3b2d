"""Runs a command and tells its outcome, in words or as JSON."""

import json
import os
import sys
from collections.abc import Sequence
from typing import Any

from bindery_stock.commands.answers import ANSWERS
from bindery_stock.commands.parser import parser
from bindery_stock.errors import BinderyError

EXIT_REFUSED = 3
EXIT_INTERRUPTED = 130


def run_command(arguments: Sequence[str]) -> int:
    """Run one command; returns the exit code (see ``parser.EXIT_CODES``)."""
    asked = parser().parse_args(arguments)
    try:
        answer = ANSWERS[asked.command](asked)
    except BinderyError as error:
        _end_progress()
        if asked.json:
            _write(_json({"error": {"kind": type(error).__name__, "sentence": str(error)}}))
        sys.stderr.write(f"bindery-stock: {error}\n")
        return EXIT_REFUSED
    except KeyboardInterrupt:
        _end_progress()
        sys.stderr.write("bindery-stock: interrupted\n")
        return EXIT_INTERRUPTED
    _end_progress()
    try:
        _write(_json(answer.data) if asked.json else answer.words)
    except OSError as error:
        # What is still held back would fail again, aloud, when the program ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.stderr.write(f"bindery-stock: the answer cannot be written: {error.strerror}\n")
        return EXIT_REFUSED
    return 0 if answer.good else 1


def _write(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False)


def _end_progress() -> None:
    if sys.stderr.isatty():
        sys.stderr.write("\r\x1b[K")
