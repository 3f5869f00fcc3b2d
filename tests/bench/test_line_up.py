"""A line-up from the shortlist to the confirmations, on a rendered photograph of known truth.

Seven outlines: a book and six scraps, two of them touching, one without a label, one on no shelf.
The outlines are the true ones, drawn again within a third of a millimetre, but for the last test:
``BINDERY_LINE_UP=1`` has them found in the photograph, which takes half a minute.
"""

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import Polygon

from bindery_stock.bench.colour_room.side_by_side import confirmations_of, held_line, metamerism
from bindery_stock.bench.match.candidates import hoard_of
from bindery_stock.bench.match.confirm_line_up import confirm_line_up
from bindery_stock.bench.match.line_up import HOW, SPOTS, line_up_sheet
from bindery_stock.bench.match.line_up_photo import (
    FACE_DOWN,
    LineUpPhoto,
    look_at_line_up,
    told_line_up,
)
from bindery_stock.bench.match.line_up_reading import LineUpAnswer, read_scraps
from bindery_stock.bench.match.told_scraps import ToldBy
from bindery_stock.bench.photo_table.found_outline import FoundOutline
from bindery_stock.bench.photo_table.marks import KnownRectangle
from bindery_stock.colour import delta_e00
from bindery_stock.errors import ColourError, EntryError
from bindery_stock.matching import Part, rank
from bindery_stock.records.codes_seen import codes_seen
from bindery_stock.shape import Outline, Ring
from bindery_stock.stock import Colour, NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.bench.pieces import piece_of
from tests.rendered.line_up import BOOK, CODES, SIZE, Bench, ragged, seven

BENCH = seven()
LAID = [code for code in CODES if code]
SHELF = {code: lying.outline for code, lying in zip(CODES, BENCH.lying, strict=True) if code}
SHELF |= {f"C-{seed:04}": Outline.from_polygon(ragged(seed, 80, 60)) for seed in range(50, 60)}
TRUE = {
    code: float(delta_e00(BOOK, lying.lab)) for code, lying in zip(CODES, BENCH.lying, strict=True)
}


def drawn_again(ring: Ring, seed: int) -> Ring:
    edge = np.asarray(Polygon(ring).segmentize(8.0).exterior.coords[:-1])
    shaken = edge + np.random.default_rng(seed).normal(0.0, 0.5, edge.shape)
    inside = shapely.buffer(Polygon(shaken), -0.5)
    return tuple((float(x), float(y)) for x, y in inside.exterior.coords[:-1])


def found_in(bench: Bench, *, joined: tuple[int, int] | None = (4, 5)) -> list[FoundOutline]:
    """The outlines as the finder gives them: those of two that touch as one."""
    rings = [bench.pixels_of(n) for n in range(len(bench.lying))]
    found = []
    if joined:
        both = shapely.union_all([Polygon(rings[n]).buffer(2) for n in joined]).buffer(-2)
        ring = tuple((float(x), float(y)) for x, y in both.exterior.coords[:-1])
        found.append(FoundOutline(ring, (), "", touching=True))
        rings = [ring for n, ring in enumerate(rings) if n not in joined]
    return [*(FoundOutline(drawn_again(r, n), (), "") for n, r in enumerate(rings)), *found]


def seen_in(bench: Bench, photo: Path, **more: tuple[int, int] | None) -> LineUpPhoto:
    whole = (photo, photo.name, SIZE)
    return told_line_up(found_in(bench, **more), codes_seen(photo), whole, bench.scale, SHELF, LAID)


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return BENCH.photograph(tmp_path_factory.mktemp("line-up") / "line-up.jpg")


@pytest.fixture(scope="module")
def seen(photo: Path) -> LineUpPhoto:
    return seen_in(BENCH, photo)


@pytest.fixture(scope="module")
def answer(seen: LineUpPhoto) -> LineUpAnswer:
    return read_scraps(seen)


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as room:
        for number in range(1, 16):
            outline = SHELF.get(f"C-{number:04}", Outline(((0, 0), (9, 0), (9, 9), (0, 9))))
            room.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=outline))
        yield room


def number_of(seen: LineUpPhoto, code: str) -> int:
    return next(n for n, scrap in enumerate(seen.scraps) if scrap.code == code)


# What to lay


def test_the_sheet_says_which_to_fetch_from_where_and_where_each_is_laid() -> None:
    pieces = {
        code: replace(
            piece_of(Outline(((0, 0), (120, 0), (120, 260), (0, 260))), code=code),
            place=f"tin {n}",
            colours=(Colour((45.0 + n, 36.0, 22.0), u=3.0),),
            reserved_for="a label" if code == "C-0002" else "",
        )
        for n, code in enumerate(("C-0001", "C-0002", "C-0003"), 1)
    }
    ranking = rank(Part(58, 228, BOOK), hoard_of(pieces.values(), reserved=True))
    sheet = line_up_sheet(ranking, pieces)
    assert sheet.codes == ("C-0001", "C-0003")
    assert sheet.scraps[1].words == f"C-0003 from tin 3: {SPOTS[1]}"
    assert sheet.note == "Left in their places, as they are reserved: C-0002."
    assert line_up_sheet(ranking, pieces, with_reserved=True).codes[1] == "C-0002"
    assert line_up_sheet(ranking, pieces, in_hand="C-0002").note == ""
    assert "one photograph from straight above" in HOW


