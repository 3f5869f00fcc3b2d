"""The plan of a cut on paper, in the millimetres of the page."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from bindery_stock.records.cut_paper import ABOUT_MM, MARGIN_MM, OVERLAP_MM, CutTold, cut_pages
from bindery_stock.records.page import A4, LETTER, Page, Stroke, Words
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.stock import Cutting, NewPiece, StockPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle
from tests.records.busy import rectangle

LENGTHS = LengthStyle()


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as made:
        yield made


def scrap(stock: Stockroom, width: float, height: float) -> StockPiece:
    outline = Outline(rectangle(0, 0, width, height))
    (code,) = stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=outline)).born
    return stock.pieces.get(code)


def strip(piece: StockPiece, width: float, height: float) -> Cutting:
    return Cutting(
        code=piece.code, purpose="spine strip, vol. 4", width=width, height=height,
        corners=rectangle(10, 10, 10 + width, 10 + height), offcuts=(),
    )  # fmt: skip


def thick_lines(page: Page) -> list[tuple[tuple[float, float], ...]]:
    """The lines along which the knife goes."""
    return [m.points for m in page.marks if isinstance(m, Stroke) and m.width == 0.5]


def extent(lines: list[tuple[tuple[float, float], ...]]) -> tuple[float, float]:
    xs = [x for line in lines for x, _ in line]
    ys = [y for line in lines for _, y in line]
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
def test_a_small_piece_takes_one_page_at_full_size(stock: Stockroom, paper: object) -> None:
    piece = scrap(stock, 120, 200)
    _sketch, full = cut_pages(piece, strip(piece, 58, 180), paper, LENGTHS)
    assert extent(thick_lines(full)) == pytest.approx((58, 180))


def test_a_large_piece_is_tiled_and_the_tiles_add_up(stock: Stockroom) -> None:
    piece = scrap(stock, 430, 600)
    _, *tiles = cut_pages(piece, strip(piece, 400, 560), A4, LENGTHS)
    wide, tall = A4.width - 2 * MARGIN_MM, A4.height - 2 * MARGIN_MM - 28
    columns, rows = 3, 3
    assert len(tiles) == columns * rows
    # Each edge of the part, laid together over the tiles, has its whole length.
    top = 0.0
    for column, page in enumerate(tiles[:columns]):
        (line,) = thick_lines(page)
        xs = [x + column * (wide - OVERLAP_MM) for x, _ in line]
        top = max(top, max(xs) - (MARGIN_MM + ABOUT_MM))
    assert top == pytest.approx(400)
    for page in tiles:
        for line in thick_lines(page):
            assert all(MARGIN_MM - 1e-9 <= x <= MARGIN_MM + wide + 1e-9 for x, _ in line)
            assert all(MARGIN_MM + 16 - 1e-9 <= y <= MARGIN_MM + 16 + tall + 1e-9 for _, y in line)


def test_every_page_at_full_size_has_its_check_line_and_the_sketch_its_measures(
    stock: Stockroom,
) -> None:
    piece = scrap(stock, 230, 250)
    sketch, *tiles = cut_pages(piece, strip(piece, 58, 228), A4, LENGTHS)
    for page in tiles:
        lengths = [
            abs(m.points[1][0] - m.points[0][0])
            for m in page.marks
            if isinstance(m, Stroke) and len(m.points) == 2
        ]
        assert any(length == pytest.approx(50.0) for length in lengths)
    said = " ".join(m.text for m in sketch.marks if isinstance(m, Words))
    for words in ("230 mm", "250 mm", "58 × 228 mm", "10 mm from the left", "Mind the blade"):
        assert words in said


def test_only_the_parts_and_what_is_about_them_are_drawn_at_full_size(stock: Stockroom) -> None:
    piece = scrap(stock, 600, 900)
    _, *tiles = cut_pages(piece, strip(piece, 58, 228), A4, LENGTHS)
    assert len(tiles) == 1
    assert extent(thick_lines(tiles[0])) == pytest.approx((58, 228))
    said = [m.text for m in tiles[0].marks if isinstance(m, Words)]
    assert "58 × 228 mm" in said
    assert "1" in said


def test_a_measure_is_written_only_where_it_lies_within_its_part(stock: Stockroom) -> None:
    piece = scrap(stock, 120, 200)
    corner = replace(strip(piece, 20, 20), corners=((10, 10), (30, 10), (10, 30)))
    _, full = cut_pages(piece, corner, A4, LENGTHS)
    said = [m.text for m in full.marks if isinstance(m, Words)]
    assert "20 × 20 mm" not in said
    assert "1" in said


def test_a_flaw_is_named_where_it_is_drawn(stock: Stockroom) -> None:
    stain = Flaw(FlawKind.STAIN, rectangle(80, 20, 110, 40))
    outline = Outline(rectangle(0, 0, 120, 200))
    (code,) = stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=outline, flaws=(stain,))).born
    piece = stock.pieces.get(code)
    for page in cut_pages(piece, strip(piece, 58, 180), A4, LENGTHS):
        assert "stain" in [m.text for m in page.marks if isinstance(m, Words)]


def test_the_trim_line_the_way_of_the_knife_and_the_waste_stand_on_the_paper(
    stock: Stockroom,
) -> None:
    piece = scrap(stock, 120, 200)
    trim = rectangle(68, 0, 120, 200)
    cuts = tuple(f"{n}. 120 × 200 mm: along the warp, {n} mm from the left" for n in range(1, 25))
    told = CutTold("In from the edge", cuts, (trim,), "Waste: 6.0 cm², in slivers.")
    sketch, full = cut_pages(piece, strip(piece, 58, 180), A4, LENGTHS, told)
    written = [m for m in sketch.marks if isinstance(m, Words)]
    said = [m.text for m in written]
    for words in ("The knife: in from the edge.", *cuts, "Waste: 6.0 cm², in slivers.", "trim"):
        assert words in said
    assert max(m.y + m.height for m in written) <= A4.height - MARGIN_MM
    (line,) = (m for m in sketch.marks if isinstance(m, Stroke) and m.width == 0.12)
    wide, tall = extent([line.points])
    assert wide / tall == pytest.approx(52 / 200)
    near = [m for m in full.marks if isinstance(m, Stroke) and m.width == 0.12]
    assert min(x for m in near for x, _ in m.points) == pytest.approx(MARGIN_MM + ABOUT_MM + 58)
