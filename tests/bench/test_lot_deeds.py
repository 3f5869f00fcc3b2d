"""What is done to lots and wants, as deeds: one step each, and what the gate says to them."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from bindery_stock.bench.adhesives.correct_lot import correct_lot, finish, unseal
from bindery_stock.bench.adhesives.enter_lot import enter_lot, mix, mixing_words
from bindery_stock.bench.adhesives.record_test import add_lab_result, record_test
from bindery_stock.bench.adhesives.tests import WET_TESTS
from bindery_stock.bench.adhesives.use import destinations, hindrance, use_some
from bindery_stock.bench.adhesives.wants import close_want, set_reorder_point, want
from bindery_stock.bench.ledger.undo import redo, undo
from bindery_stock.errors import Barred, EntryError, NotFound, Stopped, UndoRefused
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    Measure,
    NewAdhesiveLot,
    NewPart,
    NewPiece,
    NewRepair,
    NewWanted,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Evidence, LabResult, Property, Survey, Use
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Kind

TODAY = date(2026, 3, 2)
PASTE = NewAdhesiveLot(
    kind="wheat-starch-paste",
    name="Cooked paste",
    made=date(2026, 3, 1),
    unit=Measure.GRAM,
    held=200.0,
)
OLD_PASTE = replace(PASTE, name="Forgotten paste", made=date(2026, 1, 2))
DRY = NewAdhesiveLot(kind="heat-set-tissue", name="Tissue to iron on", bought=date(2026, 2, 20))
TIN = NewAdhesiveLot(kind="pva", name="Tin", bought=TODAY)
SURVEY = Survey(board_height=220.0, board_width=140.0, spine_width=40.0)
RECTANGLE = ((0.0, 0.0), (100.0, 0.0), (100.0, 300.0), (0.0, 300.0))
BLUE = NewPiece(
    kind=Kind.CLOTH, outline=Outline(RECTANGLE), colour_family="blue", source_date="c. 1870"
)
GREEN = replace(BLUE, colour_family="vivid green", source_date="1858")
BLEEDS = Property(name="bleeds", value=False, evidence=Evidence.BENCH, method="damp blotter")


class Clock:
    """Goes on one second each time it is read."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock", clock=Clock()) as stockroom:
        yield stockroom
        assert stockroom.keeping.check().faults == ()


def volume(room: Stockroom, name: str, family: str, dated: str = "c. 1870") -> str:
    new = NewRepair(name=name, survey=SURVEY, colour_family=family, dated=dated)
    return room.books.add_repair(new).born[0]


def strip_for(room: Stockroom, code: str, piece: str = "") -> None:
    """A reback strip wanted for the volume, and kept in ``piece`` where one is named."""
    part = NewPart(
        role="reback strip", name="reback strip", width=58.0, height=228.0, kind=Kind.CLOTH,
        turns=(0.0, 180.0), zones=(),
    )  # fmt: skip
    room.books.plan_parts(code, [part])
    if piece:
        (planned,) = room.books.parts(volume=code)
        corners = ((0.0, 0.0), (58.0, 0.0), (58.0, 228.0), (0.0, 228.0))
        room.books.accept_plan([PlannedPlacement(part=planned.id, code=piece, corners=corners)])


def test_each_of_these_is_one_step_of_the_ledger_that_one_undo_takes_back(
    room: Stockroom,
) -> None:
    piece = room.pieces.shelve(BLUE).born[0]
    lab = LabResult(substance="lead", found=False, on=TODAY, laboratory="a lab", method="XRF")
    changed = {"note": "thick", "place": "fridge"}
    deeds = (
        lambda: enter_lot(room, lot=PASTE),
        lambda: enter_lot(room, lot=TIN),
        lambda: mix(room, lot=replace(TIN, kind="paste-pva", made_from=("A-0001", "A-0002"))),
        lambda: correct_lot(room, lot="A-0001", changed=changed),
        lambda: unseal(room, lot="A-0002"),
        lambda: use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear", amount=30.0),
        lambda: record_test(room, code=piece, found=BLEEDS),
        lambda: add_lab_result(room, code=piece, found=lab),
        lambda: want(room, new=NewWanted(what="red rib")),
        lambda: close_want(room, code="W-0001", outcome="found"),
        lambda: set_reorder_point(room, kind="pva", least=50.0, unit=Measure.GRAM),
        lambda: finish(room, lot="A-0001", why="used up"),
    )
    for deed in deeds:
        before, steps = _held(room), len(room.ledger.steps())
        changes = deed()
        after = _held(room)
        assert len(room.ledger.steps()) == steps + 1
        assert changes.undo == changes.step
        assert after != before
        undone = undo(room)
        assert _held(room) == before
        assert undone.redo is not None
        assert undone.redo.number == changes.step.number
        redo(room, number=changes.step.number)
        assert _held(room) == after


