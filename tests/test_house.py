"""The house rules that a machine can hold."""

import ast
from pathlib import Path

import pytest

import bindery_stock

PACKAGE = Path(bindery_stock.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
CEILING = 400


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.relative_to(PACKAGE).as_posix())
def test_a_module_holds_one_idea(module: Path) -> None:
    """Modules that are mostly a table of published values may be as long as the table."""
    text = module.read_text(encoding="utf-8")
    code_lines = len(text.splitlines()) - _lines_in_tables(ast.parse(text))
    assert code_lines <= CEILING


def _lines_in_tables(tree: ast.Module) -> int:
    tables = [n for n in tree.body if isinstance(n, (ast.Assign, ast.AnnAssign))]
    return sum((n.end_lineno or n.lineno) - n.lineno for n in tables)


def test_no_dialog_blocks_the_program() -> None:
    """Dialogs are opened, never run: a nested event loop is where half-made states come from."""
    blocking = [
        f"{module.relative_to(PACKAGE)}"
        for module in MODULES
        if ".exec(" in module.read_text(encoding="utf-8") and module.name != "app.py"
    ]
    assert blocking == []


def test_no_drawer_for_odds_and_ends() -> None:
    drawers = {"utils", "helpers", "helper", "manager", "misc", "common"}
    assert [m.name for m in MODULES if m.stem in drawers] == []
