"""One figure under a part: shown, reserved, listed, recorded and cut, and true to the pixels."""

import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from bindery_stock.bench.books.part_list import as_matched
from bindery_stock.bench.books.stale_parts import delta_now
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.bench.match.candidates import hoard_of, placed_best
from bindery_stock.bench.match.cut import cut, cut_part
from bindery_stock.bench.match.part_shade import shade_of
from bindery_stock.bench.match.reserve import release
from bindery_stock.bench.match.reserve_part import reserve_part
from bindery_stock.bench.match.shade_words import shade_words
from bindery_stock.bench.shelf.colour_maps import ColourMaps
from bindery_stock.colour import delta_e00
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.space import apply_matrix, lab_to_xyz, xyz_to_lab
from bindery_stock.desktop.match.model import closeness
from bindery_stock.desktop.shelf.readings import Readings
from bindery_stock.matching import cloth_under, fit, rank
from bindery_stock.places import sample
from bindery_stock.shape import cut as left_of
from bindery_stock.stock import Cutting, PartState, PlannedPlacement, Stockroom
from bindery_stock.units import LengthStyle


@pytest.fixture
def room(tmp_path):
    shutil.copytree(sample(), tmp_path / "stockroom")
    with Stockroom.open(tmp_path / "stockroom") as opened:
        yield opened


def waiting(room, name):
    return next(
        part
        for part in room.books.parts()
        if part.name == name and part.state is PartState.WANTED and part.lab is not None
    )


def best_in(room, part, code):
    """The part held against one piece, laid where its cloth is closest."""
    piece = room.pieces.get(code)
    wanted = replace(as_matched(part, room.rules), tolerance=None)
    ranking = rank(wanted, hoard_of([piece], reserved=True))
    placed = placed_best(ranking, colour_map_of=lambda _code: ColourMaps.of_room(room).of(piece))
    (match,) = placed.matches
    return match


def by_the_pixels(room, part, code, corners):
    """ΔE00 of the mean of all pixels under the shown zones, by the photograph itself."""
    piece = room.pieces.get(code)
    mark, colour = piece.marks[0], piece.colour
    photo = open_negative(room.photos.path(mark.photo))
    codes = np.asarray(photo.crop((0, 0, *photo.size)))
    light = photo.encoding.linear(codes.reshape(-1, codes.shape[-1])).reshape(*codes.shape[:2], 3)
    size = (codes.shape[1], codes.shape[0])
    seen = _inside([colour.patch], size)
    wanted = np.linalg.inv(photo.encoding.matrix) @ lab_to_xyz(colour.lab)
    gains = wanted / light[seen].mean(axis=0)
    back = np.linalg.inv(np.asarray(mark.to_mm).reshape(3, 3))
    start, across, _, along = np.asarray(corners)
    rings = []
    for sight, left, low, right, high in part.zones:
        if sight == "shown":
            own = np.array(((left, low), (right, low), (right, high), (left, high)))
            mm = start + own[:, :1] * (across - start) / part.width
            mm = mm + own[:, 1:] * (along - start) / part.height
            flat = np.column_stack([mm, np.ones(4)]) @ back.T
            rings.append(flat[:, :2] / flat[:, 2:])
    under = (light[_inside(rings, size)] * gains).mean(axis=0)
    return float(delta_e00(part.lab, xyz_to_lab(apply_matrix(photo.encoding.matrix, under))))


def _inside(rings, size):
    mask = Image.new("1", size)
    for ring in rings:
        ImageDraw.Draw(mask).polygon([(float(x), float(y)) for x, y in ring], fill=1)
    return np.asarray(mask)