# Who is who


def test_scraps_are_told_by_their_labels_and_by_their_outlines(seen: LineUpPhoto) -> None:
    told = {scrap.code: scrap.by for scrap in seen.scraps if scrap.code}
    assert told == {
        "C-0011": ToldBy.LABEL,
        "C-0012": ToldBy.LABEL,
        "C-0013": ToldBy.OUTLINE,
    }


def test_the_book_lies_in_the_middle_and_is_no_scrap(seen: LineUpPhoto) -> None:
    assert seen.book is not None
    assert seen.book.mark == "book"
    assert Polygon(seen.book.ring).area > 2 * max(
        Polygon(scrap.ring).area for scrap in seen.scraps if not scrap.is_book and not scrap.remark
    )


def test_two_that_touch_are_said_and_the_stranger_is_left_to_be_pointed_at(
    seen: LineUpPhoto,
) -> None:
    both, stranger = sorted(
        (seen.scraps[n] for n in seen.not_told), key=lambda scrap: scrap.remark == ""
    )
    assert "C-0014 and C-0015" in both.remark
    assert "touch" in both.remark
    assert (stranger.mark, stranger.remark) == ("?", "")


def test_those_that_touch_are_drawn_round_by_hand_and_told_by_their_labels(
    seen: LineUpPhoto,
) -> None:
    parted = seen.drawn(BENCH.pixels_of(4), SHELF)
    assert len(parted.scraps) == len(seen.scraps)
    parted = parted.drawn(BENCH.pixels_of(5), SHELF)
    assert [scrap.code for scrap in parted.scraps][-2:] == ["C-0014", "C-0015"]
    assert all(scrap.by is ToldBy.LABEL for scrap in parted.scraps[-2:])
    assert len(parted.not_told) == 1
    assert parted.book == seen.book


def test_what_is_pointed_at_lies_nowhere_else(seen: LineUpPhoto) -> None:
    stranger = seen.not_told[0]
    moved = seen.pointed_at(stranger, " c-0011 ")
    assert moved.scraps[stranger].by is ToldBy.HAND
    assert [scrap.code for scrap in moved.scraps].count("C-0011") == 1
    assert moved.pointed_at(stranger, "").scraps[stranger].mark == "?"


def test_with_every_scrap_apart_each_is_told_but_the_stranger(photo: Path) -> None:
    apart = seen_in(BENCH, photo, joined=None)
    assert {scrap.code for scrap in apart.scraps if scrap.code} == set(LAID)
    assert len(apart.not_told) == 1


# How near each is


def test_the_truly_closest_comes_first_or_cannot_be_told_from_the_first(
    answer: LineUpAnswer,
) -> None:
    assert min((code for code in TRUE if code), key=TRUE.__getitem__) == "C-0011"
    closest = next(held for held in answer.held if held.code == "C-0011")
    assert closest.tied
    assert answer.held[0].tied
    assert not answer.held[-1].tied
    assert "C-0011" in answer.words


