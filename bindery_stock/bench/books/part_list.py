"""From a surveyed volume to the parts to cut for it, each with its colour and the sum that made it.

Four corner patches are four parts: each is reserved and cut by itself.
"""

from bindery_stock import matching
from bindery_stock.bench.books.split_supply import BENEATH
from bindery_stock.colour import ReadBy
from bindery_stock.shape import Sight, Zone
from bindery_stock.stock import BookPart, BookSpot, NewPart, NewRepair
from bindery_stock.trade import Allowances, PartPlan, Role, Rules, Use, parts_for, shipped_rules
from bindery_stock.trade.vocabulary import Kind

MARGIN_MM = 1.0
"""Least distance of a part to the edge and the flaws of its piece; our own choice."""
NOT_FROM_STOCK = frozenset({Role.GAUGE, Role.CORNER_FILL})
"""A strip to measure by and layers built up on the spot: nothing is reserved for them."""
COLOURED = frozenset({Kind.CLOTH, Kind.LEATHER, Kind.PAPER})
"""Kinds matched by colour where they are seen. Tissue is toned to suit when it is laid."""

_SHORT = {
    Role.REBACK_INSIDE: "reback strip",
    Role.REBACK_OUTSIDE: "reback strip",
    Role.REBACK_REMOUNTED: "reback strip",
    Role.HEAD_PIECE: "head piece",
    Role.TAIL_PIECE: "tail piece",
    Role.CORNER_PATCH: "corner patch",
    Role.CORNER_TRIANGLE: "corner patch",
    Role.JOINT_CLOTH: "joint strip",
    Role.JOINT_TISSUE: "joint tissue",
    Role.HINGE_TISSUE: "hinge tissue",
    Role.HINGE_CLOTH: "hinge cloth",
    Role.LINING_TISSUE: "tissue lining",
    Role.LINING_KRAFT: "kraft lining",
    Role.HOLLOW_SIMPLE: "hollow",
    Role.HOLLOW_THREE: "hollow",
    Role.HOLLOW_FOUR: "hollow",
    Role.HOLLOW_THREE_AND_HALF: "hollow",
    Role.BOARD_CLOTH: "board cloth",
    Role.EDGE_TISSUE: "edge tissue",
    Role.CASE_CLOTH: "case cloth",
    Role.QUARTER_BACK: "quarter back",
    Role.SIDE: "side",
    Role.ENDPAPER: "endpaper",
    Role.FLYLEAF: "flyleaf",
    Role.LEAF_TEAR: "tear tissue",
    Role.FOLD_GUARD: "fold guard",
    Role.PASTEDOWN_FILLER: "filler",
    Role.HOLE_PATCH: "hole patch",
}
_ON_SPINE = (BookSpot.SPINE, BookSpot.JOINTS, BookSpot.BOARDS)
_ON_JOINT = (BookSpot.JOINTS, BookSpot.BOARDS, BookSpot.SPINE)
_ON_BOARD = (BookSpot.BOARDS, BookSpot.JOINTS, BookSpot.SPINE)
_SPOTS: dict[Role, tuple[BookSpot, ...]] = {
    Role.REBACK_OUTSIDE: _ON_SPINE,
    Role.HEAD_PIECE: _ON_SPINE,
    Role.TAIL_PIECE: _ON_SPINE,
    Role.QUARTER_BACK: _ON_SPINE,
    Role.JOINT_CLOTH: _ON_JOINT,
    Role.BOARD_CLOTH: _ON_BOARD,
    Role.CORNER_PATCH: (BookSpot.CORNERS, *_ON_BOARD),
    Role.CORNER_TRIANGLE: (BookSpot.CORNERS, *_ON_BOARD),
    Role.ENDPAPER: (BookSpot.LEAVES,),
    Role.FLYLEAF: (BookSpot.LEAVES,),
}
REBACKS = frozenset({Role.REBACK_INSIDE, Role.REBACK_OUTSIDE, Role.REBACK_REMOUNTED})
_SPINES = REBACKS | {Role.QUARTER_BACK, Role.CASE_CLOTH}


def parts_of(repair: NewRepair, allowances: Allowances, rules: Rules) -> list[NewPart]:
    """The parts of a volume in the order of the work.

    Raises ``EntryError`` where a measurement is wanting.
    """
    plans = [
        plan
        for plan in parts_for(repair.survey, allowances, rules=rules)
        if plan.role not in NOT_FROM_STOCK
    ]
    totals: dict[Role, int] = {}
    for plan in plans:
        totals[plan.role] = totals.get(plan.role, 0) + plan.count
    given: dict[Role, int] = {}
    parts: list[NewPart] = []
    for plan in plans:
        for _ in range(plan.count):
            given[plan.role] = given.get(plan.role, 0) + 1
            parts.append(_part(repair, plan, given[plan.role], totals[plan.role]))
    return parts


