"""Sharing out held against an independent model: constraint programming with parts as true boxes.

OR-tools' CP-SAT lays the boxes with its own no-overlap rule and knows nothing of the packer.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from ortools.sat.python import cp_model

from bindery_stock.colour import delta_e00
from bindery_stock.matching import LEFT_OUT, Part, Piece, Prices, share_out
from tests.matching.hoards import sheet

SCALE = 1000  # CP-SAT counts in whole numbers


def case(seed: int, parts: int, sheets: int) -> tuple[list[Part], list[Piece]]:
    """Whole millimetres, so that both models see the same sizes."""
    rng = np.random.default_rng(seed)
    pieces = [
        sheet(
            f"C-{n}",
            float(rng.integers(60, 130)),
            float(rng.integers(90, 260)),
            (float(rng.uniform(30, 48)), 42.0, 24.0),
        )
        for n in range(sheets)
    ]
    sought = [(float(rng.uniform(34, 44)), 42.0, 24.0) for _ in range(parts // 3 + 1)]
    wanted = [
        Part(
            float(rng.integers(28, 60)),
            float(rng.integers(40, 230)),
            sought[n // 3],
            shown=n % 4 != 3,
            volume=f"vol. {n // 3}",
        )
        for n in range(parts)
    ]
    return wanted, pieces


def jumps(model, at_piece, pieces, row, jump) -> list:
    """What the jumps between neighbours cost: a truth for each two pieces they are cut from."""
    cost = []
    for (left, one), here in at_piece.items():
        for (right, other), there in at_piece.items():
            if (left, right) in pairwise(row) and one != other:
                both = model.new_bool_var("")
                model.add_bool_or([here.negated(), there.negated(), both])
                far = float(delta_e00(pieces[one].lab, [pieces[other].lab])[0])
                cost.append(round(jump * far * SCALE) * both)
    return cost


def by_constraints(
    parts: list[Part], pieces: list[Piece], row: tuple[str, ...] = (), jump: float = 0.25
) -> tuple[float, float]:
    """The least cost CP-SAT found, and its own bound: all of the sum but whole cloth lost.

    Jumps are counted between the spines of the volumes in ``row``, one for each pair of pieces.
    """
    model = cp_model.CpModel()
    cost = []
    lots: dict[tuple[str, int], cp_model.IntVar] = {}
    unfinished: dict[str, cp_model.IntVar] = {}
    taken: list[list] = [[] for _ in parts]
    at_piece: dict[tuple[str, int], cp_model.IntVar] = {}
    for at, piece in enumerate(pieces):
        width, height = int(piece.outline.width), int(piece.outline.height)
        across, along = [], []
        for number, part in enumerate(parts):
            if part.width > width or part.height > height:
                continue
            here = model.new_bool_var("")
            taken[number].append(here)
            if part.spine and part.shown:
                at_piece[part.volume, at] = here
            if part.shown:
                lot = lots.setdefault((part.volume, at), model.new_bool_var(""))
                model.add_implication(here, lot)
            shade = float(delta_e00(part.lab, [piece.lab])[0]) * part.visibility
            cost.append(round(shade * SCALE) * here)
            for size, room, intervals in (
                (int(part.width), width, across),
                (int(part.height), height, along),
            ):
                start = model.new_int_var(0, room - size, "")
                intervals.append(model.new_optional_fixed_size_interval_var(start, size, here, ""))
        model.add_no_overlap_2d(across, along)
    for part, choices in zip(parts, taken, strict=True):
        out = model.new_bool_var("")
        model.add_exactly_one([*choices, out])
        if part.shown:
            lacks = unfinished.setdefault(part.volume, model.new_bool_var(""))
            model.add_implication(out, lacks)
        cost.append(round(LEFT_OUT * part.visibility * SCALE) * out)
    cost += [round(0.5 * SCALE) * lot for lot in lots.values()]
    cost += [round(4 * SCALE) * lacks for lacks in unfinished.values()]
    cost += jumps(model, at_piece, pieces, row, jump)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 10
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    assert solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return solver.objective_value / SCALE, solver.best_objective_bound / SCALE


@pytest.mark.parametrize(
    ("seed", "parts", "sheets"), [(1, 12, 5), (2, 12, 5), (3, 18, 6), (4, 24, 9)]
)
def test_sharing_out_is_as_good_as_an_independent_model_finds(seed, parts, sheets):
    wanted, pieces = case(seed, parts, sheets)
    plan = share_out(wanted, pieces, steps=3000, prices=Prices(cloth=0.0))
    least, bound = by_constraints(wanted, pieces)
    assert plan.objective >= bound - 0.01
    # Our packer lays the largest first; CP-SAT may find a cleverer nesting now and then.
    assert plan.objective <= least * 1.03 + 0.01


@pytest.mark.parametrize(("seed", "jump"), [(1, 0.25), (5, 1.0)])
def test_a_shelf_is_shared_out_as_well_as_an_independent_model_finds(seed, jump):
    found, pieces = case(seed, 12, 5)
    wanted = [replace(part, spine=number % 3 == 2) for number, part in enumerate(found)]
    row = tuple(dict.fromkeys(part.volume for part in wanted))
    prices = Prices(cloth=0.0, jump=jump)
    plan = share_out(wanted, pieces, steps=300, prices=prices, shelf=[row])
    least, bound = by_constraints(wanted, pieces, row, jump)
    assert plan.objective >= bound - 0.01
    assert plan.objective <= least * 1.03 + 0.01
    assert plan.bound <= plan.objective
    assert len(plan.reckoning.jumps) > 0
