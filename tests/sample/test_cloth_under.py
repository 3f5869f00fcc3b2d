"""The cloth that will be seen, on the photographs of the shipped stockroom."""

import shutil
from dataclasses import replace

import numpy as np
import pytest

from bindery_stock.bench.match.candidates import as_matched
from bindery_stock.bench.shelf.colour_maps import FOLDER, ColourMaps
from bindery_stock.colour import colour_map, delta_e00
from bindery_stock.colour.decode import open_negative
from bindery_stock.matching import Part, cloth_under, fit, shade_on
from bindery_stock.places import sample
from bindery_stock.shape import Sight, Zone, best_place
from bindery_stock.stock import Stockroom

STRIP = Part(
    22,
    248,
    (33, 33, 17),
    zones=(Zone(Sight.HIDDEN, 0, 0, 22, 248), Zone(Sight.SHOWN, 8, 0, 14, 248)),
)


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    folder = tmp_path_factory.mktemp("under") / "stockroom"
    shutil.copytree(sample(), folder)
    with Stockroom.open(folder) as opened:
        yield opened


@pytest.mark.parametrize(
    ("code", "where_it_fits", "best"), [("C-0055", 7.0, 2.2), ("C-0002", 6.0, 1.8)]
)
def test_a_joint_strip_lies_where_the_cloth_is_not_faded(room, code, where_it_fits, best):
    """The reading is within one ΔE00 of the colour sought; the first place that fits is not."""
    shelved = room.pieces.get(code)
    mark, colour = shelved.marks[0], shelved.colour
    photo = open_negative(room.photos.path(mark.photo))
    rings = shelved.outline.exterior, shelved.outline.holes
    seen = colour_map(photo, mark.to_mm, *rings, colour.patch, colour.lab)
    piece = replace(as_matched(shelved), colour_map=seen)
    assert float(delta_e00(STRIP.lab, piece.lab)) < 1.0
    first = cloth_under(STRIP, piece, fit(STRIP, piece))
    assert first.delta_e > where_it_fits
    chosen = best_place(
        piece.outline,
        STRIP.width,
        STRIP.height,
        turns=STRIP.turns_in(piece.pattern),
        flaws=piece.flaws,
        zones=STRIP.sight,
        shade=shade_on(STRIP, piece),
    )
    under = cloth_under(STRIP, piece, chosen)
    assert under.delta_e < best
    assert under.delta_e < under.worst < first.worst
    assert piece.outline.polygon.buffer(1e-6).covers(chosen.polygon)


def test_a_map_is_kept_small_and_made_again_where_the_file_is_spoilt(room, tmp_path):
    shelved = room.pieces.get("C-0055")
    made = ColourMaps(tmp_path, room.photos.path).of(shelved)
    (path,) = (tmp_path / FOLDER).iterdir()
    assert path.stat().st_size < 40_000
    kept = ColourMaps(tmp_path, _no_photo).of(shelved)
    away = np.nanmax(np.abs(kept.lab() - made.lab()))
    assert away < 0.1
    path.write_bytes(path.read_bytes()[:200])
    again = ColourMaps(tmp_path, room.photos.path).of(shelved)
    assert np.array_equal(again.xyz, made.xyz, equal_nan=True)
    typed = replace(shelved, colours=(replace(shelved.colour, photo=None),))
    assert ColourMaps(tmp_path, room.photos.path).of(typed) is None


def _no_photo(sha256):
    raise AssertionError(f"{sha256} was opened again")
