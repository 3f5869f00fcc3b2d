"""The record of a simple repair, from the stockroom to the page."""

import base64
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from bindery_stock.bench.adhesives.use import use_some
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.errors import NotFound
from bindery_stock.records.treatment_record import record_page
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    BookPhoto,
    Colour,
    Measure,
    NewAdhesiveLot,
    NewPart,
    NewPiece,
    NewRepair,
    NewTreatment,
    PlannedPlacement,
    Stage,
    Stockroom,
    View,
)
from bindery_stock.trade import Damage, Evidence, Harm, Property, Survey, Use
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle

LENGTHS = LengthStyle()


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(
        tmp_path / "stock", clock=lambda: datetime(2026, 3, 2, 9, tzinfo=UTC)
    ) as made:
        yield made


def repaired(stock: Stockroom, folder: Path) -> str:
    """A simple repair: a reback with cloth from the shelf and paste that is past its life."""
    photos = []
    for stage, grey in ((Stage.BEFORE, 90), (Stage.AFTER, 160)):
        path = folder / f"{stage}.jpg"
        Image.new("RGB", (1600, 1200), (grey, 40, 40)).save(path)
        photo = stock.photos.archive(path, name=path.name, width=1600, height=1200)
        photos.append(BookPhoto(photo, View.SPINE, stage))
    stock.pieces.shelve(
        NewPiece(
            kind=Kind.CLOTH,
            outline=Outline(((0, 0), (100, 0), (100, 300), (0, 300))),
            pattern="fine rib",
            colours=(Colour(lab=(49.8, -35.9, 24.1)),),
            source="boards of an odd volume",
            source_date="1850",
        )
    )
    stock.lots.enter(
        NewAdhesiveLot(
            kind="wheat-starch-paste", name="Paste, thick", made=date(2026, 1, 2),
            unit=Measure.GRAM, held=200.0, supplier="cooked here", reference="batch 7",
        )
    )  # fmt: skip
    survey = Survey(
        spine_width=32.0,
        board_height=228.0,
        damage=(Damage(Harm.JOINTS_SPLIT, count=2), Damage(Harm.CORNERS_BARE, 4, extent=12.0)),
    )
    stock.books.add_repair(
        NewRepair(
            name="Hollin Vale vol. 1", survey=survey, title="Hollin Vale", owner="<b>E. Marsh</b>",
            condition="Both joints split, back board held by the mull alone.",
            hours_estimated=3.0, photos=tuple(photos), colour_family="brown",
        )
    )  # fmt: skip
    code = stock.books.repairs()[0].code
    stock.books.plan_parts(
        code,
        [
            NewPart(
                role="reback-inside", name="reback strip", width=58, height=254, kind=Kind.CLOTH,
                turns=(0.0, 180.0), zones=(("hidden", 0.0, 0.0, 58.0, 254.0),),
            )
        ],
    )  # fmt: skip
    use_some(
        stock, lot="A-0001", use=Use.CLOTH_TO_BOARD, purpose="cloth to boards, Hollin Vale vol. 1",
        amount=30.0, reason="A trial on the turn-ins only.",
    )  # fmt: skip
    stock.books.record_treatment(
        code,
        NewTreatment(
            what="Laid the new strip under the lifted cloth", undo="Damp, then lift from the joint",
            hours=2.5, piece="C-0001", lot="A-0001", amount="30 g",
            override="A trial on the turn-ins only.",
        ),
    )  # fmt: skip
    return code


def test_the_record_tells_condition_parts_steps_materials_and_how_to_undo(
    stock: Stockroom, tmp_path: Path
) -> None:
    record = treatment_record(stock, repaired(stock, tmp_path), LENGTHS)
    assert record.damage == ("joints split, at 2 places", "bare corners, at 4 places, 12 mm")
    assert [part.size for part in record.plan] == ["58 × 254 mm"]
    (step,) = record.steps
    assert step.undo == "Damp, then lift from the joint"
    assert step.material == "C-0001, fine rib cloth; A-0001, Paste, thick, 30 g"
    assert [one.code for one in record.materials] == ["C-0001", "A-0001"]
    assert "batch 7" in record.materials[1].origin
    assert record.hours == "Hours spent: 2.5. Estimated: 3."
    assert record.missing == (
        "the examiner and the day",
        "the aims of the treatment",
        "the options weighed",
        "the risks told",
        "the owner's consent",
        "after-care",
    )


