"""Looking through an archive before a byte of it is believed.

Nothing is unpacked by the names in the zip: only what the manifest lists is read, each file to the
size it declares and no further, and its SHA-256 compared. Links, paths that lead elsewhere, names
that differ in their capitals alone, and files that swell beyond reason are refused.
"""

import hashlib
import json
import stat
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from bindery_stock import places
from bindery_stock.errors import DamagedStockroom, NewerStockroom, NotAStockroom
from bindery_stock.records.stock_archive import FORMAT, MANIFEST, SEQUENCES, VERSION
from bindery_stock.stock.keeping.migrate import SCHEMA
from bindery_stock.stock.ledger.whole import Whole, row_schema

MOST_FILES = 500_000
LARGEST_MANIFEST = 200 << 20
LARGEST_TABLE = 4 << 30
MOST_SWELLING = 250
"""JSON shrinks ten to sixty times; what swells more than this when unpacked was made to harm."""
_SMALL = 1 << 20
_CHUNK = 1 << 20


@dataclass(frozen=True, slots=True)
class Manifest:
    """What an archive says of itself, checked against its form."""

    schema: int
    made_at: str
    counts: dict[str, int]
    missing_photos: frozenset[str]
    files: dict[str, dict[str, Any]]

    @property
    def size(self) -> int:
        """Bytes of all its files, unpacked."""
        return sum(file["size"] for file in self.files.values())


@contextmanager
def opened(path: Path) -> Iterator["Archive"]:
    """An archive whose list of files has been looked through.

    Raises ``NotAStockroom`` for another kind of file, ``DamagedStockroom`` for one that is not
    whole or was made to harm, ``NewerStockroom`` for one a newer version wrote.
    """
    try:
        with zipfile.ZipFile(path) as file:
            yield Archive(path, file)
    except zipfile.BadZipFile as fault:
        raise NotAStockroom(
            f"{path.name} is no archive, or only a part of one. Copy it again from where it came."
        ) from fault
    except OSError as fault:
        raise NotAStockroom(
            f"{path.name} cannot be read: {fault.strerror or fault}. Choose another file."
        ) from fault


