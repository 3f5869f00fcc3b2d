"""The photo archive: originals kept under the SHA-256 of their content, never rewritten."""

import hashlib
import os
import re
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from bindery_stock.errors import PhotoError
from bindery_stock.stock.photos.values import Photo

_CHUNK = 1 << 20
_INCOMING = ".incoming-"
_SUFFIX = re.compile(r"\.[a-z0-9]{1,5}")


def path_of(archive: Path, photo: Photo) -> Path:
    """Where the original lies."""
    return archive / f"{photo.sha256}{photo.suffix}"


def suffix_of(name: str) -> str:
    """``.jpg`` from ``Scrap 3.JPG``: lower case, plain letters; ``.bin`` for anything else."""
    suffix = Path(name).suffix.lower()
    return suffix if _SUFFIX.fullmatch(suffix) else ".bin"


@contextmanager
def taken_in(archive: Path, source: Path | bytes, name: str) -> Iterator[tuple[Path, str]]:
    """Copy the content of ``source`` into the archive: the unnamed copy and its SHA-256.

    The copy is on the disk when it is handed over, to be ``put_away``; what was not put away is
    removed. Raises ``PhotoError`` where the source cannot be read, ``OSError`` where the archive
    cannot be written.
    """
    incoming = archive / f"{_INCOMING}{os.getpid()}"
    digest = hashlib.sha256()
    try:
        with incoming.open("wb") as copy:
            for block in _blocks(source, name):
                digest.update(block)
                copy.write(block)
            copy.flush()
            os.fsync(copy.fileno())
        yield incoming, digest.hexdigest()
    finally:
        incoming.unlink(missing_ok=True)


def put_away(incoming: Path, archive: Path, photo: Photo) -> None:
    """Name the copy, so that a file with a finished name is always whole.

    An original that is there already and as it should be is left as it is.
    """
    target = path_of(archive, photo)
    if not (target.is_file() and _hash(target) == photo.sha256):
        incoming.replace(target)
        settle(archive)


def _hash(path: Path) -> str:
    with path.open("rb") as content:
        return hashlib.file_digest(content, "sha256").hexdigest()


def _blocks(source: Path | bytes, name: str) -> Iterator[bytes]:
    try:
        with _opened(source, name) as content:
            if not (block := content.read(_CHUNK)):
                raise PhotoError(f"{name} is empty. Copy it from the camera again.")
            while block:
                yield block
                block = content.read(_CHUNK)
    except OSError as fault:
        raise PhotoError(
            f"{name} cannot be read: {fault.strerror or fault}. Copy it to this computer first."
        ) from fault


def _opened(source: Path | bytes, name: str) -> BinaryIO:
    if isinstance(source, bytes):
        return BytesIO(source)
    # Looked at first: opening a pipe would wait for ever.
    if not stat.S_ISREG(source.stat().st_mode):
        raise PhotoError(f"{name} is not a file. Choose a photograph.")
    return source.open("rb")


def settle(folder: Path) -> None:
    """Bring the names in ``folder`` to the disk, where the system can (not on Windows)."""
    if sys.platform != "win32":
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def clear_incoming(archive: Path) -> None:
    """Remove copies that were cut short; only the one writer may call this."""
    for leftover in archive.glob(f"{_INCOMING}*"):
        leftover.unlink()


def faults(archive: Path, photos: list[Photo]) -> tuple[list[str], list[str]]:
    """A sentence for each original that is missing or altered, and the names no photo owns."""
    said: list[str] = []
    for photo in photos:
        path = path_of(archive, photo)
        if not path.is_file():
            said.append(f"The original of {photo.name} is missing from the photo archive.")
            continue
        if _hash(path) != photo.sha256:
            said.append(f"The original of {photo.name} in the photo archive has been altered.")
    known = {path_of(archive, photo).name for photo in photos}
    orphans = sorted(
        found.name
        for found in archive.iterdir()
        if found.name not in known and not found.name.startswith(_INCOMING)
    )
    return said, orphans
