"""Looking along the shelf: words, filters, order, and what can be cut from a piece."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.bench.shelf.cautions import at_length, cautions, gravest, headline, sign_words
from bindery_stock.bench.shelf.fits import NARROWEST, Proofs, asked_size
from bindery_stock.bench.shelf.piece_words import (
    as_table_text,
    facts,
    flaws_words,
    gone_words,
    one_line,
    sort_of,
)
from bindery_stock.bench.shelf.search import (
    Catalogue,
    Looking,
    Order,
    arrange,
    counted,
    folded,
    natural_key,
)
from bindery_stock.bench.shelf.shortened import CUT_AT, LONGEST_DRAWN, shortened
from bindery_stock.shape import Flaw, FlawKind, Outline, largest_rectangle
from bindery_stock.stock import Colour, FaceName, PieceState, StockPiece
from bindery_stock.trade import Level
from bindery_stock.trade.vocabulary import Form, Kind
from bindery_stock.units import LengthStyle

RED, DARK_RED, GREEN = (38.0, 45.0, 22.0), (22.0, 34.0, 18.0), (45.0, -40.0, 30.0)
MM = LengthStyle()


def rectangle(width: float, height: float) -> Outline:
    return Outline(((0, 0), (width, 0), (width, height), (0, height)))


def scrap(number: int, lab=RED, size=(100.0, 200.0), **known) -> StockPiece:
    known.setdefault("kind", Kind.CLOTH)
    known.setdefault("outline", rectangle(*size))
    return StockPiece(
        id=number,
        code=f"C-{number:04}",
        state=PieceState.ON_SHELF,
        shelved_at=datetime(2026, 3, 1, tzinfo=UTC),
        colours=(Colour(lab),) if lab else (),
        **known,
    )


def codes(pieces) -> list[str]:
    return [piece.code for piece in pieces]


# Words


def test_every_word_typed_must_stand_somewhere_in_the_piece() -> None:
    pieces = [
        scrap(1, pattern="fine rib", place="Tin 5"),
        scrap(2, pattern="fine rib", place="Tin 10"),
        scrap(3, pattern="sand", place="Tin 5"),
    ]
    assert codes(Catalogue().look(pieces, Looking(words="RIB  tin 5"))) == ["C-0001"]
    assert codes(Catalogue().look(pieces, Looking(words="rib nothing"))) == []


def test_a_word_is_found_in_code_kind_source_and_note() -> None:
    piece = scrap(7, kind=Kind.MULL, source="attic of Mrs Penhallow", note="crumbly edge")
    for word in ("0007", "mull", "penhallow", "crumbly"):
        assert Catalogue().look([piece], Looking(words=word)) == [piece], word


def test_an_accent_is_found_however_it_was_typed() -> None:
    piece = scrap(1, source="papeterie d\u2019Angle\u0301")
    assert Catalogue().look([piece], Looking(words="angl\u00e9")) == [piece]


@given(st.text(max_size=30))
def test_what_was_noted_of_a_piece_finds_it(note: str) -> None:
    piece = scrap(1, note=note)
    assert Catalogue().look([piece], Looking(words=note)) == [piece]


def test_a_corrected_piece_is_found_by_its_new_words_only() -> None:
    catalogue, before = Catalogue(), scrap(1, place="Tin 1")
    after = replace(before, place="Drawer B")
    assert catalogue.look([before], Looking(words="tin"))
    assert not catalogue.look([after], Looking(words="tin"))
    assert catalogue.look([after], Looking(words="drawer"))


# Filters


def test_each_filter_lets_through_only_its_own() -> None:
    pieces = [
        scrap(1, RED, pattern="rib", place="A"),
        scrap(2, GREEN, pattern="rib", place="B"),
        scrap(3, None, kind=Kind.BOARD),
    ]
    look = Catalogue().look
    assert codes(look(pieces, Looking(kind=Kind.BOARD))) == ["C-0003"]
    assert codes(look(pieces, Looking(family="green"))) == ["C-0002"]
    assert codes(look(pieces, Looking(family=""))) == ["C-0003"]
    assert codes(look(pieces, Looking(pattern="rib"))) == ["C-0001", "C-0002"]
    assert codes(look(pieces, Looking(pattern=""))) == ["C-0003"]
    assert codes(look(pieces, Looking(place="B"))) == ["C-0002"]
    assert not Looking().asks
    assert Looking(place="").asks


# Sizes: what is meant is a part cut upright, in one, clear of holes and flaws


def fits(piece: StockPiece, width: float, height: float) -> bool | None:
    proofs = Proofs()
    proofs.prove([piece], *asked_size(width, height))
    return proofs.known(piece, *asked_size(width, height))


def test_a_wide_low_piece_does_not_answer_for_a_tall_strip() -> None:
    assert fits(scrap(1, size=(300, 80)), 40, 240) is False
    assert fits(scrap(1, size=(80, 300)), 40, 240) is True


def test_a_piece_with_a_hole_in_the_middle_does_not_answer_for_a_wide_part() -> None:
    holed = Outline(
        ((0, 0), (100, 0), (100, 200), (0, 200)), (((40, 90), (60, 90), (60, 110), (40, 110)),)
    )
    assert fits(scrap(1, outline=holed), 70, 150) is False
    assert fits(scrap(1, outline=holed), 40, 200) is True


def test_a_stain_counts_against_the_size() -> None:
    stain = Flaw(FlawKind.STAIN, ((0, 0), (100, 0), (100, 120), (0, 120)))
    assert fits(scrap(1, flaws=(stain,)), 100, 100) is False
    assert fits(scrap(1, flaws=(stain,)), 100, 80) is True


def test_an_l_shaped_piece_is_not_as_tall_and_wide_as_its_box() -> None:
    ell = Outline(((0, 0), (200, 0), (200, 50), (50, 50), (50, 200), (0, 200)))
    assert fits(scrap(1, outline=ell), 100, 100) is False
    assert fits(scrap(1, outline=ell), 0, 200) is True


def test_with_one_side_given_the_other_is_a_narrow_strip() -> None:
    assert asked_size(0, 240) == (NARROWEST, 240)
    assert fits(scrap(1, size=(NARROWEST - 1, 300)), 0, 240) is False


def test_a_piece_too_small_by_its_box_needs_no_fit_and_a_changed_one_is_tried_anew() -> None:
    small, large = scrap(1, size=(10, 10)), scrap(1, size=(100, 100))
    proofs = Proofs()
    assert proofs.known(small, 50, 50) is False
    assert proofs.known(large, 50, 50) is None
    proofs.prove([large], 50, 50)
    assert proofs.known(large, 50, 50) is True
    assert proofs.known(scrap(1, size=(90, 90)), 50, 50) is None


def test_trying_fits_stops_when_told_to() -> None:
    tried: list[int] = []

    def check() -> None:
        tried.append(1)
        if len(tried) > 2:
            raise StopIteration

    proofs, pieces = Proofs(), [scrap(n) for n in range(1, 6)]
    with pytest.raises(StopIteration):
        proofs.prove(pieces, 50, 50, check)
    assert [proofs.known(piece, 50, 50) for piece in pieces] == [True, True, None, None, None]


# Order


def test_by_colour_reds_come_before_greens_and_greys_after_all_hues() -> None:
    grey, unread = scrap(3, (50.0, 0.0, 0.0)), scrap(4, None)
    groups = arrange([unread, grey, scrap(2, GREEN), scrap(1, RED)], Order.COLOUR)
    assert [codes(group.pieces) for group in groups] == [
        ["C-0001"], ["C-0002"], ["C-0003"], ["C-0004"],
    ]  # fmt: skip
    assert all(group.band for group in groups)


def test_a_red_on_the_blue_side_lies_with_the_reds() -> None:
    bluish = scrap(1, (35.0, 40.0, -6.0))
    groups = arrange([scrap(2, GREEN), bluish, scrap(3, RED)], Order.COLOUR)
    assert codes(groups[0].pieces) == ["C-0001", "C-0003"]


def test_by_size_the_largest_comes_first() -> None:
    (group,) = arrange([scrap(1, size=(50, 50)), scrap(2, size=(60, 60))], Order.SIZE)
    assert codes(group.pieces) == ["C-0002", "C-0001"]


def test_by_place_tin_2_stands_before_tin_10_and_what_lies_nowhere_comes_last() -> None:
    pieces = [scrap(1), scrap(2, place="Tin 10"), scrap(3, place="Tin 2")]
    assert [g.heading for g in arrange(pieces, Order.PLACE)] == [
        "Tin 2",
        "Tin 10",
        "No place noted",
    ]


def test_by_grain_pattern_groups_stand_in_the_trades_order_dark_before_light() -> None:
    pieces = [
        scrap(1, RED, pattern="sand"),
        scrap(2, RED, pattern="fine rib"),
        scrap(3, DARK_RED, pattern="fine rib"),
        scrap(4, RED, pattern="own invention"),
    ]
    groups = arrange(pieces, Order.PATTERN)
    assert [g.heading for g in groups] == ["fine rib", "sand", "own invention"]
    assert codes(groups[0].pieces) == ["C-0003", "C-0002"]


@given(st.lists(st.integers(0, 10**6), unique=True, min_size=2))
def test_codes_sort_as_their_numbers(numbers: list[int]) -> None:
    ordered = sorted((f"C-{n}" for n in numbers), key=natural_key)
    assert ordered == [f"C-{n}" for n in sorted(numbers)]


@given(st.text(), st.text())
def test_any_two_texts_can_be_put_in_order(first: str, second: str) -> None:
    assert (natural_key(first) < natural_key(second)) or (natural_key(first) >= natural_key(second))


def test_the_count_is_told_in_words() -> None:
    assert counted(61, 61) == "61 pieces"
    assert counted(23, 61) == "23 of 61 pieces"
    assert counted(1, 1) == "1 piece"
    assert folded("Straße") == "strasse"


# Drawn cut short


def test_a_roll_is_drawn_cut_short_along_the_warp_only() -> None:
    short = shortened(rectangle(300, 12_000))
    assert short.along
    assert not short.across
    assert short.outline.width == 300
    assert abs(short.outline.height - CUT_AT) < 1e-6


def test_a_great_sheet_is_cut_short_both_ways_and_an_ordinary_scrap_not_at_all() -> None:
    sheet = shortened(rectangle(700, 1000))
    assert sheet.along
    assert sheet.across
    assert sheet.outline.area < CUT_AT * CUT_AT
    scrap_outline = rectangle(LONGEST_DRAWN, 100)
    assert shortened(scrap_outline).outline is scrap_outline


# In words


def test_a_piece_is_told_in_one_line_with_its_caution() -> None:
    green = scrap(4, GREEN, pattern="rib", place="Tin 2", source_date="1855")
    assert one_line(green, MM) == "C-0004, △ stop, rib cloth, 100 × 200 mm, green, Tin 2"
    assert sort_of(scrap(1, form=Form.ROLL, kind=Kind.MULL)) == "roll of mull"


def test_a_vivid_green_of_the_1850s_is_marked_and_a_new_grey_is_not() -> None:
    assert gravest(scrap(1, GREEN, source_date="1855")) is Level.STOP
    assert sign_words(scrap(1, (60.0, 0.0, 0.0), source_date="1990")) == ""


def test_a_caution_opens_to_its_advice_its_source_and_what_it_is_not() -> None:
    worst = cautions(scrap(1, GREEN, source_date="1855"))[0]
    assert headline(worst).startswith("△ Stop: ")
    told = at_length(worst)
    assert "loves" in told  # gloves
    assert "Source (" in told
    assert "Not a test result" in told


def test_what_is_not_known_is_called_unknown() -> None:
    told = {fact.label: fact.words for fact in facts(scrap(1), MM, None, measured=False)}
    assert told["Fibre"] == "unknown"
    assert told["Grain pattern"] == "not noted"
    assert told["Usable"] == "being measured …"
    assert told["Flaws"] == "none marked"


def test_the_usable_rectangle_is_told_once_measured() -> None:
    piece = scrap(1, size=(58.0, 228.0))
    usable = largest_rectangle(piece.outline)
    told = {fact.label: fact for fact in facts(piece, MM, usable, measured=True)}
    assert told["Usable"].words == "58 × 228 mm in one piece"
    assert told["Size"].words == "58 × 228 mm"
    assert "across the warp" in told["Size"].tip


def test_flaws_are_counted_by_kind() -> None:
    ring = ((1.0, 1.0), (5.0, 1.0), (5.0, 5.0))
    piece = scrap(1, flaws=(Flaw(FlawKind.STAIN, ring), Flaw(FlawKind.HOLE, ring)))
    assert flaws_words(piece) == "1 hole, 1 stain"


def test_a_gone_piece_says_what_became_of_it() -> None:
    cut = replace(scrap(1), state=PieceState.CUT_UP, fate="spine strip, vol. 4")
    assert gone_words(cut, [scrap(2)]) == "Cut up for spine strip, vol. 4; what was left is C-0002."
    assert gone_words(replace(cut, fate=""), []) == "Cut up; nothing was left."
    lost = replace(scrap(1), state=PieceState.DISCARDED, fate="lost")
    assert gone_words(lost, []) == "Discarded: lost."
    assert gone_words(scrap(1), []) == ""


def test_the_face_a_colour_was_read_from_does_not_hide_the_shown_one() -> None:
    both = replace(scrap(1), colours=(Colour(GREEN, FaceName.REVERSE), Colour(RED)))
    assert Catalogue().family(both) == "red"


# The clipboard


def test_copied_pieces_have_a_heading_and_a_line_each() -> None:
    lines = as_table_text([scrap(1, pattern="rib"), scrap(2, None)]).splitlines()
    assert lines[0].startswith("Code\tKind")
    assert lines[1].split("\t")[:8] == [
        "C-0001", "cloth", "rib", "red", "38.00", "45.00", "22.00", "100.0",
    ]  # fmt: skip
    assert lines[2].split("\t")[4:7] == ["", "", ""]
    assert len({line.count("\t") for line in lines}) == 1


@given(st.text(max_size=20))
def test_no_note_can_break_a_line_or_become_a_formula(note: str) -> None:
    text = as_table_text([scrap(1, note=note)])
    assert text.count("\n") == 2
    cell = text.split("\n")[1].rsplit("\t", 1)[1]
    assert cell[:1] not in {"=", "+", "-", "@"}
