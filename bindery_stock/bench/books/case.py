"""The opened case of a volume, to scale: its boards and spine, its damage, and where parts lie.

Seen from outside with the head up: back board at the left, spine, front board at the right. All
is in millimetres, x to the right from the back board's fore-edge and y up from the tail.
"""

from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.shape import Ring
from bindery_stock.stock import NewPart
from bindery_stock.trade import Allowances, Damage, Harm, Role, Rules, Survey
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.sums import of

_USUAL_SHAPE = 0.64
"""Width of a board to its height where it was not measured: drawn only, never cut by."""
_CRACK_MM = 1.2


@dataclass(frozen=True, slots=True)
class Case:
    """The measures of an opened case, mm."""

    board_width: float
    board_height: float
    joint: float
    spine: float
    guessed_width: bool
    """True where the boards' width was not measured and is drawn as is usual."""

    @property
    def width(self) -> float:
        """From fore-edge to fore-edge."""
        return 2 * self.board_width + 2 * self.joint + self.spine

    @property
    def spine_left(self) -> float:
        """Where the spine begins at the left."""
        return self.board_width + self.joint

    @property
    def middle(self) -> float:
        """The middle of the spine."""
        return self.width / 2

    @property
    def boards(self) -> tuple[Ring, Ring]:
        """The back board and the front board."""
        return (
            box(0.0, 0.0, self.board_width, self.board_height),
            box(self.width - self.board_width, 0.0, self.width, self.board_height),
        )

    @property
    def back(self) -> Ring:
        """The spine."""
        return box(self.spine_left, 0.0, self.spine_left + self.spine, self.board_height)


@dataclass(frozen=True, slots=True)
class CaseMark:
    """One place of damage as it is drawn."""

    harm: Harm
    ring: Ring
    words: str


def case_of(survey: Survey, allowances: Allowances, rules: Rules) -> Case:
    """The opened case by its survey; what was not measured follows from what was."""
    measures = Measures(survey, allowances, rules)
    height = of(measures.board_height).total
    guessed = False
    try:
        width = of(measures.board_width).total
    except EntryError:
        width, guessed = height * _USUAL_SHAPE, True
    return Case(width, height, measures.joint.value, of(measures.lined).total, guessed)


def box(left: float, low: float, right: float, high: float) -> Ring:
    """An upright rectangle as a ring."""
    return ((left, low), (right, low), (right, high), (left, high))


def damage_marks(survey: Survey, case: Case) -> list[CaseMark]:
    """The damage that shows on the outside of the case, each at its place."""
    marks: list[CaseMark] = []
    for damage in survey.damage:
        rings = _WHERE[damage.harm](damage, case) if damage.harm in _WHERE else []
        marks += [CaseMark(damage.harm, ring, damage.harm.value) for ring in rings]
    return marks


def unseen(survey: Survey) -> list[Damage]:
    """The damage that has no place on the outside of the case: inside, or of unknown place."""
    return [damage for damage in survey.damage if damage.harm not in _WHERE]


def _joint_lines(damage: Damage, case: Case) -> list[Ring]:
    high = min(damage.extent or case.board_height, case.board_height)
    at = (case.width - case.board_width - case.joint / 2, case.board_width + case.joint / 2)
    count = 2 if damage.harm is Harm.JOINTS_SPLIT else min(damage.count, 2)
    top = case.board_height
    return [box(x - _CRACK_MM, top - high, x + _CRACK_MM, top) for x in at[:count]]


def _lost(damage: Damage, case: Case) -> list[Ring]:
    left, right = case.spine_left, case.spine_left + case.spine
    extent = min(damage.extent or case.board_height, case.board_height)
    if damage.harm is Harm.TAIL_LOST:
        return [box(left, 0.0, right, extent)]
    return [box(left, case.board_height - extent, right, case.board_height)]


def _corners(damage: Damage, case: Case) -> list[Ring]:
    return [
        (at, (at[0] + across * worn, at[1]), (at[0], at[1] + along * worn))
        for at, across, along in _four_corners(case)[: damage.count]
        for worn in (damage.extent or 0.0,)
    ]


