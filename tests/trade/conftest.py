"""Plain lots and pieces for the tests of the trade, as any room might hold them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import pytest

from bindery_stock.trade import Evidence, LabResult, Property
from bindery_stock.trade.conditions import Fact
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind


@dataclass(frozen=True, kw_only=True)
class Jar:
    kind: str = "wheat-starch-paste"
    bought: date | None = None
    opened: date | None = None
    made: date | None = None
    expires: date | None = None
    storage: str = "room"
    frozen_once: bool = False
    ph: float | None = None
    received: date | None = None
    mixed_from: tuple["Jar", ...] = ()
    properties: tuple[Property, ...] = ()


@dataclass(frozen=True)
class Vouched:
    is_measured: bool = True


@dataclass(frozen=True)
class Reading:
    lab: tuple[float, float, float]
    read_by: Vouched = Vouched()


@dataclass(frozen=True, kw_only=True)
class Scrap:
    kind: Kind = Kind.CLOTH
    backing: Backing = Backing.UNKNOWN
    fibre: Fibre = Fibre.UNKNOWN
    source_date: str = ""
    source: str = "an invented novel, boards only"
    colour_family: str = ""
    colours: tuple[Reading, ...] = ()
    lab_results: tuple[LabResult, ...] = ()
    properties: tuple[Property, ...] = ()


@pytest.fixture(scope="session")
def jar() -> type[Jar]:
    return Jar


@pytest.fixture(scope="session")
def scrap() -> type[Scrap]:
    return Scrap


@pytest.fixture(scope="session")
def reading() -> type[Reading]:
    return Reading


@pytest.fixture(scope="session")
def tested() -> Callable[..., tuple[Property, ...]]:
    """Properties tested at the bench: ``tested(ph=7.5, alkaline_reserve=2)``."""

    def properties(**values: Fact) -> tuple[Property, ...]:
        return tuple(
            Property(name=name, value=value, evidence=Evidence.BENCH, on=date(2025, 5, 1))
            for name, value in values.items()
        )

    return properties
