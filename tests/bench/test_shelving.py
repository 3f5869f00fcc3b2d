"""From marks on a photograph to a piece: sizes, flaws, colours, and what is refused."""

import json
import math
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from bindery_stock.bench.colour_room.sitting import KeptTarget
from bindery_stock.bench.photo_table.found import (
    Sureness,
    colour_found,
    facts_found,
    flaws_found,
    outline_found,
    scale_found,
    shelve_found,
    weave_found,
)
from bindery_stock.bench.photo_table.kept_marks import (
    facts_from_plain,
    facts_to_plain,
    marks_from_plain,
    marks_to_plain,
)
from bindery_stock.bench.photo_table.marks import (
    Facts,
    FlawMark,
    Grey,
    KnownLength,
    KnownRectangle,
    Marks,
    Patches,
    PatchMark,
    StepName,
    TypedColour,
    crosses_itself,
    suggested_patches,
)
from bindery_stock.bench.photo_table.piece_shape import flaws_of, outline_of, turn_of
from bindery_stock.bench.photo_table.readings import Sample, read, samples
from bindery_stock.bench.photo_table.shelve import facts_of, parse_price, prepare, shelve, wanting
from bindery_stock.bench.shelf.cautions import families_by_care
from bindery_stock.colour import BEFORE_2014, SINCE_2014, ColourReading, ReadBy, delta_e00
from bindery_stock.errors import EntryError, PhotoError
from bindery_stock.shape import FlawKind, Outline, Ring
from bindery_stock.stock import Colour, FaceName, Photo, Stockroom
from bindery_stock.trade import hazards, shipped_rules
from bindery_stock.trade.hazards import in_family
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle
from tests.bench.pieces import piece_of

PHOTO = Photo("0" * 64, "scrap.png", 1200, 1000, ".png")
# 5 px to the mm; a scrap of 100 × 150 mm from pixel (200, 100).
RULER = KnownLength(((100.0, 950.0), (600.0, 950.0)), 100.0)
SCRAP: Ring = ((200.0, 100.0), (700.0, 100.0), (700.0, 850.0), (200.0, 850.0))
PATCH = PatchMark(((300.0, 300.0), (400.0, 300.0), (400.0, 400.0), (300.0, 400.0)))
READING = ColourReading(
    (32.0, 39.0, 25.0), 1.2, 15.0, "one neutral patch", ReadBy.CARD, "sRGB", 0.01, 10_000
)
MARKS = Marks(scale=RULER, outline=SCRAP, patches=(PATCH,))
CLOTH = Facts()
MM = LengthStyle()


def square(x: float, y: float, side: float) -> Ring:
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def test_a_scrap_has_its_true_size_and_lies_with_its_corner_at_nothing() -> None:
    piece = prepare(PHOTO, MARKS, CLOTH, {samples(MARKS)[0]: READING})
    assert piece.outline.bounds == pytest.approx((0, 0, 100, 150))
    (mark,) = piece.marks
    assert mark.photo == PHOTO
    assert "known length of 100 mm" in mark.scale_note
    # The homography carries the marked corner to the piece's own: lower left at 0, 0.
    a, b, c, d, e, f, g, h, i = mark.to_mm
    x, y = SCRAP[3]
    w = g * x + h * y + i
    assert ((a * x + b * y + c) / w, (d * x + e * y + f) / w) == pytest.approx((0, 0))


def test_the_colour_read_is_kept_with_its_spread_its_band_and_its_patch() -> None:
    piece = prepare(PHOTO, MARKS, CLOTH, {samples(MARKS)[0]: READING})
    (colour,) = piece.colours
    assert colour.lab == READING.lab
    assert (colour.spread, colour.u, colour.method) == (1.2, 15.0, "one neutral patch")
    assert colour.read_by is ReadBy.CARD
    assert colour.photo == PHOTO.sha256
    assert colour.patch == PATCH.ring
    assert colour.face is FaceName.SHOWN


@given(degrees=st.floats(-180, 180))
@settings(max_examples=40, deadline=None)
def test_whatever_way_the_warp_runs_the_area_is_the_same(degrees: float) -> None:
    turn = math.radians(degrees)
    tip = (450 - 300 * math.sin(turn), 475 - 300 * math.cos(turn))
    marks = replace(MARKS, warp=((450.0, 475.0), tip))
    assert outline_of(marks).area == pytest.approx(100 * 150)
    assert turn_of(marks) == pytest.approx(degrees, abs=1e-6) or abs(degrees) == 180


