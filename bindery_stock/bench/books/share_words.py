"""What the sharing-out view says, in words."""

from bindery_stock.bench.books.share_out import Asked, Shared, Tally
from bindery_stock.matching import HIDDEN_WEIGHT, LEFT_OUT

NEAR = 0.25
"""A gap beyond this says little as a percentage; the two figures are told instead."""

COUNT_SUM = (
    "How the whole is counted: the ΔE00 of every part, weighted by how much of it is seen and with "
    f"its uncertainty, and {LEFT_OUT:g} for each part that goes without, weighted alike: a hidden "
    f"part counts {LEFT_OUT * HIDDEN_WEIGHT:g}. Less is better."
)


def doing_words(doing: str, cost: float, bound: float) -> str:
    """What is being done, and how the whole counts so far."""
    proved = f", proved not below {bound:.0f}" if bound > 0 else ""
    return f"{doing.capitalize()}: the whole counts {cost:.0f}{proved}."


def proved_words(shared: Shared) -> str:
    """How far the best may still be, and what was left out of the sharing-out."""
    plan = shared.plan
    if plan.gap <= 1e-4:
        how = "Proved the best there is."
    elif plan.bound <= 0:
        how = "Stopped before it could be told how far the best may be."
    elif plan.gap <= NEAR:
        how = f"Within {100 * plan.gap:.1f} % of the best that was not ruled out."
    else:
        how = (
            f"Counts {plan.objective:.0f}; that one might count {plan.bound:.0f} is not ruled out."
        )
    lines = [f"{how} {plan.relative_to}", uncoloured_words(shared.asked)]
    if shared.asked.set_aside:
        lines.append(
            f"△ Left out for their caution: {', '.join(shared.asked.set_aside)}. "
            "Have them tested first."
        )
    return "\n".join(line for line in lines if line)


def uncoloured_words(asked: Asked) -> str:
    """Which parts wait for their colour to be read; empty where none does."""
    if not asked.uncoloured:
        return ""
    count = len(asked.uncoloured)
    who = asked.uncoloured[0].purpose
    return (
        f"△ {count} shown {'part waits' if count == 1 else 'parts wait'} for their colour to be "
        f"read first ({who}{' …' if count > 1 else ''})."
    )


def figures_words(found: Tally) -> str:
    """How many parts a way serves, how closely, and what it counts."""
    shade = "" if found.mean_delta_e is None else f", ΔE00 {found.mean_delta_e:.1f} on average"
    return (
        f"{found.shown_served} of {found.shown} shown parts, {found.served} of {found.parts} in "
        f"all{shade}; counts {found.objective:.0f}"
    )


def option_words(code: str, delta_e: float | None, u: float | None) -> str:
    """A piece that holds a part, with its shade."""
    if delta_e is None:
        return code
    band = f" ± {u:.1f}" if u is not None else ""
    return f"{code}, ΔE00 {delta_e:.1f}{band}"
