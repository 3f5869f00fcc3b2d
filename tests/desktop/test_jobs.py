"""Work off the GUI thread."""

import threading

from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.jobs import Job, Jobs, Pool
from bindery_stock.errors import PhotoError
from bindery_stock.trade.vocabulary import Kind
from tests.patience import PATIENCE


def test_a_result_comes_back_on_the_gui_thread(qtbot: QtBot) -> None:
    jobs, seen = Jobs(), []
    jobs.run(lambda _job: threading.current_thread(), owner=jobs, done=seen.append)
    qtbot.waitUntil(lambda: bool(seen))
    assert seen[0] is not threading.main_thread()
    jobs.close()


def test_an_error_comes_back_to_who_asked(qtbot: QtBot) -> None:
    jobs, seen = Jobs(), []

    def work(_job: Job) -> None:
        raise PhotoError("No such photograph.")

    jobs.run(work, owner=jobs, done=lambda _: None, failed=seen.append)
    qtbot.waitUntil(lambda: bool(seen))
    assert str(seen[0]) == "No such photograph."
    jobs.close()


def test_an_error_no_one_asked_for_is_told_all_the_same(qtbot: QtBot) -> None:
    jobs = Jobs()

    def work(_job: Job) -> None:
        raise ValueError("a mistake of the program")

    with qtbot.waitSignal(jobs.failed) as told:
        jobs.run(work, owner=jobs, done=lambda _: None)
    assert isinstance(told.args[0], ValueError)
    jobs.close()


def test_progress_is_told_and_a_stopped_job_delivers_nothing(qtbot: QtBot) -> None:
    jobs, told, done = Jobs(), [], []
    going, let_go = threading.Event(), threading.Event()

    def work(job: Job) -> str:
        job.report(0.5, "half way")
        going.set()
        let_go.wait(PATIENCE)
        job.check()
        return "finished"

    job = jobs.run(work, owner=jobs, done=done.append, progress=lambda s, w: told.append((s, w)))
    assert going.wait(PATIENCE)
    job.stop()
    let_go.set()
    qtbot.waitUntil(lambda: not jobs.busy)
    assert told == [(0.5, "half way")]
    assert done == []
    jobs.close()


def test_a_change_that_was_done_before_it_could_be_stopped_is_told_all_the_same(
    qtbot: QtBot,
) -> None:
    jobs, done = Jobs(), []
    going, let_go = threading.Event(), threading.Event()

    def work(_job: Job) -> str:
        going.set()
        let_go.wait(PATIENCE)
        return "committed"

    job = jobs.run(work, owner=jobs, done=done.append, pool=Pool.STOCK)
    assert going.wait(PATIENCE)
    job.stop()
    let_go.set()
    qtbot.waitUntil(lambda: not jobs.busy)
    assert done == ["committed"]
    jobs.close()


def test_nothing_is_delivered_to_a_widget_that_is_gone(qtbot: QtBot) -> None:
    jobs, owner, done = Jobs(), QObject(), []
    let_go = threading.Event()
    jobs.run(lambda _job: let_go.wait(PATIENCE), owner=owner, done=done.append)
    import shiboken6

    shiboken6.delete(owner)
    let_go.set()
    qtbot.waitUntil(lambda: not jobs.busy)
    assert done == []
    jobs.close()


def test_whoever_waits_for_a_job_is_let_go_of_by_the_gui_thread_alone(qtbot: QtBot) -> None:
    """A window whose last holder is the thread of the work would be taken down by that thread."""
    jobs, seen, let_go_in = Jobs(), [], []

    class Window:
        def __del__(self) -> None:
            let_go_in.append(threading.current_thread())

    for _ in range(300):
        window = Window()
        jobs.run(
            lambda job: job.report(0.5),
            owner=jobs,
            done=lambda _, window=window: seen.append(window is not None),
            progress=lambda _share, _words, window=window: seen.append(window is None),
        )
        del window
        qtbot.waitUntil(lambda: not jobs.busy)
    assert (sum(seen), len(let_go_in)) == (300, 300)
    assert set(let_go_in) == {threading.main_thread()}
    jobs.close()


def test_an_outcome_comes_back_as_the_very_object_it_was(qtbot: QtBot) -> None:
    """Qt hands some of Python's own things on as copies of another kind."""
    jobs = Jobs()
    for outcome in (("a", Pool.STOCK), {"a": Kind.CLOTH}, [Kind.CLOTH], Kind.CLOTH, None):
        seen: list[object] = []
        jobs.run(lambda _job, outcome=outcome: outcome, owner=jobs, done=seen.append)
        qtbot.waitUntil(lambda seen=seen: bool(seen))
        assert seen[0] is outcome
    jobs.close()
