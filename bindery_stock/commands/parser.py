"""What can be asked on the command line, and how it is written."""

import argparse
import re
from pathlib import Path

from bindery_stock.bench.books.share_prices import PRICES, priced
from bindery_stock.bench.exchange.lists import Listing
from bindery_stock.colour.space import check_lab
from bindery_stock.commands.names import COMMANDS, PAPERS_OF_VOLUMES
from bindery_stock.errors import BinderyError
from bindery_stock.matching import ANOTHER_COLOUR, Prices
from bindery_stock.trade import Use
from bindery_stock.trade.vocabulary import Kind
from bindery_stock.units import Unit, parse_length

EXIT_CODES = """exit codes:
  0    done
  1    done, and the answer is no: the stockroom is not sound, or no piece serves
  2    the call is wrong
  3    refused: damaged, in use, not found, no room …; the reason stands on the error stream
  130  interrupted; nothing half done is left
"""


def parser() -> argparse.ArgumentParser:
    """The parser of every command."""
    made = argparse.ArgumentParser(
        prog="bindery-stock",
        description="Work with a stock folder from a script.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = made.add_subparsers(dest="command", required=True, metavar="command")

    def command(name: str) -> argparse.ArgumentParser:
        words = COMMANDS[name]
        one = commands.add_parser(
            name, help=words, description=f"{words[0].upper()}{words[1:]}.", epilog=EXIT_CODES,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )  # fmt: skip
        one.add_argument("--json", action="store_true", help="answer with one JSON object")
        return one

    def on_folder(name: str) -> argparse.ArgumentParser:
        one = command(name)
        one.add_argument("folder", type=Path, help="the stock folder")
        return one

    on_folder("show")
    on_folder("check")
    on_folder("back-up").add_argument(
        "--reason", default="asked", help="goes into the copy's name (default: asked)"
    )
    on_folder("backups")
    on_folder("restore").add_argument("copy", type=Path, help="a file from the backups folder")
    on_folder("salvage")
    _export(on_folder("export"))
    unpack = command("unpack")
    unpack.add_argument("archive", type=Path, help="the file the stockroom was saved in")
    unpack.add_argument("folder", type=Path, help="a new or empty folder")
    _match(on_folder("match"))
    _share(on_folder("share"))
    return made


def _export(made: argparse.ArgumentParser) -> None:
    made.add_argument(
        "what", metavar="what",
        choices=[*(one.value for one in Listing), *PAPERS_OF_VOLUMES, "archive"],
        help=f"a list ({', '.join(one.value for one in Listing)}), record, proposal or archive",
    )  # fmt: skip
    made.add_argument(
        "to", type=Path,
        help="the file: .csv, .xlsx or .json for a list, .html for a record or a proposal, "
        ".zip for an archive. PDFs are made in the window",
    )  # fmt: skip
    made.add_argument(
        "--volume", default="", help="for a record or a proposal: code of the volume, V-0001"
    )
    made.add_argument(
        "--unit", choices=[unit.value for unit in Unit], default=Unit.MM.value,
        help="for a record or a proposal: the unit of its lengths (default: mm)",
    )  # fmt: skip
    made.add_argument(
        "--semicolon", action="store_true", help="CSV with semicolons and decimal commas"
    )
    made.add_argument(
        "--no-mark", action="store_true", help="CSV without a byte order mark at its start"
    )


def _match(made: argparse.ArgumentParser) -> None:
    made.add_argument(
        "--size", type=size, required=True, metavar="WIDTHxHEIGHT",
        help="across and along the warp: 58x228 (mm), 2 1/4 in x 9 in",
    )  # fmt: skip
    made.add_argument(
        "--lab", type=lab, metavar="L,a,b", help="the colour sought, CIELAB D50/2°: 38.2,44.9,-3"
    )
    kinds = [kind.value for kind in Kind]
    made.add_argument(
        "--kind", choices=kinds, default=Kind.CLOTH.value, metavar="KIND",
        help=f"of what (default: cloth): {', '.join(kinds)}",
    )  # fmt: skip
    uses = [use.value for use in Use]
    made.add_argument(
        "--use", choices=uses, metavar="USE",
        help=f"what it is for, so that the rules can say whether it is fit: {', '.join(uses)}",
    )  # fmt: skip
    made.add_argument("--pattern", default="", help="the grain pattern it must have")
    made.add_argument(
        "--margin", type=length, default=1.0, metavar="LENGTH",
        help="least distance to edges and flaws (default: 1 mm)",
    )  # fmt: skip
    made.add_argument(
        "--up-to", type=shade, metavar="ΔE00",
        help=f"no colour further off than this (default: {ANOTHER_COLOUR:g}, beyond which it is "
        "another colour)",
    )  # fmt: skip
    made.add_argument("--reserved", action="store_true", help="take in what is reserved too")
    made.add_argument(
        "--limit", type=count, default=10, metavar="N", help="at most so many (default: 10)"
    )


def _share(made: argparse.ArgumentParser) -> None:
    made.add_argument(
        "--set", default="", metavar="CODE", help="the set, S-0001 (default: volumes of no set)"
    )
    made.add_argument(
        "--seconds", type=seconds, default=30.0, metavar="N", help="to search for (default: 30)"
    )
    own = ", ".join(f"{one.option}={getattr(Prices(), one.key):g}" for one in PRICES)
    made.add_argument(
        "--price", type=price, action="append", default=[], metavar="NAME=VALUE",
        help=f"what counts, in ΔE00 of a spine wholly seen; may be given again (default: {own})",
    )  # fmt: skip
    made.add_argument(
        "--to-come", type=count, default=0, metavar="N",
        help="volumes not surveyed yet, for which cloth is kept free",
    )  # fmt: skip
    made.add_argument("--spare", action="store_true", help="keep cloth for a spare strip, too")
    made.add_argument(
        "--reason", default="", help="written for cloth that the rules let pass only with one"
    )


def price(text: str) -> str:
    """One price, as ``jump=0.5``."""
    try:
        priced([text])
    except BinderyError as error:
        raise argparse.ArgumentTypeError(str(error)) from error
    return text


def seconds(text: str) -> float:
    """A time; none gives the plan that is made at once."""
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0.0 <= found <= 86_400.0:
        raise argparse.ArgumentTypeError(f"“{text}” is no time; write seconds, 0 to 86400")
    return found


def length(text: str) -> float:
    """A length in mm; zero is one too."""
    try:
        return parse_length(text, allow_zero=True)
    except BinderyError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def size(text: str) -> tuple[float, float]:
    """Width and height in mm."""
    parts = re.split(r"\s*[x×]\s*", text.strip())
    if len(parts) != 2:
        raise argparse.ArgumentTypeError(f"“{text}” is no size; write 58x228")
    try:
        return (
            parse_length(parts[0], field="Width"),
            parse_length(parts[1], field="Height"),
        )
    except BinderyError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def shade(text: str) -> float:
    """A difference of colour; zero is one too."""
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0.0 <= found <= 100.0:
        raise argparse.ArgumentTypeError(f"“{text}” is no ΔE00; write 0 to 100")
    return found


def count(text: str) -> int:
    """A number of things, one at least."""
    if not text.isdecimal() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"“{text}” is no number; write 1 or more")
    return int(text)


def lab(text: str) -> tuple[float, float, float]:
    """A colour as three figures between commas."""
    try:
        lightness, a, b = (float(part) for part in text.split(","))
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"“{text}” is no colour; write 38.2,44.9,-3") from error
    try:
        return check_lab((lightness, a, b))
    except BinderyError as error:
        raise argparse.ArgumentTypeError(str(error)) from error
