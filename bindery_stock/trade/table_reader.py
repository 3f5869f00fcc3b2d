"""Reading one table of a rules file strictly: every complaint names the file and the line."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from enum import StrEnum
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from bindery_stock.errors import RulesError
from bindery_stock.trade.provenance import Origin

Path_ = tuple[str | int, ...]
_Choice = TypeVar("_Choice", bound=StrEnum)

_HEADER = re.compile(r"^\s*\[(?P<many>\[?)(?P<key>[^\[\]]+)\]")
_KEY = re.compile(
    r"^\s*(?P<key>(?:[\w-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[\w-]+|\"[^\"]*\"))*)\s*="
)
_AT_LINE = re.compile(r"\(at line (\d+), column \d+\)")


def read_toml(path: Path) -> tuple[dict[str, Any], dict[Path_, int]]:
    """Return the file's tables and, for each header and key, the line it stands on.

    Raises ``RulesError`` where the file cannot be read, is not UTF-8 or is not TOML.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as trouble:
        raise RulesError(
            f"{path.name}, line 1: the rules file cannot be read ({trouble}). "
            "Save it again as plain UTF-8 text."
        ) from trouble
    try:
        return tomllib.loads(text), _lines(text)
    except tomllib.TOMLDecodeError as trouble:
        found = _AT_LINE.search(str(trouble))
        line = int(found[1]) if found else text.count("\n") + 1
        said = _AT_LINE.sub("", str(trouble)).strip()
        raise RulesError(
            f"{path.name}, line {line}: not written as TOML ({said}). Mend that line."
        ) from trouble


def _dotted(key: str) -> Path_:
    """``a."b c"`` as ``("a", "b c")``: quoted keys are read by the TOML reader itself."""
    if '"' not in key and "'" not in key:
        return tuple(part.strip() for part in key.split("."))
    nested: Any = tomllib.loads(f"{key} = 0")
    path: list[str] = []
    while isinstance(nested, dict):
        (name, nested), *_ = nested.items()
        path.append(name)
    return tuple(path)


def _lines(text: str) -> dict[Path_, int]:
    lines: dict[Path_, int] = {}
    counts: dict[Path_, int] = {}
    table: Path_ = ()
    quoted = False
    for number, line in enumerate(text.splitlines(), start=1):
        opens = (line.count('"""') + line.count("'''")) % 2 == 1
        if quoted:
            quoted = not opens
            continue
        if header := _HEADER.match(line):
            table = _dotted(header["key"])
            if header["many"]:
                counts[table] = counts.get(table, -1) + 1
                table = (*table, counts[table])
            lines[table] = number
        elif key := _KEY.match(line):
            lines[(*table, *_dotted(key["key"]))] = number
        quoted = opens
    return lines


