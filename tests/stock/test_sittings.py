"""Several parts in one sitting, lengths off a roll, and an offcut photographed anew."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from bindery_stock.errors import ShapeError, StockError
from bindery_stock.shape import Flaw, FlawKind, Outline, sheet
from bindery_stock.stock import Colour, CutPart, Cutting, NewPiece, PieceState, Stockroom
from bindery_stock.trade.vocabulary import Form, Kind

Strip = Callable[[str], Cutting]


def box(left: float, low: float, right: float, high: float) -> tuple[tuple[float, float], ...]:
    return ((left, low), (right, low), (right, high), (left, high))


def two_strips(code: str) -> Cutting:
    """Two strips side by side out of 100 × 300 mm, leaving the upper end and the right edge."""
    return Cutting(
        code=code,
        purpose="spine strip, vol. 4",
        width=40.0,
        height=228.0,
        corners=box(0, 0, 40, 228),
        offcuts=(Outline(box(0, 228, 100, 300)), Outline(box(80, 0, 100, 228))),
        also=(
            CutPart(
                purpose="spine strip, vol. 5", width=40.0, height=228.0, corners=box(40, 0, 80, 228)
            ),
        ),
    )


def test_one_step_cuts_every_part_of_a_sitting(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    changes = stock.pieces.cut(two_strips("C-0001"))
    assert changes.born == ("C-0002", "C-0003")
    assert changes.step.name == (
        "Cut spine strip, vol. 4 40 × 228 mm and spine strip, vol. 5 40 × 228 mm from C-0001"
    )
    assert stock.pieces.get("C-0001").fate == "spine strip, vol. 4; spine strip, vol. 5"
    assert stock.pieces.cutting("C-0001") == two_strips("C-0001")
    stock.ledger.undo()
    assert [piece.code for piece in stock.pieces.listed()] == ["C-0001"]
    assert stock.pieces.cutting("C-0001") is None
    stock.ledger.redo()
    assert stock.pieces.cutting("C-0001") == two_strips("C-0001")


def test_parts_of_one_size_are_counted_in_the_ledger(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    cutting = two_strips("C-0001")
    same = replace(cutting.also[0], purpose=cutting.purpose)
    step = stock.pieces.cut(replace(cutting, also=(same,))).step
    assert step.name == "Cut 2 of spine strip, vol. 4 40 × 228 mm from C-0001"


def test_parts_that_overlap_are_not_cut(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    cutting = two_strips("C-0001")
    over = replace(cutting.also[0], corners=box(35, 0, 75, 228))
    with pytest.raises(ShapeError, match="overlaps"):
        stock.pieces.cut(replace(cutting, also=(over,)))
    assert stock.pieces.get("C-0001").state is PieceState.ON_SHELF


def test_a_sitting_fulfils_the_reservations_of_all_its_parts(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    for part in two_strips("C-0001").parts:
        stock.pieces.reserve(
            "C-0001", part.purpose, width=part.width, height=part.height, corners=part.corners
        )
    stock.pieces.cut(two_strips("C-0001"))
    assert stock.pieces.reservations() == []


@pytest.fixture
def roll(red_rib: NewPiece) -> NewPiece:
    """A roll of buckram a metre wide and five long, stained near its outer end."""
    return NewPiece(
        kind=Kind.CLOTH,
        form=Form.ROLL,
        outline=sheet(1000, 5000),
        pattern="buckram",
        flaws=(Flaw(FlawKind.STAIN, box(100, 4900, 200, 4950)),),
    )


def test_a_length_off_a_roll_leaves_the_roll_under_its_own_code(
    stock: Stockroom, roll: NewPiece
) -> None:
    stock.pieces.shelve(roll)
    changes = stock.pieces.cut_length("C-0001", 600.0, "linings")
    assert changes.born == ()
    assert changes.step.name == "Cut 600 mm off C-0001 for linings; 4400 mm are left"
    left = stock.pieces.get("C-0001")
    assert left.state is PieceState.ON_SHELF
    assert left.form is Form.ROLL
    assert left.outline == sheet(1000, 4400)
    assert left.flaws == ()
    stock.ledger.undo()
    assert stock.pieces.get("C-0001").outline == sheet(1000, 5000)
    assert stock.pieces.get("C-0001").flaws == roll.flaws


def test_the_length_may_go_on_the_shelf_as_a_sheet_with_its_stain(
    stock: Stockroom, roll: NewPiece
) -> None:
    stock.pieces.shelve(roll)
    (born,) = stock.pieces.cut_length("C-0001", 600.0, "a sheet for the bench", shelve=True).born
    length = stock.pieces.get(born)
    assert (length.form, length.parent) == (Form.SHEET, "C-0001")
    assert (length.outline.width, length.outline.height) == (1000, 600)
    assert [flaw.kind for flaw in length.flaws] == [FlawKind.STAIN]
    assert stock.pieces.get("C-0001").outline.area + length.outline.area == pytest.approx(5e6)


def test_a_roll_used_up_leaves_the_shelf(stock: Stockroom, roll: NewPiece) -> None:
    stock.pieces.shelve(roll)
    assert stock.pieces.cut_length("C-0001", 5000.0, "the last linings").step.name.endswith(
        "nothing is left"
    )
    assert stock.pieces.get("C-0001").state is PieceState.CUT_UP
    stock.ledger.undo()
    assert [piece.code for piece in stock.pieces.listed()] == ["C-0001"]


def test_no_more_comes_off_a_roll_than_it_holds(stock: Stockroom, roll: NewPiece) -> None:
    stock.pieces.shelve(roll)
    with pytest.raises(ShapeError, match="Only 5000 mm are left"):
        stock.pieces.cut_length("C-0001", 5001.0, "linings")


def test_a_scrap_is_not_cut_to_length(stock: Stockroom, red_rib: NewPiece) -> None:
    ragged = Outline(((0, 0), (100, 0), (100, 300), (10, 290)))
    stock.pieces.shelve(replace(red_rib, outline=ragged, flaws=()))
    with pytest.raises(ShapeError, match="Only a sheet or a roll"):
        stock.pieces.cut_length("C-0001", 50.0, "linings")


def test_a_length_that_would_spoil_what_is_reserved_is_refused(
    stock: Stockroom, roll: NewPiece
) -> None:
    stock.pieces.shelve(roll)
    stock.pieces.reserve(
        "C-0001", "case, vol. 1", width=300, height=250, corners=box(0, 4700, 300, 4950)
    )
    with pytest.raises(StockError, match=r"case, vol\. 1"):
        stock.pieces.cut_length("C-0001", 100.0, "linings")
    (born,) = stock.pieces.cut_length("C-0001", 400.0, "linings", shelve=True).born
    assert [held.code for held in stock.pieces.reservations()] == [born]


def test_an_offcut_photographed_anew_keeps_its_code_and_its_parent(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.cut(spine_strip("C-0001"))
    before = stock.pieces.get("C-0002")
    seen = replace(
        red_rib,
        outline=Outline(box(0, 0, 38, 226)),
        flaws=(),
        colours=(Colour(lab=(39.0, 44.0, 21.0), u=1.2, method="photo with a target"),),
        place="tin 7",
    )
    changes = stock.pieces.photograph_anew("C-0002", seen)
    assert changes.step.name == "Photographed C-0002 anew"
    now = stock.pieces.get("C-0002")
    assert (now.code, now.parent, now.place) == ("C-0002", "C-0001", "tin 7")
    assert now.outline == seen.outline
    assert now.colours == seen.colours
    stock.ledger.undo()
    assert stock.pieces.get("C-0002") == before


def test_a_reserved_piece_is_not_photographed_anew(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.reserve("C-0001", "corner", width=30, height=30, corners=box(0, 0, 30, 30))
    with pytest.raises(StockError, match="Release it"):
        stock.pieces.photograph_anew(
            "C-0001", replace(red_rib, outline=Outline(box(0, 0, 90, 290)))
        )
