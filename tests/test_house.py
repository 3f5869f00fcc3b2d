"""The house rules that a machine can hold."""

import ast
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

import bindery_stock

PACKAGE = Path(bindery_stock.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
TESTS = Path(__file__).parent
README = TESTS.parent / "README.md"
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


def test_no_test_has_a_patience_of_its_own() -> None:
    """How fast a machine is must decide no test: how long to wait stands in tests/patience.py."""
    named = [
        f"{module.relative_to(TESTS)}:{node.value.lineno}"
        for module in sorted(TESTS.rglob("*.py"))
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8")))
        if isinstance(node, ast.keyword) and node.arg == "timeout"
        if isinstance(node.value, ast.Constant)
    ]
    assert named == []


def test_no_example_is_timed() -> None:
    assert settings.default is not None
    assert settings.default.deadline is None
    assert HealthCheck.too_slow in settings.default.suppress_health_check


@pytest.mark.parametrize("pip", [".venv/bin/pip", ".venv\\Scripts\\pip"])
def test_the_first_command_installs_the_program_and_the_second_what_judges_it(pip: str) -> None:
    pasted = README.read_text(encoding="utf-8").splitlines()
    first = [line for line in pasted if f"{pip} install -e ." in line]
    second = [line for line in pasted if f"{pip} install -e '.[test]'" in line]
    assert first
    assert all(line.endswith("bindery-stock --sample") for line in first)
    assert second
    assert all(line.endswith("python -m pytest -n auto") for line in second)


def test_one_name_means_one_class() -> None:
    defined = Counter(
        node.name
        for module in MODULES
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    )
    assert [name for name, times in defined.items() if times > 1] == []


def test_a_rule_reads_no_name_that_may_be_missing() -> None:
    """A renamed field must not silence a caution: nothing in ``trade`` is read with a default."""
    lenient = [
        f"{module.name}: line {node.lineno}"
        for module in sorted((PACKAGE / "trade").glob("*.py"))
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "getattr"
        and len(node.args) > 2
    ]
    assert lenient == []


def test_no_test_waits_for_a_time_to_pass() -> None:
    waiting = [
        f"{path.name}: line {node.lineno}"
        for path in sorted(Path(__file__).parent.rglob("test_*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in {"wait", "sleep"}
        and isinstance(node.func.value, ast.Name)
        and node.func.value.id in {"qtbot", "time"}
    ]
    assert waiting == []
