"""Deeds about sets and volumes: one step each, one undo gives all back, and the gate is asked."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import event

from bindery_stock.bench.books.enter_set import correct_set, enter_set
from bindery_stock.bench.books.keep_survey import (
    copy_survey,
    correct_survey,
    move_volume,
    survey,
)
from bindery_stock.bench.books.measure_again import measure_again
from bindery_stock.bench.books.note_work import fit, note_work, spend_hours
from bindery_stock.bench.books.plan import plan, split_part
from bindery_stock.bench.books.reserve_parts import (
    accept_plan,
    leave_out,
    release_parts,
    want_again,
)
from bindery_stock.bench.books.set_allowances import set_allowances
from bindery_stock.bench.books.share_out import Asked, ask, share
from bindery_stock.bench.books.share_words import proved_words
from bindery_stock.bench.books.want_cards import want_cards
from bindery_stock.bench.deed import DEEDS, Bearing
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.errors import Barred, EntryError, Stopped
from bindery_stock.records.treatment_record import record_page
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Changes,
    Colour,
    ColourSought,
    Measure,
    NewAdhesiveLot,
    NewBookSet,
    NewPiece,
    NewRepair,
    NewTreatment,
    NewWanted,
    PartState,
    PlannedPlacement,
    RepairState,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, LabResult, Survey
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Backing, Kind
from bindery_stock.units import LengthStyle

TODAY = date(2026, 3, 2)
"""The day the clock of these tests is set to."""
YESTERDAY = TODAY - timedelta(days=1)
RED = (33.0, 33.0, 17.0)
VOLUMES = 24
PASTE = NewAdhesiveLot(
    kind="wheat-starch-paste",
    name="Cooked paste",
    made=date(2026, 3, 1),
    unit=Measure.GRAM,
    held=200.0,
)
OLD_PASTE = replace(PASTE, name="Forgotten paste", made=date(2026, 1, 2))


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as stockroom:
        yield stockroom
        assert stockroom.keeping.check().faults == ()


def measured(*damage: Damage, chord: float = 33.0, old_spine: bool = True) -> Survey:
    return Survey(
        spine_width=chord,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        board_thickness=2.4,
        damage=damage or (Damage(Harm.JOINTS_SPLIT), Damage(Harm.CORNERS_BARE, 4, 8.0)),
        old_spine=old_spine,
    )


def half_measured() -> Survey:
    """Endpapers are wanted, and neither boards nor leaves are measured across."""
    return replace(measured(Damage(Harm.ENDPAPERS_LOST)), board_width=None)


def volume(name: str, one: Survey | None = None, **more: object) -> NewRepair:
    return replace(
        NewRepair(
            name=name,
            survey=one or measured(),
            pattern="rib",
            colour_family="red",
            targets=(ColourSought(BookSpot.BOARDS, Colour(RED, u=2.0)),),
        ),
        **more,  # type: ignore[arg-type]
    )


def entered(room: Stockroom, name: str = "vol. 1", **more: object) -> str:
    return survey(room, new=volume(name, **more)).born[0]


def cloth(room: Stockroom, width: float = 75.0, height: float = 252.0, **more: object) -> str:
    new = NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(((0, 0), (width, 0), (width, height), (0, height))),
        pattern="rib",
        colour_family="red",
        source_date="1880",
        colours=(Colour(RED, u=2.0),),
    )
    return room.pieces.shelve(replace(new, **more)).born[0]  # type: ignore[arg-type]


def strip(room: Stockroom, code: str) -> BookPart:
    return next(part for part in room.books.parts(volume=code) if part.name == "reback strip")


def laid(part: BookPart, code: str) -> PlannedPlacement:
    right, top = 2 + part.width, 2 + part.height
    return PlannedPlacement(
        part=part.id, code=code, corners=((2, 2), (right, 2), (right, top), (2, top))
    )


def all_of(room: Stockroom) -> tuple[object, ...]:
    """Everything that stands about the books and their cloth, to be compared."""
    repairs = room.books.repairs()
    return (
        room.books.book_sets(),
        repairs,
        room.books.parts(),
        room.books.every_override(),
        [room.books.treatments(repair.code) for repair in repairs],
        room.pieces.listed(gone=True),
        room.pieces.reservations(),
        room.rulings.listed(),
        room.wants.listed(closed=True),
    )


def one_step(room: Stockroom, do: Callable[[], Changes]) -> Changes:
    """Do a deed: one step, and one undo leaves everything as it was; redo does it again."""
    before, steps = all_of(room), len(room.ledger.steps())
    changes = do()
    after = all_of(room)
    assert len(room.ledger.steps()) == steps + 1
    assert after != before
    room.ledger.undo()
    assert all_of(room) == before
    room.ledger.redo()
    assert all_of(room) == after
    return changes


# One deed, one step


def test_a_volume_is_entered_with_its_parts_in_one_step(room: Stockroom) -> None:
    changes = one_step(room, lambda: survey(room, new=volume("vol. 1")))
    parts = room.books.parts(volume=changes.born[0])
    assert [part.name for part in parts].count("corner patch") == 4
    assert changes.step.name == "Surveyed vol. 1"


def test_a_volume_whose_measurements_are_wanting_is_entered_without_parts(room: Stockroom) -> None:
    code = entered(room, survey=half_measured())
    assert room.books.parts(volume=code) == []
    correct_survey(room, volume=code, fields={"survey": measured()})
    assert room.books.parts(volume=code) != []


def test_an_edited_survey_its_colours_and_its_parts_are_one_step(room: Stockroom) -> None:
    code = entered(room)
    before = strip(room, code)
    fields = {
        "survey": measured(chord=40.0),
        "targets": (ColourSought(BookSpot.BOARDS, Colour((40.0, 30.0, 15.0), u=2.0)),),
    }
    one_step(room, lambda: correct_survey(room, volume=code, fields=fields))
    now = strip(room, code)
    assert now.width > before.width
    assert now.lab == (40.0, 30.0, 15.0)


def test_a_survey_is_not_corrected_into_one_without_the_parts_that_are_planned(
    room: Stockroom,
) -> None:
    code = entered(room)
    before, steps = all_of(room), len(room.ledger.steps())
    wanting = half_measured()
    with pytest.raises(EntryError, match=r"vol\. 1: Leaf width: measure the leaves"):
        correct_survey(room, volume=code, fields={"survey": wanting})
    assert (all_of(room), len(room.ledger.steps())) == (before, steps)


def test_a_survey_that_is_so_already_is_no_step_and_no_error(room: Stockroom) -> None:
    code = entered(room)
    steps = len(room.ledger.steps())
    told = correct_survey(room, volume=code, fields={"survey": measured()})
    assert told.nothing
    assert "already" in told.step.name
    assert plan(room, volume=code).nothing
    assert len(room.ledger.steps()) == steps


def set_of(room: Stockroom, count: int = VOLUMES, title: str = "") -> str:
    """A set of so many volumes, ``vol. 1`` first."""
    book_set = enter_set(room, new=NewBookSet(title=title or "Hollin Vale")).born[0]
    for number in range(1, count + 1):
        entered(room, f"{title} vol. {number}".strip(), book_set=book_set, volume=number)
    return book_set


def test_an_underlap_of_a_set_changes_every_volume_in_one_step_and_one_undo_gives_all_back(
    room: Stockroom,
) -> None:
    book_set = set_of(room)
    other = entered(room, "another book")
    was = {code.code: strip(room, code.code).width for code in room.books.repairs()}
    one_step(room, lambda: set_allowances(room, values={"underlap": 11.0}, book_set=book_set))
    now = {code.code: strip(room, code.code).width for code in room.books.repairs()}
    assert now.pop(other) == was.pop(other)
    assert len(now) == VOLUMES
    assert [now[code] - was[code] for code in now] == pytest.approx([6.0] * VOLUMES)


def test_allowances_for_all_work_reach_every_volume_but_those_that_are_done(
    room: Stockroom,
) -> None:
    set_of(room, 2)
    alone, done = entered(room, "alone"), entered(room, "done")
    move_volume(room, volume=done, state=RepairState.DONE)
    was = {repair.code: strip(room, repair.code).width for repair in room.books.repairs()}
    one_step(room, lambda: set_allowances(room, values={"underlap": 11.0}))
    grown = {code for code in was if strip(room, code).width > was[code] + 1}
    assert grown == was.keys() - {done}
    assert alone in grown
    one_step(room, lambda: move_volume(room, volume=done, state=RepairState.ON_BENCH))
    assert strip(room, done).width > was[done] + 1


def test_a_script_that_changes_an_allowance_gets_fresh_parts(room: Stockroom) -> None:
    code = entered(room)
    width = strip(room, code).width
    set_allowances(room, values={"underlap": 11.0}, volume=code)
    assert strip(room, code).width == pytest.approx(width + 6.0)
    set_allowances(room, values={"underlap": None}, volume=code)
    assert strip(room, code).width == pytest.approx(width)


def test_an_allowance_by_which_some_volume_cannot_be_cut_names_it_and_changes_nothing(
    room: Stockroom,
) -> None:
    book_set = set_of(room, 3)
    entered(room, "the bare one", survey=measured(Damage(Harm.MULL_FAILED)), book_set=book_set)
    before, steps = all_of(room), len(room.ledger.steps())
    with pytest.raises(EntryError, match=r"^the bare one: .*nothing is left to cut"):
        set_allowances(room, values={"mull-short": 220.0}, book_set=book_set)
    assert (all_of(room), len(room.ledger.steps())) == (before, steps)


def test_splits_and_what_is_cut_stay_when_allowances_change(room: Stockroom) -> None:
    code, other = entered(room), entered(room, "vol. 2")
    one_step(room, lambda: split_part(room, part=strip(room, code).id))
    assert {part.layer for part in room.books.parts(volume=code)} >= {"band", "beneath"}
    fitted = strip(room, other)
    fit(room, parts=[fitted.id])
    set_allowances(room, values={"underlap": 11.0})
    assert {part.layer for part in room.books.parts(volume=code)} >= {"band", "beneath"}
    kept = room.books.part(fitted.id)
    assert (kept.width, kept.state) == (fitted.width, PartState.FITTED)


def questions(room: Stockroom, do: Callable[[], Changes]) -> int:
    """How many questions a deed asks of the database while it writes."""
    asked: list[str] = []

    def heard(_connection: object, _cursor: object, statement: str, *_more: object) -> None:
        if statement.lstrip().upper().startswith("SELECT"):
            asked.append(statement)

    writer = room.books._door._writer
    event.listen(writer, "before_cursor_execute", heard)
    try:
        assert not do().nothing
    finally:
        event.remove(writer, "before_cursor_execute", heard)
    return len(asked)


def test_planning_twelve_volumes_takes_no_more_questions_than_planning_three(
    room: Stockroom,
) -> None:
    few, many = set_of(room, 3), set_of(room, 12, "Nine Weirs")
    counted = {
        questions(
            room,
            lambda code=code: set_allowances(room, values={"underlap": 11.0}, book_set=code),
        )
        for code in (few, many)
    }
    assert len(counted) == 1


def test_reserving_twelve_parts_takes_no_more_questions_than_reserving_three(
    room: Stockroom,
) -> None:
    counted = []
    for title, count in (("Hollin Vale", 3), ("Nine Weirs", 12)):
        book_set = set_of(room, count, title)
        chosen = [
            laid(strip(room, volume.code), cloth(room))
            for volume in room.books.repairs(book_set=book_set)
        ]
        counted.append(questions(room, lambda chosen=chosen: accept_plan(room, placements=chosen)))
    assert counted[0] == counted[1]
    assert len(room.pieces.reservations()) == 15


def test_three_cards_are_one_step(room: Stockroom) -> None:
    wants = [NewWanted(what=what) for what in ("red rib", "blue rib", "mull")]
    changes = one_step(room, lambda: want_cards(room, wants=wants))
    assert changes.step.name == "Put 3 cards on the wanted list"
    assert len(changes.born) == 3


def test_copying_a_survey_plans_the_copies_and_leaves_the_laboratory_behind(
    room: Stockroom,
) -> None:
    clear = LabResult(
        substance="arsenic", found=False, on=TODAY, laboratory="a laboratory", method="XRF"
    )
    code = entered(room, colour_family="vivid green", dated="1858", lab_results=(clear,))
    changes = one_step(room, lambda: copy_survey(room, volume=code, names=["vol. 2", "vol. 3"]))
    for born in changes.born:
        copied = room.books.repair(born)
        assert (copied.colour_family, copied.dated) == ("vivid green", "1858")
        assert copied.lab_results == ()
        assert room.books.parts(volume=born) != []


def test_a_back_measured_again_keeps_survey_and_sizes_in_one_step(room: Stockroom) -> None:
    code, piece = entered(room), cloth(room, 120.0)
    accept_plan(room, placements=[laid(strip(room, code), piece)])
    before = strip(room, code)
    one_step(room, lambda: measure_again(room, volume=code, arc=40.0))
    now = strip(room, code)
    assert room.books.repair(code).survey.over_linings
    assert now.width != before.width
    assert (now.state, now.piece) == (PartState.RESERVED, piece)


def test_each_small_deed_of_a_volume_is_one_step(room: Stockroom) -> None:
    book_set = one_step(room, lambda: enter_set(room, new=NewBookSet(title="A"))).born[0]
    one_step(room, lambda: correct_set(room, book_set=book_set, fields={"title": "B"}))
    code, piece = entered(room), cloth(room)
    part = strip(room, code)
    one_step(room, lambda: accept_plan(room, placements=[laid(part, piece)]))
    one_step(room, lambda: release_parts(room, parts=[part.id]))
    one_step(room, lambda: leave_out(room, parts=[part.id]))
    one_step(room, lambda: want_again(room, parts=[part.id]))
    one_step(room, lambda: spend_hours(room, volume=code, hours=1.5, on="cleaning"))
    one_step(room, lambda: fit(room, parts=[part.id], treatment=NewTreatment(what="Laid it")))
    one_step(room, lambda: move_volume(room, volume=code, state=RepairState.DONE, note="Fine."))


# The gate: wet work on a volume


def green_of_1858(room: Stockroom) -> str:
    return entered(room, "Nine Weirs", colour_family="vivid green", dated="1858")


POULTICE = NewTreatment(what="A damp poultice on the joints", undo="none", wet=True)


def test_a_poultice_on_a_volume_in_vivid_green_of_1858_is_stopped(room: Stockroom) -> None:
    code = green_of_1858(room)
    before = all_of(room)
    for treatment in (POULTICE, replace(POULTICE, override="It must be done.", on=TODAY)):
        with pytest.raises(Stopped, match=r"Nine Weirs: no wet work: arsenical green.*R32"):
            note_work(room, volume=code, treatment=treatment)
    assert all_of(room) == before
    with pytest.raises(Stopped, match="R32"):  # its words tell it, where nothing else does
        note_work(room, volume=code, treatment=replace(POULTICE, wet=None))
    note_work(room, volume=code, treatment=replace(POULTICE, wet=False))
    assert room.rulings.listed() == []


def test_a_reading_of_vivid_green_stops_a_poultice_where_nothing_was_ticked(
    room: Stockroom,
) -> None:
    green = (ColourSought(BookSpot.BOARDS, Colour((45.0, -40.0, 20.0), u=2.0)),)
    code = entered(room, targets=green, dated="1858")
    with pytest.raises(Stopped, match="R32"):
        note_work(room, volume=code, treatment=POULTICE)


def test_a_poultice_of_a_past_day_is_kept_with_the_ruling_and_the_record_prints_it(
    room: Stockroom,
) -> None:
    code = green_of_1858(room)
    past = replace(POULTICE, on=YESTERDAY, override="Done <before> its colour was known.")
    one_step(room, lambda: note_work(room, volume=code, treatment=past))
    (line,) = room.books.treatments(code)
    assert (line.on, line.wet) == (YESTERDAY, True)
    (kept,) = room.rulings.listed(volume=code)
    assert (kept.leave, kept.reason) == (Leave.STOPPED, "Done <before> its colour was known.")
    assert "R32" in kept.rules
    record = treatment_record(room, code, LengthStyle())
    assert record.steps[0].day == "1 Mar 2026"
    assert record.steps[0].material == "worked wet"
    page = record_page(record)
    assert "Done against a rule" in page
    assert "no wet work: arsenical green" in page
    assert "Done &lt;before&gt; its colour was known." in page
    assert any(line.startswith("Nine Weirs: △ Stop: arsenical green") for line in record.cautions)


def test_a_past_poultice_without_a_reason_is_kept_and_said_to_have_none(room: Stockroom) -> None:
    code = green_of_1858(room)
    note_work(room, volume=code, treatment=replace(POULTICE, on=YESTERDAY))
    (kept,) = room.rulings.listed(volume=code)
    assert kept.reason == ""
    page = record_page(treatment_record(room, code, LengthStyle()))
    assert page.split("Done against a rule")[1].count("not written") >= 1


def test_work_of_a_day_to_come_is_not_noted(room: Stockroom) -> None:
    code = entered(room)
    with pytest.raises(EntryError, match="still to come") as told:
        note_work(room, volume=code, treatment=replace(POULTICE, on=TODAY + timedelta(days=1)))
    assert told.value.field == "On"


def test_a_laboratory_that_found_no_metal_lets_the_poultice_pass(room: Stockroom) -> None:
    clear = tuple(
        LabResult(substance=what, found=False, on=TODAY, laboratory="a laboratory", method="XRF")
        for what in ("arsenic", "lead", "chromium", "copper")
    )
    code = entered(room, colour_family="vivid green", dated="1858", lab_results=clear)
    note_work(room, volume=code, treatment=POULTICE)
    assert len(room.books.treatments(code)) == 1


def test_paste_with_a_piece_that_must_stay_dry_is_stopped_whatever_the_reason(
    room: Stockroom,
) -> None:
    code = entered(room)
    piece = cloth(room, colour_family="vivid green", source_date="1855", colours=())
    room.lots.enter(PASTE)
    line = NewTreatment(what="Laid the strip", lot="A-0001", piece=piece)
    for treatment in (line, replace(line, override="It is only a strip.")):
        with pytest.raises(Stopped, match=rf"{piece}: no wet work.*arsenic"):
            note_work(room, volume=code, treatment=treatment)
    past = replace(line, on=YESTERDAY, override="done before it was known")
    note_work(room, volume=code, treatment=past)
    assert [told.override for told in room.books.treatments(code)] == ["done before it was known"]


def test_paste_on_a_strip_that_must_stay_dry_is_stopped_where_the_words_name_its_code(
    room: Stockroom,
) -> None:
    code, piece = entered(room), cloth(room)
    accept_plan(room, placements=[laid(strip(room, code), piece)])
    lead = LabResult(substance="lead", found=True, on=TODAY, laboratory="a county", method="XRF")
    room.pieces.correct(piece, lab_results=(lead,), colour_family="vivid green")
    line = NewTreatment(what=f"Pasted the strip of {piece.lower()} in")
    with pytest.raises(Stopped, match=rf"{piece}: no wet work"):
        note_work(room, volume=code, treatment=line)
    note_work(room, volume=code, treatment=replace(line, on=YESTERDAY))
    (kept,) = room.rulings.listed(volume=code)
    assert (kept.piece, kept.leave) == (piece, Leave.STOPPED)
    note_work(room, volume=code, treatment=replace(line, what="Pasted the bookplate back"))


def test_a_line_of_treatment_with_an_old_lot_asks_for_a_reason_once(room: Stockroom) -> None:
    code = entered(room)
    room.lots.enter(OLD_PASTE)
    room.lots.enter(PASTE)
    line = NewTreatment(what="Lined the spine", undo="damp", lot="A-0001")
    with pytest.raises(Barred, match="written reason") as told:
        note_work(room, volume=code, treatment=line)
    assert told.value.field == "Reason"
    note_work(room, volume=code, treatment=replace(line, override="a trial"))
    note_work(room, volume=code, treatment=line)
    note_work(room, volume=code, treatment=replace(line, lot="A-0002"))
    assert [told.override for told in room.books.treatments(code)] == ["a trial", "", ""]
    assert [kept.reason for kept in room.rulings.listed(volume=code)] == ["a trial", "a trial"]


def test_a_reason_for_the_cloth_is_no_reason_for_the_paste(room: Stockroom) -> None:
    code, piece = entered(room), cloth(room, backing=Backing.PYROXYLIN)
    accept_plan(room, placements=[laid(strip(room, code), piece)], reason="The owner asks for it.")
    room.lots.enter(OLD_PASTE)
    part = strip(room, code)
    line = NewTreatment(what="Pasted", lot="A-0001", piece=piece, part=part.id)
    with pytest.raises(Barred, match="A-0001"):
        note_work(room, volume=code, treatment=line)


def test_a_part_that_is_in_the_book_is_never_refused_and_its_ruling_is_kept(
    room: Stockroom,
) -> None:
    code = green_of_1858(room)
    room.lots.enter(OLD_PASTE)
    laid_in = NewTreatment(what="Laid it", lot="A-0001", override="no fresh paste")
    one_step(room, lambda: fit(room, parts=[strip(room, code).id], treatment=laid_in))
    assert strip(room, code).state is PartState.FITTED
    (kept,) = room.rulings.listed(volume=code)
    assert (kept.leave, kept.reason) == (Leave.STOPPED, "no fresh paste")


# The gate: cloth that is planned


def asked_of(room: Stockroom, reason: str = "") -> Asked:
    return ask(
        room.books.parts(),
        room.pieces.listed(),
        room.pieces.reservations(),
        today=room.today,
        rules=room.rules,
        reason=reason,
    )


def test_cloth_that_no_conservation_use_is_made_of_is_reserved_only_with_a_reason(
    room: Stockroom,
) -> None:
    code, piece = entered(room), cloth(room, backing=Backing.PYROXYLIN)
    placements = [laid(strip(room, code), piece)]
    before = all_of(room)
    with pytest.raises(Barred, match=rf"{piece}: cloth to board: not for conservation"):
        accept_plan(room, placements=placements)
    assert all_of(room) == before
    one_step(room, lambda: accept_plan(room, placements=placements, reason="The owner asks."))
    (kept,) = room.rulings.listed(volume=code)
    assert (kept.deed, kept.piece, kept.reason) == ("reserve", piece, "The owner asks.")


def test_cloth_that_must_not_be_cut_is_never_reserved(room: Stockroom) -> None:
    code = entered(room)
    piece = cloth(room, colour_family="vivid green", source_date="1855")
    with pytest.raises(Stopped, match="not to be cut"):
        accept_plan(room, placements=[laid(strip(room, code), piece)], reason="It is so close.")
    assert room.pieces.reservations() == []


def test_sharing_out_leaves_cloth_that_needs_a_reason_out_and_says_so(room: Stockroom) -> None:
    code = entered(room)
    unfit, green, good = (
        cloth(room, backing=Backing.PYROXYLIN),
        cloth(room, colour_family="vivid green", source_date="1855"),
        cloth(room, colours=(Colour((36.0, 33.0, 17.0), u=2.0),)),
    )
    found = share(asked_of(room), steps=5)
    assert {choice.code for choice in found.placements()} == {good}
    told = proved_words(found)
    assert f"△ {unfit} was left out where it needs a written reason." in told
    assert f"△ Left out for their caution: {green}." in told
    with_reason = share(asked_of(room, "The owner asks for it."), steps=5)
    assert unfit in {choice.code for choice in with_reason.placements()}
    assert green not in {choice.code for choice in with_reason.placements()}
    accept_plan(room, placements=with_reason.placements(), reason=with_reason.asked.reason)
    assert strip(room, code).piece == unfit


def test_a_piece_pinned_by_hand_against_the_rules_is_named(room: Stockroom) -> None:
    code, unfit = entered(room), cloth(room, backing=Backing.PYROXYLIN)
    cloth(room)
    with pytest.raises(EntryError, match=rf"{unfit} is pinned for reback strip"):
        share(asked_of(room), pins={strip(room, code).id: unfit}, steps=5)


def test_four_patches_from_one_piece_keep_one_ruling(room: Stockroom) -> None:
    code, piece = entered(room), cloth(room, 200.0, backing=Backing.PYROXYLIN)
    found = share(asked_of(room, "The owner asks."), steps=5)
    assert {choice.code for choice in found.placements()} == {piece}
    accept_plan(room, placements=found.placements(), reason="The owner asks.")
    assert len(room.rulings.listed(volume=code)) == 1


def test_the_deeds_of_the_books_are_entered_with_their_bearing() -> None:
    wanted = {
        "accept_plan": Bearing.PLANS,
        "note_work": Bearing.CONSUMES,
        "fit": Bearing.RECORDS,
        "set_allowances": Bearing.KEEPS,
    }
    assert {name: DEEDS[name].bearing for name in wanted} == wanted