def test_a_warp_across_the_photograph_lays_the_scrap_on_its_side() -> None:
    outline = outline_of(replace(MARKS, warp=((200.0, 400.0), (600.0, 400.0))))
    assert (outline.width, outline.height) == pytest.approx((150, 100))


def test_four_corners_of_a_sheet_seen_aslant_give_the_true_size() -> None:
    # A plane seen from the side, in closed form: x' = x / (1 + k y), y' = y / (1 + k y).
    def seen(point: tuple[float, float]) -> tuple[float, float]:
        x, y = point
        depth = 1.0 + 0.0004 * y
        return (100 + 4 * x / depth, 900 - 4 * y / depth)

    sheet = tuple(seen(p) for p in ((0.0, 200.0), (200.0, 200.0), (200.0, 0.0), (0.0, 0.0)))
    scrap = tuple(seen(p) for p in ((40.0, 30.0), (120.0, 30.0), (120.0, 180.0), (40.0, 180.0)))
    warp = (seen((80.0, 30.0)), seen((80.0, 180.0)))
    scale = KnownRectangle(sheet, 200.0, 200.0)
    outline = outline_of(Marks(scale=scale, outline=scrap, warp=warp))
    assert (outline.width, outline.height) == pytest.approx((80, 150), rel=1e-6)


def test_a_hole_is_taken_out_of_the_outline() -> None:
    marks = replace(MARKS, flaws=(FlawMark(square(400, 500, 50), FlawKind.HOLE),))
    assert outline_of(marks).area == pytest.approx(100 * 150 - 10 * 10)
    assert flaws_of(marks) == ()


def test_a_hole_at_the_edge_becomes_a_notch() -> None:
    marks = replace(MARKS, flaws=(FlawMark(square(650, 500, 100), FlawKind.HOLE),))
    outline = outline_of(marks)
    assert outline.holes == ()
    assert outline.area == pytest.approx(100 * 150 - 10 * 20)


def test_a_hole_that_parts_the_piece_is_refused() -> None:
    across = ((150.0, 400.0), (750.0, 400.0), (750.0, 450.0), (150.0, 450.0))
    marks = replace(MARKS, flaws=(FlawMark(across, FlawKind.HOLE),))
    with pytest.raises(EntryError, match="no single piece") as refused:
        outline_of(marks)
    assert refused.value.field == StepName.FLAWS


def test_a_stain_over_the_edge_is_cut_off_at_the_edge() -> None:
    marks = replace(MARKS, flaws=(FlawMark(square(650, 500, 100), FlawKind.STAIN),))
    (stain,) = flaws_of(marks)
    assert stain.polygon.area == pytest.approx(10 * 20)


def test_a_stain_beside_the_piece_is_refused() -> None:
    marks = replace(MARKS, flaws=(FlawMark(square(800, 500, 50), FlawKind.STAIN),))
    missing = wanting(marks, CLOTH)
    assert missing is not None
    assert missing.step is StepName.FLAWS
    assert "outside the outline" in missing.words


@pytest.mark.parametrize(
    ("marks", "step", "words"),
    [
        (replace(MARKS, scale=None), StepName.SCALE, "drag along a ruler"),
        (replace(MARKS, scale=replace(RULER, mm=None)), StepName.SCALE, "type the length"),
        (replace(MARKS, scale=replace(RULER, mm=0.0)), StepName.SCALE, "above nothing"),
        (
            replace(MARKS, scale=KnownLength(((5.0, 5.0), (5.0, 5.0)), 100.0)),
            StepName.SCALE,
            "one spot",
        ),
        (replace(MARKS, outline=()), StepName.OUTLINE, "draw the outline"),
        (
            replace(MARKS, outline=(SCRAP[0], SCRAP[2], SCRAP[1], SCRAP[3])),
            StepName.OUTLINE,
            "cross or touch",
        ),
        (
            replace(MARKS, warp=((300.0, 300.0), (300.0, 300.0))),
            StepName.WEAVE,
            "no length",
        ),
        (replace(MARKS, patches=()), StepName.COLOUR, "mark a clean patch"),
        (
            replace(MARKS, patches=(PatchMark(square(150, 300, 100)),)),
            StepName.COLOUR,
            "leaves the outline",
        ),
    ],
)
def test_what_is_missing_is_named_with_its_step(marks: Marks, step: StepName, words: str) -> None:
    missing = wanting(marks, CLOTH)
    assert missing is not None
    assert missing.step is step
    assert words in missing.words
    assert shelve_found(marks, CLOTH).words == missing.words