@pytest.mark.parametrize(
    ("name", "code"),
    [("joint strip", "C-0055"), ("joint strip", "C-0002"), ("corner patch", "C-0055")],
)
def test_what_is_shown_reserved_recorded_and_cut_is_the_cloth_under_the_part(room, name, code):
    part = waiting(room, name)
    if room.pieces.get(code).reserved_for:
        release(room, piece=code)
    first = fit(as_matched(part, room.rules), hoard_of([room.pieces.get(code)]).pieces[0])
    told = delta_now(part, room.pieces.get(code))
    match = best_in(room, part, code)
    assert match.alone == pytest.approx(told)
    by_pixels = by_the_pixels(room, part, code, match.placement.corners)
    assert match.delta_e == pytest.approx(by_pixels, abs=1.5)
    assert f"Under the part ΔE00 {match.delta_e:.1f} ± {match.u:.1f}" in closeness(match)

    laid = PlannedPlacement(part=part.id, code=code, corners=match.placement.corners)
    reserve_part(room, placement=laid, reason="The owner asks for it.")
    kept = room.books.part(part.id).shade
    assert (kept.delta_e, kept.u) == pytest.approx((match.delta_e, match.u), abs=1e-6)
    assert kept.under
    assert shade_words(kept) == shade_words(shade_of(match))
    record = treatment_record(room, part.repair, LengthStyle())
    (line,) = [one for one in record.plan if one.piece.startswith(f"{code},")]
    assert line.colour == shade_words(kept)
    assert line.colour.endswith(" under the part")

    # Moved on the cut sheet to where it fits first: what is kept is of the cloth cut.
    cutting = Cutting(
        code=code,
        purpose=part.purpose,
        width=part.width,
        height=part.height,
        corners=first.corners,
        offcuts=tuple(left_of(room.pieces.get(code).outline, first)),
    )
    deed = (
        (lambda: cut(room, cutting=cutting, reason="The owner asks for it."))
        if name == "corner patch"
        else lambda: cut_part(room, part=part.id, cutting=cutting, reason="The owner asks for it.")
    )
    deed()
    was_cut = room.books.part(part.id).shade
    by_pixels = by_the_pixels(room, part, code, first.corners)
    assert was_cut.delta_e == pytest.approx(by_pixels, abs=1.5)
    assert was_cut.under
    assert was_cut.delta_e >= kept.delta_e - 0.5


def test_the_reading_of_the_piece_said_half_a_delta_e_where_the_first_place_is_faded(room):
    part = waiting(room, "joint strip")
    for code, away in (("C-0055", 5.0), ("C-0002", 5.0)):
        piece = hoard_of([room.pieces.get(code)], reserved=True).pieces[0]
        seen = replace(piece, colour_map=ColourMaps.of_room(room).of(room.pieces.get(code)))
        wanted = as_matched(part, room.rules)
        first = cloth_under(wanted, seen, fit(wanted, seen))
        assert delta_now(part, room.pieces.get(code)) < 1.0
        assert first.delta_e > away


def test_a_piece_by_itself_shows_its_reading_and_its_spread(room, qtbot):
    piece = room.pieces.get("C-0055")
    seen = ColourMaps.of_room(room).of(piece)
    readings = Readings()
    qtbot.addWidget(readings)
    readings.show_piece(piece, seen)
    labs = seen.lab().reshape(-1, 3)
    labs = labs[np.isfinite(labs[:, 0])]
    assert np.quantile(delta_e00(labs.mean(axis=0), labs), 0.5) < 2 * seen.spread
    assert seen.spread > 2.0
    assert f"Over the whole piece: spread ΔE00 {seen.spread:.1f}" in readings.words


def test_candidates_are_ordered_and_tied_by_the_cloth_under_the_part(room):
    part = waiting(room, "joint strip")
    pieces = {piece.code: piece for piece in room.pieces.listed()}
    maps = ColourMaps.of_room(room)
    ranking = rank(as_matched(part, room.rules), hoard_of(pieces.values()), limit=4, near=0)
    placed = placed_best(ranking, colour_map_of=lambda code: maps.of(pieces[code]))
    figures = [match.delta_e for match in placed.matches]
    assert figures == sorted(figures)
    assert all(match.alone is not None for match in placed.matches)
    assert [match.delta_e for match in ranking.matches] != figures
    assert all(figure <= part.tolerance for figure in figures)
    fallen = {miss.code for miss in placed.near_misses}
    assert {match.code for match in ranking.matches} == fallen | {m.code for m in placed.matches}
    assert all("under the part" in miss.lack for miss in placed.near_misses)
    ties = [match.tie for match in placed.matches]
    assert ties == sorted(ties)
