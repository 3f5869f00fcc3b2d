"""Pieces come back as they were shelved, and what cannot be kept is refused with its reason."""

import math
from dataclasses import fields, replace
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bindery_stock.errors import EntryError, NotFound, StockError
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    Colour,
    FaceName,
    NewPiece,
    Photo,
    PhotoMark,
    PieceState,
    Stockroom,
    Verb,
)
from bindery_stock.trade.vocabulary import Kind

PLAIN = Outline(((0, 0), (50, 0), (50, 80), (0, 80)))


def test_a_shelved_piece_comes_back_as_it_went_in(stock: Stockroom, red_rib: NewPiece) -> None:
    new = replace(red_rib, price=Decimal("4.50"))
    changes = stock.pieces.shelve(new)
    piece = stock.pieces.get("C-0001")
    for field in fields(NewPiece):
        assert getattr(piece, field.name) == getattr(new, field.name), field.name
    assert changes.born == ("C-0001",)
    assert piece.state is PieceState.ON_SHELF
    assert piece.shelved_at == changes.step.at
    assert stock.pieces.by_id(piece.id) == piece
    assert changes.touched["piece"] == {piece.id}


def test_each_kind_has_its_own_series_of_codes(stock: Stockroom) -> None:
    kinds = [Kind.CLOTH, Kind.MULL, Kind.CLOTH, Kind.BOARD, Kind.TAPE]
    changes = stock.pieces.shelve_many([NewPiece(kind=kind, outline=PLAIN) for kind in kinds])
    assert changes.born == ("C-0001", "M-0001", "C-0002", "B-0001", "S-0001")
    assert changes.step.name == "Shelved C-0001 and 4 others"


def test_a_code_is_not_given_out_again_after_an_undo(stock: Stockroom) -> None:
    stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN))
    stock.ledger.undo()
    assert stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN)).born == ("C-0002",)


def test_an_outline_with_a_hole_comes_back_with_it(stock: Stockroom) -> None:
    holed = Outline(PLAIN.exterior, (((10, 10), (20, 10), (20, 20)),))
    stock.pieces.shelve(NewPiece(kind=Kind.PAPER, outline=holed))
    assert stock.pieces.get("P-0001").outline == holed


def test_a_face_under_a_turn_in_keeps_its_name(stock: Stockroom) -> None:
    readings = (
        Colour((30.0, 1.0, 2.0), face=FaceName.SHELTERED),
        Colour((50.0, 3.0, 4.0), face=FaceName.SHOWN),
    )
    stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, colours=readings))
    piece = stock.pieces.get("C-0001")
    assert piece.colours == readings
    assert piece.colour == readings[1]


@pytest.mark.parametrize(
    "lab",
    [
        (math.nan, 0.0, 0.0),
        (50.0, math.inf, 0.0),
        (101.0, 0.0, 0.0),
        (-1.0, 0.0, 0.0),
        (50.0, 201.0, 0.0),
        (50.0, 0.0, -201.0),
    ],
)
def test_a_colour_no_surface_has_is_refused(
    stock: Stockroom, lab: tuple[float, float, float]
) -> None:
    with pytest.raises(EntryError, match="Colour") as refused:
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, colours=(Colour(lab),)))
    assert refused.value.field == "Colour"
    assert stock.pieces.listed() == []
    assert stock.ledger.steps() == []


@pytest.mark.parametrize("field", ["spread", "u"])
@pytest.mark.parametrize("value", [math.nan, math.inf, -0.1])
def test_an_impossible_spread_or_uncertainty_is_refused(
    stock: Stockroom, field: str, value: float
) -> None:
    reading = replace(Colour((50.0, 0.0, 0.0)), **{field: value})
    with pytest.raises(EntryError):
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, colours=(reading,)))


@pytest.mark.parametrize("price", [Decimal("NaN"), Decimal("Infinity"), Decimal(-1)])
def test_a_price_that_is_no_amount_is_refused(stock: Stockroom, price: Decimal) -> None:
    with pytest.raises(EntryError, match="Price"):
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, price=price))


def test_a_scale_that_is_not_finite_is_refused(stock: Stockroom, red_rib: NewPiece) -> None:
    mark = replace(red_rib.marks[0], to_mm=(math.nan,) * 9)
    with pytest.raises(EntryError, match="Scale"):
        stock.pieces.shelve(replace(red_rib, marks=(mark,)))


def test_a_photograph_must_be_archived_before_a_piece_shows_it(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stranger = Photo("f" * 64, "lost.jpg", 10, 10, ".jpg")
    with pytest.raises(NotFound, match="Add it first"):
        stock.pieces.shelve(replace(red_rib, marks=(PhotoMark(stranger, red_rib.marks[0].to_mm),)))
    assert stock.pieces.listed() == []


def test_a_parent_that_is_not_there_is_refused(stock: Stockroom) -> None:
    with pytest.raises(NotFound, match="C-0099"):
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, parent="C-0099"))