def _held(room: Stockroom) -> dict[str, object]:
    """Everything in the tables but the ledger and the numbers given out."""
    whole = room.exchange.whole()
    left_out = {"step", "movement", "code_series"}
    return {name: rows for name, rows in whole.tables.items() if name not in left_out}


def test_what_is_so_already_makes_no_step_and_says_so(room: Stockroom) -> None:
    enter_lot(room, lot=PASTE)
    set_reorder_point(room, kind="pva", least=50.0, unit=Measure.GRAM)
    steps = room.ledger.steps()
    corrected = correct_lot(room, lot="A-0001", changed={"name": "Cooked paste"})
    assert corrected.nothing
    assert corrected.step.name == "A-0001 is already as you have it; nothing was changed."
    again = set_reorder_point(room, kind="pva", least=50.0, unit=Measure.GRAM)
    assert again.nothing
    assert "50 g is the reorder point already" in again.step.name
    assert room.ledger.steps() == steps


def test_paste_past_its_days_is_used_only_with_a_reason_which_is_kept(room: Stockroom) -> None:
    """Five days at room temperature is the cautious end of habit: common practice, no source."""
    enter_lot(room, lot=OLD_PASTE)
    with pytest.raises(Barred, match=r"Out of date since 7 Jan 2026.*written reason"):
        use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear", amount=30.0)
    assert room.lots.get("A-0001").left == 200.0
    assert len(room.ledger.steps()) == 1
    reason = "a trial on waste paper, thrown away after"
    use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear", amount=30.0, reason=reason)
    (used,) = room.lots.uses()
    assert used.override_reason == reason
    assert "Out of date" in used.verdict
    (kept,) = room.rulings.listed()
    assert (kept.deed, kept.leave, kept.lot) == ("use_some", Leave.NEEDS_REASON, "A-0001")
    assert (kept.reason, kept.rules[0]) == (reason, "shelf life")
    assert room.ledger.steps()[0].name == "Used 30 g of A-0001 for a tear"


def test_the_last_good_day_is_still_good(tmp_path: Path) -> None:
    clock = Clock()
    with Stockroom.create(tmp_path / "stock", clock=clock) as room:
        enter_lot(room, lot=PASTE)
        clock.now = datetime(2026, 3, 6, 12, tzinfo=UTC)
        use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear")
        clock.now = datetime(2026, 3, 7, 12, tzinfo=UTC)
        with pytest.raises(Barred):
            use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear")


def test_frozen_dispersion_is_stopped_whatever_its_date(room: Stockroom) -> None:
    enter_lot(room, lot=replace(TIN, kind="vae", name="From the shed", frozen_once=True))
    with pytest.raises(Barred, match="frozen"):
        use_some(room, lot="A-0001", use=Use.BOX, purpose="slipcase")


def test_a_use_the_rules_bar_asks_for_a_reason_and_another_does_not(room: Stockroom) -> None:
    enter_lot(room, lot=replace(TIN, name="Box glue", ph=7.5))
    with pytest.raises(Barred, match="leather: not for conservation"):
        use_some(room, lot="A-0001", use=Use.LEATHER, purpose="corner")
    use_some(room, lot="A-0001", use=Use.BOX, purpose="slipcase")
    assert room.lots.uses()[0].override_reason == ""


def test_a_reason_that_was_not_needed_is_not_kept(room: Stockroom) -> None:
    enter_lot(room, lot=PASTE)
    use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear", reason="just in case")
    (used,) = room.lots.uses()
    assert (used.verdict, used.override_reason) == ("mending paper: use with care", "")
    assert room.rulings.listed() == []


def test_a_wet_paste_does_not_come_near_cloth_that_may_hold_arsenic(room: Stockroom) -> None:
    code = room.pieces.shelve(GREEN).born[0]
    enter_lot(room, lot=PASTE)

    def take() -> None:
        use_some(
            room, lot="A-0001", use=Use.MENDING, purpose="a patch", laid_on=code,
            reason="I want to",
        )  # fmt: skip

    with pytest.raises(Stopped, match=r"C-0001: no wet work.*arsenic"):
        take()
    assert room.lots.uses() == []
    for substance in ("arsenic", "lead", "chromium", "mercury"):
        result = LabResult(
            substance=substance, found=False, on=TODAY, laboratory="a laboratory", method="XRF"
        )
        add_lab_result(room, code=code, found=result)
    take()
    assert room.lots.uses()[0].laid_on == code
    assert room.ledger.steps(code=code)[0].name.endswith("a patch, C-0001")


