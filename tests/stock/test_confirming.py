"""Book and scrap held side by side: what is kept of it, and what is taken back with it."""

import pytest

from bindery_stock.colour import metamerism_caution
from bindery_stock.errors import EntryError, NotFound, UndoRefused
from bindery_stock.stock import NewConfirmation, NewPiece, Stockroom, Verb

SPINE = "spine strip, vol. 4"
RING = ((10.0, 10.0), (40.0, 10.0), (40.0, 40.0), (10.0, 40.0))


def seen(light: str = "overcast window", delta_e: float = 1.2, u: float = 0.8) -> NewConfirmation:
    return NewConfirmation(
        purpose=SPINE,
        light=light,
        delta_e=delta_e,
        u=u,
        method="24-patch target",
        book_patches=(RING,),
        piece_patches=(RING, RING),
    )


@pytest.fixture
def code(stock: Stockroom, red_rib: NewPiece) -> str:
    return stock.pieces.shelve(red_rib).born[0]


def test_a_confirmation_is_a_step_of_the_ledger_and_is_read_back_whole(
    stock: Stockroom, code: str
) -> None:
    changes = stock.pieces.confirm(code, seen())
    assert changes.step.verb is Verb.CONFIRMED
    assert changes.step.name == f"Held {code} against {SPINE}, overcast window: ΔE00 1.2 ± 0.8"
    assert changes.touched["piece"] == frozenset({stock.pieces.get(code).id})
    (kept,) = stock.pieces.confirmations(code)
    assert kept.code == code
    assert (kept.purpose, kept.light, kept.delta_e, kept.u) == (SPINE, "overcast window", 1.2, 0.8)
    assert kept.piece_patches == (RING, RING)


def test_a_confirmation_is_taken_back_and_made_again(stock: Stockroom, code: str) -> None:
    stock.pieces.confirm(code, seen())
    stock.ledger.undo()
    assert stock.pieces.confirmations() == []
    stock.ledger.redo()
    assert len(stock.pieces.confirmations()) == 1


def test_a_piece_is_not_unshelved_from_under_its_confirmation(stock: Stockroom, code: str) -> None:
    shelved = stock.ledger.steps()[-1].number
    stock.pieces.confirm(code, seen())
    with pytest.raises(UndoRefused, match="Held"):
        stock.ledger.undo(shelved)


def test_two_lights_that_disagree_beyond_their_bands_are_metameric(
    stock: Stockroom, code: str
) -> None:
    stock.pieces.confirm(code, seen())
    stock.pieces.confirm(code, seen("reading lamp", 6.0, 1.0))
    window, lamp = (kept.seen for kept in stock.pieces.confirmations(code))
    assert "metamerism" in metamerism_caution(window, lamp)


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        (seen(light="  "), "Light"),
        (seen(delta_e=-1.0), "ΔE00"),
        (seen(delta_e=float("nan")), "ΔE00"),
        (seen(u=float("inf")), "Band"),
    ],
)
def test_what_cannot_be_kept_is_refused_by_name(
    stock: Stockroom, code: str, bad: NewConfirmation, field: str
) -> None:
    with pytest.raises(EntryError) as refused:
        stock.pieces.confirm(code, bad)
    assert refused.value.field == field
    assert stock.pieces.confirmations() == []


def test_a_piece_or_photograph_that_is_not_there_is_named(stock: Stockroom, code: str) -> None:
    with pytest.raises(NotFound, match="C-9999"):
        stock.pieces.confirm("C-9999", seen())
    lost = NewConfirmation(purpose=SPINE, light="window", delta_e=1.0, u=1.0, photo="0" * 64)
    with pytest.raises(NotFound, match="photograph"):
        stock.pieces.confirm(code, lost)


def test_every_photograph_of_the_archive_is_listed_the_latest_first(stock: Stockroom) -> None:
    first = stock.photos.archive(b"one", name="one.jpg", width=10, height=10)
    second = stock.photos.archive(b"two", name="two.jpg", width=10, height=10)
    assert stock.photos.listed() == [second, first]
