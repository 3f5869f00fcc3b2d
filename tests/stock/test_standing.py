"""The list of steps adds up to the same, counted at once or bit by bit."""

from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.stock import Verb
from bindery_stock.stock.ledger.standing import Standing, fold


def ledger(wishes: list[str]) -> list[tuple[int, str, int | None]]:
    """A ledger as a binder would write it who does, undoes (any standing step) and redoes."""
    steps: list[tuple[int, str, int | None]] = []
    undo: list[int] = []
    redo: list[int] = []
    for number, wish in enumerate(wishes, start=1):
        if wish == "undo last" and undo:
            redo.append(undo.pop())
            steps.append((number, Verb.UNDONE, redo[-1]))
        elif wish == "undo first" and undo:
            redo.append(undo.pop(0))
            steps.append((number, Verb.UNDONE, redo[-1]))
        elif wish == "redo" and redo:
            undo.append(redo.pop())
            steps.append((number, Verb.REDONE, undo[-1]))
        else:
            undo.append(number)
            redo.clear()
            steps.append((number, Verb.SHELVED, None))
    return steps


WISHES = st.lists(st.sampled_from(["do", "undo last", "undo first", "redo"]), max_size=40)


@given(wishes=WISHES, at=st.integers(0, 40))
def test_counting_on_gives_what_counting_afresh_gives(wishes: list[str], at: int) -> None:
    steps = ledger(wishes)
    assert fold(steps[at:], fold(steps[:at])) == fold(steps)


@given(wishes=WISHES)
def test_a_step_stands_or_is_gone(wishes: list[str]) -> None:
    steps = ledger(wishes)
    stands = fold(steps)
    doings = {number for number, _, undoes in steps if undoes is None}
    assert set(stands.undo) | (stands.gone & doings) == doings
    assert set(stands.undo).isdisjoint(stands.gone)
    assert set(stands.redo) <= stands.gone


def test_an_undo_that_was_redone_is_gone_and_the_step_stands() -> None:
    stands = fold([(1, Verb.SHELVED, None), (2, Verb.UNDONE, 1), (3, Verb.REDONE, 1)])
    assert (stands.undo, stands.redo, stands.gone) == ((1,), (), frozenset({2}))
    assert fold([]) == Standing()