def test_board_and_mull_need_no_colour_and_cloth_may_go_without_one_if_it_is_said() -> None:
    bare = replace(MARKS, patches=())
    assert wanting(bare, Facts(kind=Kind.BOARD)) is None
    assert wanting(bare, CLOTH) is not None
    unread = replace(bare, without_colour=True)
    asked = wanting(unread, CLOTH)
    assert asked is not None
    assert asked.step is StepName.COLOUR
    assert "by eye which colour family" in asked.words
    assert wanting(unread, replace(CLOTH, colour_family="brown")) is None
    assert wanting(unread, Facts(kind=Kind.LEATHER)) is None


def test_the_facts_are_kept_for_the_next_scrap_without_price_note_and_colour() -> None:
    facts = Facts(
        place="Drawer 3",
        price=Decimal("2.50"),
        note="torn",
        pattern="rib",
        colour_family="vivid green",
    )
    following = facts.for_the_next()
    assert (following.place, following.pattern) == ("Drawer 3", "rib")
    assert (following.price, following.note) == (None, "")
    assert following.colour_family == ""


@pytest.mark.parametrize(("typed", "price"), [("", None), ("2,50", "2.50"), (" 4.5 ", "4.5")])
def test_a_price_is_read_with_point_or_comma(typed: str, price: str | None) -> None:
    assert parse_price(typed) == (None if price is None else Decimal(price))


@pytest.mark.parametrize("typed", ["a penny", "-1", "nan", "inf", "1e30", "1.500,00"])
def test_a_price_that_is_no_amount_is_refused(typed: str) -> None:
    with pytest.raises(EntryError, match="Price"):
        parse_price(typed)


def test_the_suggested_patches_lie_inside_the_outline_apart_and_off_the_flaws() -> None:
    stain = FlawMark(square(400, 400, 100), FlawKind.STAIN)
    rings = suggested_patches(replace(MARKS, flaws=(stain,)))
    assert len(rings) == 3
    boxes = [(*map(min, zip(*r, strict=True)), *map(max, zip(*r, strict=True))) for r in rings]
    for left, top, right, bottom in boxes:
        assert 200 < left < right < 700
        assert 100 < top < bottom < 850
    every = [*boxes, (400.0, 400.0, 500.0, 500.0)]
    for place, (l1, t1, r1, b1) in enumerate(every):
        for l2, t2, r2, b2 in every[place + 1 :]:
            assert r1 <= l2 or r2 <= l1 or b1 <= t2 or b2 <= t1


def test_nothing_is_suggested_without_an_outline_or_room() -> None:
    assert suggested_patches(Marks()) == ()
    assert suggested_patches(Marks(outline=square(0, 0, 6))) == ()


def test_a_bow_tie_crosses_itself_and_a_triangle_does_not() -> None:
    assert crosses_itself(((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)))
    assert not crosses_itself(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))


def test_findings_say_what_is_assumed_and_what_is_still_wanted() -> None:
    assert scale_found(Marks()).standing is Sureness.WANTED
    assert "±" in scale_found(MARKS).words
    assert outline_found(Marks(outline=SCRAP), MM).standing is Sureness.ASSUMED
    assert outline_found(MARKS, MM).words == "100 × 150 mm, 150 cm²"
    assert weave_found(MARKS).standing is Sureness.ASSUMED
    turned = replace(MARKS, warp=((0.0, 0.0), (10.0, 0.0)))
    assert weave_found(turned).words == "90° clockwise from the photograph's up"
    assert colour_found(MARKS, CLOTH, {}, ()).words == "shown: being measured"
    read_ = {samples(MARKS)[0]: READING}
    assert "red, L* 32.0 a* 39.0 b* 25.0, ±15" in colour_found(MARKS, CLOTH, read_, ()).words
    seen = {samples(MARKS)[0]: replace(READING, u=None, read_by=ReadBy.SEEN)}
    assert colour_found(MARKS, CLOTH, seen, ()).words == "shown: red, seen, not measured"
    assert colour_found(Marks(), CLOTH, {}, ()).standing is Sureness.WANTED
    assert colour_found(Marks(), Facts(kind=Kind.MULL), {}, ()).standing is Sureness.ASSUMED
    stains = (FlawMark(square(300, 300, 20), FlawKind.STAIN),) * 2
    assert flaws_found(replace(MARKS, flaws=stains)).words == "2 × stain"
    assert facts_found(Facts(pattern="rib", place="Drawer 3")).words == "cloth, rib, Drawer 3"