def test_a_broken_character_is_refused_by_the_name_of_its_field(stock: Stockroom) -> None:
    with pytest.raises(EntryError, match="Note") as refused:
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, note="half a pair \ud800"))
    assert refused.value.field == "Note"


@settings(
    max_examples=30,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(words=st.text(st.characters(exclude_categories=["Cs"]), max_size=200))
def test_words_are_kept_as_they_were_typed(stock: Stockroom, words: str) -> None:
    new = NewPiece(
        kind=Kind.CLOTH, outline=PLAIN, note=words, place=words, source=words, pattern=words
    )
    (code,) = stock.pieces.shelve(new).born
    piece = stock.pieces.get(code)
    assert (piece.note, piece.place, piece.source, piece.pattern) == (words,) * 4


def test_a_very_long_note_is_kept_whole(stock: Stockroom) -> None:
    stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=PLAIN, note="warp " * 200_000))
    assert len(stock.pieces.get("C-0001").note) == 1_000_000


def test_several_pieces_are_shelved_all_or_none(stock: Stockroom) -> None:
    good = NewPiece(kind=Kind.CLOTH, outline=PLAIN)
    bad = replace(good, colours=(Colour((math.nan, 0.0, 0.0)),))
    with pytest.raises(EntryError):
        stock.pieces.shelve_many([good, good, bad])
    assert stock.pieces.listed() == []
    assert stock.pieces.shelve(good).born == ("C-0001",)


def test_a_correction_changes_what_was_named_and_nothing_else(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    was = stock.pieces.get("C-0001")
    readings = (Colour((40.0, 40.0, 20.0), method="typed from an instrument"), *was.colours)
    changes = stock.pieces.correct("C-0001", note="not faded after all", colours=readings)
    assert stock.pieces.get("C-0001") == replace(was, note="not faded after all", colours=readings)
    assert changes.step.verb is Verb.CORRECTED
    assert changes.step.name == "Corrected note, colours of C-0001"
    assert changes.touched["piece"] == {was.id}
    stock.ledger.undo()
    assert stock.pieces.get("C-0001") == was


def test_a_correction_that_changes_nothing_is_no_step(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    unchanged = stock.pieces.correct("C-0001", note=red_rib.note)
    assert unchanged.nothing
    assert "already as you have it" in unchanged.step.name
    assert len(stock.ledger.steps()) == 1


def test_the_parent_of_a_piece_is_not_open_to_correction(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    with pytest.raises(TypeError, match="parent"):
        stock.pieces.correct("C-0001", parent="C-0001")


def test_pieces_move_together_in_one_step(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve_many([red_rib, replace(red_rib, place="tin A"), red_rib])
    step = stock.pieces.move(["C-0001", "C-0002", "C-0003"], "tin A").step
    assert {piece.place for piece in stock.pieces.listed()} == {"tin A"}
    assert step.codes == ("C-0001", "C-0003"), "the one that lay there already did not move"
    again = stock.pieces.move(["C-0002"], "tin A")
    assert again.nothing
    assert again.step.name == "Everything chosen lies in tin A already."


def test_a_discarded_piece_leaves_the_shelf_with_its_reason(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.discard("C-0001", "mould")
    assert stock.pieces.listed() == []
    assert stock.pieces.count() == 0
    (piece,) = stock.pieces.listed(gone=True)
    assert (piece.state, piece.fate) == (PieceState.DISCARDED, "mould")
    with pytest.raises(StockError, match="discarded"):
        stock.pieces.discard("C-0001", "again")
    with pytest.raises(StockError, match="can no longer be corrected"):
        stock.pieces.correct("C-0001", outline=PLAIN)


def test_a_discard_wants_a_reason(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    with pytest.raises(EntryError, match="Reason"):
        stock.pieces.discard("C-0001", "  ")


def test_words_in_use_are_offered_for_completing(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve_many(
        [red_rib, replace(red_rib, place="Tin A", pattern="", source="a sale")]
    )
    assert stock.pieces.count() == 2
    words = stock.pieces.words()
    assert words.places == ("drawer 2", "Tin A")
    assert words.patterns == ("rib",)
    assert words.sources == ("a sale", "the press of an invented binder")


def test_a_setting_travels_with_the_stock(stock: Stockroom) -> None:
    assert stock.keeping.setting("unit") is None
    stock.keeping.set_setting("unit", "in")
    stock.keeping.set_setting("unit", "mm")
    assert stock.keeping.setting("unit") == "mm"
    assert stock.ledger.steps() == []


def test_a_code_that_is_on_no_label_is_not_found(stock: Stockroom) -> None:
    for ask in (
        stock.pieces.get,
        stock.pieces.children,
        stock.pieces.ancestors,
        stock.pieces.cutting,
        stock.lots.get,
    ):
        with pytest.raises(NotFound, match="C-0042"):
            ask("C-0042")
