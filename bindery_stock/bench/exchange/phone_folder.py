"""A folder in which a phone lays its photographs: what is new there, copied and never moved."""

import hashlib
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.clock import Clock, system_clock
from bindery_stock.errors import PhotoError
from bindery_stock.records.files import cannot_write, discard
from bindery_stock.stock import Stockroom

PHOTOGRAPHS = frozenset({".jpg", ".jpeg", ".png", ".tif", ".tiff", ".heic", ".heif", ".webp"})
INBOX = "inbox"
_KEPT_DAYS = 7
"""So long a copy stays after its photograph has been archived: it may show further scraps."""
_CHUNK = 1 << 20
_DAY_SECONDS = 86_400


@dataclass(frozen=True, slots=True)
class FileSeen:
    """A file as it was when it was looked at."""

    path: Path
    size: int
    changed: int
    """Time of its last change, in ns."""

    @property
    def key(self) -> str:
        """By which it is known again."""
        return f"{self.path.name}/{self.size}/{self.changed}"


def look(folder: Path) -> list[FileSeen]:
    """The photographs in the folder itself, by name; links and hidden files are left out.

    Raises ``PhotoError`` where the folder is gone or cannot be read.
    """
    found = []
    try:
        for entry in os.scandir(folder):
            if entry.name.startswith(".") or Path(entry.name).suffix.lower() not in PHOTOGRAPHS:
                continue
            state = entry.stat(follow_symlinks=False)
            if stat.S_ISREG(state.st_mode) and state.st_size:
                found.append(FileSeen(Path(entry.path), state.st_size, state.st_mtime_ns))
    except OSError as fault:
        raise PhotoError(
            f"The phone folder {folder} cannot be read: {fault.strerror or fault}. Plug the phone "
            "in again, or choose another folder."
        ) from fault
    return sorted(found, key=lambda seen: seen.path.name)


def copy_in(stockroom: Stockroom, seen: FileSeen) -> Path | None:
    """Copy a photograph into the inbox of the stock folder; None where it is known already.

    The original is left as it is. Raises ``PhotoError`` where it changes or goes while it is
    copied, ``DiskTrouble`` where the inbox cannot be written; no half copy is left.
    """
    inbox = stockroom.folder / INBOX
    unfinished = inbox / f".{os.getpid()}.part"
    digest = hashlib.sha256()
    try:
        inbox.mkdir(exist_ok=True)
        with unfinished.open("wb") as out:
            for block in _blocks(seen):
                digest.update(block)
                out.write(block)
        sha256 = digest.hexdigest()
        if sha256 in {photo.sha256 for photo in stockroom.photos.listed()} or _is_there(
            inbox, sha256
        ):
            discard(unfinished)
            return None
        target = _free_name(inbox, seen.path.name)
        unfinished.replace(target)
    except OSError as fault:
        discard(unfinished)
        raise cannot_write(inbox / seen.path.name, fault) from fault
    except PhotoError:
        discard(unfinished)
        raise
    return target


def _blocks(seen: FileSeen) -> Iterator[bytes]:
    size = 0
    try:
        with seen.path.open("rb") as content:
            while block := content.read(_CHUNK):
                size += len(block)
                yield block
            now = os.fstat(content.fileno())
    except OSError as fault:
        raise PhotoError(
            f"{seen.path.name} went away while it was copied: {fault.strerror or fault}. It is "
            "taken in when it is there again."
        ) from fault
    if size != seen.size or now.st_mtime_ns != seen.changed:
        raise PhotoError(f"{seen.path.name} was still being written. It is taken in when it rests.")


def _is_there(inbox: Path, sha256: str) -> bool:
    for path in inbox.iterdir():
        if path.name.startswith("."):
            continue
        with path.open("rb") as content:
            if hashlib.file_digest(content, "sha256").hexdigest() == sha256:
                return True
    return False


def _free_name(inbox: Path, name: str) -> Path:
    target, count = inbox / name, 1
    while target.exists():
        count += 1
        target = inbox / f"{Path(name).stem} {count}{Path(name).suffix}"
    return target


def tidy(stockroom: Stockroom, clock: Clock = system_clock) -> int:
    """Remove copies whose photographs have been in the archive for a week; returns how many."""
    inbox = stockroom.folder / INBOX
    if not inbox.is_dir() or stockroom.read_only:
        return 0
    archived = {photo.sha256 for photo in stockroom.photos.listed()}
    old = clock().timestamp() - _KEPT_DAYS * _DAY_SECONDS
    gone = 0
    for path in inbox.iterdir():
        if path.stat().st_mtime > old:
            continue
        with path.open("rb") as content:
            known = hashlib.file_digest(content, "sha256").hexdigest() in archived
        if known:
            path.unlink()
            gone += 1
    return gone