def test_a_grey_card_brings_a_dark_cast_photograph_nearer_the_truth(tmp_path: Path) -> None:
    # One cloth and one card under a dim warm light: each linear channel times its own factor.
    light = np.array([0.7, 0.55, 0.4])
    truth = np.array([0.30, 0.05, 0.04])

    def coded(linear: np.ndarray) -> np.ndarray:  # IEC 61966-2-1
        return np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)

    pixels = np.empty((200, 300, 3))
    pixels[:, :200] = truth * light
    pixels[:, 200:] = 0.18 * light
    path = tmp_path / "warm.png"
    Image.fromarray((coded(pixels) * 255).round().astype(np.uint8)).save(path)
    well_lit = tmp_path / "true.png"
    Image.fromarray((coded(np.tile(truth, (60, 60, 1))) * 255).round().astype(np.uint8)).save(
        well_lit
    )
    cloth = (square(40, 40, 100),)
    true = read(well_lit, Sample(FaceName.SHOWN, (square(5, 5, 50),)))
    bare = read(path, Sample(FaceName.SHOWN, cloth))
    # L* of 18 % reflectance is 49.5 (CIE 15).
    card = Grey(square(220, 40, 60), 49.5)
    levelled = read(path, Sample(FaceName.SHOWN, cloth, (), card))
    assert float(delta_e00(true.lab, [levelled.lab])[0]) < 1.5
    assert float(delta_e00(true.lab, [bare.lab])[0]) > 5.0


@pytest.mark.parametrize(
    "marks",
    [
        Marks(),
        MARKS,
        replace(
            MARKS,
            scale=KnownRectangle(SCRAP, 100.0, None),
            warp=((1.0, 2.0), (3.0, 4.5)),
            reference=Grey(square(5, 5, 9), None),
            flaws=(FlawMark(square(1, 2, 3), FlawKind.GLUE),),
        ),
        replace(MARKS, reference=Patches(SCRAP, BEFORE_2014), without_colour=True),
        replace(
            MARKS,
            patches=(PatchMark(square(5, 5, 9), FaceName.REVERSE, (40.0, 1.0, -2.5)),),
            reference=Grey(square(5, 5, 9), 50.0, square(90, 5, 9)),
            sheet=square(0, 0, 200),
            lent=KeptTarget(Path("kept.jpg"), "kept", SCRAP, SINCE_2014, "window", "a camera"),
            typed=(TypedColour((43.0, 22.0, 11.0), 3.0, "instrument reading, D50/2°"),),
        ),
    ],
)
def test_unfinished_marks_outlive_the_program(marks: Marks) -> None:
    kept = json.loads(json.dumps(marks_to_plain(marks)))
    assert marks_from_plain(kept) == marks


def test_unfinished_facts_outlive_the_program() -> None:
    facts = Facts(
        kind=Kind.MULL, price=Decimal("2.50"), note="a “note”", colour_family="vivid green"
    )
    assert facts_from_plain(json.loads(json.dumps(facts_to_plain(facts)))) == facts


@pytest.mark.parametrize("kept", [{}, marks_to_plain(MARKS) | {"outline": [[1]]}])
def test_kept_marks_that_make_no_sense_are_refused(kept: dict[str, object]) -> None:
    with pytest.raises(EntryError, match="cannot be read"):
        marks_from_plain(kept)


def paint(path: Path) -> Path:
    pixels = np.full((1000, 1200, 3), 150, np.uint8)
    pixels[100:850, 200:700] = (132, 42, 38)
    Image.fromarray(pixels).save(path)
    return path