def short_name(role: str) -> str:
    """What a column of the set is headed by: ``reback strip``, ``corner patch``."""
    return _SHORT.get(Role(role), role.replace("-", " "))


def spots_of(repair: NewRepair, role: Role) -> tuple[BookSpot, ...]:
    """Where on the book the colour of a part is read, the best place first.

    With the old spine laid back new cloth is seen beside the joints; with it gone, as the spine.
    """
    if role in REBACKS and role is not Role.REBACK_OUTSIDE:
        return _ON_JOINT if repair.survey.old_spine else _ON_SPINE
    return _SPOTS.get(role, _ON_BOARD)


def _part(repair: NewRepair, plan: PartPlan, number: int, total: int) -> NewPart:
    sought = None
    if plan.shown and plan.stock in COLOURED:
        sought = repair.target(*spots_of(repair, plan.role))
    coloured = sought is not None
    return NewPart(
        role=plan.role.value,
        name=short_name(plan.role.value),
        number=number,
        of=total,
        width=plan.width,
        height=plan.height,
        kind=plan.stock,
        material=plan.material,
        pattern=repair.pattern if coloured and plan.stock is Kind.CLOTH else "",
        turns=_turns(plan, number),
        zones=plan.zones,
        estimated=plan.estimated,
        lab=sought.lab if sought else None,
        u=sought.u if sought else None,
        read_by=sought.read_by if sought else ReadBy.STATED,
        tolerance=repair.tolerance if coloured else None,
        width_sum=plan.width_sum.text,
        height_sum=plan.height_sum.text,
        sum_lines=_lines(plan),
        adhesives=plan.adhesives,
        note="\n".join(line for line in (plan.note, *plan.warnings) if line),
    )


def _turns(plan: PartPlan, number: int) -> tuple[float, ...]:
    """The ways a part may lie in the cloth; two corners of four take a triangle of the other hand.

    The first and the last of them have the right angle at the head right and at the tail left.
    """
    other_hand = plan.role is Role.CORNER_TRIANGLE and number % 4 in (2, 3)
    return tuple(turn + 90.0 for turn in plan.turns) if other_hand else plan.turns


def _lines(plan: PartPlan) -> tuple[str, ...]:
    told = dict.fromkeys((*plan.width_sum.lines, *plan.height_sum.lines))
    return (*told, f"Rule: {plan.rule} ({plan.provenance.words})")


def needs_colour(part: NewPart) -> bool:
    """Whether a part is seen, is matched by colour, and its colour has not been read yet."""
    return part.shown and part.kind in COLOURED and part.lab is None


_FULLY_SEEN_MM2 = 5000.0
_LEAST_WEIGHT = 0.2


def visibility(part: NewPart) -> float | None:
    """How much a part counts: by how much of it is seen, from 0.2 to 1 (our choice).

    A spine seen along its whole length counts fully, a corner's tip and a narrow joint less: the
    four tips of a book less than its spine.
    Nothing for a hidden part, which matching weighs by itself.
    """
    if not part.shown:
        return None
    seen = sum((x1 - x0) * (y1 - y0) for sight, x0, y0, x1, y1 in part.zones if sight == "shown")
    return min(1.0, max(_LEAST_WEIGHT, seen / _FULLY_SEEN_MM2))


def faces_the_shelf(part: NewPart) -> bool:
    """Whether it is the new spine that is seen on the shelf: its very middle is seen."""
    if Role(part.role) not in _SPINES:
        return False
    x, y = part.width / 2, part.height / 2
    return any(
        sight == "shown" and left <= x <= right and low <= y <= high
        for sight, left, low, right, high in part.zones
    )


def use_of(role: str, rules: Rules) -> Use | None:
    """The use for which stock and adhesive of a part are judged; None where there is none."""
    rule = rules.parts.get(role)
    return None if rule is None else rule.use


def as_matched(
    part: BookPart, rules: Rules | None = None, *, refused: frozenset[str] = frozenset()
) -> matching.Part:
    """A part as matching sees it; by the shipped rules where none are given.

    ``refused`` are the codes of pieces it must not be cut from.
    """
    rule = (rules or shipped_rules()).parts.get(part.role)
    triangular = part.role == Role.CORNER_TRIANGLE
    plain = part.layer == BENEATH or (rule is not None and rule.plain)
    return matching.Part(
        part.width,
        part.height,
        None if plain else part.lab,
        turns=part.turns,
        margin=MARGIN_MM,
        tolerance=part.tolerance,
        shown=part.shown,
        name=part.purpose,
        zones=()
        if triangular  # it is seen throughout, or nowhere
        else tuple(Zone(Sight(sight), *sides) for sight, *sides in part.zones),
        triangular=triangular,
        kind=part.kind,
        pattern="" if plain else part.pattern,
        u=part.u or 0.0,
        read_by=part.read_by,
        plain=plain,
        weight=visibility(part),
        volume=part.repair,
        spine=faces_the_shelf(part),
        refused=refused,
    )