def test_every_figure_holds_the_truth_and_rests_on_many_patches(
    seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    assert len(answer.held) == len(seen.scraps) - 1
    for held in answer.held:
        assert len(held.patches) >= 6
        if held.code:
            assert abs(held.comparison.delta_e - TRUE[held.code]) <= held.comparison.u
    assert len(answer.book_patches) >= 6


def test_no_patch_lies_on_a_label_or_near_an_edge(seen: LineUpPhoto, answer: LineUpAnswer) -> None:
    for held in answer.held:
        scrap = seen.scraps[held.number]
        for patch in held.patches:
            square = Polygon(patch)
            assert square.within(Polygon(scrap.ring).buffer(-5.0))
            assert all(square.disjoint(Polygon(label.ring)) for label in scrap.labels)


def test_a_stain_and_a_blocked_title_are_not_read_as_the_cloth(tmp_path: Path) -> None:
    """Patches that are plainly of another colour give way to others of the same cloth."""
    book, scrap = BENCH.lying[:2]
    gilt = (shapely.box(-30, 15, 30, 60), (70.0, 8.0, 45.0))
    stain = (shapely.box(-150, 80, -105, 140), (25.0, 12.0, 10.0))
    bench = Bench((replace(book, stain=gilt), replace(scrap, label="", stain=stain)))
    shown = seen_in(bench, bench.photograph(tmp_path / "stained.jpg"), joined=None)
    (held,) = read_scraps(shown).held
    assert held.comparison.delta_e == pytest.approx(TRUE["C-0011"], abs=1.0)
    assert min(float(delta_e00(lab, gilt[1])) for lab in held.comparison.first.patches) > 15.0


def test_without_a_book_it_is_asked_for_and_patches_drawn_on_it_serve(seen: LineUpPhoto) -> None:
    book = next(n for n, scrap in enumerate(seen.scraps) if scrap.is_book)
    lost = seen.pointed_at(book, "")
    with pytest.raises(ColourError, match="Point at the book"):
        read_scraps(lost)
    patch = ((560.0, 400.0), (620.0, 400.0), (620.0, 460.0), (560.0, 460.0))
    answer = read_scraps(lost, book=(patch,))
    assert answer.book_patches == (patch,)
    assert lost.booked(book).book is not None


def test_a_scrap_too_small_to_be_read_is_told_and_the_others_are_read(seen: LineUpPhoto) -> None:
    speck = ((20.0, 20.0), (26.0, 20.0), (26.0, 26.0))
    answer = read_scraps(seen.drawn(speck, SHELF))
    ((number, why),) = answer.refused
    assert number == len(seen.scraps)
    assert "no room" in why
    assert len(answer.held) == len(seen.scraps) - 1


# What is kept


def test_all_that_is_told_is_kept_in_one_step_that_is_taken_back_whole(
    stock: Stockroom, seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    light = "overcast window"
    changes = confirm_line_up(stock, seen=seen, answer=answer, purpose="vol. 4", light=light)
    assert changes.step.name == "Held 3 scraps against vol. 4, overcast window, in one photograph"
    assert set(changes.step.codes) == {"C-0011", "C-0012", "C-0013"}
    kept = stock.pieces.confirmations()
    assert {one.code for one in kept} == {"C-0011", "C-0012", "C-0013"}
    assert len({one.photo for one in kept}) == 1
    (one,) = confirmations_of(stock, "C-0011")
    assert one.book_patches == answer.book_patches
    assert len(one.piece_patches) >= 6
    assert held_line([one]).startswith("Beside the book ΔE00")
    stock.ledger.undo()
    assert stock.pieces.confirmations() == []
    stock.ledger.redo()
    assert len(stock.pieces.confirmations()) == 3


def test_nothing_is_kept_of_a_scrap_that_lies_back_side_up(
    seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    number = number_of(seen, "C-0013")
    over = replace(
        seen,
        scraps=tuple(
            replace(scrap, face_down=True, remark=FACE_DOWN) if n == number else scrap
            for n, scrap in enumerate(seen.scraps)
        ),
    )
    assert "C-0013" not in {one.code for one in answer.told_as(over).kept}
    meant = answer.told_as(over.pointed_at(number, "C-0013"))
    assert {one.code for one in meant.kept} == {"C-0011", "C-0012", "C-0013"}


def test_what_is_pointed_at_is_kept_without_being_read_again(
    stock: Stockroom, seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    stranger = seen.not_told[0]
    pointed = seen.pointed_at(stranger, "C-0007")
    told = answer.told_as(pointed)
    confirm_line_up(stock, seen=pointed, answer=told, purpose="vol. 4", light="lamp")
    (kept,) = stock.pieces.confirmations("C-0007")
    (held,) = [one for one in answer.held if one.number == stranger]
    assert kept.delta_e == held.comparison.delta_e


def test_where_nothing_is_told_nothing_is_kept(
    stock: Stockroom, seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    strange = replace(answer, held=tuple(replace(one, keeps=False) for one in answer.held))
    with pytest.raises(EntryError, match="no scrap is told"):
        confirm_line_up(stock, seen=seen, answer=strange, purpose="vol. 4", light="lamp")
    assert stock.photos.listed() == []


def test_two_line_ups_in_two_lights_that_part_raise_the_caution(
    stock: Stockroom, seen: LineUpPhoto, answer: LineUpAnswer
) -> None:
    confirm_line_up(stock, seen=seen, answer=answer, purpose="vol. 4", light="overcast window")
    apart = tuple(
        replace(one, comparison=replace(one.comparison, delta_e=14.0, u=2.0)) for one in answer.held
    )
    lamp = replace(answer, held=apart)
    confirm_line_up(stock, seen=seen, answer=lamp, purpose="vol. 4", light="reading lamp")
    assert "metamerism" in metamerism(confirmations_of(stock, "C-0011"))


# The whole way


@pytest.mark.skipif("BINDERY_LINE_UP" not in os.environ, reason="half a minute: BINDERY_LINE_UP=1")
def test_the_finder_outlines_every_scrap_of_the_photograph(photo: Path) -> None:
    scale = KnownRectangle(*BENCH.sheet)
    seen = look_at_line_up(photo, photo.name, SIZE, scale, SHELF, LAID)
    assert {s.code for s in seen.scraps if s.code} == {"C-0011", "C-0012", "C-0013"}
    assert seen.book is not None
    assert sorted("touch" in seen.scraps[n].remark for n in seen.not_told) == [False, True]
    answer = read_scraps(seen)
    assert next(one for one in answer.held if one.code == "C-0011").tied
