"""The parts that renew a spine and its joints: reback strips, caps, joint and hinge strips."""

from collections.abc import Iterator

from bindery_stock.trade.measures import Measures
from bindery_stock.trade.plans import PartPlan, Strip, Zone, all_shown, grid, hidden, plan, shown
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.sums import Term, measured, of, taken
from bindery_stock.trade.survey import REBACKED, Damage, Harm, Reback
from bindery_stock.units import format_mm


def rebacked(measures: Measures) -> bool:
    """Whether the damage takes a whole new strip down the spine."""
    return any(measures.survey.ticked(harm) for harm in REBACKED)


def spine_parts(measures: Measures) -> Iterator[PartPlan]:
    """The strip and its inlay, or else the caps and joint strips; and the inner hinges."""
    if rebacked(measures):
        yield reback_strip(measures)
    else:
        yield from _caps(measures)
        yield from _joints(measures)
    for damage in measures.survey.ticked(Harm.HEADBAND_LOST):
        yield plan(
            measures,
            Role.HEADBAND,
            measures.lined,
            (taken(measures.allowances["headband-height"]),),
            count=damage.count,
            zones=all_shown(measures.lined, (taken(measures.allowances["headband-height"]),)),
            note="Bought by the length, in the colours of the old.",
        )
    for damage in measures.survey.ticked(Harm.HINGE_CRACKED):
        yield _hinge(measures, Role.HINGE_TISSUE, "hinge-tissue-width", damage)
    for damage in measures.survey.ticked(Harm.HINGE_BROKEN):
        yield _hinge(measures, Role.HINGE_CLOTH, "hinge-cloth-width", damage)


def reback_strip(measures: Measures) -> PartPlan:
    """The strip, by the way of rebacking that the survey chose."""
    return {
        Reback.INSIDE: _inside,
        Reback.OUTSIDE: _outside,
        Reback.REMOUNTED: _remounted,
    }[measures.survey.reback](measures)


def _inside(measures: Measures) -> PartPlan:
    allowances = measures.allowances
    under, view, turn = allowances["underlap"], allowances["view"], allowances["turn-in"]
    side = (measures.joint.by(2), taken(view, 2), taken(under, 2))
    band = measures.joint.value + view.value
    return plan(
        measures,
        Role.REBACK_INSIDE,
        (*measures.lined, *side),
        (*measures.board_height, taken(turn, 2)),
        zones=_strip_zones(measures, under.value, band, turn.value),
        warnings=(*lift_warnings(measures, under.value), *turn_warnings(measures, turn.value)),
        note=_laid_back(measures),
    )


def _outside(measures: Measures) -> PartPlan:
    allowances = measures.allowances
    view, turn = allowances["view-outside"], allowances["turn-in"]
    width = (*measures.lined, measures.joint.by(2), taken(view, 2))
    height = of(measures.board_height).total
    return plan(
        measures,
        Role.REBACK_OUTSIDE,
        width,
        (*measures.board_height, taken(turn, 2)),
        zones=grid([shown(of(width).total)], _turned(turn.value, height)),
        warnings=turn_warnings(measures, turn.value),
        note="To ride over the cut edge of the old cloth, common practice adds 3 mm a side.",
    )


def _remounted(measures: Measures) -> PartPlan:
    allowances = measures.allowances
    side, turn = allowances["remount-side"], allowances["remount-turn-in"]
    band = measures.joint.value + allowances["view"].value
    under = side.value - band
    warnings = turn_warnings(measures, turn.value)
    if under < 0:
        warnings = (
            *warnings,
            f"{format_mm(side.value)} on each side does not reach past the joint and the cloth "
            f"in view, {format_mm(band)}: allow more.",
        )
    else:
        warnings = (*warnings, *lift_warnings(measures, under))
    return plan(
        measures,
        Role.REBACK_REMOUNTED,
        (*measures.lined, taken(side, 2)),
        (*measures.board_height, taken(turn, 2)),
        zones=_strip_zones(measures, max(0.0, under), min(band, side.value), turn.value),
        warnings=warnings,
        note=_laid_back(measures),
    )


def _turned(turn: float, height: float) -> list[Strip]:
    return [hidden(turn), shown(height), hidden(turn)]


def _strip_zones(measures: Measures, under: float, band: float, turn: float) -> list[Zone]:
    """Underlap, joint band, spine, joint band, underlap; the spine seen where no old spine lies."""
    height = of(measures.board_height).total
    arc = of(measures.lined).total
    rows = _turned(turn, height)
    left = grid([hidden(under), shown(band)], rows)
    right = grid([shown(band), hidden(under)], rows)
    middle = grid([shown(arc)], _spine_rows(measures, turn, height))
    return [*left, *_moved(middle, under + band), *_moved(right, under + band + arc)]


