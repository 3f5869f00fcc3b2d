"""A full or closed disk is told in a sentence, loses nothing, and work goes on afterwards."""

import os
import shutil
import stat
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bindery_stock.errors import DiskTrouble
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.trade.vocabulary import Kind
from tests.patience import PATIENCE

PLAIN = NewPiece(
    kind=Kind.CLOTH,
    outline=Outline(((0, 0), (50, 0), (50, 80), (0, 80))),
    note="a long story " * 2_000,
)
NOBODY = 65534
resource = pytest.importorskip("resource", reason="file limits cannot be set on Windows")


@contextmanager
def files_no_larger_than(size: int) -> Iterator[None]:
    """As on a full disk, writing beyond ``size`` bytes of a file fails."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_full_disk_while_shelving_loses_nothing(tmp_path: Path) -> None:
    with Stockroom.create(tmp_path / "stock") as stock:
        stock.pieces.shelve(PLAIN)
        before = stock.pieces.listed(gone=True)
        with (
            files_no_larger_than(40_000),
            pytest.raises(DiskTrouble, match="Nothing was changed"),
        ):
            stock.pieces.shelve_many([PLAIN] * 10)
        assert stock.pieces.listed(gone=True) == before
        assert stock.keeping.check().sound
        assert stock.pieces.shelve(PLAIN).born == ("C-0002",), (
            "with room again the step can be done"
        )
        stock.ledger.undo()
        assert stock.pieces.listed(gone=True) == before
    with Stockroom.open(tmp_path / "stock") as stock:
        assert stock.keeping.check().sound


def test_a_full_disk_while_a_photograph_comes_in_leaves_no_half_of_it(tmp_path: Path) -> None:
    content = os.urandom(300_000)
    with Stockroom.create(tmp_path / "stock") as stock:
        with files_no_larger_than(100_000), pytest.raises(DiskTrouble):
            stock.photos.archive(content, name="scrap.jpg", width=40, height=30)
        assert list((stock.folder / "photos").iterdir()) == []
        photo = stock.photos.archive(content, name="scrap.jpg", width=40, height=30)
        assert stock.photos.path(photo.sha256).read_bytes() == content


def test_a_full_disk_while_backing_up_keeps_the_older_backups(tmp_path: Path) -> None:
    with Stockroom.create(tmp_path / "stock") as stock:
        stock.pieces.shelve_many([PLAIN] * 10)
        kept = stock.keeping.backup("good")
        with files_no_larger_than(100_000), pytest.raises(DiskTrouble):
            stock.keeping.backup("no room")
        assert list((stock.folder / "backups").iterdir()) == [kept]
        stock.keeping.backup("room again")


def test_a_full_disk_while_making_a_stockroom_can_be_tried_again(tmp_path: Path) -> None:
    with files_no_larger_than(20_000), pytest.raises(DiskTrouble):
        Stockroom.create(tmp_path / "stock")
    with Stockroom.create(tmp_path / "stock") as stock:
        assert stock.keeping.check().sound


def test_a_stockroom_cannot_be_made_where_a_file_stands(tmp_path: Path) -> None:
    (tmp_path / "stock").touch()
    with pytest.raises(DiskTrouble, match="cannot be used"):
        Stockroom.create(tmp_path / "stock")


_AS_A_STRANGER = """
import os, sys
from pathlib import Path
from bindery_stock.errors import DiskTrouble, ReadOnly
from bindery_stock.stock import Stockroom
folder = Path(sys.argv[1])
if os.getuid() == 0:
    # The program itself may lie where a stranger cannot read it, as under the home of root. All
    # that is read of it while it runs is read here, over a stockroom of its own.
    rehearsal = Path(sys.argv[3])
    Stockroom.create(rehearsal).close()
    with Stockroom.open(rehearsal, read_only=True) as stock:
        stock.pieces.listed(), stock.keeping.check()
    os.chdir("/")
    os.setgroups([])
    os.setgid(int(sys.argv[2]))
    os.setuid(int(sys.argv[2]))
    try:
        (folder / "stock.sqlite").open("ab")
    except PermissionError:
        pass
    else:
        sys.exit("still one who may write everything")
try:
    Stockroom.open(folder)
except DiskTrouble as refused:
    print(refused)
try:
    Stockroom.create(folder / "deeper")
except DiskTrouble as refused:
    print(refused)
with Stockroom.open(folder, read_only=True) as stock:
    print([piece.code for piece in stock.pieces.listed()], stock.keeping.check().sound)
    try:
        stock.ledger.undo()
    except ReadOnly as refused:
        print(refused)
"""


@pytest.fixture
def closed_folder() -> Iterator[Path]:
    """A stock folder which may be read by all and written by no one."""
    root = Path(tempfile.mkdtemp())
    root.chmod(0o755)
    folder = root / "stock"
    with Stockroom.create(folder) as stock:
        stock.pieces.shelve(PLAIN)
    for path in (*folder.rglob("*"), folder):
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield folder
    for path in (folder, *folder.rglob("*")):
        path.chmod(path.stat().st_mode | stat.S_IRWXU)
    shutil.rmtree(root)


def as_a_stranger(folder: Path, rehearsal: Path) -> subprocess.CompletedProcess[str]:
    """Use a stock folder as one who may read it and no more."""
    return subprocess.run(
        [sys.executable, "-c", _AS_A_STRANGER, str(folder), str(NOBODY), str(rehearsal)],
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )


def test_a_folder_one_may_not_write_is_told_and_can_be_read(
    closed_folder: Path, tmp_path: Path
) -> None:
    before = sorted((path.name, path.stat().st_mtime_ns) for path in closed_folder.rglob("*"))
    done = as_a_stranger(closed_folder, tmp_path / "rehearsal")
    assert done.returncode == 0, done.stderr
    opening, making, answer, undoing = done.stdout.splitlines()
    assert "cannot be written by you" in opening
    assert "Permission denied" in making
    assert answer == "['C-0001'] True"
    assert "open for reading only" in undoing
    after = sorted((path.name, path.stat().st_mtime_ns) for path in closed_folder.rglob("*"))
    assert after == before, "nothing was left behind"


def test_changes_that_cannot_be_folded_in_are_not_passed_over(
    closed_folder: Path, tmp_path: Path
) -> None:
    """Opened as it lies, a folder with a filled ``-wal`` would show the day before yesterday."""
    closed_folder.chmod(0o755)
    (closed_folder / "stock.sqlite-wal").write_bytes(b"last changes")
    closed_folder.chmod(0o555)
    done = as_a_stranger(closed_folder, tmp_path / "rehearsal")
    assert done.returncode == 1
    assert "Copy the whole folder to another disk" in done.stderr
