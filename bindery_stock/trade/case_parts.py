"""The parts of the case: boards, cloth and sides, corners and holes."""

from collections.abc import Iterator

from bindery_stock.trade.lining_parts import hollow_parts, lined_with_hollow
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.plans import PartPlan, Strip, all_shown, grid, hidden, plan, shown
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.spine_parts import lift_warnings, rebacked, turn_warnings
from bindery_stock.trade.sums import measured, of, taken
from bindery_stock.trade.survey import Covering, Damage, Harm, Reback

TRIANGLE = 1
"""The habit of cutting corner patches as triangles, by its number among the choices."""
_SQUARE = (
    "Cut it square. Once it is laid, mitre the outer corner about the board's thickness off the "
    "tip of the board; then turn in."
)
_TRIANGLE = (
    "Cut it as a right-angled triangle with these legs. Lay it with the right angle out beyond the "
    "tip of the board and the long side under the lifted cloth. Mitre the right angle about the "
    "board's thickness off the tip of the board; then turn in."
)
_NICK = "Nick 3 mm off each inner corner of an octavo's board."


def case_parts(measures: Measures) -> Iterator[PartPlan]:
    """Boards, covering, inlay and gauge, patches of the sides, and the hollow of a reback."""
    survey = measures.survey
    new_case = bool(survey.ticked(Harm.CASE_LOST))
    if new_case:
        yield _boards(measures, 2)
        yield from _covering(measures)
    else:
        for damage in survey.ticked(Harm.BOARDS_LOST):
            yield _boards(measures, damage.count)
            yield _board_cloth(measures, damage.count)
        for damage in survey.ticked(Harm.CORNERS_BARE):
            yield from _corners(measures, damage)
        for damage in survey.ticked(Harm.HOLE):
            yield _hole(measures, damage)
        for damage in survey.ticked(Harm.EDGES_WORN):
            yield _edge(measures, damage)
    if new_case or rebacked(measures):
        yield _inlay(measures)
        yield _gauge(measures)
    if rebacked(measures) and not lined_with_hollow(measures):
        yield from hollow_parts(measures)


def _boards(measures: Measures, count: int) -> PartPlan:
    return plan(
        measures,
        Role.BOARD,
        measures.board_width,
        measures.board_height,
        count=count,
        note=_NICK,
    )


def _board_cloth(measures: Measures, count: int) -> PartPlan:
    """Over one new board: to the new spine, or across the joint and under the cloth of the old."""
    allowances, survey = measures.allowances, measures.survey
    turn, under = allowances["turn-in"], allowances["underlap"]
    rows = _turned(turn.value, of(measures.board_height).total)
    if rebacked(measures):
        view = allowances["view-outside" if survey.reback is Reback.OUTSIDE else "view"]
        body = (*measures.board_width, taken(view, -1))
        width, across = (*body, taken(turn)), []
        note = "Laid over the new spine cloth, of which the width in view stays bare."
    else:
        body = (*measures.board_width, measures.joint)
        width, across = (*body, taken(under), taken(turn)), [hidden(under.value)]
        note = "Across the joint and under the cloth of the spine."
    across += [shown(of(body).total), hidden(turn.value)]
    return plan(
        measures,
        Role.BOARD_CLOTH,
        width,
        (*measures.board_height, taken(turn, 2)),
        count=count,
        zones=grid(across, rows),
        warnings=turn_warnings(measures, turn.value),
        note=note,
    )


def _turned(turn: float, length: float) -> list[Strip]:
    return [hidden(turn), shown(length), hidden(turn)]


