"""A small stocked room in which every deed has something to do, its things known by name."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.part_list import parts_of
from bindery_stock.shape import Outline, Ring
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Colour,
    ColourSought,
    Cutting,
    KeptShade,
    Measure,
    NewAdhesiveLot,
    NewBookSet,
    NewPiece,
    NewRepair,
    NewWanted,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Backing, Form, Kind

RED = (33.0, 33.0, 17.0)
SURVEY = Survey(
    spine_width=33.0,
    rise=5.0,
    joint=6.0,
    board_height=210.0,
    board_width=133.0,
    board_thickness=2.4,
    leaf_height=204.0,
    leaf_width=130.0,
    damage=(Damage(Harm.JOINTS_SPLIT), Damage(Harm.CORNERS_BARE, 4, 12.0)),
    old_spine=True,
)


class BenchClock:
    """It goes on one second each time it is read."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


@dataclass
class SmallStock:
    """The room, and the codes of what lies in it."""

    room: Stockroom
    scratch: Path
    codes: dict[str, str] = field(default_factory=dict)
    parts: dict[str, int] = field(default_factory=dict)

    def piece(self, name: str, **facts: Any) -> None:
        """Put red cloth of 1968, 200 × 300 mm, on the shelf, but for ``facts``."""
        known: dict[str, Any] = {
            "kind": Kind.CLOTH,
            "form": Form.ROLL,
            "outline": rectangle(0, 0, 200, 300),
            "pattern": "rib",
            "colours": (Colour(RED, u=2.0),),
            "colour_family": "red",
            "source_date": "1968",
            "place": "tin 3",
        }
        self.codes[name] = self.room.pieces.shelve(NewPiece(**(known | facts))).born[0]

    def lot(self, name: str, **facts: Any) -> None:
        """Put paste cooked yesterday on the shelf, but for ``facts``."""
        known: dict[str, Any] = {
            "kind": "wheat-starch-paste",
            "name": name,
            "made": date(2026, 3, 1),
            "ph": 7.0,
            "unit": Measure.GRAM,
            "held": 200.0,
            "left": 150.0,
        }
        self.codes[name] = self.room.lots.enter(NewAdhesiveLot(**(known | facts))).born[0]

    def volume(self, name: str, *, planned: bool = True, **facts: Any) -> None:
        """Survey a volume in brown cloth of 1968, but for ``facts``, and plan its parts."""
        known: dict[str, Any] = {
            "name": name,
            "survey": SURVEY,
            "book_set": self.codes["set"],
            "pattern": "rib",
            "colour_family": "brown",
            "dated": "1968",
            "targets": (ColourSought(BookSpot.BOARDS, Colour(RED, u=2.0)),),
        }
        room = self.room
        code = room.books.add_repair(NewRepair(**(known | facts))).born[0]
        self.codes[name] = code
        if planned:
            allowances = allowances_for(room.books.overrides(volume=code), room.rules)
            room.books.plan_parts(code, parts_of(room.books.repair(code), allowances, room.rules))

    def part(self, name: str) -> BookPart:
        """The part of this name as it stands."""
        return self.room.books.part(self.parts[name])


def ring(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


def rectangle(left: float, low: float, right: float, high: float) -> Outline:
    return Outline(ring(left, low, right, high))


def laid(part: BookPart, code: str, left: float = 5.0) -> PlannedPlacement:
    """The part laid upright near the left edge of a piece."""
    corners = ring(left, 5.0, left + part.width, 5.0 + part.height)
    return PlannedPlacement(part=part.id, code=code, corners=corners, shade=KeptShade(1.5))


def cutting_of(part: BookPart, code: str) -> Cutting:
    """The cut that makes the part of a piece in which it lies so."""
    return Cutting(
        code=code,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=laid(part, code).corners,
        offcuts=(rectangle(150, 0, 200, 300),),
    )


@contextmanager
def small_stock(folder: Path) -> Iterator[SmallStock]:
    """Cloth free, reserved and dangerous; lots fresh and old; volumes surveyed and half done."""
    with Stockroom.create(folder / "stock", clock=BenchClock()) as room:
        stock = SmallStock(room, folder)
        stock.piece("clean")
        stock.piece("kept loose", form=Form.SCRAP)
        stock.piece("kept for a part", form=Form.SCRAP)
        stock.piece("cut for a part", form=Form.SCRAP)
        stock.piece("green", colour_family="vivid green", source_date="1858", colours=())
        stock.piece("unfit", backing=Backing.PYROXYLIN)
        stock.lot("fresh")
        stock.lot("sealed", kind="pva", made=None, bought=date(2026, 2, 1))
        stock.lot("old", made=date(2026, 1, 2))
        stock.codes["set"] = room.books.add_set(NewBookSet(title="Hollin Vale")).born[0]
        stock.volume("vol. 1", volume=1)
        stock.volume("vol. 2", volume=2, planned=False)
        stock.volume("green vol.", colour_family="vivid green", dated="1858", targets=())
        for role, part in _first_of_each(room, stock.codes["vol. 1"]).items():
            stock.parts[role] = part
        for role, part in _first_of_each(room, stock.codes["green vol."]).items():
            stock.parts[f"green {role}"] = part
        room.pieces.reserve(stock.codes["kept loose"], "a label", width=40, height=40)
        held, cut, out = (stock.parts[f"corner-patch {n}"] for n in (1, 2, 3))
        room.books.accept_plan([laid(room.books.part(held), stock.codes["kept for a part"])])
        room.books.cut_part(cut, cutting_of(room.books.part(cut), stock.codes["cut for a part"]))
        room.books.leave_out([out])
        stock.codes["want"] = room.wants.add(NewWanted(what="red rib")).born[0]
        yield stock


def _first_of_each(room: Stockroom, volume: str) -> dict[str, int]:
    return {f"{part.role} {part.number}": part.id for part in room.books.parts(volume=volume)}
