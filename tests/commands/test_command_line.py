"""The command line as a script calls it: a process, its streams, its exit code."""

import csv
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from bindery_stock import commands
from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.bench.shelf.correct import correct
from bindery_stock.shape import Outline
from bindery_stock.stock import (
    BookSpot,
    Colour,
    ColourSought,
    NewBookSet,
    NewPiece,
    NewRepair,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Backing, Kind
from tests.patience import PATIENCE
from tests.records.busy import busy_stockroom


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with busy_stockroom(tmp_path / "stock", tmp_path / "scratch") as stock:
        return stock.folder


def told(capsys: pytest.CaptureFixture[str], *arguments: object, code: int = 0) -> dict[str, Any]:
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
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
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
        ["match", str(folder), "--size", "58x200", "--lab", "nan,1,1"],
        ["match", str(folder), "--size", "58x200", "--lab", "380,1,1"],
        ["match", str(folder), "--size", "58x200", "--limit", "0"],
        ["share", str(folder), "--price", "shade=2"],
        ["share", str(folder), "--price", "jump=-1"],
        ["share", str(folder), "--seconds", "long"],
        ["match", str(folder), "--size", "58x200", "--lab", "38,42,24", "--up-to", "nan"],
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


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the full disk of Linux")
def test_an_answer_that_cannot_be_written_is_told_in_one_sentence(folder: Path) -> None:
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "bindery_stock", "show", str(folder)],
            stdout=full, stderr=subprocess.PIPE, text=True, timeout=PATIENCE, check=False,
        )  # fmt: skip
    assert ended.returncode == 3
    assert ended.stderr.count("\n") == 1
    assert "No space left" in ended.stderr


