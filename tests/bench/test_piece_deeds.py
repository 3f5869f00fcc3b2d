"""The deeds about pieces: each one step that can be taken back, each asked of the rules first."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import event
from sqlalchemy.engine import Engine

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.part_list import as_matched, parts_of, use_of
from bindery_stock.bench.colour_room.side_by_side import Pair, compare
from bindery_stock.bench.match.candidates import Judge, MatchAnswer, answered, hoard_of, ruling_line
from bindery_stock.bench.match.confirm import confirm
from bindery_stock.bench.match.cut import cut, cut_part
from bindery_stock.bench.match.reserve import release, reserve
from bindery_stock.bench.match.reserve_part import reserve_part
from bindery_stock.bench.photo_table.marks import Facts, KnownLength, Marks, TypedColour
from bindery_stock.bench.photo_table.shelve import shelve
from bindery_stock.bench.shelf.correct import correct
from bindery_stock.bench.shelf.cut_length import cut_length
from bindery_stock.bench.shelf.discard import discard
from bindery_stock.bench.shelf.move import move
from bindery_stock.errors import Barred, NotFound, Stopped
from bindery_stock.matching import Part
from bindery_stock.shape import Outline, Ring
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Changes,
    Colour,
    ColourSought,
    Cutting,
    KeptShade,
    NewPiece,
    NewRepair,
    PartState,
    PieceState,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Damage, Evidence, Harm, Property, Survey, Use
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Backing, Form, Kind
from tests.desktop.charts import CLOTH_AT, OTHER_AT, photograph_target

GREEN = (40.0, -38.0, 28.0)
RED = (33.0, 33.0, 17.0)
REASON = "practice piece: it never leaves this bench"
STRIP: Ring = ((10.0, 10.0), (60.0, 10.0), (60.0, 240.0), (10.0, 240.0))


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as made:
        yield made


def box(width: float, height: float) -> Outline:
    return Outline(((0, 0), (width, 0), (width, height), (0, height)))


def scrap(room: Stockroom, **facts: Any) -> str:
    """Put red rib cloth of 200 × 300 mm on the shelf, but for ``facts``."""
    known: dict[str, Any] = {
        "kind": Kind.CLOTH,
        "outline": box(200, 300),
        "pattern": "rib",
        "colours": (Colour(RED, u=2.0),),
        "place": "Tin 3",
    }
    return room.pieces.shelve(NewPiece(**(known | facts))).born[0]


def green_of_1858(room: Stockroom, **facts: Any) -> str:
    """Cloth of a vivid green, from a case of 1858."""
    return scrap(room, colours=(Colour(GREEN, u=2.0),), source_date="1858", **facts)


def pyroxylin(room: Stockroom, **facts: Any) -> str:
    """Cloth that is not for conservation, whatever the use."""
    return scrap(room, backing=Backing.PYROXYLIN, **facts)


def volume(room: Stockroom) -> str:
    survey = Survey(
        spine_width=33.0,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        board_thickness=2.4,
        leaf_height=204.0,
        leaf_width=130.0,
        damage=(Damage(Harm.JOINTS_SPLIT),),
        old_spine=True,
    )
    new = NewRepair(
        name="Hollin Vale vol. 4",
        survey=survey,
        pattern="rib",
        targets=(ColourSought(BookSpot.BOARDS, Colour(RED, u=2.0)),),
    )
    code = room.books.add_repair(new).born[0]
    allowances = allowances_for(room.books.overrides(volume=code), room.rules)
    room.books.plan_parts(code, parts_of(room.books.repair(code), allowances, room.rules))
    return code


def strip_of(room: Stockroom) -> BookPart:
    """The reback strip of a volume that has just been surveyed."""
    code = volume(room)
    return next(part for part in room.books.parts(volume=code) if part.role.startswith("reback"))


def laid(part: BookPart, piece: str, left: float = 5.0) -> PlannedPlacement:
    right, top = left + part.width, 5.0 + part.height
    corners = ((left, 5.0), (right, 5.0), (right, top), (left, top))
    return PlannedPlacement(part=part.id, code=piece, corners=corners, shade=KeptShade(1.5))


def cutting(piece: str, purpose: str = "a strip") -> Cutting:
    rest = Outline(((60, 0), (200, 0), (200, 300), (60, 300)))
    return Cutting(
        code=piece, purpose=purpose, width=50, height=230, corners=STRIP, offcuts=(rest,)
    )


def stood(room: Stockroom) -> dict[str, list[dict[str, Any]]]:
    """Everything in the stockroom but its ledger and the codes given out."""
    tables = room.exchange.whole().tables
    kept = {"step", "movement", "code_series", "photo", "setting"}
    return {name: rows for name, rows in tables.items() if name not in kept}


def one_step(room: Stockroom, deed: Callable[[], Changes]) -> Changes:
    """Do it: one step, which undo takes back whole and redo does again."""
    before, count = stood(room), len(room.ledger.steps())
    changes = deed()
    assert len(room.ledger.steps()) == count + 1
    assert changes.undo is not None
    assert changes.undo.number == changes.step.number
    after = stood(room)
    assert after != before
    room.ledger.undo()
    assert stood(room) == before
    room.ledger.redo()
    assert stood(room) == after
    return changes


# One step each


def test_a_marked_photograph_is_shelved_in_one_step_and_photographed_anew_in_another(
    room: Stockroom, tmp_path: Path
) -> None:
    file = tmp_path / "scrap.png"
    Image.new("RGB", (400, 400), (120, 40, 40)).save(file)
    marks = Marks(
        scale=KnownLength(((0.0, 0.0), (100.0, 0.0)), 50.0),
        outline=((50.0, 50.0), (350.0, 50.0), (350.0, 350.0), (50.0, 350.0)),
        typed=(TypedColour(lab=RED, u=1.0, method="typed"),),
    )

    def shelved(anew: str = "") -> Changes:
        return shelve(
            room,
            source=file,
            name="scrap.png",
            size=(400, 400),
            marks=marks,
            facts=Facts(place="Tin 9" if anew else "Tin 3"),
            readings={},
            anew=anew,
        )

    (code,) = one_step(room, shelved).born
    assert room.pieces.get(code).outline.width == pytest.approx(150.0)
    changes = one_step(room, lambda: shelved(code))
    assert changes.step.name == f"Photographed {code} anew"
    assert room.pieces.get(code).place == "Tin 9"


def test_facts_put_right_move_and_discard_are_one_step_each(room: Stockroom) -> None:
    code = scrap(room)
    fields = {"source": "a broken case", "colour_family": "red"}
    one_step(room, lambda: correct(room, piece=code, fields=fields))
    assert room.pieces.get(code).colour_family == "red"
    one_step(room, lambda: move(room, pieces=[code], place="Plan chest"))
    one_step(room, lambda: discard(room, piece=code, why="lost"))
    assert room.pieces.get(code).state is PieceState.DISCARDED


def test_what_is_so_already_is_told_and_makes_no_step(room: Stockroom) -> None:
    code = scrap(room)
    count = len(room.ledger.steps())
    moved = move(room, pieces=[code], place="Tin 3")
    corrected = correct(room, piece=code, fields={"place": "Tin 3"})
    assert moved.nothing
    assert moved.step.name == "Everything chosen lies in Tin 3 already."
    assert corrected.nothing
    assert len(room.ledger.steps()) == count


def test_a_piece_is_reserved_released_and_cut_in_one_step_each(room: Stockroom) -> None:
    code = scrap(room)

    def kept() -> Changes:
        return reserve(room, piece=code, purpose="a strip", width=50, height=230, corners=STRIP)

    one_step(room, kept)
    one_step(room, lambda: release(room, piece=code, purpose="a strip"))
    kept()
    changes = one_step(room, lambda: cut(room, cutting=cutting(code)))
    assert len(changes.born) == 1
    assert room.pieces.reservations() == []


def test_a_length_off_a_roll_is_one_step(room: Stockroom) -> None:
    code = scrap(room, form=Form.ROLL)
    changes = one_step(
        room, lambda: cut_length(room, piece=code, length=100, purpose="linings", keep=True)
    )
    assert room.pieces.get(code).outline.height == pytest.approx(200.0)
    assert room.pieces.get(changes.born[0]).outline.height == pytest.approx(100.0)


def test_cloth_for_a_part_of_a_volume_is_reserved_and_cut_in_one_step_each(
    room: Stockroom,
) -> None:
    code, part = scrap(room), strip_of(room)
    placement = laid(part, code)
    one_step(room, lambda: reserve_part(room, placement=placement))
    assert room.books.part(part.id).state is PartState.RESERVED
    wanted = Cutting(
        code=code,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=placement.corners,
        offcuts=(Outline(((150, 0), (200, 0), (200, 300), (150, 300))),),
    )
    one_step(room, lambda: cut_part(room, part=part.id, cutting=wanted))
    assert room.books.part(part.id).state is PartState.CUT
    assert room.rulings.listed() == []


def test_a_confirmed_match_is_one_step(room: Stockroom, tmp_path: Path) -> None:
    code = scrap(room)
    photo = photograph_target(tmp_path / "both.png")
    pair = Pair(photo, "both.png", (560, 480), (CLOTH_AT,), (OTHER_AT,))
    found = compare(pair)

    def kept() -> Changes:
        return confirm(
            room, piece=code, pair=pair, comparison=found, purpose="vol. 4", light="window"
        )

    one_step(room, kept)
    assert len(room.pieces.confirmations(code)) == 1


# A fixed number of statements


def statements(deed: Callable[[], object]) -> int:
    count = 0

    def heard(*_args: object) -> None:
        nonlocal count
        count += 1

    event.listen(Engine, "before_cursor_execute", heard)
    try:
        deed()
    finally:
        event.remove(Engine, "before_cursor_execute", heard)
    return count


def test_many_pieces_are_moved_by_as_many_statements_as_two(room: Stockroom) -> None:
    codes = [scrap(room) for _ in range(40)]
    two = statements(lambda: move(room, pieces=codes[:2], place="Tin 1"))
    forty = statements(lambda: move(room, pieces=codes, place="Tin 2"))
    assert forty == two
    assert {room.pieces.get(code).place for code in codes} == {"Tin 2"}


def test_a_code_that_is_none_among_many_moves_nothing(room: Stockroom) -> None:
    code = scrap(room)
    with pytest.raises(NotFound, match="C-9999"):
        move(room, pieces=[code, "C-9999"], place="Tin 1")
    assert room.pieces.get(code).place == "Tin 3"


# The gate


def refused(room: Stockroom, deed: Callable[[], Changes], error: type[Exception]) -> str:
    """Try it: it is refused and nothing has changed. Returns what is said."""
    before, steps = stood(room), len(room.ledger.steps())
    with pytest.raises(error) as told:
        deed()
    assert stood(room) == before
    assert len(room.ledger.steps()) == steps
    return str(told.value)


def knives(room: Stockroom, code: str, reason: str) -> dict[str, Callable[[], Changes]]:
    """Every deed that means a knife for a piece, or puts one to it."""
    part = strip_of(room)
    placement = laid(part, code)
    wanted = Cutting(
        code=code,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=placement.corners,
        offcuts=(),
    )
    return {
        "reserve": lambda: reserve(
            room, piece=code, purpose="a strip", width=50, height=230, reason=reason
        ),
        "reserve_part": lambda: reserve_part(room, placement=placement, reason=reason),
        "cut": lambda: cut(room, cutting=cutting(code), reason=reason),
        "cut_part": lambda: cut_part(room, part=part.id, cutting=wanted, reason=reason),
        "cut_length": lambda: cut_length(
            room, piece=code, length=100, purpose="linings", reason=reason
        ),
    }


@pytest.mark.parametrize("deed", ["reserve", "reserve_part", "cut", "cut_part", "cut_length"])
def test_green_cloth_of_1858_is_neither_cut_nor_reserved_whatever_reason_is_written(
    room: Stockroom, deed: str
) -> None:
    # Vivid green of 1830 to 1870: the published warnings that rule R32 names as its sources.
    code = green_of_1858(room, form=Form.ROLL)
    said = refused(room, knives(room, code, REASON)[deed], Stopped)
    assert f"{code}: not to be cut: arsenical green" in said
    assert "What would change this:" in said
    assert room.rulings.listed() == []


@pytest.mark.parametrize("deed", ["reserve", "reserve_part", "cut", "cut_part", "cut_length"])
def test_cloth_not_for_conservation_needs_a_reason_which_is_kept_with_the_ruling(
    room: Stockroom, deed: str
) -> None:
    # Pyroxylin breaks down: the published sources of rule R28.
    code = pyroxylin(room, form=Form.ROLL)
    said = refused(room, knives(room, code, "  ")[deed], Barred)
    assert "not for conservation" in said
    assert "Going on needs a written reason." in said


@pytest.mark.parametrize("deed", ["reserve", "reserve_part", "cut", "cut_part", "cut_length"])
def test_with_a_written_reason_it_is_done_in_one_step_that_keeps_the_reason(
    room: Stockroom, deed: str
) -> None:
    code = pyroxylin(room, form=Form.ROLL)
    changes = one_step(room, knives(room, code, REASON)[deed])
    (kept,) = room.rulings.listed()
    assert (kept.deed, kept.piece, kept.reason) == (deed, code, REASON)
    assert kept.leave is Leave.NEEDS_REASON
    assert kept.rules == ("R28",)
    assert code in changes.step.name
    assert REASON not in changes.step.name
    for_volume = "V-0001" if deed.endswith("part") else None
    assert kept.volume == for_volume


def test_a_loose_cut_that_fulfils_a_part_of_a_volume_is_judged_for_that_part(
    room: Stockroom,
) -> None:
    code, part = pyroxylin(room), strip_of(room)
    placement = laid(part, code)
    reserve_part(room, placement=placement, reason=REASON)
    wanted = Cutting(
        code=code,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=placement.corners,
        offcuts=(),
    )
    cut(room, cutting=wanted, reason="the owner asked for it")
    assert room.books.part(part.id).state is PartState.CUT
    last = room.rulings.listed()[-1]
    assert (last.deed, last.volume, last.reason) == ("cut", "V-0001", "the owner asked for it")


def test_cloth_unfit_for_one_use_needs_a_reason_for_that_use_alone(room: Stockroom) -> None:
    # Rust specks in what lies on the spine: common practice, no source; rule R23.
    specks = Property(name="rust_specks", value=True, evidence=Evidence.LOOK)
    code = scrap(room, properties=(specks,))

    def kept(purpose: str, use: Use | None) -> Changes:
        return reserve(room, piece=code, purpose=purpose, width=50, height=50, use=use)

    refused(room, lambda: kept("a lining", Use.SPINE_LINING), Barred)
    kept("a corner", Use.CLOTH_TO_BOARD)
    kept("not said", None)
    assert [one.purpose for one in room.pieces.reservations(code)] == ["a corner", "not said"]


# The same answer beforehand


def asked(room: Stockroom, part: Part, use: Use | None = None) -> MatchAnswer:
    pieces = {piece.code: piece for piece in room.pieces.listed()}
    judge = Judge(room.today, room.rules, use)
    return answered(part, hoard_of(pieces.values()), pieces, judge, near=8)


def test_green_cloth_of_1858_is_told_as_a_near_miss_with_the_reason(room: Stockroom) -> None:
    green = green_of_1858(room)
    close = scrap(room, colours=(Colour(GREEN, u=1.0),), source_date="new")
    short = scrap(room, outline=box(30, 30), colours=(Colour(GREEN, u=1.0),))
    answer = asked(room, Part(58, 228, GREEN))
    assert [match.code for match in answer.ranking.matches] == [close]
    first = answer.ranking.near_misses[0]
    assert first.code == green
    assert first.lack.startswith(f"stopped: {green}: not to be cut: arsenical green")
    assert ruling_line(answer.rulings[green]).startswith("△ Stopped: ")
    assert short in [near.code for near in answer.ranking.near_misses]


def test_however_many_stopped_pieces_lie_nearer_the_others_are_still_found(
    room: Stockroom,
) -> None:
    for _ in range(25):
        green_of_1858(room)
    grey = scrap(room, colours=(Colour((50.0, 0.0, 0.0), u=1.0),))
    answer = asked(room, Part(58, 228, GREEN, tolerance=100.0))
    assert [match.code for match in answer.ranking.matches] == [grey]


def test_cloth_that_needs_a_reason_is_offered_with_it(room: Stockroom) -> None:
    unfit, fine = pyroxylin(room), scrap(room)
    part = strip_of(room)
    answer = asked(room, as_matched(part), use_of(part.role, room.rules))
    assert {match.code for match in answer.ranking.matches} == {unfit, fine}
    assert answer.rulings[unfit].leave is Leave.NEEDS_REASON
    told = ruling_line(answer.rulings[unfit])
    assert told.startswith(f"△ Needs a written reason: {unfit}: cloth to board: not for conserv")
    assert ruling_line(answer.rulings[fine]) == ""


def test_what_the_list_says_is_what_the_gate_says(room: Stockroom) -> None:
    unfit = pyroxylin(room)
    answer = asked(room, Part(58, 228, RED))
    said = answer.rulings[unfit].words
    assert said.startswith(f"{unfit}: whatever the use: not for conservation. Pyroxylin: ")
    said = refused(room, knives(room, unfit, "")["reserve"], Barred)
    assert said.startswith(answer.rulings[unfit].words)


def test_the_list_asks_the_stockroom_nothing_more(room: Stockroom) -> None:
    pyroxylin(room)
    green_of_1858(room)
    pieces = {piece.code: piece for piece in room.pieces.listed()}
    judge = Judge(room.today, room.rules)
    hoard = hoard_of(pieces.values())
    part = Part(58, 228, RED)
    assert statements(lambda: answered(part, hoard, pieces, judge, near=8)) == 0
