"""Starting the program where a window can and cannot be opened."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from bindery_stock.__main__ import EXIT_CANNOT_START, display_hindrance, main
from bindery_stock.commands import NAMES
from tests.patience import PATIENCE


def _start(environment: dict[str, str]) -> subprocess.CompletedProcess[str]:
    kept = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
    kept.pop("QT_QPA_PLATFORM", None)
    return subprocess.run(
        [sys.executable, "-m", "bindery_stock", "--sample"],
        env=kept | environment,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
    )


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="X11 and Wayland only")
@pytest.mark.parametrize(
    "environment", [{}, {"DISPLAY": ":987"}, {"DISPLAY": "nonsense"}, {"WAYLAND_DISPLAY": "none"}]
)
def test_without_a_display_one_sentence_and_exit_code_two(environment: dict[str, str]) -> None:
    ended = _start(environment)
    assert ended.returncode == EXIT_CANNOT_START
    assert ended.stdout == ""
    assert ended.stderr.count("\n") == 1
    assert "display" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_an_offscreen_platform_needs_no_display() -> None:
    assert display_hindrance({"QT_QPA_PLATFORM": "offscreen"}, "linux") == ""


def test_other_systems_are_taken_to_have_a_display() -> None:
    assert display_hindrance({}, "win32") == ""
    assert display_hindrance({}, "darwin") == ""


def test_loading_the_rooms_needs_no_window_system(tmp_path: Path) -> None:
    """Scripts use colour, shape, matching and stock on machines that have no Qt libraries."""
    code = (
        "import sys, bindery_stock.stock, bindery_stock.bench.match.candidates;"
        "print([m for m in sys.modules if m.startswith('PySide6')])"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert ended.stdout.strip() == "[]"


def test_a_mistyped_command_is_told_and_the_help_names_them_all(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["chek"]) == EXIT_CANNOT_START
    assert "no folder and no command “chek”" in capsys.readouterr().err
    with pytest.raises(SystemExit) as ended:
        main(["--help"])
    assert ended.value.code == 0
    told = capsys.readouterr().out
    assert all(f"\n  {name} " in told for name in NAMES)
