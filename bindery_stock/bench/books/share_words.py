"""What the sharing-out view says, in words."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bindery_stock.bench.books.share_out import Asked, ShareChoice, Shared
from bindery_stock.bench.books.share_prices import jump_words, kept_words, spent_lines
from bindery_stock.matching import HIDDEN_WEIGHT, Prices, Reckoning, one_more
from bindery_stock.stock import BookPart

NEAR = 0.25
"""A gap beyond this says little as a percentage; the two figures are told instead."""


def count_words(prices: Prices) -> str:
    """How the whole is counted, at these prices."""
    return (
        "How the whole is counted: the ΔE00 of every part, weighted by how much of it is seen and "
        f"with its uncertainty; {prices.left_out:g} for each part that goes without, weighted "
        f"alike: a hidden part counts {prices.left_out * HIDDEN_WEIGHT:g}; {prices.volume:g} for "
        f"each volume that lacks a shown part; {prices.lot:g} for each piece that like-coloured "
        f"parts of a volume are cut from; {prices.cloth:g} for each 10,000 mm² of a piece's "
        f"largest rectangle lost; {prices.jump:g} for each ΔE00 between neighbours on the shelf. "
        "Less is better."
    )


_SOUGHT = 3  # scraps named


@dataclass(frozen=True, slots=True)
class Tally:
    """How a sharing-out does, in figures."""

    served: int
    parts: int
    shown_served: int
    shown: int
    mean_delta_e: float | None
    """Over the shown parts that are served."""
    objective: float
    worst: tuple[float, str] | None = None
    """The farthest of those shades, and what that part is for."""
    finished: int = 0
    """Volumes none of whose shown parts goes without."""
    volumes: int = 0
    """Those with a shown part."""
    reckoning: Reckoning | None = None
    """What each price cost, where it was worked out."""


def tally(
    choices: Sequence[ShareChoice],
    objective: float,
    uncoloured: Iterable[BookPart] = (),
    reckoning: Reckoning | None = None,
) -> Tally:
    """Count what a sharing-out serves and how closely; ``uncoloured`` parts wait for a reading."""
    shown_in = {choice.part.repair for choice in choices if choice.part.shown}
    lacking = {c.part.repair for c in choices if c.part.shown and c.placed is None}
    waiting = {part.repair for part in uncoloured if part.shown}
    served = [choice for choice in choices if choice.placed is not None]
    shown = [choice for choice in served if choice.part.shown]
    told = [
        (c.placed.delta_e, c.part.purpose)
        for c in shown
        if c.placed and c.placed.delta_e is not None
    ]
    shades = [delta_e for delta_e, _ in told]
    return Tally(
        len(served),
        len(choices),
        len(shown),
        sum(choice.part.shown for choice in choices),
        sum(shades) / len(shades) if shades else None,
        objective,
        max(told, default=None),
        len(shown_in - lacking - waiting),
        len(shown_in | waiting),
        reckoning,
    )


def gain_words(plan: Tally, closest: Tally) -> str:
    """What the plan gains over closest-first, in a sentence."""
    more = plan.shown_served - closest.shown_served
    if plan.objective >= closest.objective - 0.05 and more <= 0:
        if plan.served == plan.parts:
            return "Closest-first does as well here: there is cloth enough for everyone."
        return "Closest-first does as well here."
    gains = []
    if more > 0:
        gains.append(f"{more} more shown {'part is' if more == 1 else 'parts are'} served")
    if plan.mean_delta_e is not None and closest.mean_delta_e is not None:
        nearer = closest.mean_delta_e - plan.mean_delta_e
        if nearer >= 0.05:
            gains.append(f"shown cloth lies {nearer:.1f} ΔE00 nearer on average")
        elif nearer <= -0.05 and more > 0:
            gains.append(f"at {-nearer:.1f} ΔE00 more on average")
    saved = closest.objective - plan.objective
    gains.append(f"{saved:.0f} less on the whole count")
    return f"Against closest-first {', '.join(gains)}."


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
    lines.append(unreasoned_words(shared.asked))
    return "\n".join(line for line in lines if line)


def unreasoned_words(asked: Asked) -> str:
    """Which pieces are left out as no reason is written, and why the first; empty for none."""
    if not asked.unreasoned:
        return ""
    code, said = asked.unreasoned[0]
    more = f" And {len(asked.unreasoned) - 1} more." if len(asked.unreasoned) > 1 else ""
    return f"△ {code} was left out where it needs a written reason. {said}{more}"


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


def figures_words(found: Tally, names: Mapping[str, str] | None = None) -> str:
    """What a way does for what is seen, for the volumes, the shades, the shelf and whole cloth.

    ``names`` are what volumes are called, by code.
    """
    lines = [f"{found.shown_served} of {found.shown} shown parts get cloth"]
    if found.volumes:
        lines.append(f"{found.finished} of {found.volumes} volumes lack nothing that is seen")
    if found.mean_delta_e is not None and found.worst is not None:
        worst, purpose = found.worst
        lines.append(
            f"ΔE00 {found.mean_delta_e:.1f} on average, {worst:.1f} at the farthest ({purpose})"
        )
    hidden = found.parts - found.shown
    if hidden:
        lines.append(f"{found.served - found.shown_served} of {hidden} hidden parts get cloth")
    told = found.reckoning
    if told is not None and told.large:
        lines.append(_sentence(kept_words(told)))
    if told is not None and told.greatest_jump is not None:
        lines.append(jump_words(told.greatest_jump, names or {}))
    return "\n".join(lines)


def sum_words(plan: Tally, closest: Tally, prices: Prices = Prices()) -> str:  # noqa: B008 - frozen
    """What the two ways count in all, what each price cost in the plan, and how that is counted."""
    lines = [
        f"In all this plan counts {plan.objective:.1f}, closest first {closest.objective:.1f}.",
        *([spent_lines(plan.reckoning)] if plan.reckoning is not None else []),
        count_words(prices),
    ]
    return "\n".join(lines)


def kept_for_words(shared: Shared) -> str:
    """For how many volumes to come cloth is kept, and in which pieces; empty where none was asked.

    That cloth is kept free, not reserved.
    """
    told = shared.kept_for
    if not told:
        return ""
    kept = [code for _name, code in told if code]
    where = f": {', '.join(dict.fromkeys(kept))}" if kept else ""
    return (
        f"Cloth is kept free for {len(kept)} of {len(told)} "
        f"{'strip' if len(told) == 1 else 'strips'} that may be wanted later{where}. "
        "Nothing of it is reserved."
    )


def seek_words(shared: Shared) -> str:
    """The scraps worth most to look for, each with what it would take off the whole; or empty."""
    unread = {part.repair for part in shared.asked.uncoloured if part.shown}
    found = one_more(shared.plan, shared.prices, lacking=unread)
    lines = [f"{scrap.sentence} It is worth {scrap.worth:.0f}." for scrap in found[:_SOUGHT]]
    more = [f"And {len(found) - _SOUGHT} more."] if len(found) > _SOUGHT else []
    return "\n".join(["One scrap more:", *lines, *more]) if lines else ""


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}"


def option_words(code: str, delta_e: float | None, u: float | None, seen: str = "") -> str:
    """A piece that holds a part, with its shade, or with what can be said where it has none."""
    if delta_e is None:
        return f"{code}, {seen}" if seen else code
    band = f" ± {u:.1f}" if u is not None else ""
    return f"{code}, ΔE00 {delta_e:.1f}{band}"
