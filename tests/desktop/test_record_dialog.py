"""The treatment record on paper, read back by pypdf."""

from dataclasses import replace
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.snapshot import BOOKS
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.desktop.exchange.record_dialog import (
    PICTURE_MM,
    SIGNED_MM,
    RecordDialog,
    VolumePaper,
)
from bindery_stock.desktop.printing.flow import Flowing
from bindery_stock.desktop.printing.paper_style import dots_per_mm
from bindery_stock.desktop.session import Session
from bindery_stock.records.page import A4, PAPERS, Paper
from bindery_stock.records.treatment_record import record_body
from bindery_stock.units import LengthStyle, Unit
from tests.bench.test_describing import CARE, CASED
from tests.bench.test_recording import repaired
from tests.records.rendered import MM_PER_DOT, paint


@pytest.fixture
def dialog(qtbot: QtBot, session: Session, tmp_path: Path) -> RecordDialog:
    code = repaired(session.stockroom, tmp_path)
    made = RecordDialog(session, code, None)
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.mark.parametrize("paper", [0, 1], ids=["A4", "Letter"])
def test_a_simple_repair_takes_two_pages(dialog: RecordDialog, tmp_path: Path, paper: int) -> None:
    dialog.paper_box.setCurrentIndex(paper)
    dialog.paper.save(tmp_path / "record.pdf")
    reader = PdfReader(tmp_path / "record.pdf")
    assert len(reader.pages) == 2
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for words in (
        "Both joints split", "bare corners, at 4 places, 12 mm", "58 × 254 mm", "batch 7",
        "Damp, then lift from the joint", "A trial on the turn", "Hours spent: 2.5",
        "arsenical green", "Commentaries to the Guidelines for Practice", "Page 2 of 2",
    ):  # fmt: skip
        assert words in text, words
    assert sum(len(page.images) for page in reader.pages) == 2
    width = {0: 210.0, 1: 215.9}[paper]
    assert float(reader.pages[0].mediabox.width) * 25.4 / 72 == pytest.approx(width, abs=0.2)


def test_the_pdf_has_its_fonts_its_language_and_its_title(
    dialog: RecordDialog, tmp_path: Path
) -> None:
    dialog.paper.save(tmp_path / "record.pdf")
    reader = PdfReader(BytesIO((tmp_path / "record.pdf").read_bytes()))
    assert reader.root_object["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == "Treatment record: Hollin Vale vol. 1"
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descendant = font.get_object()["/DescendantFonts"][0].get_object()
            assert "/FontFile2" in descendant["/FontDescriptor"].get_object()


class Tags(HTMLParser):
    """Every element that must be closed is closed in its turn."""

    EMPTY = frozenset({"meta", "br", "img"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.addresses += [value or "" for name, value in attrs if name in ("src", "href")]
        if tag not in self.EMPTY:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_html_is_one_file_that_asks_for_nothing_else(
    dialog: RecordDialog, tmp_path: Path
) -> None:
    dialog.save_html(tmp_path / "record.html")
    written = (tmp_path / "record.html").read_text("utf-8")
    tags = Tags()
    tags.feed(written)
    assert tags.open == []
    assert len(tags.addresses) == 2
    assert all(address.startswith("data:") for address in tags.addresses)


def test_without_a_volume_the_first_step_is_said(qtbot: QtBot, session: Session) -> None:
    dialog = RecordDialog(session, "", None)
    qtbot.addWidget(dialog)
    dialog.show()
    assert "Enter one under Books first" in dialog.paper.said.text()
    assert not dialog.paper.save_button.isEnabled()


def test_a_long_title_is_shortened_before_the_page_number(qapp: QApplication) -> None:
    title = f"Treatment record: {'The Lamplighter of Saltmarsh and Other Tales, ' * 6}vol. 4"
    pdf = Flowing("<p>one line</p>", A4, title).pdf()
    dark = np.asarray(paint(pdf)) < 128
    rows = np.flatnonzero(dark.any(axis=1))
    foot = dark[rows[rows > 0.9 * len(dark)]].any(axis=0)
    columns = np.flatnonzero(foot) * MM_PER_DOT
    gap = int(np.diff(columns).argmax())
    assert columns[gap + 1] - columns[gap] > 4.0, "mm between the title and the page number"
    assert 10.0 < columns[-1] - columns[gap + 1] < 25.0, "the number stands by itself"
    (page,) = PdfReader(BytesIO(pdf)).pages
    said = " ".join(page.extract_text().split())
    assert said.endswith("Page 1 of 1")
    assert "…" in said


@pytest.mark.parametrize("paper", PAPERS, ids=["A4", "Letter"])
def test_no_page_holds_a_signature_alone(paper: Paper, session: Session, tmp_path: Path) -> None:
    """Notes of every length about that at which the signature goes over to the next page."""
    code = repaired(session.stockroom, tmp_path)
    facts = treatment_record(session.stockroom, code, LengthStyle())
    went_over = 0
    for lines in range(15, 40, 6):
        noted = replace(facts, note="\n".join(f"noted{n}" for n in range(lines)), after=())
        body = record_body(noted, picture_mm=PICTURE_MM, dots_per_mm=dots_per_mm())
        pdf = Flowing(body, paper, "Record", last_page_mm=SIGNED_MM).pdf()
        *before, last = PdfReader(BytesIO(pdf)).pages
        words = " ".join(last.extract_text().split())
        assert "Binder, signature, date" in words
        above = words[: words.index("Not written in this record")]
        assert len(above.split()) >= 8, f"{lines}: {words}"
        went_over += len(before) == 2
    assert 0 < went_over < 5, "at some lengths a third page was begun"


@pytest.mark.parametrize("paper", [0, 1], ids=["A4", "Letter"])
@pytest.mark.parametrize(("unit", "high"), [(Unit.MM, "228 mm"), (Unit.INCH, "8 31/32 in")])
def test_a_proposal_is_seen_printed_and_saved_beside_the_record(
    qtbot: QtBot,
    dialog: RecordDialog,
    session: Session,
    tmp_path: Path,
    paper: int,
    unit: Unit,
    high: str,
) -> None:
    books = session.snapshot(BOOKS)
    session.heard(session.stockroom.books.correct_repair("V-0001", description=CASED, care=CARE))
    qtbot.waitUntil(lambda: books.view.repair("V-0001").care.told)
    session.settings.unit = unit
    dialog.which.choose(VolumePaper.PROPOSAL)
    dialog.paper_box.setCurrentIndex(paper)
    dialog.refresh()
    assert dialog.paper.file_name == "proposal.pdf"
    dialog.paper.save(tmp_path / "proposal.pdf")
    pages = PdfReader(tmp_path / "proposal.pdf").pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for words in (
        "Proposal for treatment: Hollin Vale vol. 1", high, "Tissue over the joint",
        "Option 2 is recommended", "Estimate", "1.5 for the course recommended",
        "Owner, signature, date; the option chosen", f"Page {len(pages)} of {len(pages)}",
    ):  # fmt: skip
        assert words in text, words
    assert "Estimate" in pages[-1].extract_text() or "Consent" in pages[-1].extract_text()
    dialog.save_html(tmp_path / "proposal.html")
    written = (tmp_path / "proposal.html").read_text("utf-8")
    assert "Proposal for treatment: Hollin" in written.replace("\N{NO-BREAK SPACE}", " ")
    assert "two options" not in dialog.missing.text()
