"""Writing a file so that there is either the whole new one or the one that was there."""

import os
from pathlib import Path

from bindery_stock.errors import DiskTrouble


def write_whole(path: Path, content: bytes) -> Path:
    """Write ``content`` to ``path``. Raises ``DiskTrouble``, and leaves no half file behind."""
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with unfinished.open("wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        unfinished.replace(path)
    except OSError as fault:
        discard(unfinished)
        raise cannot_write(path, fault) from fault
    return path


def cannot_write(path: Path, fault: OSError) -> DiskTrouble:
    """The sentence for a file that cannot be written."""
    return DiskTrouble(
        f"{path.name} cannot be written in {path.parent}: {fault.strerror or fault}. "
        "Choose another folder, or make room, and try again."
    )


def discard(unfinished: Path) -> None:
    """Remove an unfinished file, where the disk still allows it."""
    try:
        unfinished.unlink(missing_ok=True)
    except OSError:
        return  # the disk that refused the file refuses this too; the first refusal is told