class RuleTable:
    """One table of a rules file, read key by key; ``done`` refuses the keys nobody asked for."""

    def __init__(
        self, values: Mapping[str, Any], path: Path_, file: Path, lines: Mapping[Path_, int]
    ) -> None:
        """Take the values, where they stand in the file, and the file's line numbers."""
        self._values = values
        self._path = path
        self._file = file
        self._lines = lines
        self._asked: set[str] = set()

    @property
    def name(self) -> str:
        """``rule.R01``."""
        return ".".join(str(step) for step in self._path)

    @property
    def keys(self) -> frozenset[str]:
        """The keys written in the table."""
        return frozenset(self._values)

    def origin(self, key: str | None = None) -> Origin:
        """Where the table, or one key of it, stands; for a section, its first line."""
        path: Path_ = self._path if key is None else (*self._path, key)
        while path and path not in self._lines:
            path = path[:-1]
        if path:
            return Origin(self._file, self._lines[path])
        below = [line for full, line in self._lines.items() if full[:1] == (key,)]
        return Origin(self._file, min(below, default=1))

    def fail(self, key: str | None, sentence: str) -> NoReturn:
        """Raise the ``RulesError`` that names file, line, table and what to mend."""
        raise RulesError(f"{self.origin(key)}: [{self.name}] {sentence}")

    def has(self, key: str) -> bool:
        """Whether the key is written."""
        return key in self._values

    def _value(self, key: str, types: type | tuple[type, ...], what: str, default: Any) -> Any:
        self._asked.add(key)
        if key not in self._values:
            if default is ...:
                self.fail(None, f"lacks “{key}”. Add {key} = {what}.")
            return default
        value = self._values[key]
        wrong_bool = isinstance(value, bool) and bool not in (
            types if isinstance(types, tuple) else (types,)
        )
        if not isinstance(value, types) or wrong_bool:
            self.fail(key, f"“{key}” must be {what}, not {value!r}.")
        return value

    def text(self, key: str, default: Any = ...) -> str:
        """A text in quotes; one that is required may not be empty."""
        value = self._value(key, str, "a text in quotes", default)
        if default is ... and not value.strip():
            self.fail(key, f"“{key}” is empty. Write it out.")
        return str(value)

    def texts(self, key: str, default: Any = ()) -> tuple[str, ...]:
        """A list of texts."""
        value = self._value(key, list, "a list of texts in square brackets", default)
        if not all(isinstance(item, str) for item in value):
            self.fail(key, f"“{key}” must hold texts in quotes only.")
        return tuple(value)

    def number(
        self, key: str, default: Any = ..., *, low: float = -1e9, high: float = 1e9
    ) -> float | Any:
        """A finite number from ``low`` to ``high``."""
        value = self._value(key, (int, float), "a number", default)
        if value is default:
            return value
        if not low <= value <= high:
            self.fail(key, f"“{key}” must lie between {low:g} and {high:g}, not {value:g}.")
        return float(value)

    def whole(self, key: str, default: Any = ..., *, low: int = 0, high: int = 100_000) -> Any:
        """A whole number from ``low`` to ``high``."""
        value = self._value(key, int, "a whole number", default)
        if value is not default and not low <= value <= high:
            self.fail(key, f"“{key}” must lie between {low} and {high}, not {value}.")
        return value

    def flag(self, key: str, default: Any = False) -> bool:
        """``true`` or ``false``."""
        return bool(self._value(key, bool, "true or false", default))

    def choice(self, key: str, words: type[_Choice], default: Any = ...) -> _Choice:
        """One of the words of ``words``."""
        value = self._value(key, str, f"one of {_listed(words)}", default)
        if isinstance(value, words):
            return value
        return self._word(key, value, words)

    def choices(self, key: str, words: type[_Choice]) -> tuple[_Choice, ...]:
        """A list of words of ``words``; ``["all"]`` stands for every one."""
        texts = self.texts(key)
        if texts == ("all",):
            return tuple(words)
        return tuple(self._word(key, text, words) for text in texts)

    def _word(self, key: str, value: str, words: type[_Choice]) -> _Choice:
        try:
            return words(value)
        except ValueError:
            self.fail(key, f"“{key}”: “{value}” is not one of {_listed(words)}.")

    def anything(self, key: str) -> Any:
        """A number, text or truth, as written."""
        return self._value(key, (str, int, float, bool, list), "a value", ...)

    def tables(self, key: str) -> Iterator["RuleTable"]:
        """A list of tables, one by one."""
        value = self._value(key, list, "a list of { … } tables", [])
        for index, item in enumerate(value):
            if not isinstance(item, dict):
                self.fail(key, f"“{key}” must hold {{ … }} tables only.")
            yield RuleTable(item, (*self._path, key, index), self._file, self._lines)

    def done(self) -> None:
        """Refuse keys that nobody asked for: a slip of the pen must not pass in silence."""
        for key in self._values:
            if key not in self._asked:
                known = ", ".join(sorted(self._asked))
                self.fail(key, f"does not know “{key}”. It may hold: {known}.")


def _listed(words: type[StrEnum]) -> str:
    return ", ".join(f"“{word.value}”" for word in words)
