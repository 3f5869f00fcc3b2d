"""A cut leaves its offcuts on the shelf, and nothing of the piece is lost or made up."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from bindery_stock.errors import EntryError, NotFound, ShapeError, StockError
from bindery_stock.shape import Flaw, FlawKind, Outline, cut, place
from bindery_stock.stock import Cutting, NewPiece, PieceState, Stockroom
from bindery_stock.trade.vocabulary import Form, Kind

Strip = Callable[[str], Cutting]


def box(left: float, low: float, right: float, high: float) -> tuple[tuple[float, float], ...]:
    return ((left, low), (right, low), (right, high), (left, high))


def test_an_offcut_inherits_what_is_true_of_the_whole_cloth(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    changes = stock.pieces.cut(spine_strip("C-0001"))
    assert changes.born == ("C-0002", "C-0003")
    assert changes.step.name == "Cut spine strip, vol. 4 60 × 228 mm from C-0001"
    offcut = stock.pieces.get("C-0002")
    for inherited in (
        "kind", "pattern", "backing", "fibre", "colours", "marks", "source", "source_date", "place",
    ):  # fmt: skip
        assert getattr(offcut, inherited) == getattr(red_rib, inherited), inherited
    assert offcut.parent == "C-0001"
    assert offcut.note == ""
    assert offcut.price is None


def test_the_cut_piece_leaves_the_shelf_and_keeps_its_story(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.cut(spine_strip("C-0001"))
    assert [piece.code for piece in stock.pieces.listed()] == ["C-0002", "C-0003"]
    whole = stock.pieces.get("C-0001")
    assert whole.state is PieceState.CUT_UP
    assert whole.fate == "spine strip, vol. 4"
    assert stock.pieces.cutting("C-0001") == spine_strip("C-0001")
    assert stock.pieces.cutting("C-0002") is None
    assert [child.code for child in stock.pieces.children("C-0001")] == ["C-0002", "C-0003"]
    assert [parent.code for parent in stock.pieces.ancestors("C-0003")] == ["C-0001"]
    assert [step.number for step in stock.ledger.steps(code="C-0003")] == [2]


def test_a_stain_goes_with_the_offcut_it_lies_in(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.cut(spine_strip("C-0001"))
    (stain,) = stock.pieces.get("C-0002").flaws
    assert stain.kind is FlawKind.STAIN
    assert Outline(stain.ring).bounds == (60.0, 100.0, 80.0, 150.0)
    assert stock.pieces.get("C-0003").flaws == ()


def test_area_is_neither_lost_nor_made(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.cut(spine_strip("C-0001"))
    cutting = stock.pieces.cutting("C-0001")
    assert cutting is not None
    pieces = (*cutting.offcuts, *cutting.discarded, Outline(cutting.corners))
    assert sum(piece.area for piece in pieces) == pytest.approx(
        stock.pieces.get("C-0001").outline.area
    )


def test_what_the_knife_leaves_can_be_shelved_as_it_comes(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    outline = red_rib.outline
    placement = place(outline, 58.0, 228.0, margin=2.0)
    assert placement is not None
    left = cut(outline, placement, knife=0.5)
    stock.pieces.cut(
        Cutting(
            code="C-0001",
            purpose="spine",
            width=58.0,
            height=228.0,
            corners=placement.corners,
            offcuts=tuple(left),
        )
    )
    assert sum(piece.outline.area for piece in stock.pieces.listed()) == pytest.approx(
        sum(piece.area for piece in left)
    )


def test_offcuts_that_overlap_the_part_are_refused(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    wrong = replace(spine_strip("C-0001"), offcuts=(Outline(box(50, 0, 100, 300)),))
    with pytest.raises(ShapeError, match="overlaps"):
        stock.pieces.cut(wrong)
    assert stock.pieces.get("C-0001").state is PieceState.ON_SHELF


def test_a_part_outside_the_piece_is_refused(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    wrong = replace(spine_strip("C-0001"), corners=box(80, 0, 140, 228), offcuts=())
    with pytest.raises(ShapeError, match="do not lie within C-0001"):
        stock.pieces.cut(wrong)


def test_a_piece_is_cut_once(stock: Stockroom, red_rib: NewPiece, spine_strip: Strip) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.cut(spine_strip("C-0001"))
    with pytest.raises(StockError, match="cut up"):
        stock.pieces.cut(spine_strip("C-0001"))


def test_a_roll_stays_a_roll_while_it_is_a_plain_rectangle(stock: Stockroom) -> None:
    roll = NewPiece(kind=Kind.MULL, form=Form.ROLL, outline=Outline(box(0, 0, 900, 5000)))
    stock.pieces.shelve(roll)
    stock.pieces.cut(
        Cutting(
            code="M-0001",
            purpose="spine linings",
            width=300.0,
            height=300.0,
            corners=box(0, 0, 300, 300),
            offcuts=(Outline(box(0, 300, 900, 5000)), Outline(box(300, 0, 900, 300))),
        )
    )
    assert [piece.form for piece in stock.pieces.listed()] == [Form.ROLL, Form.SCRAP]


def test_a_flaw_that_the_cut_divides_becomes_two(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    horseshoe = Flaw(
        FlawKind.GLUE,
        ((50, 20), (90, 20), (90, 40), (55, 40), (55, 60), (90, 60), (90, 80), (50, 80)),
    )
    stock.pieces.shelve(replace(red_rib, flaws=(horseshoe,)))
    stock.pieces.cut(spine_strip("C-0001"))
    flaws = stock.pieces.get("C-0002").flaws
    assert [flaw.kind for flaw in flaws] == [FlawKind.GLUE, FlawKind.GLUE]
    assert sorted(Outline(flaw.ring).bounds for flaw in flaws) == [
        (60.0, 20.0, 90.0, 40.0),
        (60.0, 60.0, 90.0, 80.0),
    ]


def test_the_cut_fulfils_its_reservation_and_passes_the_other_on(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    strip = spine_strip("C-0001")
    stock.pieces.reserve("C-0001", strip.purpose, width=60, height=228, corners=strip.corners)
    stock.pieces.reserve("C-0001", "corner", width=30, height=30, corners=box(65, 5, 95, 35))
    assert stock.pieces.get("C-0001").reserved_for == "spine strip, vol. 4; corner"
    stock.pieces.cut(strip)
    (left,) = stock.pieces.reservations()
    assert (left.code, left.purpose) == ("C-0002", "corner")
    stock.ledger.undo()
    assert [held.code for held in stock.pieces.reservations()] == ["C-0001", "C-0001"]


def test_a_cut_that_would_spoil_another_reservation_is_refused(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.reserve("C-0001", "corner", width=30, height=30, corners=box(50, 5, 80, 35))
    with pytest.raises(StockError, match="also reserved for corner"):
        stock.pieces.cut(spine_strip("C-0001"))
    assert stock.pieces.get("C-0001").state is PieceState.ON_SHELF


def test_a_reserved_piece_is_held_until_it_is_released(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.reserve("C-0001", "vol. 9", width=60, height=200)
    for refused in (
        lambda: stock.pieces.discard("C-0001", "moth"),
        lambda: stock.pieces.correct("C-0001", outline=Outline(box(0, 0, 90, 300))),
        lambda: stock.pieces.reserve("C-0001", "vol. 9", width=60, height=200),
    ):
        with pytest.raises(StockError, match=r"vol\. 9"):
            refused()
    stock.pieces.release("C-0001", "vol. 9")
    assert stock.pieces.get("C-0001").reserved_for == ""
    with pytest.raises(NotFound, match="nothing to release"):
        stock.pieces.release("C-0001")


def test_two_reserved_parts_may_not_overlap(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    stock.pieces.reserve("C-0001", "one", width=50, height=50, corners=box(0, 0, 50, 50))
    stock.pieces.reserve("C-0001", "beside", width=50, height=50, corners=box(50, 0, 100, 50))
    with pytest.raises(StockError, match="overlaps what is reserved for one"):
        stock.pieces.reserve("C-0001", "across", width=50, height=50, corners=box(25, 25, 75, 75))
    with pytest.raises(StockError, match="does not lie within"):
        stock.pieces.reserve(
            "C-0001", "outside", width=50, height=50, corners=box(75, 75, 125, 125)
        )
    with pytest.raises(EntryError, match="Width"):
        stock.pieces.reserve("C-0001", "nothing", width=0, height=50)
