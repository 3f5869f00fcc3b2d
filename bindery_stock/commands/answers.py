"""The answer to each command: words for a person, plain data for a script."""

import json
import sys
from argparse import Namespace
from collections.abc import Callable
from dataclasses import asdict
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from bindery_stock import matching
from bindery_stock.bench.exchange.copies import back_up, go_back
from bindery_stock.bench.exchange.lists import Listing, listing
from bindery_stock.bench.exchange.record_facts import treatment_record
from bindery_stock.bench.match.candidates import Judge, answered, hoard_of, placed_best, ruling_line
from bindery_stock.bench.match.closeness import order_note
from bindery_stock.bench.shelf.cautions import cautions, headline
from bindery_stock.bench.shelf.colour_maps import ColourMaps
from bindery_stock.clock import system_clock
from bindery_stock.commands.command_answer import CommandAnswer, opened_to_read
from bindery_stock.commands.names import PAPERS_OF_VOLUMES
from bindery_stock.commands.share_out import share_out
from bindery_stock.errors import EntryError
from bindery_stock.records.archive_in import unpack
from bindery_stock.records.csv_text import CsvStyle, Signs, csv_bytes
from bindery_stock.records.files import write_whole
from bindery_stock.records.proposal import proposal_gaps, proposal_page, proposal_title
from bindery_stock.records.stock_archive import pack
from bindery_stock.records.table import Table
from bindery_stock.records.treatment_record import record_page
from bindery_stock.records.xlsx import xlsx_bytes
from bindery_stock.stock import StockPiece, Stockroom
from bindery_stock.stock.keeping.restore import backups, contents
from bindery_stock.stock.keeping.salvage import salvage
from bindery_stock.trade import Level, Rules, Use
from bindery_stock.trade.gate import Ruling
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import LengthStyle, Unit


