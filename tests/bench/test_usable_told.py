"""What can be had from a piece in one piece: told alike wherever the piece is told of."""

from pathlib import Path

import pytest

from bindery_stock.bench.exchange.label_words import piece_label
from bindery_stock.bench.exchange.lists import Listing, listing
from bindery_stock.bench.exchange.record_materials import piece_line
from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.cut_words import prospect, rectangle_words
from bindery_stock.bench.match.placed_part import PartPlaced
from bindery_stock.bench.shelf.usable_rectangles import UsableRectangles
from bindery_stock.matching import Part
from bindery_stock.records.csv_text import CsvStyle, csv_bytes
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.shape.placement import placement_at
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle, Unit

SHEET = Outline(((0, 0), (191, 0), (191, 249), (0, 249)))
MM = LengthStyle()


def test_an_offcut_is_told_on_label_list_file_and_record_as_on_the_cut_sheet(
    tmp_path: Path,
) -> None:
    """A frame of 191 × 249 mm about a case of 103 × 221: no more than 44 mm wide anywhere."""
    with Stockroom.create(tmp_path / "stock") as room:
        (code,) = room.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=SHEET)).born
        part = Part(103.0, 221.0, None)
        laid = (PartPlaced(part, placement_at(44.0, 14.0, 103.0, 221.0, 0.0)),)
        plan = CutPlan(room.pieces.get(code), laid)
        (on_sheet,) = prospect(plan.remains, (), part).rectangles
        told = rectangle_words(on_sheet, MM)
        assert told == "44 × 249 mm in one piece"
        room.pieces.cut(plan.cutting())
        (offcut,) = room.pieces.listed()
        label = piece_label(offcut, MM, room.rules)
        assert label.size == "191 × 249 mm"
        assert label.usable == f"{told}, or 44 mm square"
        table = listing(Listing.STOCK, room)
        row = dict(zip([one.head for one in table.columns], table.rows[0], strict=True))
        assert (row["Usable across"], row["Usable along"], row["Largest square"]) == (44, 249, 44)
        text = csv_bytes(table, CsvStyle()).decode()
        assert "Usable across (mm),Usable along (mm),Largest square (mm)" in text
        assert piece_line(room, [offcut], (), MM).what.endswith(label.usable)
        known = UsableRectangles()
        assert known.words(offcut, MM) == ""  # a caption says nothing until it is measured
        known.measure_both(offcut)
        assert known.words(offcut, MM) == label.usable


@pytest.mark.parametrize("unit", list(Unit))
def test_no_more_is_told_than_there_is_in_either_unit(tmp_path: Path, unit: Unit) -> None:
    """60 mm are 2.362 in: 2 3/8 in would be 60.3 mm."""
    with Stockroom.create(tmp_path / "stock") as room:
        stain = Flaw(FlawKind.STAIN, ((60.0, 0.0), (191.0, 0.0), (191.0, 249.0), (60.0, 249.0)))
        new = NewPiece(kind=Kind.CLOTH, outline=SHEET, flaws=(stain,))
        piece = room.pieces.get(room.pieces.shelve(new).born[0])
        lengths = LengthStyle(unit)
        told = piece_label(piece, lengths, room.rules).usable
        wanted = {Unit.MM: "60 × 249 mm in one piece", Unit.INCH: "2 5/16 × 9 3/4 in in one piece"}
        assert told.startswith(wanted[unit])