def test_a_treatment_record_is_exported_by_its_volume(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(capsys, "export", folder, "record", tmp_path / "r.html", "--volume", "V-0001")
    assert "Treatment record: Hollin Vale" in (tmp_path / "r.html").read_text("utf-8")
    assert "--volume" in str(told(capsys, "export", folder, "record", "r.html", code=3))


def test_a_proposal_is_exported_in_the_unit_asked_for(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "p.html"
    told(capsys, "export", folder, "proposal", out, "--volume", "V-0001", "--unit", "in")
    page = out.read_text("utf-8").replace("\N{NO-BREAK SPACE}", " ")
    assert "Proposal for treatment: Hollin Vale" in page
    assert "boards high 8 31/32 in" in page
    assert "B 12" in page
    assert "--volume" in str(told(capsys, "export", folder, "proposal", "p.html", code=3))


def test_volumes_are_exported_as_copies_with_their_binding(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(capsys, "export", folder, "volumes", tmp_path / "v.csv")
    with (tmp_path / "v.csv").open(encoding="utf-8-sig", newline="") as table:
        (volume,) = csv.DictReader(table)
    assert (volume["Shelfmark"], volume["Imprint"]) == ("B 12", "Wexcombe: Tarn & Daughter")
    assert (volume["Examined"], volume["Recommended"]) == ("2026-03-01", "Reback")


def test_a_copy_is_made_listed_and_gone_back_to(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = told(capsys, "back-up", folder, "--reason", "before the fair")
    listed = told(capsys, "backups", folder)["backups"]
    assert listed[0]["path"] == made["path"]
    assert "before-the-fair" in str(made["path"])
    assert Path(str(told(capsys, "restore", folder, made["path"])["kept"])).exists()
    assert told(capsys, "check", folder)["sound"] is True


def test_paths_are_told_in_full_however_the_folder_was_written(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    made = told(capsys, "back-up", folder.name)
    listed = [one["path"] for one in told(capsys, "backups", folder.name)["backups"]]
    assert made["path"] in listed
    assert sorted(listed) == sorted(str(one) for one in (folder / "backups").glob("*.sqlite"))
    written = told(capsys, "export", folder.name, "stock", "s.csv")["path"]
    assert written == str(folder.parent / "s.csv")


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (["restore", "{stock}", "{stock}/gone.sqlite"], "There is no copy "),
        (["restore", "{stock}", "{stock}/stock.sqlite"], "is the stockroom itself"),
        (["export", "{stock}", "record", "r.pdf", "--volume", "V-0001"], "should end in .html"),
        (["export", "{stock}", "stock", "s.pdf"], "PDFs are made in the window"),
        (["export", "{stock}", "archive", "a.tar"], "should end in .zip"),
        (["export", "{stock}", "record", "r.html", "--volume", "V-0099"], "no volume V-0099"),
        (["export", "{stock}", "stock", "{stock}/no/such/s.csv"], "cannot be written"),
        (["unpack", "{stock}/stock.sqlite", "new"], "is no archive"),
    ],
)
def test_what_cannot_be_done_is_refused_and_writes_no_file(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    call: list[str],
    sentence: str,
) -> None:
    monkeypatch.chdir(folder.parent)
    there = files_in(folder.parent)
    assert commands.run([word.format(stock=folder) for word in call]) == 3
    assert sentence in capsys.readouterr().err
    assert files_in(folder.parent) == there


def files_in(folder: Path) -> list[Path]:
    """Every file but the lock and what SQLite lays beside a database that is read."""
    besides = {"stock.lock", "stock.sqlite-wal", "stock.sqlite-shm"}
    return sorted(one for one in folder.rglob("*") if one.name not in besides)


def test_beside_an_open_window_one_may_look_but_not_change(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Stockroom.open(folder) as stock:
        copy = stock.keeping.backup("asked")
        assert told(capsys, "check", folder)["sound"] is True
        for call in (["back-up", folder], ["restore", folder, copy]):
            answer = told(capsys, *call, code=3)
            assert answer["error"]["kind"] == "StockroomInUse"


def later_green(folder: Path, **more: object) -> None:
    """Date the green cloth past the years in which the rules stop a knife: a caution stays."""
    with Stockroom.open(folder) as stock:
        correct(stock, piece="C-0002", fields={"source_date": "1890", **more})


def test_a_part_is_matched_and_what_does_not_serve_says_what_it_lacks(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    later_green(folder)
    sought = ("--size", "20 x 11 in", "--lab", "49.8,-35.9,24.1")
    assert told(capsys, "match", folder, *sought, code=1)["matches"] == [], "it is reserved"
    answer = told(capsys, "match", folder, *sought, "--reserved")
    (match,) = answer["matches"]
    assert match["code"] == "C-0002"
    assert match["delta_e00"] == pytest.approx(0.0, abs=1e-6)
    assert match["cautions"][0].startswith("△ Caution: ")
    assert (match["ruling"], match["objections"]) == ("allowed", [])
    answer = told(capsys, "match", folder, "--size", "58x228", "--reserved", code=1)
    assert answer["matches"] == []
    assert "narrow" in answer["near_misses"][0]["lacks"]


def test_a_vivid_green_of_those_years_is_a_near_miss_with_its_rule_and_what_would_change_it(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sought = ("--size", "20 x 11 in", "--lab", "49.8,-35.9,24.1", "--reserved")
    answer = told(capsys, "match", folder, *sought, code=1)
    assert answer["matches"] == []
    near = answer["near_misses"][0]
    assert (near["code"], near["ruling"]) == ("C-0002", "stopped")
    assert near["lacks"].startswith("stopped: C-0002: not to be cut: arsenical green")
    assert near["objections"][0]["rule"] == "R32"
    assert near["objections"][0]["mark"] == "published"
    assert near["objections"][0]["would_change"].startswith("A laboratory's result for arsenic")
    assert commands.run(["match", str(folder), *sought]) == 1
    assert "No piece serves.\nC-0002  stopped: " in capsys.readouterr().out


def test_cloth_that_is_not_for_conservation_is_told_with_the_reason_it_needs(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    later_green(folder, backing=Backing.PYROXYLIN)
    sought = ("--size", "20 x 11 in", "--lab", "49.8,-35.9,24.1", "--reserved")
    (match,) = told(capsys, "match", folder, *sought, "--use", "cloth to board")["matches"]
    assert match["ruling"] == "needs a written reason"
    assert [one["rule"] for one in match["objections"]] == ["R28"]
    assert commands.run(["match", str(folder), *sought]) == 0
    assert "△ Needs a written reason: C-0002: " in capsys.readouterr().out


def test_a_piece_of_another_colour_does_not_serve_unless_so_much_is_allowed(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    later_green(folder)
    sought = ("--size", "20 x 11 in", "--lab", "38,42,24", "--reserved")
    answer = told(capsys, "match", folder, *sought, code=1)
    assert answer["matches"] == []
    assert "another colour: ΔE00 " in answer["near_misses"][0]["lacks"]
    (match,) = told(capsys, "match", folder, *sought, "--up-to", "100")["matches"]
    assert match["delta_e00"] > 20


def test_a_match_is_told_with_its_figure_its_words_and_its_caution(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    later_green(folder)
    sought = ("--lab", "49.8,-35.9,24.1", "--reserved")
    assert commands.run(["match", str(folder), "--size", "20 x 11 in", *sought]) == 0
    line = capsys.readouterr().out
    assert line.startswith("C-0002  ΔE00 0.0, ")
    assert "△ Caution: " in line
    assert commands.run(["match", str(folder), "--size", "58x228", *sought]) == 1
    assert "No piece serves.\nC-0002  " in capsys.readouterr().out


def test_sizes_in_inches_and_millimetres_are_the_same_part(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    later_green(folder)
    answers = [
        told(capsys, "match", folder, "--size", size, "--margin", margin, "--reserved")
        for size, margin in (
            ("19.05x279.4", "1.5875"), ("3/4 in x 11 in", "1/16 in"), ('0.75"×11"', "1.5875 mm"),
            ("1,905 cm x 27.94 cm", "0.15875 cm"),
        )
    ]  # fmt: skip
    for answer in answers:
        assert answer["size_mm"] == pytest.approx([19.05, 279.4])
        corners = answer["matches"][0]["corners_mm"]
        assert corners == [pytest.approx(one) for one in answers[0]["matches"][0]["corners_mm"]]


def test_what_can_be_read_of_a_damaged_stockroom_is_saved_by_a_script(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answer = told(capsys, "salvage", folder)
    assert answer["lost"] == []
    assert Path(str(answer["copy"])).exists()


def shared_folder(scratch: Path) -> tuple[Path, str]:
    """A set of two volumes that want a spine each, and two pieces."""
    with Stockroom.create(scratch / "set") as room:
        (code,) = room.books.add_set(NewBookSet(title="Hollin Vale", pattern="rib")).born
        for number in (1, 2):
            colour = Colour((33.0 + 2 * number, 33.0, 17.0), u=1.0)
            new = NewRepair(
                name=f"Hollin Vale vol. {number}",
                book_set=code,
                volume=number,
                pattern="rib",
                targets=(ColourSought(BookSpot.SPINE, colour),),
                survey=Survey(
                    spine_width=33.0,
                    rise=5.0,
                    joint=6.0,
                    board_height=210.0,
                    board_width=133.0,
                    damage=(Damage(Harm.SPINE_LOST),),
                    old_spine=False,
                ),
            )
            survey(room, new=new)
            room.pieces.shelve(
                NewPiece(
                    kind=Kind.CLOTH,
                    outline=Outline(((0, 0), (75, 0), (75, 252), (0, 252))),
                    pattern="rib",
                    colours=(Colour((33.0 + 2 * number, 33.0, 17.0), u=1.0),),
                )
            )
        return room.folder, code


def test_a_set_is_shared_out_by_prices_given_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, code = shared_folder(tmp_path)
    call = ("share", folder, "--set", code, "--seconds", "0")
    answer = told(capsys, *call, "--price", "jump=3", "--price", "lot=0")
    assert [one["code"] for one in answer["parts"] if "reback" in one["part"]] == [
        "C-0001",
        "C-0002",
    ]
    assert (answer["prices"]["jump"], answer["prices"]["lot"]) == (3.0, 0.0)
    (jump,) = answer["jumps"]
    assert (jump["left"], jump["right"]) == ("vol. 1", "vol. 2")
    assert jump["u"] == pytest.approx(2**0.5)
    assert answer["spent"]["jump"] == pytest.approx(3 * jump["delta_e"])
    assert sum(answer["spent"].values()) == pytest.approx(answer["objective"])
    assert answer["bound"] <= answer["objective"] <= answer["closest_first"]

    assert commands.run([*map(str, call)]) == 0
    words = capsys.readouterr().out
    assert "Greatest jump on the shelf: vol. 1 | vol. 2, ΔE00" in words
    assert "1 jump between neighbours on the shelf" in words
    with Stockroom.open(folder, read_only=True) as room:
        assert room.pieces.reservations() == []


def test_cloth_for_volumes_to_come_is_told_by_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, code = shared_folder(tmp_path)
    answer = told(capsys, "share", folder, "--set", code, "--seconds", "0", "--to-come", 1)
    assert answer["kept_free"] == [{"for": "spine of volume 1 of 1 to come", "code": ""}]
    refused = told(capsys, "share", folder, "--set", "S-0099", code=3)
    assert "There is no set S-0099" in refused["error"]["sentence"]
