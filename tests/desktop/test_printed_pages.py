"""Long texts on paper: what must not be parted is not, and nothing is lost between two pages.

Every page is read back by pypdf, which knows nothing of how it was set.
"""

import re
from io import BytesIO

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QApplication

from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.printing.flow import LIST_POINTS, Flowing
from bindery_stock.records.html import grid, text
from bindery_stock.records.page import A4, PAPERS, Paper
from tests.records.rendered import MM_PER_DOT, paint

WORDS = "a caution of some length"


def pages_of(body: str, paper: Paper = A4, *, points: float = 9.5, wide: bool = False) -> list[str]:
    """The words on each page."""
    pdf = Flowing(body, paper, "Trial", landscape=wide, points=points).pdf()
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


def ends(pages: list[str]) -> dict[str, list[tuple[str, int]]]:
    """On which pages each row begins and ends."""
    found: dict[str, list[tuple[str, int]]] = {}
    for number, words in enumerate(pages):
        for end, row in re.findall(r"(first|last)(\d+)x", words):
            found.setdefault(row, []).append((end, number))
    return found


@pytest.mark.parametrize("paper", PAPERS, ids=["A4", "Letter"])
def test_no_row_of_two_thousand_is_parted_by_the_end_of_a_page(
    qapp: QApplication, paper: Paper
) -> None:
    rows = [[f"first{n}x", f"{WORDS} " * (n % 5), f"last{n}x"] for n in range(2000)]
    body = f"<h1>Stock</h1>{grid(['Code', 'Cautions', 'Place'], rows)}"
    pages = pages_of(body, paper, points=LIST_POINTS, wide=True)
    assert len(pages) > 60
    assert all(words.startswith(("Code Cautions Place", "Stock Code")) for words in pages)
    assert all(words.endswith(f"Page {n} of {len(pages)}") for n, words in enumerate(pages, 1))
    found = ends(pages)
    assert len(found) == len(rows)
    for row, there in found.items():
        assert [end for end, _ in there] == ["first", "last"], row
        assert len({page for _, page in there}) == 1, row


def test_a_row_higher_than_a_page_goes_on_on_the_next_and_loses_no_word(
    qapp: QApplication,
) -> None:
    long = " ".join(f"w{n}w" for n in range(3000))
    rows = [["first0x", "short last0x"], ["first1x", f"{long} last1x"], ["first2x", "last2x"]]
    pages = pages_of(grid(["Code", "Note"], rows))
    assert len(pages) > 2
    # pypdf now and then sets a blank of its own within a word.
    said = re.findall(r"w(\d+)w", "".join("".join(words.split()) for words in pages))
    assert said == [str(n) for n in range(3000)]
    assert all(words.startswith("Code Note") for words in pages)
    assert set(ends(pages)) == {"0", "1", "2"}


@pytest.mark.parametrize("lines", range(30, 64, 3))
def test_a_heading_stays_with_what_it_heads_wherever_the_page_ends(
    qapp: QApplication, lines: int
) -> None:
    above = "".join(f"<p>line {n}</p>" for n in range(lines // 2)) + "<br>" * (lines % 5)
    table = grid(["Code", "What"], [["rowone", f"{WORDS} " * 12], ["rowtwo", WORDS]])
    item = f"<li>itemfirst {f'{WORDS} ' * 20} itemlast</li>"
    body = (
        f"{above}<h2>HEADTABLE</h2>{table}<h2>HEADLIST</h2><ul>{item}{item}</ul><h2>HEADTEXT</h2>"
    )
    pages = pages_of(f"{body}<p>{f'proseword {WORDS} ' * 40}</p>")
    for heading, follows in (
        ("HEADTABLE", "rowone"), ("HEADLIST", "itemfirst"), ("HEADTEXT", "proseword"),
    ):  # fmt: skip
        (page,) = [words for words in pages if heading in words]
        assert follows in page.split(heading)[1].split("HEAD")[0]
    for page in pages:
        assert page.count("itemfirst") == page.count("itemlast"), "a caution stays whole"
    assert sum(page.count("itemlast") for page in pages) == 2


def test_a_paragraph_is_not_left_with_one_line_by_itself(qapp: QApplication) -> None:
    long = f"{WORDS} " * 60
    for lines in range(40, 56):
        body = "".join(f"<p>line {n}</p>" for n in range(lines)) + f"<p>begun {long} ended</p>"
        first, *rest = pages_of(body, points=8.0)
        if not rest or "begun" not in first:
            continue
        here, there = first.split("begun")[1].count("caution"), rest[0].count("caution")
        assert here + there == 60, "no line stands on both pages"
        assert min(here, there) > 5 or there == 0, lines


def test_a_heading_stands_clear_of_the_table_above_it(qapp: QApplication) -> None:
    table = grid(["Code"], [["C-1"], ["C-2"]])
    pdf = Flowing(f"{table}<h2>Cautions</h2><p>Mind the dust.</p>", A4, "Trial").pdf()
    rows = np.flatnonzero((np.asarray(paint(pdf)) < 128).any(axis=1)) * MM_PER_DOT
    gaps = np.diff(rows[rows < 80])
    assert gaps.max() > 5.0, "mm between the rule of the last row and the heading"


def test_a_word_without_an_end_stays_on_the_paper(qapp: QApplication) -> None:
    name = "scan" * 60 + "-end"
    body = grid(["Code", "Note", "Place"], [["C-1", text(name), text(f"{name} drawer")]])
    pdf = Flowing(body, A4, "Trial").pdf()
    dark = np.flatnonzero((np.asarray(paint(pdf)) < 128).any(axis=0)) * MM_PER_DOT
    assert dark.max() < A4.width - 15.0
    said = "".join(PdfReader(BytesIO(pdf)).pages[0].extract_text().replace("\u200b", "").split())
    assert said.count(name) == 2, "no letter is lost"


def test_words_are_black_on_paper_in_a_dark_window_too(qapp: QApplication) -> None:
    body = f"<h1>Stock</h1><ul><li>Mind the dust</li></ul>{grid(['Code'], [['C-1']])}"
    dress(qapp, Scheme.LIGHT)
    light = np.asarray(paint(Flowing(body, A4, "Trial").pdf()))
    dress(qapp, Scheme.DARK)
    dark = np.asarray(paint(Flowing(body, A4, "Trial").pdf()))
    dress(qapp, Scheme.LIGHT)
    assert np.array_equal(light, dark)
    assert (light < 50).sum() > 5000


def test_the_preview_shows_as_many_pages_as_are_printed(qapp: QApplication) -> None:
    body = grid(["Code"], [[f"C-{n}"] for n in range(300)])
    flowing = Flowing(body, A4, "Trial")
    assert flowing.count == len(PdfReader(BytesIO(flowing.pdf())).pages)
    last = flowing.image(flowing.count - 1, 2.0)
    assert (last.width(), last.height()) == (420, 594)
