"""A whole stockroom as one file: a zip of JSON tables, the plain photographs, and checksums.

::

    README.txt              what this is, for whoever finds it
    manifest.json           every file with its size and SHA-256 (resources/archive)
    schema.json             JSON Schema of the tables' rows
    tables/piece.json …     one list of rows for each table
    sequences.json          the last row id given out in each table
    rules.toml              the binder's own rules, where there are any
    photos/<sha256>.jpg …   the originals, stored as they are
"""

import hashlib
import json
import os
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bindery_stock import __version__
from bindery_stock.errors import DiskTrouble
from bindery_stock.records.counted import counted
from bindery_stock.records.files import cannot_write, discard
from bindery_stock.stock import Stockroom
from bindery_stock.stock.ledger.whole import row_schema

FORMAT = "bindery-stock archive"
VERSION = 1
SUFFIX = ".bindery.zip"
MANIFEST, README, SCHEMA_FILE = "manifest.json", "README.txt", "schema.json"
SEQUENCES, RULES = "sequences.json", "rules.toml"
_README = """A whole stockroom of Bindery Stock: pieces, adhesives, volumes, ledger, photographs.

manifest.json   names every file here with its size and SHA-256
schema.json     says what the rows in tables/ hold (JSON Schema, draft 2020-12)
tables/         one JSON list for each table, in UTF-8
photos/         the originals as they came from the camera, named by their SHA-256

Lengths are millimetres, y up the warp. Colours are CIELAB, illuminant D50, 2 degree observer.
Times are ISO 8601 in UTC.
"""
_CHUNK = 1 << 20
Tell = Callable[[float, str], None]


def _silent(_share: float, _words: str) -> None:
    return


@dataclass(slots=True)
class _Packing:
    """What has been put into the archive so far."""

    zip: zipfile.ZipFile
    at: datetime
    files: dict[str, dict[str, Any]] = field(default_factory=dict)

    def info(self, name: str, kind: int) -> zipfile.ZipInfo:
        """The entry of a file: dated, readable, no special file."""
        info = zipfile.ZipInfo(name, self.at.timetuple()[:6])
        info.compress_type = kind
        info.external_attr = 0o100644 << 16
        return info

    def text(self, name: str, content: bytes) -> None:
        """Put in a text, compressed."""
        self.zip.writestr(self.info(name, zipfile.ZIP_DEFLATED), content)
        self._noted(name, len(content), hashlib.sha256(content).hexdigest())

    def photo(self, name: str, original: Path) -> None:
        """Put in an original as it is: photographs do not grow smaller."""
        digest, size = hashlib.sha256(), 0
        info = self.info(name, zipfile.ZIP_STORED)
        info.file_size = original.stat().st_size  # whether it needs the form for large files
        with original.open("rb") as content, self.zip.open(info, "w") as entry:
            while block := content.read(_CHUNK):
                digest.update(block)
                size += len(block)
                entry.write(block)
        self._noted(name, size, digest.hexdigest())

    def _noted(self, name: str, size: int, sha256: str) -> None:
        if name != MANIFEST:
            self.files[name] = {"size": size, "sha256": sha256}


@dataclass(frozen=True, slots=True)
class Packed:
    """What was put into an archive."""

    path: Path
    counts: dict[str, int]
    photos: int
    missing: tuple[str, ...]
    """Names of photographs whose originals are gone or altered, and so are not in it."""

    @property
    def words(self) -> str:
        """One sentence on it."""
        said = (
            f"{counted(self.counts.get('piece', 0), 'piece')}, "
            f"{counted(self.counts.get('adhesive_lot', 0), 'lot')}, "
            f"{counted(self.counts.get('repair', 0), 'volume')} and "
            f"{counted(self.photos, 'photograph')} went into "
            f"{self.path.name}."
        )
        if self.missing:
            said += f" Missing from the stockroom, and so from it: {', '.join(self.missing)}."
        return said


def pack(
    stockroom: Stockroom,
    path: Path,
    at: datetime,
    *,
    tell: Tell = _silent,
    check: Callable[[], None] = lambda: None,
) -> Packed:
    """Write the whole stockroom to ``path``; ``check`` may raise to stop, and leaves no file.

    Raises ``DiskTrouble`` where the file cannot be written.
    """
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with zipfile.ZipFile(unfinished, "w", strict_timestamps=False) as file:
            packed = _packed(_Packing(file, at.astimezone(UTC)), stockroom, path, tell, check)
        with unfinished.open("rb+") as written:
            os.fsync(written.fileno())
        unfinished.replace(path)
    except OSError as fault:
        discard(unfinished)
        raise cannot_write(path, fault) from fault
    except BaseException:
        discard(unfinished)
        raise
    return packed


def _packed(
    packing: _Packing, stockroom: Stockroom, path: Path, tell: Tell, check: Callable[[], None]
) -> Packed:
    tell(0.0, "Reading the stockroom")
    whole = stockroom.exchange.whole()
    packing.text(README, _README.encode())
    packing.text(SCHEMA_FILE, _json(row_schema(whole.schema), indent=1))
    for name, rows in whole.tables.items():
        check()
        packing.text(f"tables/{name}.json", _json(rows))
    packing.text(SEQUENCES, _json(whole.sequences))
    if stockroom.own_rules.is_file():
        packing.text(RULES, stockroom.own_rules.read_bytes())
    photos, missing = stockroom.photos.listed(), {}
    for number, photo in enumerate(photos):
        check()
        tell(number / len(photos), f"Photograph {number + 1} of {len(photos)}")
        try:
            original = stockroom.photos.path(photo.sha256)
        except DiskTrouble:
            missing[photo.sha256] = photo.name
            continue
        name = f"photos/{photo.sha256}{photo.suffix}"
        packing.photo(name, original)
        if packing.files[name]["sha256"] != photo.sha256:
            missing[photo.sha256] = f"{photo.name} (altered)"
    _sign(packing, whole.schema, {k: len(v) for k, v in whole.tables.items()}, missing)
    return Packed(
        path,
        {name: len(rows) for name, rows in whole.tables.items()},
        len(photos) - len(missing),
        tuple(missing.values()),
    )


def _sign(packing: _Packing, schema: int, counts: dict[str, int], missing: dict[str, str]) -> None:
    manifest = {
        "format": FORMAT,
        "version": VERSION,
        "schema": schema,
        "program": f"Bindery Stock {__version__}",
        "made_at": packing.at.isoformat(),
        "counts": counts,
        "missing_photos": sorted(missing),
        "files": packing.files,
    }
    packing.text(MANIFEST, _json(manifest, indent=1))


def _json(value: object, indent: int | None = None) -> bytes:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=indent).encode()
