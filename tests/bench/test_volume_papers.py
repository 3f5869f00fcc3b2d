"""The proposal and the record of one volume, made of the same facts."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.bench.exchange.record_parts import part_shade_words
from bindery_stock.colour import ReadBy
from bindery_stock.records.html import text
from bindery_stock.records.proposal import CONSENT_TERMS, proposal_gaps, proposal_page
from bindery_stock.records.treatment_record import record_page
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    BookPart,
    Colour,
    KeptShade,
    NewKeptRuling,
    NewPiece,
    PartState,
    PlannedPlacement,
    StockPiece,
    Stockroom,
)
from bindery_stock.trade.care import CareOption
from bindery_stock.trade.gate import Leave
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle, Unit
from tests.bench.test_describing import CARE, CASED
from tests.bench.test_recording import repaired

LENGTHS = LengthStyle()
SOUGHT = (33.0, 38.0, 24.0)


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as made:
        yield made


def agreed(stock: Stockroom, folder: Path) -> str:
    """A repaired volume of which everything was written."""
    code = repaired(stock, folder)
    stock.books.correct_repair(code, description=CASED, care=CARE)
    return code


def plain(page: str) -> str:
    return " ".join(page.replace("\N{NO-BREAK SPACE}", " ").split())


def test_the_record_has_examiner_aims_options_risks_and_after_care(
    stock: Stockroom, tmp_path: Path
) -> None:
    record = treatment_record(stock, agreed(stock, tmp_path), LENGTHS)
    assert record.missing == ()
    page = plain(record_page(record))
    for words in (
        "Wexcombe: Tarn &amp; Daughter, 1858",
        "B 12",
        "Rebacked once.",
        "Examined by I. Fell, 1 Mar 2026.",
        "To be read in the reading room again.",
        "Leave it as it is, in a box",
        "Option 2 is recommended.",
        "Risks told: Starch in the cloth may leave a tide line.",
        "After-care: Opened on a cushion to 90°.",
    ):
        assert words in page, words


def test_consent_stands_before_what_was_done_and_the_binder_alone_signs_last(
    stock: Stockroom, tmp_path: Path
) -> None:
    page = plain(record_page(treatment_record(stock, agreed(stock, tmp_path), LENGTHS)))
    consent = page.index("E. Marsh, by letter, 2 Mar 2026")
    assert page.index("Aims and options") < consent < page.index("<h2>Treatment</h2>")
    assert "Consent" not in page[page.index("<h2>Treatment</h2>") :]
    assert page.index("Binder, signature, date") > page.index("Opened on a cushion")


@pytest.mark.parametrize(
    ("unit", "height"), [(Unit.MM, "boards high 228 mm"), (Unit.INCH, "boards high 8 31/32 in")]
)
def test_a_proposal_has_condition_options_recommendation_risks_estimate_and_consent(
    unit: Unit, height: str, stock: Stockroom, tmp_path: Path
) -> None:
    record = treatment_record(stock, agreed(stock, tmp_path), LengthStyle(unit))
    page = plain(proposal_page(record))
    in_order = [
        "<h1>Proposal for treatment: Hollin Vale vol. 1</h1>",
        height,
        "Both joints split, back board held by the mull alone.",
        "Tissue over the joint",
        "Option 2 is recommended.",
        "Starch in the cloth may leave a tide line.",
        "1.5 for the course recommended, drying left out",
        "not known: 1 part for which no stock was chosen",
        CONSENT_TERMS,
        "Owner, signature, date; the option chosen",
    ]
    found = [page.index(words) for words in in_order]
    assert found == sorted(found)
    assert "Laid the new strip" not in page, "what was done belongs to the record"
    assert proposal_gaps(record) == ("how each option can be undone",)


def test_a_proposal_of_which_little_was_written_names_what_it_lacks(
    stock: Stockroom, tmp_path: Path
) -> None:
    record = treatment_record(stock, repaired(stock, tmp_path), LENGTHS)
    gaps = proposal_gaps(record)
    assert {"two options at least", "a recommendation", "the risks"} <= set(gaps)
    assert f"Not written in this proposal: {', '.join(gaps)}." in plain(proposal_page(record))


def test_hours_are_those_of_the_course_recommended_else_the_binders_else_by_the_rules(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = agreed(stock, tmp_path)

    def hours() -> str:
        return dict(treatment_record(stock, code, LengthStyle(point=",")).estimate)["Hours"]

    assert hours() == "1,5 for the course recommended, drying left out"
    unestimated = replace(CARE, options=(CareOption(what="Box it"), CareOption(what="Reback")))
    stock.books.correct_repair(code, care=unestimated)
    assert hours() == "3 by the binder's own estimate"
    stock.books.correct_repair(code, hours_estimated=None)
    assert hours().endswith("by the rules for the damage ticked, drying left out")


def test_the_price_of_material_is_its_share_of_the_piece_that_was_chosen(
    stock: Stockroom, tmp_path: Path
) -> None:
    """Common practice, no source: by area, of the piece 100 mm by 300 mm at 10.00."""
    code = agreed(stock, tmp_path)
    stock.pieces.correct("C-0001", price=Decimal("10.00"))
    part = stock.books.parts(volume=code)[0]
    upright = ((0.0, 0.0), (58.0, 0.0), (58.0, 254.0), (0.0, 254.0))
    stock.books.accept_plan([PlannedPlacement(part=part.id, code="C-0001", corners=upright)])
    estimate = dict(treatment_record(stock, code, LENGTHS).estimate)
    assert estimate["Parts to cut"] == "1, of which 1 from stock that was chosen"
    assert estimate["Price of material"] == "4.91"  # 58 × 254 / 30 000


def _part(u: float | None, read_by: ReadBy) -> BookPart:
    return BookPart(
        role="reback-inside", name="reback strip", width=58, height=254, kind=Kind.CLOTH,
        turns=(0.0,), zones=(), lab=SOUGHT, u=u, read_by=read_by, id=1, repair="V-0001",
        purpose="reback strip, vol. 1", state=PartState.CUT, piece="C-0001", shade=KeptShade(2.06),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("u", "read_by", "cloth_u", "words"),
    [
        (3.0, ReadBy.TARGET, 4.0, "ΔE00 2.1 ± 5.0"),
        (None, ReadBy.STATED, 4.0, "ΔE00 2.1 ± 4.0"),
        (
            None,
            ReadBy.TARGET,
            4.0,
            "ΔE00 2.1, ± not known: none was kept with the reading of the colour sought",
        ),
        (
            3.0,
            ReadBy.TARGET,
            None,
            "ΔE00 2.1, ± not known: none was kept with the reading of the cloth",
        ),
        (None, ReadBy.SEEN, 4.0, str(ReadBy.SEEN)),
    ],
)
def test_a_difference_of_colour_has_its_band_or_why_it_has_none(
    u: float | None, read_by: ReadBy, cloth_u: float | None, words: str, stock: Stockroom
) -> None:
    """The two bands in quadrature: 3 and 4 make 5."""
    cloth = Colour(lab=(34.0, 39.0, 25.0), u=cloth_u, read_by=ReadBy.INSTRUMENT)
    assert part_shade_words(_part(u, read_by), _shelved(stock, cloth)) == words


def test_a_difference_and_its_band_stand_on_one_line() -> None:
    assert " " not in text("ΔE00 7.1 ± 2.9")
    assert " ±" in text("7.1, ± not known"), "a reason may go on on the next"


def test_a_difference_from_cloth_whose_colour_is_no_longer_kept_says_so(
    stock: Stockroom,
) -> None:
    told = part_shade_words(_part(3.0, ReadBy.TARGET), _shelved(stock))
    assert told == "ΔE00 2.1, ± not known: no colour is kept of the cloth"


def _shelved(stock: Stockroom, *colours: Colour) -> StockPiece:
    new = NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(((0, 0), (100, 0), (100, 300), (0, 300))),
        colours=colours,
    )
    return stock.pieces.get(stock.pieces.shelve(new).born[0])


def test_cloth_of_which_the_use_is_not_noted_gets_no_verdict_for_uses_it_was_not_put_to(
    stock: Stockroom, tmp_path: Path
) -> None:
    cloth = treatment_record(stock, repaired(stock, tmp_path), LENGTHS).materials[0]
    assert cloth.verdict == "Not judged: it is not noted for which part it was used."


def test_a_ruling_on_cloth_that_was_given_up_again_is_not_printed(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    other = _shelved(stock).code
    for piece in ("C-0001", other):
        stock.rulings.keep(
            NewKeptRuling(
                deed="reserve", leave=Leave.NEEDS_REASON, rules=("R60",), words=f"{piece}: old",
                reason="trial", piece=piece, lot=None, volume=code,
            )
        )  # fmt: skip
    told = [line.ruling for line in treatment_record(stock, code, LENGTHS).rulings]
    assert "C-0001: old" in told
    assert f"{other}: old" not in told