def _spine_rows(measures: Measures, turn: float, height: float) -> list[Strip]:
    survey = measures.survey
    if not survey.old_spine or survey.ticked(Harm.SPINE_LOST):
        return _turned(turn, height)
    cap = measures.allowances["cap-view"].value
    tail = max([cap, *(d.extent or 0.0 for d in survey.ticked(Harm.TAIL_LOST))])
    head = max([cap, *(d.extent or 0.0 for d in survey.ticked(Harm.HEAD_LOST))])
    if tail + head >= height:
        return _turned(turn, height)
    return [hidden(turn), shown(tail), hidden(height - tail - head), shown(head), hidden(turn)]


def _moved(zones: tuple[Zone, ...], by: float) -> list[Zone]:
    return [(sight, left + by, low, right + by, high) for sight, left, low, right, high in zones]


def _laid_back(measures: Measures) -> str:
    if measures.survey.old_spine and not measures.survey.ticked(Harm.SPINE_LOST):
        return "With the old spine laid back only the joints, the caps and what is lost are seen."
    return ""


def lift_warnings(measures: Measures, under: float) -> tuple[str, ...]:
    """Told where the old cloth does not lift as far as the new must go under it."""
    lift = measures.survey.lift
    if lift is None or under <= lift:
        return ()
    return (
        f"The underlap of {format_mm(under)} goes further than the old cloth lifts, "
        f"{format_mm(lift)}: lift more or allow less.",
    )


def turn_warnings(measures: Measures, turn: float) -> tuple[str, ...]:
    """Told where a turn-in is too short to hold."""
    least = measures.rules.limits["turn-in-least"].value
    if turn >= least:
        return ()
    return (f"A turn-in of {format_mm(turn)} is short: under {format_mm(least)} it may not hold.",)


def _caps(measures: Measures) -> Iterator[PartPlan]:
    allowances = measures.allowances
    under, hold, turn = allowances["underlap"], allowances["cap-hold"], allowances["turn-in"]
    width = (*measures.lined, measures.joint.by(2), taken(under, 2))
    middle = of(measures.lined).total + 2 * measures.joint.value
    across = [hidden(under.value), shown(middle), hidden(under.value)]
    for harm, role in ((Harm.HEAD_LOST, Role.HEAD_PIECE), (Harm.TAIL_LOST, Role.TAIL_PIECE)):
        for damage in measures.survey.ticked(harm):
            loss = measured("loss", "what is lost, along the spine", damage.extent)
            along = [hidden(hold.value), shown(loss.value), hidden(turn.value)]
            if harm is Harm.TAIL_LOST:
                along.reverse()
            yield plan(
                measures,
                role,
                width,
                (loss, taken(hold), taken(turn)),
                count=damage.count,
                zones=grid(across, along),
                warnings=(
                    *lift_warnings(measures, under.value),
                    *turn_warnings(measures, turn.value),
                ),
            )


def _joints(measures: Measures) -> Iterator[PartPlan]:
    allowances = measures.allowances
    under, turn = allowances["underlap"], allowances["turn-in"]
    for damage in measures.survey.ticked(Harm.JOINT_CRACKED):
        if damage.extent is None:
            height = (*measures.board_height, taken(turn, 2))
            along = _turned(turn.value, of(measures.board_height).total)
        else:
            crack = measured("damage", "length of the damage", damage.extent)
            height = (crack, taken(allowances["joint-extra"], 2))
            along = [shown(of(height).total)]
        yield plan(
            measures,
            Role.JOINT_CLOTH,
            (measures.joint, taken(under, 2)),
            height,
            count=damage.count,
            zones=grid(
                [hidden(under.value), shown(measures.joint.value), hidden(under.value)], along
            ),
            warnings=lift_warnings(measures, under.value),
        )
    for damage in measures.survey.ticked(Harm.JOINT_TENDER):
        width, end = _tissue_width(measures), allowances["joint-tissue-end"]
        yield plan(
            measures,
            Role.JOINT_TISSUE,
            width,
            (*measures.board_height, taken(end, 2)),
            count=damage.count,
            zones=grid(
                [shown(of(width).total)], _turned(end.value, of(measures.board_height).total)
            ),
            note="About 1.5 mm lies on the spine and on the board; the rest spans the joint.",
        )


def _tissue_width(measures: Measures) -> tuple[Term, ...]:
    """Over the joint and on to spine and board; over a tight joint the width given for leather."""
    least, hold = (
        measures.allowances["joint-tissue-width"],
        measures.allowances["joint-tissue-hold"],
    )
    over = (measures.joint, taken(hold, 2))
    return over if of(over).total > least.value else (taken(least),)


def _hinge(measures: Measures, role: Role, width: str, damage: Damage) -> PartPlan:
    wide = (taken(measures.allowances[width]),)
    # Tissue lies over the endpapers; cloth lies beneath them (common practice, no source).
    seen = None if role is Role.HINGE_CLOTH else all_shown(wide, measures.leaf_height)
    return plan(measures, role, wide, measures.leaf_height, count=damage.count, zones=seen)
