"""The treatment record on paper, read back by pypdf."""

from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.exchange.record_dialog import RecordDialog
from bindery_stock.desktop.session import Session
from tests.bench.test_recording import repaired


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
        "arsenical green", "Guidelines for Practice, 24 to 28", "Page 2 of 2",
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
