"""What cannot be so in a survey, each told with its mend: figures and ticks held side by side."""

from collections.abc import Iterator

from bindery_stock.errors import EntryError
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.sums import of
from bindery_stock.trade.survey import Damage, Harm, Reback, Survey
from bindery_stock.units import format_mm

MOST_PLACES: dict[Harm, int] = {
    Harm.CORNERS_BARE: 4,
    Harm.JOINT_CRACKED: 2,
    Harm.JOINT_TENDER: 2,
    Harm.HINGE_CRACKED: 2,
    Harm.HINGE_BROKEN: 2,
    Harm.BOARDS_LOST: 2,
    Harm.BOARD_DETACHED: 2,
    Harm.HEADBAND_LOST: 2,
    Harm.CORNER_SOFT: 4,
    Harm.BLOCK_LOOSE: 2,
}
"""How often a book can have it."""

_ALONG_THE_BOARD = frozenset({Harm.HEAD_LOST, Harm.TAIL_LOST, Harm.HOLE, Harm.JOINT_CRACKED})
_OF_THE_CASE = frozenset(
    {
        Harm.JOINTS_SPLIT,
        Harm.SPINE_LOST,
        Harm.HEAD_LOST,
        Harm.TAIL_LOST,
        Harm.HOLE,
        Harm.CORNERS_BARE,
        Harm.JOINT_CRACKED,
        Harm.JOINT_TENDER,
        Harm.BOARDS_LOST,
        Harm.BOARD_DETACHED,
        Harm.SPINE_DETACHED,
        Harm.SPINE_COCKED,
        Harm.BLOCK_LOOSE,
        Harm.CORNER_SOFT,
        Harm.EDGES_WORN,
        Harm.CLOTH_LIFTED,
    }
)
"""What a book without its case cannot have."""


def sense(measures: Measures) -> tuple[str, ...]:
    """What does not agree, the leaves first."""
    survey = measures.survey
    return (
        *_leaves(measures),
        *_spine(survey),
        *_extents(measures),
        *_places(survey),
        *_case(survey),
    )


def _leaves(measures: Measures) -> Iterator[str]:
    survey = measures.survey
    high, board = survey.leaf_height, survey.board_height
    if high is not None and board is not None:
        most = measures.rules.limits["square-most"].value
        if high > board:
            yield (
                f"The leaves, {format_mm(high)} high, stand out over boards of "
                f"{format_mm(board)}: measure both again."
            )
        elif (board - high) / 2 > most:
            yield (
                f"Leaves of {format_mm(high)} and boards of {format_mm(board)} make squares of "
                f"{format_mm((board - high) / 2)}, over the {format_mm(most)} that is usual: "
                "measure both again."
            )
    wide, board = survey.leaf_width, survey.board_width
    if wide is not None and board is not None and wide > board + measures.joint.value:
        yield (
            f"The leaves, {format_mm(wide)} wide, stand out over boards of {format_mm(board)} and "
            f"a joint of {format_mm(measures.joint.value)}: measure both again."
        )


def _spine(survey: Survey) -> Iterator[str]:
    if not survey.ticked(Harm.SPINE_LOST):
        return
    if survey.old_spine:
        yield (
            "The old spine is to be laid back, but its cloth is lost: untick one of the two. "
            "The sizes take it as lost."
        )
    if survey.ticked(Harm.SPINE_DETACHED):
        yield "The spine is lost, and detached but present: untick one of the two."
    if not survey.old_spine and survey.reback is Reback.REMOUNTED:
        yield (
            "The old spine is lost, so there is nothing to remount: give the reback as new cloth "
            "under the old."
        )


def _extents(measures: Measures) -> Iterator[str]:
    survey = measures.survey
    board = of(measures.board_height).total
    try:
        wide = of(measures.board_width).total
    except EntryError:  # neither boards nor leaves were measured across
        wide = None
    for damage in survey.damage:
        along, across, harm = damage.extent, damage.across, damage.harm
        if along is None:
            continue
        if harm in _ALONG_THE_BOARD and along > board:
            yield _too_much(damage, along, "longer than the height of the boards", board)
        if harm is Harm.HOLE and wide is not None and across is not None and across > wide:
            yield _too_much(damage, across, "wider than the boards", wide)
        half = min(board, wide if wide is not None else board) / 2
        if harm is Harm.CORNERS_BARE and along > half:
            yield _too_much(damage, along, "longer than half a board", half)
    head, tail = (
        max((damage.extent or 0.0 for damage in survey.ticked(harm)), default=0.0)
        for harm in (Harm.HEAD_LOST, Harm.TAIL_LOST)
    )
    if head and tail and max(head, tail) <= board <= head + tail:
        yield (
            f"Head and tail together lose {format_mm(head + tail)} of a spine of "
            f"{format_mm(board)}: measure both again, or untick them and tick that the spine cloth "
            "is lost."
        )


def _too_much(damage: Damage, given: float, words: str, most: float) -> str:
    return (
        f"{damage.harm.value.capitalize()}: {format_mm(given)} is {words}, {format_mm(most)}: "
        "measure again."
    )


def _places(survey: Survey) -> Iterator[str]:
    for harm, most in MOST_PLACES.items():
        count = sum(damage.count for damage in survey.ticked(harm))
        if count > most:
            yield (
                f"{harm.value.capitalize()}: a book has no more than {most} of them, not {count}: "
                "count again."
            )


def _case(survey: Survey) -> Iterator[str]:
    if survey.ticked(Harm.ENDPAPERS_LOST) and survey.ticked(Harm.ENDPAPER_LOST):
        yield "Endpapers are lost at both ends and at one end: untick one of the two."
    if survey.ticked(Harm.CASE_LOST):
        for harm in dict.fromkeys(damage.harm for damage in survey.damage):
            if harm in _OF_THE_CASE:
                yield f"The case is lost, and “{harm.value}” is of the case: untick one of the two."
