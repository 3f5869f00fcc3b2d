"""The command line as a script calls it: a process, its streams, its exit code."""

import json
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest

from bindery_stock import commands
from tests.records.busy import busy_stockroom


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with busy_stockroom(tmp_path / "stock", tmp_path / "scratch") as stock:
        return stock.folder


def told(
    capsys: pytest.CaptureFixture[str], *arguments: object, code: int = 0
) -> dict[str, object]:
    """What a command answers as JSON, once its exit code has been checked."""
    assert commands.run([*map(str, arguments), "--json"]) == code
    answer = json.loads(capsys.readouterr().out)
    assert isinstance(answer, dict)
    return answer


def test_a_script_sees_a_sound_stockroom_and_loads_no_window(folder: Path) -> None:
    script = (
        "import sys; from bindery_stock.__main__ import main; "
        f"code = main(['check', {str(folder)!r}, '--json']); "
        "assert not any(m.startswith('PySide6') for m in sys.modules); sys.exit(code)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=False
    )
    assert ended.returncode == 0, ended.stderr
    assert json.loads(ended.stdout)["sound"] is True
    assert ended.stderr == "", "no progress where no one looks"


def test_a_stockroom_that_is_not_sound_has_exit_code_one(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    next((folder / "photos").glob("*.jpg")).unlink()
    answer = told(capsys, "check", folder, code=1)
    assert "missing from the photo archive" in str(answer["faults"])


def test_a_refusal_has_exit_code_three_and_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert commands.run(["show", str(tmp_path)]) == 3
    heard = capsys.readouterr()
    assert heard.out == ""
    assert heard.err.startswith("bindery-stock: There is no stockroom in")
    answer = told(capsys, "show", tmp_path, code=3)
    assert answer["error"]["kind"] == "NotAStockroom"


def test_a_wrong_call_has_exit_code_two(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for wrong in (
        ["match", str(folder)],
        ["match", str(folder), "--size", "58"],
        ["match", str(folder), "--size", "58x1.500 mm x"],
        ["match", str(folder), "--size", "58x200", "--lab", "red"],
        ["export", str(folder), "everything", "x.csv"],
    ):
        with pytest.raises(SystemExit) as ended:
            commands.run(wrong)
        assert ended.value.code == 2
    assert "58x228" in capsys.readouterr().err


def test_lists_are_exported_by_the_ending_of_the_file(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for ending in ("csv", "xlsx", "json"):
        assert told(capsys, "export", folder, "stock", tmp_path / f"s.{ending}")["rows"]
    assert len(pd.read_csv(tmp_path / "s.csv")) == len(pd.read_excel(tmp_path / "s.xlsx")) == 2
    written = json.loads((tmp_path / "s.json").read_text("utf-8"))
    assert written["columns"][0] == "Code"
    told(capsys, "export", folder, "wanted", tmp_path / "w.csv", "--semicolon", "--no-mark")
    assert (tmp_path / "w.csv").read_bytes().startswith(b"Code;Wanted;")


def test_the_whole_stockroom_goes_out_and_in_by_a_script(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    counts = told(capsys, "export", folder, "archive", tmp_path / "a.zip")["counts"]
    back = told(capsys, "unpack", tmp_path / "a.zip", tmp_path / "copy")
    assert isinstance(counts, dict)
    assert (back["pieces"], back["lots"]) == (counts["piece"], counts["adhesive_lot"])
    assert told(capsys, "check", tmp_path / "copy")["sound"] is True
    assert told(capsys, "unpack", tmp_path / "a.zip", folder, code=3)["error"]


@pytest.mark.parametrize("terminal", [True, False])
def test_how_far_it_is_is_told_on_a_terminal_only(
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    terminal: bool,
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: terminal)
    assert commands.run(["export", str(folder), "archive", str(tmp_path / "a.zip"), "--json"]) == 0
    streams = capsys.readouterr()
    assert json.loads(streams.out)["path"], "the answer stays clean for the script"
    if terminal:
        assert "50%  Photograph 2 of 2" in streams.err
        assert streams.err.endswith("\r\x1b[K"), "the line is wiped at the end"
    else:
        assert streams.err == ""


def test_an_interrupted_command_has_its_own_exit_code_and_leaves_no_file(
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def interrupt(_share: float, _words: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("bindery_stock.commands.answers._tell", interrupt)
    out = tmp_path / "out"
    out.mkdir()
    assert commands.run(["export", str(folder), "archive", str(out / "a.zip")]) == 130
    assert "interrupted" in capsys.readouterr().err
    assert list(out.iterdir()) == []


def test_a_treatment_record_is_exported_by_its_volume(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(capsys, "export", folder, "record", tmp_path / "r.html", "--volume", "V-0001")
    assert "Treatment record: Hollin Vale" in (tmp_path / "r.html").read_text("utf-8")
    assert "--volume" in str(told(capsys, "export", folder, "record", "r.html", code=3))


def test_a_copy_is_made_listed_and_gone_back_to(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = told(capsys, "back-up", folder, "--reason", "before the fair")
    listed = told(capsys, "backups", folder)["backups"]
    assert listed[0]["path"] == made["path"]
    assert "before-the-fair" in str(made["path"])
    assert Path(str(told(capsys, "restore", folder, made["path"])["kept"])).exists()
    assert told(capsys, "check", folder)["sound"] is True


def test_a_part_is_matched_and_what_does_not_serve_says_what_it_lacks(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sought = ("--size", "20 x 11 in", "--lab", "49.8,-35.9,24.1")
    assert told(capsys, "match", folder, *sought, code=1)["matches"] == [], "it is reserved"
    answer = told(capsys, "match", folder, *sought, "--reserved")
    (match,) = answer["matches"]
    assert match["code"] == "C-0002"
    assert match["delta_e00"] == pytest.approx(0.0, abs=1e-6)
    assert "stop" in match["cautions"]
    answer = told(capsys, "match", folder, "--size", "58x228", "--reserved", code=1)
    assert answer["matches"] == []
    assert "narrow" in answer["near_misses"][0]["lacks"]


def test_what_can_be_read_of_a_damaged_stockroom_is_saved_by_a_script(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answer = told(capsys, "salvage", folder)
    assert answer["lost"] == []
    assert Path(str(answer["copy"])).exists()
