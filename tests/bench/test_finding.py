"""The shelf as matching sees it, and the leading candidates placed to leave the most."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bindery_stock import matching
from bindery_stock.bench.match.candidates import LEADING, hoard_of, others_placed, placed_best
from bindery_stock.bench.shelf.count_of_size import SizeCounted, count, count_words, kept, size_of
from bindery_stock.bench.shelf.usable_rectangles import FILE, SQUARE, UsableRectangles
from bindery_stock.colour import ColourMap, delta_e00
from bindery_stock.colour.space import lab_to_xyz
from bindery_stock.matching import Part
from bindery_stock.shape import Flaw, FlawKind, Outline, PatchPlacement, largest_rectangle, sheet
from bindery_stock.shape.placement import placement_at
from bindery_stock.units import LengthStyle
from tests.bench.pieces import piece_of

ODD = Outline(((0, 0), (160, 10), (180, 220), (90, 300), (-10, 250)))


def test_a_known_usable_rectangle_changes_no_answer() -> None:
    """It may only accept; hand-made scraps with and without a stain, each size below and above."""
    stain = Flaw(FlawKind.STAIN, ((60, 100), (80, 100), (80, 130), (60, 130)))
    pieces = [
        piece_of(ODD, code="C-0001"),
        piece_of(ODD, code="C-0002", flaws=(stain,)),
        piece_of(sheet(58, 228), code="C-0003"),
    ]
    usable = UsableRectangles()
    for piece in pieces:
        usable.measure(piece)
    for width, height in ((40, 100), (58, 228), (100, 200), (150, 220), (175, 290)):
        part = Part(width, height, None)
        plain = matching.rank(part, hoard_of(pieces))
        sieved = matching.rank(part, hoard_of(pieces, usable=usable))
        assert [m.code for m in plain.matches] == [m.code for m in sieved.matches]


def test_a_usable_rectangle_is_measured_anew_when_the_piece_changes() -> None:
    usable = UsableRectangles()
    whole = piece_of(sheet(100, 200))
    assert usable.known(whole) is None
    measured = usable.measure(whole)
    assert measured == largest_rectangle(whole.outline)
    assert usable.known(whole) is measured
    shorter = piece_of(sheet(100, 150))
    assert not usable.is_known(shorter)
    found = usable.measure(shorter)
    assert found is not None
    assert found.height == pytest.approx(150)


def test_a_usable_square_is_known_beside_the_usable_rectangle() -> None:
    usable = UsableRectangles()
    whole = piece_of(sheet(100, 200))
    square = usable.measure(whole, SQUARE)
    assert square is not None
    assert (square.width, square.height) == pytest.approx((100, 100), abs=1e-3)
    assert not usable.is_known(whole)
    longest = usable.measure(whole)
    assert longest is not None
    assert longest.height == pytest.approx(200)
    assert usable.known(whole, SQUARE) is square


def test_what_was_measured_is_there_the_next_day(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stain = Flaw(FlawKind.STAIN, ((60, 100), (80, 100), (80, 130), (60, 130)))
    pieces = [piece_of(ODD), piece_of(ODD, flaws=(stain,), code="C-0002")]
    usable = UsableRectangles()
    before = [usable.measure(piece) for piece in pieces]
    usable.keep(tmp_path)
    usable.begin(tmp_path)
    assert not usable.is_known(pieces[0])
    monkeypatch.setattr(
        "bindery_stock.bench.shelf.usable_rectangles.largest_rectangle", lambda *_, **__: None
    )
    assert [usable.measure(piece) for piece in pieces] == before
    assert usable.measure(piece_of(sheet(100, 150), code="C-0003")) is None  # not in the file


@pytest.mark.parametrize(
    "spoilt", ["", "[]", '["a", [1.0, NaN, 3.0, 4.0]]', "[1, null]", "\x00", "{"]
)
def test_a_spoilt_file_of_measurements_costs_only_the_time(tmp_path: Path, spoilt: str) -> None:
    (tmp_path / FILE).parent.mkdir()
    (tmp_path / FILE).write_text(spoilt)
    usable = UsableRectangles()
    usable.begin(tmp_path)
    assert usable.measure(piece_of(sheet(100, 150))) is not None


def test_every_candidate_leaves_at_least_as_much_as_it_was_found_to() -> None:
    pieces = [piece_of(ODD, code=f"C-{n:04d}") for n in range(1, LEADING + 3)]
    found = matching.rank(Part(40, 90, None, margin=2.0), hoard_of(pieces))
    better = others_placed(placed_best(found))
    assert [m.code for m in better.matches] == [m.code for m in found.matches]
    for before, after in zip(found.matches, better.matches, strict=True):
        assert after.left.best >= before.left.best
    assert better.matches[0].left.best > found.matches[0].left.best
    # beyond the leading ones too: each lies as the first does, and so at the edge
    assert {m.placement.corners for m in better.matches} == {better.matches[0].placement.corners}


def test_a_corner_patch_is_put_into_a_corner_of_the_piece() -> None:
    part = Part(40, 40, None, turns=(0, 90, 180, 270), free=180.0, triangular=True)
    found = matching.rank(part, hoard_of([piece_of(sheet(200, 300))]))
    (match,) = placed_best(found).matches
    assert isinstance(match.placement, PatchPlacement)
    assert match.left.best == pytest.approx(200 * 260, rel=1e-3)  # all but its 40 mm of length


class Stopped(Exception):  # noqa: N818 - not an error: the user asked for it
    pass


def test_placing_can_be_stopped() -> None:
    found = matching.rank(Part(40, 90, None), hoard_of([piece_of(ODD)]))

    def stop() -> None:
        raise Stopped

    with pytest.raises(Stopped):
        placed_best(found, stop)


def test_the_size_last_sought_outlives_the_program() -> None:
    assert size_of(kept(SizeCounted(40.5, 100.25, 0.0))) == SizeCounted(40.5, 100.25, 0.0)
    for spoilt in ("", "forty by ten", "40 0 2", "40 nan 2", "40 inf 2", "40 100 -1"):
        assert size_of(spoilt) == SizeCounted()


def test_strips_are_counted_in_rows_by_hand() -> None:
    """A roll of 1000 × 1000 with 2 mm of margin: 17 strips of 58 side by side, 4 rows of 228."""
    size = SizeCounted(58.0, 228.0, 2.0)
    assert count(piece_of(sheet(1000, 1000)), size) == 17 * 4
    assert count_words(68, size, LengthStyle()) == "at least 68 of 58 × 228 mm"
    assert count(piece_of(sheet(50, 1000)), size) == 0


def test_one_more_measured_piece_is_written_behind_the_others(tmp_path: Path) -> None:
    usable, file = UsableRectangles(), tmp_path / FILE
    for number in range(1, 4):
        usable.measure(piece_of(sheet(100 + number, 150), code=f"C-000{number}"))
    usable.keep(tmp_path)
    before = file.read_bytes()
    usable.keep(tmp_path)
    assert file.read_bytes() == before
    usable.measure(piece_of(sheet(120, 150), code="C-0004"))
    usable.keep(tmp_path)
    after = file.read_bytes()
    assert after.startswith(before)
    assert after[len(before) :].count(b"\n") == 1


def test_a_line_cut_short_costs_only_its_own_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usable, file = UsableRectangles(), tmp_path / FILE
    pieces = [piece_of(sheet(100 + n, 150), code=f"C-000{n}") for n in (1, 2, 3)]
    found = [usable.measure(piece) for piece in pieces[:2]]
    usable.keep(tmp_path)
    file.write_bytes(file.read_bytes()[:-5])
    found.append(usable.measure(pieces[2]))
    usable.keep(tmp_path)
    usable.begin(tmp_path)
    monkeypatch.setattr(
        "bindery_stock.bench.shelf.usable_rectangles.largest_rectangle", lambda *_, **__: None
    )
    assert [usable.measure(piece) for piece in pieces] == [found[0], None, found[2]]


def test_a_leading_candidate_is_laid_on_the_cloth_that_is_not_faded_and_tells_both_figures() -> (
    None
):
    """The left half is as it was read, the right has faded; the part first lay on the right."""
    sound, faded = (33.0, 33.0, 17.0), (45.0, 25.0, 17.0)
    light = np.zeros((30, 20, 3), np.float32)
    light[:, :10], light[:, 10:] = lab_to_xyz(sound), lab_to_xyz(faded)
    seen = ColourMap(3.0, (0.0, 0.0), light)
    piece = matching.Piece("C-0001", sheet(60, 90), sound)
    part = Part(20, 40, sound)
    (match,) = matching.rank(part, [piece]).matches
    right = replace(match, placement=placement_at(40.0, 0.0, 20, 40, 0.0))
    assert right.under is None
    found = placed_best(matching.Ranking(part, (right,), ()), colour_map_of=lambda _code: seen)
    (best,) = found.matches
    assert best.delta_e == pytest.approx(0.0, abs=1e-6)
    assert best.under is not None
    assert best.under.delta_e < 0.01
    assert best.under.worst < 0.01
    assert best.placement.polygon.bounds[2] <= 30.0 + 1e-6
    there = replace(right, piece=best.piece).under
    assert there is not None
    assert there.delta_e == pytest.approx(float(delta_e00(sound, faded)), abs=0.01)
