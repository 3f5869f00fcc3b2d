"""The builder makes the same stockroom every time, through the program's own doors."""

from dataclasses import replace
from datetime import date

import pytest

from bindery_stock.stock import PartState, PieceState, RepairState, Stockroom, Verb
from sample_db.build import build
from sample_db.hoard import Correct, Cut, Discard, Move, Reserve, Scenario
from sample_db.scenario import SAMPLE
from sample_db.treated import DRY_WORK, WET_WORK

FEW = ("red rib ell", "red rib strip", "red rib gilt side", "mull roll", "red rib glued strip")
REDUCED = Scenario(
    items=tuple(i for i in SAMPLE.items if i.key in FEW),
    happenings=(
        Cut(key="red rib gilt side", purpose="spine strip, vol. 2", width=50, height=240),
        Cut(key="red rib ell", purpose="spine, vol. 3", width=56, height=232, taken_back=True),
        Reserve(key="red rib strip", purpose="spine strip, vol. 5", width=55, height=240),
        Move(keys=("red rib ell",), place="Elsewhere"),
        Correct(key="red rib ell", field="note", value="Seen again"),
        Discard(key="red rib glued strip", reason="glue all through"),
    ),
    tins=SAMPLE.tins,
)
SMALL = (480, 360)


def _built(folder):
    list(build(REDUCED, folder, size=SMALL, hands=1))
    with Stockroom.open(folder) as room:
        return (
            tuple(room.pieces.listed(gone=True)),
            tuple(room.ledger.steps()),
            tuple(room.lots.listed(finished=True)),
            tuple(room.pieces.reservations()),
            tuple(sorted(p.name for p in (folder / "photos").rglob("*") if p.is_file())),
        )


@pytest.fixture(scope="module")
def twice(tmp_path_factory):
    return tuple(_built(tmp_path_factory.mktemp(n) / "stockroom") for n in ("first", "second"))


def test_two_builds_give_the_same_stockroom(twice):
    assert twice[0] == twice[1]


def test_what_happened_to_the_hoard_is_in_its_ledger(twice):
    pieces, steps, tins, reservations, photos = twice[0]
    verbs = {step.verb for step in steps}
    assert {Verb.SHELVED, Verb.CUT, Verb.UNDONE, Verb.RESERVED, Verb.DISCARDED} <= verbs
    states = {piece.state for piece in pieces}
    assert states == set(PieceState)
    assert len(tins) == len(SAMPLE.tins)
    assert [r.purpose for r in reservations] == ["spine strip, vol. 5"]
    assert len(photos) == len(FEW) + 1  # and the card of colours


def test_an_undone_cut_leaves_the_piece_whole(twice):
    ell = next(p for p in twice[0][0] if p.note == "Seen again")
    assert ell.state is PieceState.ON_SHELF
    assert ell.place == "Elsewhere"


def test_colours_are_read_by_the_card_or_where_the_light_differed_by_the_grey(twice):
    methods = {p.code: p.colour.method for p in twice[0][0] if p.colour}
    assert "neutral" in methods["C-0001"]  # photographed in a warmer light
    assert "24-patch" in methods["C-0002"]


def test_steps_are_dated_before_the_day_of_the_sample(tmp_path):
    scenario = replace(REDUCED, items=REDUCED.items[:1], happenings=(), tins=REDUCED.tins[:1])
    list(build(scenario, tmp_path / "room", day=date(2025, 3, 1), size=SMALL, hands=1))
    with Stockroom.open(tmp_path / "room") as room:
        assert all(step.at.date() < date(2025, 3, 1) for step in room.ledger.steps())
        assert room.lots.listed()[0].made == date(2025, 2, 27)


def test_a_cut_that_does_not_fit_is_refused(tmp_path):
    cut = Cut(key="mull roll", purpose="too large", width=5000, height=10)
    items = tuple(i for i in REDUCED.items if i.key == "mull roll")
    with pytest.raises(ValueError, match="does not fit"):
        list(build(Scenario(items=items, happenings=(cut,)), tmp_path / "r", size=SMALL, hands=1))


TREATED = replace(
    SAMPLE,
    items=tuple(
        i
        for i in SAMPLE.items
        if i.key
        in {
            "red rib front", "red rib remnant", "red rib strip", "kraft heavy", "mull piece",
            "tissue strong",
        }
    ),
    happenings=(
        *DRY_WORK,
        Cut(key="red rib front", purpose="reback strip, Hollin Vale vol. 1", width=1, height=1),
        Cut(key="red rib remnant", purpose="reback strip, Hollin Vale vol. 2", width=1, height=1),
        Cut(key="kraft heavy", purpose="inlay, Hollin Vale vol. 1", width=1, height=1),
        Cut(key="kraft heavy/1", purpose="hollow, Hollin Vale vol. 1", width=1, height=1),
        Reserve(key="red rib strip", purpose="joint strip, Hollin Vale vol. 3", width=1, height=1),
    ),
    volumes=SAMPLE.volumes[:4],
    afterwards=WET_WORK,
)  # fmt: skip


@pytest.fixture(scope="module")
def treated(tmp_path_factory):
    folder = tmp_path_factory.mktemp("treated") / "room"
    list(build(TREATED, folder, size=SMALL, hands=1))
    with Stockroom.open(folder) as room:
        yield room


def test_what_is_cut_for_a_surveyed_volume_goes_into_it(treated):
    assert treated.keeping.check().faults == ()
    first, second, third, fourth = treated.books.repairs()
    assert {p.state for p in treated.books.parts(volume=first.code)} == {PartState.FITTED}
    assert {p.state for p in treated.books.parts(volume=second.code)} == {
        PartState.FITTED,
        PartState.LEFT_OUT,
    }
    assert first.state is second.state is RepairState.DONE
    assert (first.hours_spent, second.hours_spent) == (5.75, 2.75)
    assert treated.books.parts(volume=third.code)[0].state is PartState.RESERVED
    assert [shot.photo.name for shot in fourth.photos] == [
        "Hollin-Vale-vol-4-back.jpg",
        "Hollin-Vale-vol-4-board.jpg",
    ]
    assert fourth.targets[0].colour.photo == fourth.photos[0].photo.sha256


def test_a_volume_is_photographed_before_during_and_after(treated):
    first, second = treated.books.repairs()[:2]
    assert [(str(p.stage), p.shows.value) for p in first.photos] == [
        ("before", "spine"),
        ("before", "front board"),
        ("during", "spine"),
        ("after", "spine"),
        ("after", "front board"),
    ]
    assert [str(p.stage) for p in second.photos] == ["before", "after"]
    assert len({p.photo.sha256 for p in (*first.photos, *second.photos)}) == 7
    assert (first.photos[0].photo.width, first.photos[0].photo.height) == (480, 240)