def test_a_wet_use_for_a_part_of_the_green_volume_of_1858_is_stopped_though_nothing_is_laid_on(
    room: Stockroom,
) -> None:
    strip_for(room, volume(room, "vol. 4", "vivid green", "1858"))
    enter_lot(room, lot=PASTE)
    enter_lot(room, lot=DRY)
    for purpose in ("reback strip, vol. 4", "other work, vol. 4", "poultice, Vol. 4", "vol. 4"):
        with pytest.raises(Stopped, match=r"vol\. 4: no wet work.*arsenic"):
            use_some(room, lot="A-0001", use=Use.CLOTH_TO_BOARD, purpose=purpose, reason="I must")
    assert room.lots.uses() == []
    use_some(room, lot="A-0002", use=Use.MENDING, purpose="a tear, vol. 4", reason="dry work")
    assert [used.code for used in room.lots.uses()] == ["A-0002"]


def test_a_volume_that_is_named_counts_whatever_the_words_of_the_purpose_are(
    room: Stockroom,
) -> None:
    code = volume(room, "vol. 4", "vivid green", "1858")
    enter_lot(room, lot=PASTE)
    with pytest.raises(Stopped, match=r"vol\. 4: no wet work"):
        use_some(room, lot="A-0001", use=Use.HIDDEN, purpose="a poultice", volume=code)


def test_the_longest_name_of_a_volume_is_the_one_that_is_meant(room: Stockroom) -> None:
    volume(room, "vol. 1", "vivid green", "1858")
    volume(room, "Old set, vol. 1", "blue")
    enter_lot(room, lot=PASTE)
    use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear, Old set, vol. 1")
    with pytest.raises(Stopped):
        use_some(room, lot="A-0001", use=Use.MENDING, purpose="a tear, Our set, vol. 1")


def test_the_piece_kept_for_the_part_counts_though_nothing_or_another_is_laid_on(
    room: Stockroom,
) -> None:
    green, blue = (room.pieces.shelve(piece).born[0] for piece in (GREEN, BLUE))
    strip_for(room, volume(room, "vol. 4", "blue"), green)
    enter_lot(room, lot=PASTE)
    for laid_on in ("", blue):
        with pytest.raises(Stopped, match=rf"{green}: no wet work"):
            use_some(
                room, lot="A-0001", use=Use.CLOTH_TO_BOARD, purpose="reback strip, vol. 4",
                laid_on=laid_on,
            )  # fmt: skip
    assert room.lots.uses() == []


def test_the_piece_kept_for_the_part_is_written_down_where_none_is_typed(room: Stockroom) -> None:
    blue = room.pieces.shelve(BLUE).born[0]
    strip_for(room, volume(room, "vol. 4", "blue"), blue)
    enter_lot(room, lot=PASTE)
    use_some(room, lot="A-0001", use=Use.CLOTH_TO_BOARD, purpose="reback strip, vol. 4")
    assert room.lots.uses()[0].laid_on == blue


def test_what_the_gate_will_say_is_told_beforehand_in_the_same_words(room: Stockroom) -> None:
    strip_for(room, volume(room, "vol. 4", "vivid green", "1858"))
    enter_lot(room, lot=PASTE)
    known = destinations(room)
    assert known.offered == ["reback strip, vol. 4", "other work, vol. 4"]
    found = hindrance(
        room, room.lots.get("A-0001"), Use.CLOTH_TO_BOARD, known.named("reback strip, vol. 4")
    )
    assert found.is_stopped
    with pytest.raises(Stopped) as refused:
        use_some(room, lot="A-0001", use=Use.CLOTH_TO_BOARD, purpose="reback strip, vol. 4")
    assert str(refused.value) == found.words


def test_mixing_from_a_lot_past_its_days_takes_a_reason_which_is_kept(room: Stockroom) -> None:
    enter_lot(room, lot=OLD_PASTE)
    enter_lot(room, lot=TIN)
    mixed = NewAdhesiveLot(
        kind="paste-pva", name="Half and half", made=TODAY, made_from=("A-0001", "A-0002")
    )
    parts = [room.lots.get(code) for code in mixed.made_from]
    assert "A-0001: Out of date" in mixing_words(parts, room.today, room.rules)
    with pytest.raises(Barred, match="A-0001: Out of date since 7 Jan 2026"):
        mix(room, lot=mixed)
    assert len(room.lots.listed()) == 2
    changes = mix(room, lot=mixed, reason="for a box, not for a book")
    assert changes.step.name == "Made A-0003, Half and half from A-0001, A-0002"
    (kept,) = room.rulings.listed()
    assert (kept.deed, kept.lot, kept.reason) == ("mix", "A-0001", "for a box, not for a book")
    assert mixing_words([room.lots.get("A-0002")], room.today, room.rules) == ""