def test_shelving_archives_the_photograph_reads_the_colour_and_enters_the_piece(
    tmp_path: Path,
) -> None:
    photo = paint(tmp_path / "scrap.png")
    with Stockroom.create(tmp_path / "stock") as stockroom:
        changes = shelve(
            stockroom,
            source=photo,
            name="scrap.png",
            size=(1200, 1000),
            marks=MARKS,
            facts=Facts(place="Drawer 3"),
            readings={},
        )
        (code,) = changes.born
        piece = stockroom.pieces.get(code)
        assert piece.place == "Drawer 3"
        assert piece.colour is not None
        assert piece.colour.lab[0] == pytest.approx(31.6, abs=0.5)
        kept = stockroom.photos.path(piece.marks[0].photo.sha256)
        assert kept.read_bytes() == photo.read_bytes()


def test_nothing_is_archived_where_the_marks_are_not_complete(tmp_path: Path) -> None:
    photo = paint(tmp_path / "scrap.png")
    with Stockroom.create(tmp_path / "stock") as stockroom:
        with pytest.raises(EntryError, match="drag along a ruler"):
            shelve(
                stockroom,
                source=photo,
                name="scrap.png",
                size=(1200, 1000),
                marks=Marks(),
                facts=CLOTH,
                readings={},
            )
        assert list((tmp_path / "stock" / "photos").iterdir()) == []
        assert stockroom.pieces.listed() == []


def test_a_photograph_that_has_gone_meanwhile_is_refused_by_name(tmp_path: Path) -> None:
    with (
        Stockroom.create(tmp_path / "stock") as stockroom,
        pytest.raises(PhotoError, match=r"gone\.jpg"),
    ):
        shelve(
            stockroom,
            source=tmp_path / "gone.jpg",
            name="gone.jpg",
            size=(1200, 1000),
            marks=MARKS,
            facts=CLOTH,
            readings={},
        )


def test_of_the_words_that_fit_a_colour_the_uppermost_answers_as_gravely_as_a_reading() -> None:
    """So that no caution is lost where a colour could not be read and is judged by eye."""
    rules = shipped_rules()
    words = families_by_care(rules)
    assert words[0] == "vivid green"
    assert set(words) == set(rules.families)
    piece = piece_of(Outline(((0, 0), (90, 0), (90, 60), (0, 60))))
    raised = 0
    for lab in np.random.default_rng(4).uniform((0, -90, -90), (100, 90, 90), (400, 3)).tolist():
        fitting = [word for word in words if in_family(tuple(lab), rules.families[word])]
        read = replace(piece, colours=(Colour(tuple(lab)),))
        judged = replace(piece, colour_family=fitting[0])
        before = [h for h in hazards(read) if h.rule.startswith("R")]
        after = [h for h in hazards(judged) if h.rule.startswith("R")]
        raised += any(h.stops_wet_work for h in before)
        assert max(h.level.rank for h in after) >= max(h.level.rank for h in before), lab
        assert any(h.stops_wet_work for h in after) >= any(h.stops_wet_work for h in before), lab
    assert raised > 50


def test_a_piece_photographed_anew_keeps_the_family_judged_by_eye(tmp_path: Path) -> None:
    photo = paint(tmp_path / "scrap.png")
    with Stockroom.create(tmp_path / "stock") as stockroom:
        unread = replace(MARKS, patches=(), without_colour=True)

        def keep(facts: Facts, anew: str = "") -> None:
            shelve(
                stockroom,
                source=photo,
                name="scrap.png",
                size=(1200, 1000),
                marks=unread,
                facts=facts,
                readings={},
                anew=anew,
            )

        keep(Facts(colour_family="vivid green"))
        (piece,) = stockroom.pieces.listed()
        keep(replace(facts_of(piece), note="pressed"), piece.code)
        assert stockroom.pieces.get(piece.code).colour_family == "vivid green"
        keep(Facts(colour_family="olive green"), piece.code)
        assert stockroom.pieces.get(piece.code).colour_family == "olive green"


def test_a_suggested_patch_keeps_off_what_looks_odd_and_stands_where_all_does() -> None:
    alone = suggested_patches(MARKS)
    (left, top), _, (right, bottom), _ = alone[0]
    stain = (left - 20.0, top - 20.0, right + 20.0, bottom + 20.0)
    for ring in suggested_patches(MARKS, [stain]):
        (x0, y0), _, (x1, y1), _ = ring
        assert x1 <= stain[0] or x0 >= stain[2] or y1 <= stain[1] or y0 >= stain[3]
    assert suggested_patches(MARKS, [(0.0, 0.0, 5000.0, 5000.0)]) == alone
