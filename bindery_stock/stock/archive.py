"""The photo archive: originals kept under the SHA-256 of their content, never rewritten."""

import hashlib
import os
import re
import stat
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from bindery_stock.errors import PhotoError
from bindery_stock.stock.values import Photo

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


def keep(archive: Path, source: Path | bytes, name: str) -> str:
    """Copy the content of ``source`` into the archive and return its SHA-256.

    The copy is written beside, brought to the disk and then named, so that a file with a finished
    name is always whole. Raises ``PhotoError`` where the source cannot be read, ``OSError`` where
    the archive cannot be written.
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
        sha256 = digest.hexdigest()
        incoming.replace(archive / f"{sha256}{suffix_of(name)}")
    except BaseException:
        incoming.unlink(missing_ok=True)
        raise
    settle(archive)
    return sha256


def name_as(archive: Path, sha256: str, suffix: str, known: str) -> None:
    """Bring content that was archived before under another suffix to the name it has."""
    if suffix != known:
        (archive / f"{sha256}{suffix}").replace(archive / f"{sha256}{known}")
        settle(archive)


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
        with path.open("rb") as content:
            if hashlib.file_digest(content, "sha256").hexdigest() != photo.sha256:
                said.append(f"The original of {photo.name} in the photo archive has been altered.")
    known = {path_of(archive, photo).name for photo in photos}
    orphans = sorted(
        found.name
        for found in archive.iterdir()
        if found.name not in known and not found.name.startswith(_INCOMING)
    )
    return said, orphans
