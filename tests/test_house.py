"""The house rules that a machine can hold."""

import ast
import re
from collections import defaultdict
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

import bindery_stock
from bindery_stock.stock import Changes
from bindery_stock.stock.door import Group

PACKAGE = Path(bindery_stock.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
TESTS = Path(__file__).parent
README = TESTS.parent / "README.md"
CEILING = 300


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


NOUNS = {
    "bring", "covering", "drawing", "lining", "morning", "pricing", "printing", "ranking",
    "reading", "ring", "setting", "sitting", "sizing", "standing", "string", "thing",
}  # fmt: skip
"""Words in -ing that name a thing; any other names a gesture, and tells nothing of the module."""


def test_a_module_is_named_for_what_it_holds() -> None:
    gestures = [
        module.relative_to(PACKAGE).as_posix()
        for module in MODULES
        if module.parent.name != "versions"
        for word in module.stem.split("_")
        if word.removesuffix("s").endswith("ing") and word.removesuffix("s") not in NOUNS
    ]
    assert gestures == []


def test_one_name_means_one_class() -> None:
    """Nested and private classes too: who reads a name need not ask whose it is."""
    homes = defaultdict(list)
    for module in MODULES:
        for node in ast.walk(_tree(module)):
            if isinstance(node, ast.ClassDef):
                homes[node.name].append(module.relative_to(PACKAGE).as_posix())
    assert {name: found for name, found in homes.items() if len(found) > 1} == {}


def test_a_rule_reads_no_name_that_may_be_missing() -> None:
    """With a default, ``getattr`` would keep a caution silent once a field is renamed."""
    silent = [
        f"{module.name}:{node.lineno}"
        for module in MODULES
        if module.is_relative_to(PACKAGE / "trade")
        for node in ast.walk(_tree(module))
        if isinstance(node, ast.Call) and len(node.args) + len(node.keywords) > 2
        if isinstance(node.func, ast.Name) and node.func.id == "getattr"
    ]
    assert silent == []


def test_no_module_imports_in_a_circle() -> None:
    """Not for the sake of types either: of two modules that know each other one is too many."""
    names = {_dotted(module): module for module in MODULES}
    graph = {name: _imported(_tree(module), names) for name, module in names.items()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        pytest.fail(" → ".join(circle.args[1]))


def test_no_markup_is_put_together_from_pieces() -> None:
    """HTML comes from the templates, which escape what was typed."""
    pieced = [
        f"{module.name}:{node.lineno}"
        for module in MODULES
        for node in ast.walk(_tree(module))
        if isinstance(node, (ast.JoinedStr, ast.BinOp))
        for part in ast.walk(node)
        if isinstance(part, ast.Constant) and isinstance(part.value, str)
        if re.search(r"</?(?:a|b|br|i|img|li|p|span|t[adhr]\w*|ul|h\d)\b[^<]*/?>", part.value)
    ]
    assert pieced == []


def test_what_outlives_a_widget_is_connected_to_its_methods() -> None:
    """Qt forgets a bound method with its widget; a lambda on the session would be called on."""
    outliving = re.compile(r"^(?:self\.)?_?(?:session|previews)\.\w+\.connect$")
    kept_alive = [
        f"{module.relative_to(PACKAGE)}:{node.lineno}"
        for module in MODULES
        if module.name != "app.py"
        for node in ast.walk(_tree(module))
        if isinstance(node, ast.Call) and outliving.match(ast.unparse(node.func))
        if any(isinstance(given, ast.Lambda) for given in node.args)
    ]
    assert kept_alive == []


@cache
def _tree(module: Path) -> ast.Module:
    return ast.parse(module.read_text(encoding="utf-8"))


def _dotted(module: Path) -> str:
    parts = (PACKAGE.name, *module.relative_to(PACKAGE).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _imported(tree: ast.Module, names: dict[str, Path]) -> set[str]:
    """The modules of the house that a module names, at its head, within a function or for types."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            below = {f"{node.module}.{alias.name}" for alias in node.names} & names.keys()
            found |= below if len(below) == len(node.names) else below | {node.module}
    return found & names.keys()


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


def test_what_stands_before_the_bench_changes_stock_by_deeds_alone() -> None:
    """Windows, commands and the sample call no verb that writes: only deeds do."""
    writing = {
        name
        for group in Group.__subclasses__()
        for name, verb in vars(group).items()
        if callable(verb) and getattr(verb, "__annotations__", {}).get("return") is Changes
    }
    assert {"shelve", "cut", "reserve", "use"} <= writing
    groups = {"pieces", "photos", "lots", "wants", "books", "evidence", "rulings", "exchange"}
    past_the_deeds = [
        f"{module.name}:{node.lineno} {ast.unparse(node.func)}"
        for folder in (PACKAGE / "desktop", PACKAGE / "commands", PACKAGE.parent / "sample_db")
        for module in sorted(folder.rglob("*.py"))
        for node in ast.walk(_tree(module))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
        if node.func.attr in writing and isinstance(node.func.value, ast.Attribute)
        if node.func.value.attr in groups
    ]
    assert past_the_deeds == []
