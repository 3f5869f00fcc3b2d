"""Labels and shapes against each other: what is told of a scrap, and what is left to the binder."""

import shapely
from shapely import Polygon, affinity

from bindery_stock.bench.match.told_scraps import Lettered, Telling, ToldBy, told_scraps
from bindery_stock.shape import Outline
from tests.rendered.line_up import ragged

BODIES = {f"C-{seed:04}": ragged(seed, 82, 62) for seed in range(11, 16)}
SHELF = {code: Outline.from_polygon(body) for code, body in BODIES.items()}
STRANGER = ragged(40, 82, 62)
LABEL = shapely.box(0, 0, 40, 21)


def lying(body: Polygon, x: float, y: float = 0.0, turn: float = 0.0) -> Outline:
    return Outline.from_polygon(affinity.translate(affinity.rotate(body, turn), x, y))


def label(code: str, x: float, y: float = 0.0, side: float = 16.0) -> Lettered:
    half = side / 2
    return Lettered(code, shapely.box(x - half, y - half, x + half, y + half))


def test_a_scrap_is_told_by_the_label_on_it_and_another_by_its_outline() -> None:
    found = [lying(BODIES["C-0011"], 0, turn=40), lying(BODIES["C-0012"], 100, turn=200)]
    told = told_scraps(found, [label("C-0011", 0)], SHELF)
    assert [(one.code, one.by) for one in told] == [
        ("C-0011", ToldBy.LABEL),
        ("C-0012", ToldBy.OUTLINE),
    ]


def test_a_label_beside_a_scrap_is_its_label_and_its_own_outline_is_no_scrap() -> None:
    found = [lying(BODIES["C-0011"], 0), lying(LABEL, -20, -62), lying(STRANGER, 200)]
    told = told_scraps(found, [label("C-0011", 10, -52)], SHELF)
    assert told[0].code == "C-0011"
    assert told[0].by is ToldBy.LABEL
    assert told[1].is_label
    assert told[2] == Telling()


def test_a_label_half_way_between_two_scraps_tells_neither() -> None:
    # both by their outline: the label itself is as near the one as the other
    found = [lying(STRANGER, 0), lying(affinity.scale(STRANGER, 1.0, 0.97), 100)]
    told = told_scraps(found, [label("C-0011", 50, side=10)], SHELF)
    assert [one.code for one in told] == ["", ""]


def test_two_labels_on_one_outline_say_that_two_scraps_touch() -> None:
    one, other = lying(shapely.box(-36, -30, 36, 30), 0), lying(shapely.box(-36, -28, 36, 28), 0)
    shelf = {"C-0021": one, "C-0022": other}
    both = Outline.from_polygon(shapely.box(-36, -30, 36, 86))
    (told,) = told_scraps([both], [label("C-0021", 0), label("C-0022", 0, 58)], shelf)
    assert told.code == ""
    assert "C-0021 and C-0022" in told.remark
    assert "touch" in told.remark


def test_a_label_that_can_not_be_that_of_its_scrap_tells_nothing() -> None:
    small = affinity.scale(BODIES["C-0012"], 0.6, 0.6)
    (told,) = told_scraps([lying(small, 0)], [label("C-0011", 0, side=10)], SHELF)
    assert told.code == ""
    assert "not of that size" in told.remark


def test_labels_that_were_mixed_up_are_found_out_by_the_outlines() -> None:
    found = [lying(BODIES["C-0011"], 0, turn=15)]
    (told,) = told_scraps(found, [label("C-0014", 0)], SHELF)
    assert told.code == ""
    assert "C-0014" in told.remark
    assert "C-0011" in told.remark


def test_the_label_of_a_piece_that_is_on_no_shelf_tells_nothing() -> None:
    (told,) = told_scraps([lying(STRANGER, 0)], [label("C-0999", 0)], SHELF)
    assert (told.code, told.remark) == ("", "Its label says C-0999, which is not on the shelf.")


def test_a_scrap_that_is_on_no_shelf_is_left_to_be_pointed_at() -> None:
    assert told_scraps([lying(STRANGER, 0)], [], SHELF) == (Telling(),)


def test_a_piece_that_bears_its_label_is_not_told_a_second_time_by_an_outline() -> None:
    found = [lying(BODIES["C-0011"], 0), lying(BODIES["C-0011"], 120)]
    told = told_scraps(found, [label("C-0011", 0)], SHELF)
    assert [one.code for one in told] == ["C-0011", ""]


def test_a_scrap_back_side_up_is_told_so_by_its_outline_and_under_its_label() -> None:
    over = affinity.scale(BODIES["C-0013"], -1.0, 1.0)
    for labels in ([], [label("C-0013", 0)]):
        (told,) = told_scraps([lying(over, 0, turn=70)], labels, SHELF)
        assert (told.code, told.face_down) == ("C-0013", True)


def test_the_book_is_told_as_no_scrap_though_a_label_lies_on_it() -> None:
    book = Outline.from_polygon(shapely.box(-50, -80, 50, 80))
    told = told_scraps([book], [label("C-0011", 0)], SHELF, book=0)
    assert told == (Telling(),)