def _four_corners(case: Case) -> list[tuple[tuple[float, float], float, float]]:
    """The fore-edge corners with the ways in across and along: front head, front tail, back …"""
    right, high = case.width, case.board_height
    return [
        ((right, high), -1.0, -1.0),
        ((right, 0.0), -1.0, 1.0),
        ((0.0, high), 1.0, -1.0),
        ((0.0, 0.0), 1.0, 1.0),
    ]


def _whole(_damage: Damage, case: Case) -> list[Ring]:
    return [*case.boards, case.back]


def _boards(damage: Damage, case: Case) -> list[Ring]:
    return list(reversed(case.boards))[: damage.count]


_WHERE = {
    Harm.JOINTS_SPLIT: _joint_lines,
    Harm.JOINT_CRACKED: _joint_lines,
    Harm.JOINT_TENDER: _joint_lines,
    Harm.SPINE_LOST: _lost,
    Harm.HEAD_LOST: _lost,
    Harm.TAIL_LOST: _lost,
    Harm.CORNERS_BARE: _corners,
    Harm.BOARDS_LOST: _boards,
    Harm.CASE_LOST: _whole,
}


def ring_on_case(part: NewPart, case: Case) -> Ring | None:
    """Where a part lies on the opened case; nothing for what lies in the leaves or anywhere."""
    role = Role(part.role)
    if role in (Role.CORNER_PATCH, Role.CORNER_TRIANGLE):
        return _corner_patch(part, case)
    if role in _ON_JOINT:
        x = case.board_width + case.joint / 2
        return _upright(part, case.width - x if part.number == 1 else x, case)
    if role is Role.BOARD:
        return list(reversed(case.boards))[(part.number - 1) % 2]
    if role in (Role.SIDE, Role.BOARD_CLOTH):
        return _side(part, case)
    if role in _ON_SPINE:
        return _upright(part, case.middle, case)
    return None


_ON_JOINT = frozenset({Role.JOINT_CLOTH, Role.JOINT_TISSUE})
_ON_SPINE = frozenset(
    {
        Role.REBACK_INSIDE,
        Role.REBACK_OUTSIDE,
        Role.REBACK_REMOUNTED,
        Role.HEAD_PIECE,
        Role.TAIL_PIECE,
        Role.MULL,
        Role.LINING_TISSUE,
        Role.LINING_KRAFT,
        Role.HOLLOW_SIMPLE,
        Role.HOLLOW_THREE,
        Role.HOLLOW_FOUR,
        Role.HOLLOW_THREE_AND_HALF,
        Role.INLAY,
        Role.CASE_CLOTH,
        Role.QUARTER_BACK,
        Role.SEWING_TAPE,
    }
)


def _upright(part: NewPart, x: float, case: Case) -> Ring:
    """About ``x``, with its seen stretch where it is seen; the middle of the height otherwise."""
    role = Role(part.role)
    seen = [zone for zone in part.zones if zone[0] == "shown"]
    low = (case.board_height - part.height) / 2
    if seen and role is Role.HEAD_PIECE:
        low = case.board_height - max(zone[4] for zone in seen)
    elif seen and role is Role.TAIL_PIECE:
        low = -min(zone[2] for zone in seen)
    return box(x - part.width / 2, low, x + part.width / 2, low + part.height)


def _corner_patch(part: NewPart, case: Case) -> Ring:
    """The square or triangle cut from the cloth; its outer corner goes when it is mitred."""
    at, across, along = _four_corners(case)[(part.number - 1) % 4]
    turned = max((zone[1] for zone in part.zones if zone[0] == "shown"), default=0.0)
    x, y = at[0] - across * turned, at[1] - along * turned
    far_x, far_y = x + across * part.width, y + along * part.height
    if part.role == Role.CORNER_TRIANGLE:
        return ((x, y), (far_x, y), (x, far_y))
    return box(min(x, far_x), min(y, far_y), max(x, far_x), max(y, far_y))


def _side(part: NewPart, case: Case) -> Ring:
    turn = max(0.0, (part.height - case.board_height) / 2)
    low, high = -turn, part.height - turn
    if part.number == 1:
        right = case.width + turn
        return box(right - part.width, low, right, high)
    return box(-turn, low, part.width - turn, high)
