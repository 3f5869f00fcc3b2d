"""What is loaded when: a library is loaded by the work that needs it, not by the start.

Counted by what a fresh interpreter holds in the end, never by time.
"""

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.patience import PATIENCE

_FILES_IN_AND_OUT = {"openpyxl", "alembic", "jsonschema", "pillow_heif", "PySide6", "zxingcpp"}
_NUMBERS = {"numpy", "scipy", "networkx", "shapely", "colormath"}
_HEAVY = _FILES_IN_AND_OUT | _NUMBERS | {"sqlalchemy", "PIL"}
_PACKAGE = Path(__file__).parent.parent


def _loaded(code: str, *arguments: str) -> set[str]:
    """The heavy libraries that an interpreter holds after ``code``."""
    told = (
        "import atexit, sys\n"
        "atexit.register(lambda: print('\\nHOLDS', *{n.split('.')[0] for n in sys.modules}))\n"
    )
    ended = subprocess.run(
        [sys.executable, "-c", told + code, *arguments],
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        cwd=_PACKAGE,
        check=True,
    )
    return set(ended.stdout.rpartition("HOLDS")[2].split()) & _HEAVY


def _started(*given: str) -> set[str]:
    return _loaded("from bindery_stock.__main__ import main\nsys.exit(main())", *given)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A stockroom with one plain piece."""
    with Stockroom.create(tmp_path / "stock") as room:
        outline = Outline(((0.0, 0.0), (120.0, 0.0), (120.0, 300.0), (0.0, 300.0)))
        colours = (Colour((38.0, 44.0, -3.0)),)
        room.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=outline, colours=colours))
    return tmp_path / "stock"


@pytest.mark.parametrize("given", [["--version"], ["--help"]])
def test_what_only_says_a_word_of_itself_loads_no_library(given: Sequence[str]) -> None:
    assert _started(*given) == set()


def test_a_match_from_a_script_loads_nothing_it_does_not_use(folder: Path) -> None:
    held = _started("match", str(folder), "--size", "58x228", "--lab", "38.2,44.9,-3")
    assert held >= {"numpy", "shapely", "sqlalchemy"}
    assert held.isdisjoint(_FILES_IN_AND_OUT | {"scipy", "networkx"})


def test_what_a_stockroom_holds_is_told_without_the_libraries_of_files(folder: Path) -> None:
    assert _started("show", str(folder)).isdisjoint(_FILES_IN_AND_OUT | {"scipy", "networkx"})


@pytest.mark.parametrize(
    "room", ["colour", "shape", "trade", "stock", "matching", "records", "bench", "commands"]
)
def test_a_room_is_entered_without_what_only_some_of_its_work_needs(room: str) -> None:
    held = _loaded(f"import bindery_stock.{room}")
    assert held.isdisjoint(_FILES_IN_AND_OUT | {"scipy", "networkx"})


@pytest.mark.parametrize("ending", ["xlsx", "csv"])
def test_only_a_workbook_needs_the_library_of_workbooks(
    folder: Path, tmp_path: Path, ending: str
) -> None:
    held = _started("export", str(folder), "stock", str(tmp_path / f"list.{ending}"))
    assert ("openpyxl" in held) == (ending == "xlsx")
