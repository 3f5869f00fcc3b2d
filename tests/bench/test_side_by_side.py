"""Book and scrap in one photograph: what is said, kept, and held against another light."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bindery_stock.bench.colour_room.side_by_side import (
    Pair,
    compare,
    confirmation_words,
    confirmations_of,
    metamerism,
)
from bindery_stock.bench.match.candidates import hoard_of
from bindery_stock.bench.match.closeness import order_note, threshold_words
from bindery_stock.bench.match.confirm import confirm
from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.colour import ReadBy, delta_e00
from bindery_stock.errors import ColourError
from bindery_stock.matching import Part, rank
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, Cutting, NewConfirmation, NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.desktop.charts import (
    CLOTH,
    CLOTH_AT,
    CORNERS,
    GREY_AT,
    GREY_L,
    OTHER,
    OTHER_AT,
    photograph_target,
)

SPINE = "spine strip, vol. 4"
TRUE = float(delta_e00(CLOTH, OTHER))


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as made:
        yield made


@pytest.fixture
def pair(tmp_path: Path) -> Pair:
    photo = photograph_target(tmp_path / "both.png")
    return Pair(photo, "both.png", (560, 480), (CLOTH_AT,), (OTHER_AT,))


def scrap(
    lab: tuple[float, float, float],
    method: str,
    u: float | None = 20.0,
    read_by: ReadBy = ReadBy.STATED,
) -> NewPiece:
    outline = Outline(((0, 0), (200, 0), (200, 250), (0, 250)))
    colour = Colour(lab, u=u, method=method, read_by=read_by)
    return NewPiece(kind=Kind.CLOTH, outline=outline, colours=(colour,))


def seen(light: str, delta_e: float, u: float = 0.8) -> NewConfirmation:
    return NewConfirmation(purpose=SPINE, light=light, delta_e=delta_e, u=u)


@pytest.mark.parametrize(
    "reference", [None, Grey(GREY_AT, GREY_L), Patches(CORNERS)], ids=["bare", "grey", "target"]
)
def test_a_small_difference_is_found_within_its_band_whatever_lies_in_the_photograph(
    pair: Pair, reference: Grey | Patches | None
) -> None:
    found = compare(pair, reference=reference)
    assert abs(found.delta_e - TRUE) <= found.u
    assert found.u < 4.5  # though a bare photograph says no figure of a colour alone


def test_a_patch_outside_the_photograph_is_refused(pair: Pair) -> None:
    away = ((900.0, 10.0), (990.0, 10.0), (990.0, 90.0), (900.0, 90.0))
    with pytest.raises(ColourError, match="outside the photograph"):
        compare(Pair(pair.photo, pair.name, pair.size, (away,), pair.piece))


def test_what_was_found_is_kept_with_its_photograph_light_and_patches(
    stock: Stockroom, pair: Pair
) -> None:
    (code,) = stock.pieces.shelve(scrap(OTHER, "typed")).born
    confirm(
        stock,
        piece=code,
        pair=pair,
        comparison=compare(pair),
        purpose=SPINE,
        light="overcast window",
    )
    (kept,) = confirmations_of(stock, code)
    assert kept.photo is not None
    assert stock.photos.path(kept.photo).read_bytes() == pair.photo.read_bytes()
    assert kept.book_patches == pair.book
    assert confirmation_words(kept).startswith("Overcast window: ΔE00")


def test_an_offcut_carries_what_its_piece_was_held_against(stock: Stockroom) -> None:
    (code,) = stock.pieces.shelve(scrap(OTHER, "typed")).born
    stock.pieces.confirm(code, seen("overcast window", 1.2))
    part = ((0.0, 0.0), (50.0, 0.0), (50.0, 250.0), (0.0, 250.0))
    rest = Outline(((50, 0), (200, 0), (200, 250), (50, 250)))
    (offcut,) = stock.pieces.cut(
        Cutting(code=code, purpose="a corner", width=50, height=250, corners=part, offcuts=(rest,))
    ).born
    stock.pieces.confirm(offcut, seen("reading lamp", 1.4))
    assert [kept.code for kept in confirmations_of(stock, offcut)] == [code, offcut]


def test_two_lights_that_part_raise_a_caution_and_one_light_twice_does_not(
    stock: Stockroom,
) -> None:
    (code,) = stock.pieces.shelve(scrap(OTHER, "typed")).born
    stock.pieces.confirm(code, seen("overcast window", 1.2))
    stock.pieces.confirm(code, seen("Overcast window", 6.0))
    assert metamerism(confirmations_of(stock, code)) == ""
    stock.pieces.confirm(code, seen("overcast window", 1.0))
    stock.pieces.confirm(code, seen("reading lamp", 6.0))
    assert "reading lamp" in metamerism(confirmations_of(stock, code))


def test_lights_are_not_held_against_each_other_over_two_books(stock: Stockroom) -> None:
    (code,) = stock.pieces.shelve(scrap(OTHER, "typed")).born
    stock.pieces.confirm(code, seen("overcast window", 1.2))
    other = NewConfirmation(purpose="vol. 9", light="reading lamp", delta_e=9.0, u=0.5)
    stock.pieces.confirm(code, other)
    assert metamerism(confirmations_of(stock, code)) == ""


def ranked(stock: Stockroom, u: float = 0.0, read_by: ReadBy = ReadBy.STATED) -> str:
    part = Part(58, 228, CLOTH, u=u, read_by=read_by)
    return order_note(rank(part, hoard_of(stock.pieces.listed(), reserved=True)))


def test_an_order_by_grey_cards_is_called_an_order_only_and_no_bare_photograph_is_named(
    stock: Stockroom,
) -> None:
    for lab in (CLOTH, OTHER):
        stock.pieces.shelve(
            scrap(lab, "one neutral patch in the photograph", 14.0, read_by=ReadBy.CARD)
        )
    said = ranked(stock, 14.0, ReadBy.CARD)
    assert said.startswith(
        "Order only: read by a grey card, good to ± 20 ΔE00, these 2 cannot be told apart."
    )
    assert "hold the first few beside the book in one photograph" in said
    both = ranked(stock, 6.0, ReadBy.TARGET)
    assert both.startswith(
        "Order only: read by a target and read by a grey card, good to ± 15 ΔE00"
    )


def test_pieces_that_were_only_seen_are_said_to_be_and_have_no_order(stock: Stockroom) -> None:
    for lab in (CLOTH, OTHER):
        stock.pieces.shelve(scrap(lab, "bare photograph, no reference", None, read_by=ReadBy.SEEN))
    said = ranked(stock)
    assert said.startswith("Seen, not measured: these 2 are of the colour family sought")
    assert "±" not in said
    assert "ΔE00" not in said


def test_an_order_that_the_bands_allow_is_not_called_in_question(stock: Stockroom) -> None:
    stock.pieces.shelve(scrap(CLOTH, "instrument reading, D50/2°", u=0.5))
    stock.pieces.shelve(scrap((60.0, 10.0, 10.0), "instrument reading, D50/2°", u=0.5))
    assert ranked(stock) == ""


def test_every_word_for_a_difference_names_where_its_limit_comes_from() -> None:
    """Paravina et al. 2015 for 0.8 and 1.8; ISO 12647-2:2013 as reported in TAGA 2015."""
    said = threshold_words()
    assert "up to ΔE00 0.8: no visible difference (50:50 perceptibility" in said
    assert "Paravina" in said
    assert "ISO 12647-2" in said