def _covering(measures: Measures) -> Iterator[PartPlan]:
    turn = measures.allowances["turn-in"]
    height = (*measures.board_height, taken(turn, 2))
    rows = _turned(turn.value, of(measures.board_height).total)
    gap = (*measures.lined, measures.joint.by(2))
    warnings = turn_warnings(measures, turn.value)
    if measures.survey.covering is Covering.FULL:
        body = (*(term.by(2) for term in measures.board_width), *gap)
        yield plan(
            measures,
            Role.CASE_CLOTH,
            (*body, taken(turn, 2)),
            height,
            zones=grid(_turned(turn.value, of(body).total), rows),
            warnings=warnings,
        )
        return
    view, extra = measures.allowances["quarter-view"], measures.allowances["side-extra"]
    back = (*gap, taken(view, 2))
    yield plan(
        measures,
        Role.QUARTER_BACK,
        back,
        height,
        zones=grid([shown(of(back).total)], rows),
        warnings=warnings,
    )
    side = (*measures.board_width, taken(view, -1), taken(extra))
    turned = min(turn.value, extra.value)
    yield plan(
        measures,
        Role.SIDE,
        side,
        height,
        count=2,
        zones=grid([shown(of(side).total - turned), hidden(turned)], rows),
        warnings=warnings,
    )


def _corners(measures: Measures, damage: Damage) -> Iterator[PartPlan]:
    allowances = measures.allowances
    hold, turn = allowances["corner-hold"], allowances["corner-turn-in"]
    wear = measured("wear", "how far the corner is worn", damage.extent)
    leg = (wear, taken(hold), taken(turn), measures.thickness)
    turned = turn.value + measures.thickness.value
    role, note, beyond = Role.CORNER_PATCH, _SQUARE, hold.value
    if allowances["corner-cut"].value >= TRIANGLE:
        # Its long side must pass the wear: it takes what is turned in twice.
        leg = (wear, taken(hold), taken(turn, 2), measures.thickness.by(2))
        role, note, beyond = Role.CORNER_TRIANGLE, _TRIANGLE, hold.value + turned
    stretch = [hidden(turned), shown(wear.value), hidden(beyond)]
    yield plan(
        measures,
        role,
        leg,
        leg,
        count=damage.count,
        zones=grid(stretch, stretch),
        warnings=lift_warnings(measures, hold.value),
        note=note,
    )
    yield plan(
        measures,
        Role.CORNER_FILL,
        (wear,),
        (wear,),
        count=damage.count,
        note="Layers of tissue until the board has its thickness again; no cloth is cut.",
    )


def _hole(measures: Measures, damage: Damage) -> PartPlan:
    hold = measures.allowances["patch-hold"]
    wide = measured("hole", "width of the hole", damage.across)
    high = measured("hole", "height of the hole", damage.extent)
    return plan(
        measures,
        Role.HOLE_PATCH,
        (wide, taken(hold, 2)),
        (high, taken(hold, 2)),
        count=damage.count,
        zones=grid(_turned(hold.value, wide.value), _turned(hold.value, high.value)),
        warnings=lift_warnings(measures, hold.value),
    )


def _edge(measures: Measures, damage: Damage) -> PartPlan:
    """Over the edge and on to both faces of the board."""
    hold, end = measures.allowances["edge-hold"], measures.allowances["tear-end"]
    width = (measures.thickness, taken(hold, 2))
    length = (measured("worn", "length of the worn edge", damage.extent), taken(end, 2))
    return plan(
        measures,
        Role.EDGE_TISSUE,
        width,
        length,
        count=damage.count,
        zones=all_shown(width, length),
        note="Torn, not cut, so that the edge feathers.",
    )


def _inlay(measures: Measures) -> PartPlan:
    ease = measures.allowances["inlay-ease"]
    width = (*measures.lined, taken(ease, -1)) if ease.value else measures.lined
    return plan(measures, Role.INLAY, width, measures.board_height)


def _gauge(measures: Measures) -> PartPlan:
    allowances = measures.allowances
    return plan(
        measures,
        Role.GAUGE,
        (*measures.lined, measures.joint.by(2), taken(allowances["gauge-end"], 2)),
        (taken(allowances["gauge-width"]),),
        note="Wrap it round the spine with its linings on; mark board edges, joints and cuts.",
    )
