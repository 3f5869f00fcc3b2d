"""Counts what is asked of the tables, wherever it is asked from."""

import threading
import traceback
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Engine, event

_OURS = "bindery_stock"


@dataclass(slots=True)
class Statements:
    """The statements put to any stockroom while they are counted, in their order.

    The beginning and the end of a transaction are not counted: they read nothing.
    """

    texts: list[str] = field(default_factory=list)
    callers: list[str] = field(default_factory=list)
    """The way to each through the program, innermost last."""
    threads: list[int] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.texts)

    @property
    def on_this_thread(self) -> int:
        """How many were put by the thread that counts: in a window's test that of the window."""
        return self.threads.count(threading.get_ident())

    def told(self) -> str:
        """Who asked, the most frequent first: what a test says when a ceiling does not hold."""
        return "\n".join(f"{n} ×\n{way}" for way, n in Counter(self.callers).most_common())


@contextmanager
def counted() -> Iterator[Statements]:
    """Count every statement until the block ends."""
    found = Statements()

    def heard(_c: Any, _cursor: Any, text: str, _p: Any, _context: Any, _many: Any) -> None:
        if text.startswith(("BEGIN", "SAVEPOINT", "RELEASE")):
            return
        ours = [f for f in traceback.extract_stack() if f"/{_OURS}/" in f.filename]
        way = [f"    {f.filename.rpartition(f'/{_OURS}/')[2]}:{f.lineno} {f.name}" for f in ours]
        found.texts.append(text)
        found.callers.append("\n".join(way))
        found.threads.append(threading.get_ident())

    event.listen(Engine, "before_cursor_execute", heard)
    try:
        yield found
    finally:
        event.remove(Engine, "before_cursor_execute", heard)
