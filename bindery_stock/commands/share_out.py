"""Sharing the shelf out over a set, told and not reserved."""

from argparse import Namespace
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from bindery_stock.bench.books.share_out import Asked, ShareChoice, Shared, ask, share
from bindery_stock.bench.books.share_prices import priced, spent_words
from bindery_stock.bench.books.share_words import (
    figures_words,
    gain_words,
    kept_for_words,
    option_words,
    proved_words,
    seek_words,
    tally,
)
from bindery_stock.bench.books.shelf_order import SetOnShelf, names, rows
from bindery_stock.bench.books.snapshot import snapshot
from bindery_stock.commands.command_answer import CommandAnswer, opened_to_read
from bindery_stock.errors import NotFound
from bindery_stock.matching import Reckoning
from bindery_stock.stock import Repair, RepairState


def share_out(asked: Namespace) -> CommandAnswer:
    """Share out over the volumes of a set, or over those of none."""
    prices = priced(asked.price)
    with opened_to_read(asked.folder) as room:
        view, pieces = snapshot(room), room.pieces.listed()
        if asked.set and view.book_set(asked.set) is None:
            raise NotFound(f"There is no set {asked.set}. Leave it out for volumes of no set.")
        volumes = view.volumes(asked.set or None)
        at_work = [one for one in volumes if one.state is not RepairState.DONE]
        standing = rows(volumes) if asked.set else ()
        wanted = ask(
            [part for one in at_work for part in view.parts(one.code)],
            pieces,
            view.reservations,
            today=room.today,
            rules=room.rules,
            reason=asked.reason,
            shelf=SetOnShelf(standing, asked.to_come, asked.spare),
        )
    if not wanted.parts:
        return CommandAnswer("No part waits for cloth.", {"parts": [], "gap": 0.0})
    return _answer(share(wanted, seconds=asked.seconds, prices=prices), volumes)


def _answer(shared: Shared, volumes: list[Repair]) -> CommandAnswer:
    called = names(volumes)
    plan, first, unread = shared.plan, shared.plan.closest_first, shared.asked.uncoloured
    mine = tally(shared.choices, plan.objective, unread, plan.reckoning)
    theirs = tally(shared.closest, first.objective, unread, first.reckoning)
    told = (
        "\n".join(_line(choice) for choice in shared.choices),
        figures_words(mine, called),
        gain_words(mine, theirs),
        "\n".join(spent_words(plan.reckoning).values()),
        kept_for_words(shared),
        proved_words(shared),
        seek_words(shared),
    )
    data: dict[str, Any] = {
        "parts": [_data(choice) for choice in shared.choices],
        "objective": plan.objective,
        "bound": plan.bound,
        "closest_first": first.objective,
        "prices": asdict(shared.prices),
        "spent": _spent(plan.reckoning),
        "jumps": [
            asdict(jump) | {"left": called.get(jump.left, ""), "right": called.get(jump.right, "")}
            for jump in plan.reckoning.jumps
        ],
        "kept_free": [{"for": name, "code": code} for name, code in shared.kept_for],
        "set_aside": _set_aside(shared.asked),
    }
    return CommandAnswer("\n\n".join(words for words in told if words), data, bool(mine.served))


def _spent(told: Reckoning) -> Mapping[str, float]:
    return {
        "left_out": told.left_out,
        "shade": told.shade,
        "volume": told.volumes,
        "lot": told.lots,
        "cloth": told.cloth,
        "jump": told.jump,
    }


def _set_aside(asked: Asked) -> list[str]:
    return [*asked.set_aside, *(code for code, _said in asked.unreasoned)]


def _line(choice: ShareChoice) -> str:
    if choice.placed is None:
        return f"{choice.part.purpose}  {choice.reason}"
    placed = choice.placed
    return f"{choice.part.purpose}  {option_words(placed.code, placed.delta_e, placed.u)}"


def _data(choice: ShareChoice) -> dict[str, Any]:
    placed = choice.placed
    return {
        "part": choice.part.purpose,
        "code": placed.code if placed else None,
        "delta_e00": placed.delta_e if placed else None,
        "u": placed.u if placed else None,
        "reason": choice.reason,
        "held_in": choice.held_in,
        "held_by": list(choice.held_by),
        "ruling": choice.ruling,
    }