class Archive:
    """An open archive. Read it through ``opened``."""

    def __init__(self, path: Path, file: zipfile.ZipFile) -> None:
        """Look through the list of files."""
        self.path = path
        self._zip = file
        entries = file.infolist()
        if len(entries) > MOST_FILES:
            raise self.refused(f"it has {len(entries)} files, which no stockroom has")
        self._entries = {info.filename: info for info in entries}
        self._no_tricks(entries)
        self.manifest = self._manifest()
        self._as_listed()

    def refused(self, why: str) -> DamagedStockroom:
        """The refusal, with the reason."""
        return DamagedStockroom(
            f"{self.path.name} was not taken in: {why}. Nothing was changed. Ask for the archive "
            "again, or take another copy of it."
        )

    def _no_tricks(self, entries: list[zipfile.ZipInfo]) -> None:
        seen: set[str] = set()
        for info in entries:
            name = info.filename
            if name.lower() in seen:
                raise self.refused(f"it holds {name} twice")
            seen.add(name.lower())
            if name.startswith("/") or "\\" in name or ":" in name or ".." in name.split("/"):
                raise self.refused(f"{name} would lie outside the stock folder")
            kind = stat.S_IFMT(info.external_attr >> 16)
            if kind not in (0, stat.S_IFREG) or info.is_dir():
                raise self.refused(f"{name} is not a plain file")
            if info.flag_bits & 0x1:
                raise self.refused(f"{name} is locked by a password")
            swelling = info.file_size / max(1, info.compress_size)
            if info.file_size > _SMALL and swelling > MOST_SWELLING:
                raise self.refused(f"{name} would swell to {swelling:.0f} times its size")

    def _manifest(self) -> Manifest:
        info = self._entries.get(MANIFEST)
        if info is None:
            raise NotAStockroom(f"{self.path.name} has no {MANIFEST}: it is no stockroom archive.")
        if info.file_size > LARGEST_MANIFEST:
            raise self.refused(f"its {MANIFEST} is too large")
        written = self._json(MANIFEST, self._zip.read(info))
        if not isinstance(written, dict) or written.get("format") != FORMAT:
            raise NotAStockroom(f"{self.path.name} is an archive of another program.")
        for key, known, what in (("version", VERSION, "layout"), ("schema", SCHEMA, "schema")):
            number = written.get(key)
            if isinstance(number, int) and number > known:
                raise NewerStockroom(
                    f"{self.path.name} was written by a newer version of Bindery Stock (its {what} "
                    f"is {number}, this version knows {known}). Nothing was changed. Update the "
                    "program and take it in then."
                )
        form = places.resources() / "archive" / "manifest.schema.json"
        self._valid(MANIFEST, written, json.loads(form.read_text("utf-8")))
        return Manifest(
            written["schema"],
            written["made_at"],
            written["counts"],
            frozenset(written["missing_photos"]),
            written["files"],
        )

    def _as_listed(self) -> None:
        listed, there = set(self.manifest.files), set(self._entries) - {MANIFEST}
        for name in sorted(listed - there):
            raise self.refused(f"{name} is missing from it")
        for name in sorted(there - listed):
            raise self.refused(f"{name} is in it, but not in its list")
        for name, file in self.manifest.files.items():
            if self._entries[name].file_size != file["size"]:
                raise self.refused(f"{name} has another size than its list says")

    def _json(self, name: str, content: bytes) -> Any:
        try:
            return json.loads(content, parse_constant=self._no_number)
        except (ValueError, RecursionError) as fault:
            raise self.refused(f"{name} cannot be read as JSON ({fault})") from fault

    @staticmethod
    def _no_number(word: str) -> float:
        raise ValueError(f"{word} is no number")

    def _valid(self, name: str, value: Any, form: dict[str, Any]) -> None:
        from jsonschema import Draft202012Validator  # noqa: PLC0415 - at first use

        wrong = next(Draft202012Validator(form).iter_errors(value), None)
        if wrong is not None:
            where = "/".join(str(step) for step in wrong.absolute_path) or "the whole"
            raise self.refused(f"{name} is not as it should be at {where}: {wrong.message[:200]}")

    def read(self, name: str) -> bytes:
        """A listed file, its checksum compared."""
        if self.manifest.files[name]["size"] > LARGEST_TABLE:
            raise self.refused(f"{name} is too large")
        return b"".join(self._blocks(name))

    def copy(self, name: str, out: BinaryIO) -> None:
        """Copy a listed file out, its checksum compared; what was copied is refused with it."""
        for block in self._blocks(name):
            out.write(block)

    def _blocks(self, name: str) -> Iterator[bytes]:
        file = self.manifest.files[name]
        digest, size = hashlib.sha256(), 0
        try:
            with self._zip.open(self._entries[name]) as content:
                while block := content.read(_CHUNK):
                    size += len(block)
                    if size > file["size"]:
                        raise self.refused(f"{name} is larger than it says")
                    digest.update(block)
                    yield block
        except (zipfile.BadZipFile, EOFError, NotImplementedError) as fault:
            raise self.refused(f"{name} is damaged ({fault})") from fault
        if size != file["size"] or digest.hexdigest() != file["sha256"]:
            raise self.refused(f"{name} does not have the checksum in its list")

    def photos(self) -> list[str]:
        """Names of the photographs in it."""
        return sorted(name for name in self.manifest.files if name.startswith("photos/"))

    def whole(self) -> Whole:
        """The contents of the database, held against the schema of their version."""
        schema = self.manifest.schema
        forms = row_schema(schema)
        tables: dict[str, Any] = {}
        for name in sorted(n for n in self.manifest.files if n.startswith("tables/")):
            table = Path(name).stem
            if table not in forms["$defs"]:
                raise self.refused(f"{name} is no table of a stockroom")
            rows = self._json(name, self.read(name))
            self._valid(name, rows, forms["$defs"][table])
            if len(rows) != self.manifest.counts.get(table):
                raise self.refused(f"{name} has {len(rows)} rows, its list says otherwise")
            tables[table] = rows
        for table in forms["$defs"]:
            if table not in tables:
                raise self.refused(f"tables/{table}.json is missing from it")
        sequences = self._json(SEQUENCES, self.read(SEQUENCES))
        self._valid(SEQUENCES, sequences, _SEQUENCES_FORM)
        self._photographs(tables["photo"])
        return Whole(schema, tables, sequences)

    def _photographs(self, rows: list[dict[str, Any]]) -> None:
        there = {Path(name).name for name in self.photos()}
        for row in rows:
            sha256, name = row["sha256"], f"{row['sha256']}{row['suffix']}"
            if name not in there and sha256 not in self.manifest.missing_photos:
                raise self.refused(f"the photograph {row['name']} is missing from it")


_SEQUENCES_FORM = {"type": "object", "additionalProperties": {"type": "integer", "minimum": 0}}
