"""What a deed is: one action of the binder, one step of the ledger, and how it meets the gate.

A deed is a function ``deed(room, …) -> Changes``: plain values in, one ``with step_of(…)`` around
everything it changes. It is entered in ``DEEDS`` by ``@deed``, so that tests can walk them all and
find the gate's answer for each.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, ParamSpec, TypeVar

Arguments = ParamSpec("Arguments")
Told = TypeVar("Told")
"""``Changes``; but for going back to a copy, which is no step."""


class Bearing(StrEnum):
    """How a deed bears on the stock, and so what the gate may say to it."""

    PLANS = "plans"
    """Cloth or adhesive is meant for something: may be stopped."""
    CONSUMES = "consumes"
    """Cloth is cut, adhesive taken, something wetted: may be stopped."""
    RECORDS = "records"
    """It has happened already: kept with the ruling, never refused."""
    KEEPS = "keeps"
    """Facts and places, about which the gate has nothing to say."""


@dataclass(frozen=True, slots=True)
class DeedEntry:
    """One deed of the house."""

    name: str
    bearing: Bearing
    do: Callable[..., Any]


DEEDS: dict[str, DeedEntry] = {}
"""Every deed by the name of its function."""


def deed(
    bearing: Bearing,
) -> Callable[[Callable[Arguments, Told]], Callable[Arguments, Told]]:
    """Enter a function among the deeds. Raises ``ValueError`` for a name that is taken."""

    def enter(function: Callable[Arguments, Told]) -> Callable[Arguments, Told]:
        name = function.__name__
        if name in DEEDS:
            raise ValueError(f"there are two deeds called {name}")
        DEEDS[name] = DeedEntry(name, bearing, function)
        return function

    return enter