def test_works_stand_in_the_order_of_their_days_and_of_one_day_as_they_were_entered(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    for what, on in (
        ("Filled the corners", None),
        ("Lifted the cloth", date(2026, 2, 20)),
        ("Washed the mull off", date(2026, 2, 27)),
        ("Lined the back", date(2026, 2, 27)),
    ):
        stock.books.record_treatment(code, NewTreatment(what=what, on=on))
    steps = treatment_record(stock, code, LENGTHS).steps
    assert [(step.day, step.what) for step in steps] == [
        ("20 Feb 2026", "Lifted the cloth"),
        ("27 Feb 2026", "Washed the mull off"),
        ("27 Feb 2026", "Lined the back"),
        ("2 Mar 2026", "Laid the new strip under the lifted cloth"),
        ("2 Mar 2026", "Filled the corners"),
    ]


def test_the_record_tells_where_in_its_piece_each_part_lay(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    part = stock.books.parts(volume=code)[0]
    upside_down = ((80.0, 264.0), (22.0, 264.0), (22.0, 10.0), (80.0, 10.0))
    stock.books.accept_plan([PlannedPlacement(part=part.id, code="C-0001", corners=upside_down)])
    (line,) = treatment_record(stock, code, LENGTHS).plan
    assert line.piece == "C-0001, upside down\n22 mm from its left\n10 mm from its foot"


def test_cloth_is_judged_for_what_was_cut_from_it(stock: Stockroom, tmp_path: Path) -> None:
    code = repaired(stock, tmp_path)
    part = stock.books.parts(volume=code)[0]
    upright = ((0.0, 0.0), (58.0, 0.0), (58.0, 254.0), (0.0, 254.0))
    stock.books.accept_plan([PlannedPlacement(part=part.id, code="C-0001", corners=upright)])
    cloth = treatment_record(stock, code, LENGTHS).materials[0]
    assert cloth.verdict.startswith("Cloth to board: not for conservation.")


def test_what_was_tested_is_told_by_its_name_with_its_unit(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    weight = Property(name="grammage", value=142, evidence=Evidence.SUPPLIER, on=date(2026, 1, 3))
    stock.tests.record("C-0001", weight)
    cloth = treatment_record(stock, code, LENGTHS).materials[0]
    assert "weight (g/m²): 142, stated by the supplier, 3 Jan 2026" in cloth.verdict


def test_days_are_written_one_way_wherever_people_read_them(
    stock: Stockroom, tmp_path: Path
) -> None:
    page = record_page(treatment_record(stock, repaired(stock, tmp_path), LENGTHS))
    assert "2 Mar 2026".replace(" ", "\N{NO-BREAK SPACE}") in page
    assert "2026-03" not in page


def test_numbers_have_the_decimal_sign_of_the_lengths(stock: Stockroom, tmp_path: Path) -> None:
    record = treatment_record(stock, repaired(stock, tmp_path), LengthStyle(point=","))
    assert record.hours == "Hours spent: 2,5. Estimated: 3."
    assert record.steps[0].hours == "2,5"


def test_a_use_against_a_verdict_is_kept_with_its_reason(stock: Stockroom, tmp_path: Path) -> None:
    record = treatment_record(stock, repaired(stock, tmp_path), LENGTHS)
    paste = record.materials[1]
    assert "Out of date since" in paste.verdict
    assert paste.override == "A trial on the turn-ins only."


def test_cautions_of_what_went_into_the_book_stay_with_it(stock: Stockroom, tmp_path: Path) -> None:
    record = treatment_record(stock, repaired(stock, tmp_path), LENGTHS)
    assert any(line.startswith("C-0001: △ Stop: arsenical green") for line in record.cautions)
    assert "local rules and licensed practice" in record.deferring


def test_the_paste_of_volume_eleven_is_not_told_of_volume_one(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    stock.lots.enter(
        NewAdhesiveLot(kind="methyl-cellulose", name="Cellulose", bought=date(2026, 3, 1))
    )
    for purpose in ("mends, Hollin Vale vol. 11", "cloth to boards, Old Hollin Vale vol. 1x"):
        stock.lots.use("A-0002", use=Use.MENDING, purpose=purpose)
    assert len(treatment_record(stock, code, LENGTHS).materials) == 2


def test_the_page_holds_its_photographs_and_shows_names_as_typed(
    stock: Stockroom, tmp_path: Path
) -> None:
    page = record_page(treatment_record(stock, repaired(stock, tmp_path), LENGTHS))
    assert page.count("data:image/jpeg;base64,") == 2
    assert "&lt;b&gt;E. Marsh" in page
    # The AIC's Commentaries to its Guidelines for Practice, read in excerpt: no paragraph is named.
    told = " ".join(page.replace("\N{NO-BREAK SPACE}", " ").split())
    assert "American Institute for Conservation (AIC), Commentaries" in told
    assert "(published; read in excerpt)" in told
    assert not re.search(r"Guidelines for Practice,? \d", told)


def test_a_photograph_in_the_page_carries_nothing_the_camera_wrote_beside_it(
    stock: Stockroom, tmp_path: Path
) -> None:
    taken = Image.new("RGB", (400, 300), (90, 40, 40))
    exif = taken.getexif()
    exif[0x010E] = "secret description"  # ImageDescription, Exif 2.3, from memory
    path = tmp_path / "taken.jpg"
    taken.save(
        path, comment="secret comment", exif=exif, xmp=b"<x>secret packet</x>", dpi=(300, 300)
    )
    assert path.read_bytes().count(b"secret") == 3
    photo = stock.photos.archive(path, name=path.name, width=400, height=300)
    stock.books.add_repair(
        NewRepair(
            name="Nine Weirs",
            survey=Survey(spine_width=30, board_height=200),
            photos=(BookPhoto(photo, View.SPINE, Stage.BEFORE),),
        )
    )
    page = record_page(treatment_record(stock, "V-0001", LENGTHS))
    (embedded,) = re.findall(r"data:image/jpeg;base64,([^\"]+)", page)
    picture = base64.b64decode(embedded)
    assert b"secret" not in picture
    with Image.open(BytesIO(picture)) as kept:
        assert kept.size == (400, 300)
        assert not {"comment", "exif", "xmp", "icc_profile"} & kept.info.keys()


def test_what_was_not_written_is_said_to_be_missing(stock: Stockroom) -> None:
    stock.books.add_repair(
        NewRepair(name="Nine Weirs", survey=Survey(spine_width=30, board_height=200))
    )
    record = treatment_record(stock, "V-0001", LENGTHS)
    assert "photographs before treatment" in record.missing
    assert "Not written in this record" in record_page(record)
    with pytest.raises(NotFound):
        treatment_record(stock, "V-0002", LENGTHS)


def test_a_photograph_that_is_gone_is_told_and_the_record_is_made(
    stock: Stockroom, tmp_path: Path
) -> None:
    code = repaired(stock, tmp_path)
    for original in (stock.folder / "photos").iterdir():
        original.unlink()
    record = treatment_record(stock, code, LENGTHS)
    assert "missing from" in record.before[0].caption
    assert "<img" not in record_page(record)
