"""The way in: ``bindery-stock`` or ``python -m bindery_stock``.

What can keep a window from opening is looked for here, before Qt is loaded: Qt itself would end
the process with a core dump and a page of text.
"""

import argparse
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from bindery_stock import __version__, commands

EXIT_OK = 0
EXIT_CANNOT_START = 2
EXIT_INTERRUPTED = 130

_X11_PORT = 6000


def main(arguments: Sequence[str] | None = None) -> int:
    """Open the desktop, or run a command for a script.

    Returns 0, or 2 with one sentence where no window can be opened; commands have exit codes of
    their own (``bindery-stock check --help``).
    """
    # Numerical libraries wake a thread for every small sum unless told not to.
    for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(variable, "1")
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        if given[:1] and given[0] in commands.NAMES:
            return commands.run(given)
    except KeyboardInterrupt:  # while the program was still being loaded
        sys.stderr.write("bindery-stock: interrupted\n")
        return EXIT_INTERRUPTED
    if given[:1] == ["open"]:
        given = given[1:]
    asked = _parser().parse_args(given)
    # A bare word that is no folder is a command mistyped; a longer path is told in the window.
    if asked.folder is not None and not asked.folder.exists() and len(asked.folder.parts) == 1:
        return _refuse(
            f"There is no folder and no command “{asked.folder}”; see bindery-stock --help."
        )
    hindrance = display_hindrance(os.environ, sys.platform)
    if hindrance:
        return _refuse(hindrance)
    try:
        from bindery_stock.desktop.app import run  # noqa: PLC0415 - Qt loads only from here on
    except ImportError as error:
        return _refuse(
            f"The window system's libraries are not complete ({error}); "
            "install the packages named in README.md and try again."
        )
    return run(folder=asked.folder, sample=asked.sample)


def _parser() -> argparse.ArgumentParser:
    listed = "\n".join(f"  {name:9}{words}" for name, words in commands.COMMANDS.items())
    parser = argparse.ArgumentParser(
        prog="bindery-stock",
        description="The stockroom of a person who repairs cloth-bound books by hand.",
        usage="%(prog)s [open] [folder] [--sample]\n       %(prog)s command … --help",
        epilog=f"commands for scripts, which open no window:\n{listed}\n\n"
        "Each tells more with --help, its exit codes too; --json answers with one JSON object.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "folder", nargs="?", type=Path, help="the stock folder to open; else the last one"
    )
    parser.add_argument(
        "--sample", action="store_true", help="open a fresh working copy of the sample stockroom"
    )
    parser.add_argument("--version", action="version", version=f"Bindery Stock {__version__}")
    return parser


def _refuse(sentence: str) -> int:
    sys.stderr.write(f"bindery-stock: {sentence}\n")
    return EXIT_CANNOT_START


def display_hindrance(environment: Mapping[str, str], platform: str) -> str:
    """Why no window can be opened here, as one sentence, or empty where one can.

    Only X11 and Wayland are looked at: elsewhere a display is taken for granted.
    """
    if not platform.startswith(("linux", "freebsd")):
        return ""
    if environment.get("QT_QPA_PLATFORM", "").split(":")[0] in ("offscreen", "minimal", "vnc"):
        return ""
    wayland, x11 = environment.get("WAYLAND_DISPLAY", ""), environment.get("DISPLAY", "")
    if not wayland and not x11:
        return (
            "There is no display to open a window on; start it from a desktop session, "
            "or set DISPLAY or WAYLAND_DISPLAY."
        )
    runtime = environment.get("XDG_RUNTIME_DIR", "")
    if wayland and _answers_unix(str(Path(runtime) / wayland)):
        return ""
    if x11 and _x11_answers(x11):
        return ""
    return f"The display {x11 or wayland} does not answer; check that its server is running."


def _x11_answers(display: str) -> bool:
    import socket  # noqa: PLC0415 - at first use

    host, _, rest = display.rpartition(":")
    number = rest.split(".")[0]
    if not number.isdigit():
        return False
    if host in ("", "unix"):
        path = f"/tmp/.X11-unix/X{number}"
        return _answers_unix(path) or _answers_unix("\0" + path)
    try:
        socket.create_connection((host, _X11_PORT + int(number)), timeout=3).close()
    except OSError:
        return False
    return True


def _answers_unix(path: str) -> bool:
    import socket  # noqa: PLC0415 - at first use

    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as line:
            line.settimeout(3)
            line.connect(path)
    except OSError:
        return False
    return True


if __name__ == "__main__":
    sys.exit(main())
