"""Codes of labels read back in a photograph; segno makes the symbols, zxing-cpp reads them."""

from pathlib import Path

import numpy as np
import pytest
import segno
from PIL import Image

from bindery_stock.errors import PhotoError
from bindery_stock.records.codes_seen import codes_seen


def with_codes(path: Path, *codes: str, turned: int = 0, orientation: int = 1) -> Path:
    bench = Image.new("L", (220 * len(codes) + 40, 260), 170)
    for number, code in enumerate(codes):
        matrix = np.array([list(row) for row in segno.make(code, micro=False, error="m").matrix])
        symbol = Image.fromarray(np.where(np.pad(matrix, 4), 30, 235).astype(np.uint8))
        side = symbol.size[0] * 5
        bench.paste(symbol.resize((side, side), Image.Resampling.NEAREST), (220 * number + 30, 50))
    exif = Image.Exif()
    exif[0x0112] = orientation
    bench.rotate(turned, expand=True, fillcolor=170).save(path, exif=exif)
    return path


def middle(ring: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    x, y = np.mean(ring, axis=0)
    return float(x), float(y)


def test_every_code_is_read_where_it_lies(tmp_path: Path) -> None:
    seen = codes_seen(with_codes(tmp_path / "codes.png", "C-0042", "C-0007"))
    assert [one.text for one in seen] == ["C-0042", "C-0007"]
    side = 29 * 5
    for number, one in enumerate(seen):
        want = (220 * number + 30 + side / 2, 50 + side / 2)
        assert middle(one.ring) == pytest.approx(want, abs=3.0)


@pytest.mark.parametrize("turned", [23, 90, 180])
def test_a_label_may_lie_turned(tmp_path: Path, turned: int) -> None:
    (seen,) = codes_seen(with_codes(tmp_path / "turned.png", "C-0042", turned=turned))
    assert seen.text == "C-0042"


def test_its_place_is_that_in_the_upright_photograph(tmp_path: Path) -> None:
    lying = with_codes(tmp_path / "upright.png", "C-0042", orientation=6)
    (seen,) = codes_seen(lying)
    # turned clockwise to stand upright: x' = height − y, y' = x
    assert middle(seen.ring) == pytest.approx((260 - 50 - 72.5, 30 + 72.5), abs=3.0)


def test_a_photograph_without_a_label_has_no_codes(tmp_path: Path) -> None:
    Image.effect_noise((300, 200), 60).save(tmp_path / "plain.png")
    assert codes_seen(tmp_path / "plain.png") == ()


def test_what_is_no_photograph_is_refused_by_name(tmp_path: Path) -> None:
    (tmp_path / "letter.png").write_text("Dear binder")
    with pytest.raises(PhotoError, match=r"letter\.png"):
        codes_seen(tmp_path / "letter.png")
