"""Archives that are broken, tampered with, or made to harm."""

import hashlib
import json
import stat
import zipfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from bindery_stock.errors import DamagedStockroom, DiskTrouble, NewerStockroom, NotAStockroom
from bindery_stock.records import archive_check, archive_in
from bindery_stock.records.archive_in import unpack
from bindery_stock.records.stock_archive import pack
from tests.records.busy import busy_stockroom

Contents = dict[str, bytes]


@pytest.fixture(scope="module")
def contents(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Contents]:
    """The files of a good archive."""
    room = tmp_path_factory.mktemp("good")
    with busy_stockroom(room / "stock", room / "scratch") as stock:
        path = pack(stock, room / "good.zip", datetime(2026, 3, 3, tzinfo=UTC)).path
    with zipfile.ZipFile(path) as archive:
        yield {name: archive.read(name) for name in archive.namelist()}


@pytest.fixture
def tampered(contents: Contents, tmp_path: Path) -> Callable[..., Path]:
    """Write the archive after a change; the list of files is made to agree unless told not to."""

    def write(change: Callable[[Contents], None], *, agree: bool = True) -> Path:
        changed = dict(contents)
        change(changed)
        if agree and "manifest.json" in changed:
            manifest = json.loads(changed["manifest.json"])
            if isinstance(manifest, dict) and "files" in manifest:
                manifest["files"] = {
                    name: {"size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
                    for name, data in changed.items()
                    if name != "manifest.json"
                }
                changed["manifest.json"] = json.dumps(manifest).encode()
        path = tmp_path / "tampered.zip"
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, data in changed.items():
                archive.writestr(name, data)
        return path

    return write


def untouched(_contents: Contents) -> None:
    """Leave the archive as it is."""


def refused(path: Path, error: type[Exception], words: str) -> None:
    """It is refused with these words, and nothing is left behind."""
    folder = path.parent / "copy"
    with pytest.raises(error, match=words):
        unpack(path, folder)
    assert not folder.exists()
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def edit(name: str, change: Callable[[Any], None]) -> Callable[[Contents], None]:
    """Change a JSON file of the archive."""

    def work(contents: Contents) -> None:
        value = json.loads(contents[name])
        change(value)
        contents[name] = json.dumps(value).encode()

    return work


def test_the_archive_untouched_is_taken_in(tampered: Callable[..., Path]) -> None:
    path = tampered(untouched)
    assert unpack(path, path.parent / "copy").pieces == 3, "two on the shelf, one cut up"


@pytest.mark.parametrize(
    "name",
    ["../evil.txt", "/etc/evil", "photos/../../evil", "C:/evil", "photos\\..\\evil", "a/../../b"],
)
def test_a_path_that_leads_elsewhere_is_refused(tampered: Callable[..., Path], name: str) -> None:
    path = tampered(lambda contents: contents.update({name: b"evil"}))
    refused(path, DamagedStockroom, "outside the stock folder|not in its list|not as it should be")


def test_a_link_is_refused(tampered: Callable[..., Path]) -> None:
    path = tampered(untouched)
    with zipfile.ZipFile(path, "a") as archive:
        link = zipfile.ZipInfo("photos/link")
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(link, "/etc/passwd")
    refused(path, DamagedStockroom, "not a plain file")


def test_a_file_that_swells_beyond_reason_is_refused_unread(
    tampered: Callable[..., Path],
) -> None:
    path = tampered(lambda contents: contents.update({"tables/piece.json": b"0" * (20 << 20)}))
    assert path.stat().st_size < 1 << 20
    refused(path, DamagedStockroom, "swell")


def test_a_file_larger_than_it_declares_is_refused(tampered: Callable[..., Path]) -> None:
    def lie(manifest: dict[str, Any]) -> None:
        manifest["files"]["tables/piece.json"]["size"] -= 1

    path = tampered(edit("manifest.json", lie), agree=False)
    refused(path, DamagedStockroom, "another size")


def test_two_names_that_differ_in_capitals_alone_are_refused(
    tampered: Callable[..., Path],
) -> None:
    path = tampered(lambda contents: contents.update({"README.TXT": b"again"}))
    refused(path, DamagedStockroom, "twice")


def test_a_wrong_checksum_is_refused(tampered: Callable[..., Path], contents: Contents) -> None:
    for name in ("tables/piece.json", next(n for n in contents if n.startswith("photos/"))):
        data = bytearray(contents[name])
        data[len(data) // 2] ^= 1
        path = tampered(lambda c, n=name, d=bytes(data): c.update({n: d}), agree=False)
        refused(path, DamagedStockroom, "checksum")


def test_a_photograph_under_another_name_is_refused(
    tampered: Callable[..., Path], contents: Contents
) -> None:
    name = next(n for n in contents if n.startswith("photos/"))
    path = tampered(lambda c: c.update({name: c[name] + b"more"}))
    refused(path, DamagedStockroom, "not the photograph its name says")


def test_a_missing_photograph_is_named(tampered: Callable[..., Path], contents: Contents) -> None:
    name = next(n for n in contents if n.startswith("photos/"))
    refused(tampered(lambda c: c.pop(name), agree=False), DamagedStockroom, "is missing from it")
    refused(tampered(lambda c: c.pop(name)), DamagedStockroom, r"photograph \w+\.jpg is missing")


def test_a_newer_archive_is_refused_by_its_versions(tampered: Callable[..., Path]) -> None:
    for key in ("version", "schema"):
        path = tampered(edit("manifest.json", lambda m, k=key: m.update({k: 99, "novel": 1})))
        refused(path, NewerStockroom, "newer version.*99.*Update the program")


@pytest.mark.parametrize(
    ("table", "change", "words"),
    [
        ("piece", lambda rows: rows[0].update(area="wide"), "not as it should be at 0/area"),
        ("piece", lambda rows: rows[0].pop("code"), "'code' is a required property"),
        ("piece", lambda rows: rows[0].update(novel=1), "novel"),
        ("piece", lambda rows: rows[0].update(parent_id=4242), "hang together|refers"),
        ("piece", lambda rows: rows[1].update(code=rows[0]["code"]), "hang together"),
        ("piece", lambda rows: rows[0].update(note="another note"), "ledger"),
        ("piece", lambda rows: rows.pop(), "rows, its list says otherwise"),
    ],
)
def test_rows_that_cannot_be_are_refused(
    tampered: Callable[..., Path], table: str, change: Callable[[Any], None], words: str
) -> None:
    refused(tampered(edit(f"tables/{table}.json", change)), DamagedStockroom, words)


def test_a_table_that_is_missing_is_named(tampered: Callable[..., Path]) -> None:
    path = tampered(lambda contents: contents.pop("tables/wanted.json"))
    refused(path, DamagedStockroom, r"tables/wanted\.json is missing")


def test_broken_json_and_numbers_that_are_none_are_refused(tampered: Callable[..., Path]) -> None:
    for data in (b"[{", b"[NaN]", b"\xff\xfe[]", b"[" * 100_000):
        path = tampered(lambda c, d=data: c.update({"tables/wanted.json": d}))
        refused(path, DamagedStockroom, "cannot be read as JSON|swell")


def test_other_files_are_no_archives(tampered: Callable[..., Path], tmp_path: Path) -> None:
    refused(tampered(lambda c: c.pop("manifest.json")), NotAStockroom, "no stockroom archive")
    path = tampered(edit("manifest.json", lambda m: m.update(format="something else")))
    refused(path, NotAStockroom, "another program")
    path.write_bytes(b"not a zip at all")
    refused(path, NotAStockroom, "no archive")
    path.write_bytes(b"")
    refused(path, NotAStockroom, "no archive")
    with pytest.raises(NotAStockroom, match="cannot be read"):
        unpack(tmp_path / "gone.zip", tmp_path / "copy")


def test_half_an_archive_is_refused(tampered: Callable[..., Path]) -> None:
    path = tampered(untouched)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    refused(path, NotAStockroom, "only a part")


def test_a_disk_without_room_is_told_before_anything_is_laid_out(
    tampered: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(archive_in, "_SPARE_BYTES", 1 << 60)
    refused(tampered(untouched), DiskTrouble, "Make room")


def test_too_many_files_are_refused(
    tampered: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(archive_check, "MOST_FILES", 3)
    refused(tampered(untouched), DamagedStockroom, "which no stockroom has")