def _tell(share: float, words: str) -> None:
    """How far it is, on a terminal only."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{share:4.0%}  {words}")
        sys.stderr.flush()


def _plain(value: Any) -> Any:
    """A value as JSON can hold it."""
    match value:
        case datetime() | date():
            return value.isoformat()
        case Decimal():
            return f"{value:f}"
        case Path():
            return str(value)
        case dict():
            return {key: _plain(one) for key, one in value.items()}
        case list() | tuple():
            return [_plain(one) for one in value]
    return value


def _show(asked: Namespace) -> CommandAnswer:
    with opened_to_read(asked.folder) as stockroom:
        held = contents(stockroom.folder / "stock.sqlite")
        notice = stockroom.notice
    words = (
        f"{held.on_shelf} pieces on the shelf, {held.lots} lots, {held.volumes} volumes, "
        f"{held.wants} wants. {held.steps} steps; the last: {held.last_step or 'none'}."
    )
    return CommandAnswer(words, _plain(asdict(held)) | {"notice": notice})


def _check(asked: Namespace) -> CommandAnswer:
    with opened_to_read(asked.folder) as stockroom:
        found = stockroom.keeping.check()
    data = {
        "sound": found.sound,
        "faults": list(found.faults),
        "orphans": list(found.orphans),
        "pieces": found.pieces,
        "photos": found.photos,
        "steps": found.steps,
    }
    looked = f"{found.pieces} pieces, {found.photos} photographs and {found.steps} steps"
    words = f"Sound: {looked}." if found.sound else "\n".join(("Not sound.", *found.faults))
    return CommandAnswer(words, data, found.sound)


def _back_up(asked: Namespace) -> CommandAnswer:
    with Stockroom.open(asked.folder) as stockroom:
        path = back_up(stockroom, reason=asked.reason)
    return CommandAnswer(f"Made {path}.", {"path": str(path)})


def _backups(asked: Namespace) -> CommandAnswer:
    found = backups(asked.folder.resolve())
    lines = [f"{one.at:%Y-%m-%d %H:%M} UTC  {one.reason}  step {one.step}" for one in found]
    data = {"backups": [_plain(asdict(one)) for one in found]}
    return CommandAnswer("\n".join(lines) or "There is no copy yet.", data)


def _restore(asked: Namespace) -> CommandAnswer:
    done = go_back(asked.folder.resolve(), copy=asked.copy.resolve(), at=system_clock())
    words = f"Went back to {asked.copy.name}; what was there is kept as {done.kept}."
    return CommandAnswer(words, {"kept": str(done.kept), "now": _plain(asdict(done.then))})


def _salvage(asked: Namespace) -> CommandAnswer:
    done = salvage(asked.folder.resolve(), system_clock())
    words = f"{done.words}\nGo back to it with: restore {asked.folder} {done.copy}"
    data = {"copy": str(done.copy), "kept": done.kept, "lost": list(done.lost)}
    return CommandAnswer(words, data)


def _export(asked: Namespace) -> CommandAnswer:
    to: Path = asked.to.resolve()
    _ending(asked.what, to)
    with opened_to_read(asked.folder) as stockroom:
        if asked.what == "archive":
            packed = pack(stockroom, to, system_clock(), tell=_tell)
            data = {"path": str(to), "counts": packed.counts, "missing": list(packed.missing)}
            return CommandAnswer(packed.words, data)
        if asked.what in PAPERS_OF_VOLUMES:
            return _paper(stockroom, asked, to)
        table = listing(Listing(asked.what), stockroom)
    write_whole(to, _list_bytes(table, to, asked))
    return CommandAnswer(
        f"Wrote {len(table.rows)} lines to {to}.", {"path": str(to)} | _table(table)
    )


def _paper(stockroom: Stockroom, asked: Namespace, to: Path) -> CommandAnswer:
    """The proposal or the record of one volume, as HTML."""
    if not asked.volume:
        raise EntryError("Volume", f"Volume: say whose {asked.what}, with --volume V-0001.")
    facts = treatment_record(stockroom, asked.volume, LengthStyle(Unit(asked.unit)))
    if asked.what == "proposal":
        page, title, missing = proposal_page(facts), proposal_title(facts), proposal_gaps(facts)
    else:
        page, title, missing = record_page(facts), facts.title, facts.missing
    write_whole(to, page.encode())
    return CommandAnswer(f"Wrote {title} to {to}.", {"path": str(to), "missing": list(missing)})


_ENDINGS = {"record": (".html", ".htm"), "proposal": (".html", ".htm"), "archive": (".zip",)}
_OF_LISTS = (".csv", ".txt", ".xlsx", ".json")


def _ending(what: str, to: Path) -> None:
    """Raise ``EntryError`` where a file of that ending would not be what it says."""
    may = _ENDINGS.get(what, _OF_LISTS)
    if to.suffix.lower() not in may:
        raise EntryError(
            "File",
            f"File: {to.name} should end in {' or '.join(may)}. PDFs are made in the window, "
            "under Records.",
        )


def _list_bytes(table: Table, to: Path, asked: Namespace) -> bytes:
    if to.suffix.lower() == ".xlsx":
        return xlsx_bytes(table, system_clock())
    if to.suffix.lower() == ".json":
        return json.dumps(_table(table), ensure_ascii=False, indent=1, allow_nan=False).encode()
    signs = Signs.SEMICOLON if asked.semicolon else Signs.COMMA
    return csv_bytes(table, CsvStyle(signs, mark=not asked.no_mark))


def _table(table: Table) -> dict[str, Any]:
    return {
        "title": table.title,
        "told": table.told,
        "columns": table.headings,
        "rows": _plain(table.rows),
    }


def _unpack(asked: Namespace) -> CommandAnswer:
    done = unpack(asked.archive, asked.folder.resolve(), tell=_tell)
    return CommandAnswer(done.words, _plain(asdict(done)))


def _match(asked: Namespace) -> CommandAnswer:
    width, height = asked.size
    part = matching.Part(
        width,
        height,
        asked.lab,
        margin=asked.margin,
        tolerance=asked.up_to,
        kind=Kind(asked.kind),
        pattern=asked.pattern,
        shown=asked.lab is not None,
        name="the part",
    )
    with opened_to_read(asked.folder) as stockroom:
        pieces = {piece.code: piece for piece in stockroom.pieces.listed()}
        use = Use(asked.use) if asked.use else None
        judge = Judge(stockroom.today, stockroom.rules, use)
        hoard = hoard_of(pieces.values(), reserved=asked.reserved)
        answer = answered(part, hoard, pieces, judge, limit=asked.limit, near=5)
        maps = ColourMaps.of_room(stockroom)
        seen = {one.code: maps.of(pieces[one.code]) for one in answer.ranking.matches}
    # As the window lays them; where no map tells, each stays where it fits.
    ranking = (
        placed_best(answer.ranking, colour_map_of=seen.get)
        if any(seen.values())
        else (answer.ranking)
    )
    rulings = answer.rulings
    found = [
        _match_data(one, pieces[one.code], rulings[one.code], judge.rules)
        for one in ranking.matches
    ]
    near = [
        {"code": one.code, "lacks": one.lack}
        | (_ruling_data(rulings[one.code]) if one.against else {})
        for one in ranking.near_misses
    ]
    lines = [_match_line(one, rulings[one["code"]]) for one in found]
    lines += [
        f"{one.code}  {ruling_line(rulings[one.code])}"
        for one in ranking.near_misses
        if found and one.against
    ]
    if not found:
        lines = ["No piece serves.", *(f"{one['code']}  {one['lacks']}" for one in near)]
    note = order_note(ranking)
    data = {"size_mm": [width, height], "matches": found, "near_misses": near, "note": note}
    return CommandAnswer("\n".join([*lines, *([note] if note else [])]), data, bool(found))


def _ruling_data(said: Ruling) -> dict[str, Any]:
    """What the gate will say to reserving or cutting a piece."""
    return {
        "ruling": said.leave.value,
        "objections": [
            {
                "leave": one.leave.value,
                "rule": one.rule,
                "mark": one.provenance.mark.value,
                "reason": one.reason,
                "would_change": one.would_change,
            }
            for one in said.objections
        ],
    }


def _match_data(
    one: matching.Match, piece: StockPiece, said: Ruling, rules: Rules
) -> dict[str, Any]:
    grave = [hazard for hazard in cautions(piece, rules) if hazard.level is not Level.INFO]
    return {
        "code": one.code,
        "delta_e00": one.delta_e,
        "u": one.u,
        "under_the_part": one.alone is not None,
        "worst_tenth": one.under.worst if one.under and one.alone is not None else None,
        "delta_e00_by_itself": one.delta_e if one.alone is None else one.alone,
        "words": one.words,
        "tie": one.tie,
        "face": one.face,
        "turn": one.placement.turn,
        "corners_mm": _plain(one.placement.corners),
        "place": piece.place,
        "cautions": [headline(hazard) for hazard in grave],
    } | _ruling_data(said)


def _match_line(one: dict[str, Any], said: Ruling) -> str:
    """``C-0015  ΔE00 7.3 ± 1.2, another colour  Plan chest, drawer 1  △ Caution: …``."""
    told = str(one["words"])
    if one["delta_e00"] is not None:
        band = "" if one["u"] is None else f" ± {one['u']:.1f}"
        where = " under the part" if one["under_the_part"] else ""
        told = f"ΔE00 {one['delta_e00']:.1f}{band}{where}, {one['words']}"
    parts = (one["code"], told, one["place"], ruling_line(said), *one["cautions"])
    return "  ".join(part for part in parts if part)


ANSWERS: dict[str, Callable[[Namespace], CommandAnswer]] = {
    "show": _show,
    "check": _check,
    "back-up": _back_up,
    "backups": _backups,
    "restore": _restore,
    "salvage": _salvage,
    "export": _export,
    "unpack": _unpack,
    "match": _match,
    "share": share_out,
}
"""Each command by its name."""