def test_a_mixture_is_not_entered_past_the_gate(room: Stockroom) -> None:
    enter_lot(room, lot=OLD_PASTE)
    with pytest.raises(ValueError, match="mixed, not entered"):
        enter_lot(room, lot=replace(TIN, made_from=("A-0001",)))


def test_an_old_lot_that_turns_out_to_be_in_a_mixture_is_ruled_on_and_not_refused(
    room: Stockroom,
) -> None:
    enter_lot(room, lot=OLD_PASTE)
    enter_lot(room, lot=TIN)
    correct_lot(room, lot="A-0002", changed={"made_from": ("A-0001",)})
    assert room.lots.get("A-0002").made_from == ("A-0001",)
    (kept,) = room.rulings.listed()
    assert (kept.deed, kept.lot, kept.reason) == ("correct_lot", "A-0001", "")
    assert room.ledger.steps()[0].name == "Corrected made from of A-0002"


@pytest.mark.parametrize("name", sorted(WET_TESTS))
def test_a_wet_test_of_a_flagged_cloth_is_stopped_and_told_why(room: Stockroom, name: str) -> None:
    green, blue = (room.pieces.shelve(piece).born[0] for piece in (GREEN, BLUE))
    kind = room.rules.properties[name]
    value = kind.choices[0] if kind.choices else 7.0 if name.endswith("ph") else False
    found = Property(name=name, value=value, evidence=Evidence.BENCH)
    with pytest.raises(Stopped, match=rf"This test wets the piece. {green}: no wet work.*arsenic"):
        record_test(room, code=green, found=found, reason="I want to")
    assert room.pieces.get(green).properties == ()
    record_test(room, code=green, found=replace(found, evidence=Evidence.SUPPLIER))
    record_test(room, code=blue, found=found)


def test_a_wet_test_of_a_past_day_has_happened_and_is_kept_with_the_ruling(
    room: Stockroom,
) -> None:
    green = room.pieces.shelve(GREEN).born[0]
    found = replace(BLEEDS, on=TODAY - timedelta(days=30))
    record_test(room, code=green, found=found, reason="before it was known")
    assert room.pieces.get(green).properties == (found,)
    (kept,) = room.rulings.listed()
    assert (kept.leave, kept.piece, kept.reason) == (Leave.STOPPED, green, "before it was known")


def test_what_is_refused_for_another_cause_keeps_no_ruling(room: Stockroom) -> None:
    enter_lot(room, lot=OLD_PASTE)
    with pytest.raises(EntryError, match="only 200 g"):
        use_some(room, lot="A-0001", use=Use.BOX, purpose="a box", amount=9999.0, reason="a trial")
    assert room.rulings.listed() == []
    with pytest.raises(NotFound, match="C-0042"):
        use_some(room, lot="A-0001", use=Use.BOX, purpose="a box", laid_on="C-0042")


def test_only_the_step_that_is_named_is_done_again(room: Stockroom) -> None:
    enter_lot(room, lot=PASTE)
    first = undo(room)
    assert first.redo is not None
    with pytest.raises(UndoRefused, match="no longer"):
        redo(room, number=first.redo.number + 5)
    assert room.lots.listed() == []
    redo(room, number=first.redo.number)
    second = enter_lot(room, lot=TIN).step
    unseal(room, lot="A-0001")
    undo(room, number=second.number)
    assert [lot.code for lot in room.lots.listed()] == ["A-0001"]


def test_what_the_form_reads_of_the_books_takes_as_many_statements_for_ten_as_for_one(
    room: Stockroom,
) -> None:
    strip_for(room, volume(room, "vol. 1", "blue"))
    first = _statements(lambda: destinations(room))
    for number in range(2, 12):
        strip_for(room, volume(room, f"vol. {number}", "blue"))
    assert _statements(lambda: destinations(room)) == first
    assert first == 5
    known, paste = destinations(room), enter_lot(room, lot=PASTE)
    lot = room.lots.get(paste.born[0])
    assert len(known.offered) == 22
    assert _statements(lambda: hindrance(room, lot, Use.BOX, known.named("vol. 7"))) == 0


def _statements(ask: Callable[[], object]) -> int:
    heard: list[str] = []

    def hear(*told: object) -> None:
        if str(told[2]).lstrip().upper().startswith("SELECT"):
            heard.append(str(told[2]))

    event.listen(Engine, "before_cursor_execute", hear)
    try:
        ask()
    finally:
        event.remove(Engine, "before_cursor_execute", hear)
    return len(heard)
