"""Which pieces of a shortlist are laid beside the book."""

from bindery_stock.matching import MOST_LAID, Part, Piece, line_up, rank
from bindery_stock.shape import Outline

SOUGHT = (40.0, 30.0, 20.0)
SQUARE = Outline(((0, 0), (120, 0), (120, 260), (0, 260)))


def hoard(*lightness: float, u: float = 1.0) -> list[Piece]:
    return [
        Piece(f"C-{n:04}", SQUARE, (each, 30.0, 20.0), u=u) for n, each in enumerate(lightness, 1)
    ]


def codes(matches: object) -> list[str]:
    return [match.code for match in matches]  # type: ignore[attr-defined]


PART = Part(58, 228, SOUGHT)
NINE = hoard(42, 41, 40.5, 43, 44, 45, 46, 47, 48)


def test_six_are_laid_the_likeliest_first() -> None:
    laid = line_up(rank(PART, NINE)).laid
    assert len(laid) == MOST_LAID == 6
    assert codes(laid) == ["C-0003", "C-0002", "C-0001", "C-0004", "C-0005", "C-0006"]


def test_what_no_colour_can_tell_from_the_best_waits_for_a_second_photograph() -> None:
    wide = [*hoard(*(40.0 + 0.1 * n for n in range(8)), u=6.0), *hoard(70.0, u=1.0)]
    chosen = line_up(rank(Part(58, 228, SOUGHT, tolerance=60), wide))
    assert len(chosen.waiting) == 2
    second = line_up(rank(Part(58, 228, SOUGHT, tolerance=60), wide), after=6)
    assert codes(second.laid)[:2] == codes(chosen.waiting)


def test_next_to_the_tied_the_following_are_laid_where_there_is_room() -> None:
    few = hoard(40.2, 40.4, 52.0, u=0.5)
    chosen = line_up(rank(PART, few))
    assert chosen.laid[0].tie != chosen.laid[2].tie
    assert len(chosen.laid) == 3
    assert chosen.waiting == ()


def test_what_is_reserved_for_another_part_stays_in_its_place_and_is_named() -> None:
    chosen = line_up(rank(PART, NINE), reserved={"C-0002", "C-0009"})
    assert "C-0002" not in codes(chosen.laid)
    assert codes(chosen.kept_for_others) == ["C-0002", "C-0009"]


def test_of_an_empty_shelf_nothing_is_laid() -> None:
    chosen = line_up(rank(PART, []))
    assert (chosen.laid, chosen.waiting) == ((), ())
