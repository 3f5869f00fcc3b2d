"""Labels by the millimetre, before anything is painted."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.records import qr
from bindery_stock.records.label_face import LabelFacts, lay_out_face
from bindery_stock.records.label_sheets import SHEETS, LabelSheet, sheet_of, single
from bindery_stock.records.labels import label_pages, trial_page
from bindery_stock.records.page import A4, LETTER, Box, Page, Squares, Stroke, Words

GREEN = LabelFacts(
    code="C-0021",
    what="fine rib cloth",
    size="127 × 189 mm",
    warp=True,
    lab=(49.8, -35.9, 24.1),
    lab_words="L* 49.8 a* −35.9 b* 24.1",
    place="Sealed bag, top shelf",
    caution="△ Stop: arsenical green, likely by colour and date (and 2 more)",
)
A_SHEET = SHEETS[0]


def words_on(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Words)]


def codes_on(page: Page) -> list[Squares]:
    return [mark for mark in page.marks if isinstance(mark, Squares)]


def test_a_half_used_sheet_is_begun_at_the_first_label_that_is_left() -> None:
    (page,) = label_pages([GREEN], A_SHEET, start=6)
    x, y = A_SHEET.corner_of(5)
    (code,) = codes_on(page)
    assert all(
        x <= a <= x + A_SHEET.label_width and y <= b <= y + A_SHEET.label_height
        for a, b in code.corners
    )


def test_more_labels_than_a_sheet_holds_go_on_at_the_first_label_of_the_next() -> None:
    labels = [replace(GREEN, code=f"C-{n:04d}") for n in range(23)]
    first, second = label_pages(labels, A_SHEET, start=20)
    assert [t for t in words_on(first) if t.startswith("C-")] == ["C-0000", "C-0001"]
    assert len(codes_on(second)) == 21
    with pytest.raises(EntryError, match="labels 1 to 21"):
        label_pages(labels, A_SHEET, start=22)


def test_a_label_says_code_kind_size_warp_colour_place_and_caution() -> None:
    marks = lay_out_face(GREEN, (0, 0), (63.5, 38.1))
    said = {mark.text for mark in marks if isinstance(mark, Words)}
    assert said == {
        GREEN.code, GREEN.what, GREEN.size, GREEN.lab_words, GREEN.place, GREEN.caution,
    }  # fmt: skip
    assert any(isinstance(mark, Box) and mark.fill == GREEN.lab for mark in marks)
    assert sum(isinstance(mark, Stroke) for mark in marks) == 2, "the arrow along the warp"


def test_the_words_stand_in_the_middle_of_a_large_label_and_are_larger() -> None:
    small = [m for m in lay_out_face(GREEN, (0, 0), (63.5, 38.1)) if isinstance(m, Words)]
    large = [m for m in lay_out_face(GREEN, (0, 0), (100, 67.7)) if isinstance(m, Words)]
    above, below = large[0].y, 67.7 - large[-1].y - large[-1].height
    assert above == pytest.approx(below, abs=0.01)
    assert large[0].size > small[0].size * 1.3


def test_a_caution_is_never_left_off_a_small_label() -> None:
    marks = lay_out_face(GREEN, (0, 0), (40, 14))
    said = [mark.text for mark in marks if isinstance(mark, Words)]
    assert GREEN.caution in said
    assert GREEN.code in said


def test_a_label_too_small_for_a_code_that_can_be_read_is_refused_with_the_size_needed() -> None:
    with pytest.raises(EntryError, match=r"too small for C-0021.*11\.6 mm"):
        lay_out_face(GREEN, (0, 0), (22, 8))


@given(st.floats(30, 120), st.floats(15, 120))
def test_nothing_leaves_its_label(width: float, height: float) -> None:
    try:
        marks = lay_out_face(GREEN, (10, 20), (width, height))
    except EntryError:
        return
    for mark in marks:
        for x, y in _extremes(mark):
            assert 10 - 1e-6 <= x <= 10 + width + 1e-6
            assert 20 - 1e-6 <= y <= 20 + height + 1e-6


def _extremes(mark: object) -> list[tuple[float, float]]:
    match mark:
        case Words() | Box():
            return [(mark.x, mark.y), (mark.x + mark.width, mark.y + mark.height)]
        case Stroke():
            return list(mark.points)
        case Squares():
            return [(x + mark.side, y + mark.side) for x, y in mark.corners]
    raise AssertionError(mark)


def test_the_code_is_no_micro_symbol_and_its_modules_can_be_read() -> None:
    # ISO/IEC 18004: version 1 has 21 modules a side, and a quiet zone of 4 modules.
    assert qr.least_side("C-0042") == pytest.approx((21 + 2 * 4) * 0.4)
    square = qr.symbol("C-0042", 5, 7, 14.5)
    assert square.side == pytest.approx(0.5)
    assert min(x for x, _ in square.corners) == pytest.approx(5 + 4 * 0.5)
    with pytest.raises(EntryError, match="larger label"):
        qr.symbol("C-0042", 0, 0, 10)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_sheet_shipped_lies_on_its_paper_and_holds_a_full_label(sheet: LabelSheet) -> None:
    if sheet.on_sheet > 1:
        assert (sheet.paper_width, sheet.paper_height) in (
            (A4.width, A4.height),
            (LETTER.width, LETTER.height),
        )
    (page,) = label_pages([GREEN], sheet, start=sheet.on_sheet)
    assert GREEN.code in words_on(page)
    assert sheet_of(sheet.as_dict()) == sheet
    assert len(trial_page(sheet).marks) >= 2 * sheet.on_sheet


def test_overlapping_labels_and_labels_beyond_the_paper_are_refused() -> None:
    with pytest.raises(EntryError, match="overlap"):
        replace(A_SHEET, pitch_across=50.0)
    with pytest.raises(EntryError, match="paper ends at 297 mm"):
        replace(A_SHEET, rows=8)
    with pytest.raises(EntryError, match="1 to 40"):
        replace(A_SHEET, columns=0)
    with pytest.raises(EntryError, match="Paper width: nan"):
        single(float("nan"), 20)
    with pytest.raises(EntryError, match="cannot be read"):
        sheet_of({"name": "half a sheet"})


def test_labels_without_pieces_are_refused() -> None:
    with pytest.raises(EntryError, match="at least one"):
        label_pages([], A_SHEET)
