"""The date of a cloth as someone wrote it, read as a range of years without pretending to know.

``1868``, ``c. 1850``, ``1840s``, ``mid-19th century``, ``1868–9``, ``MDCCCLXVIII``,
``before 1850``, ``new``. The widths given to *circa* and to early, mid and late are conventions of
this program, wide on purpose, because the range is only ever used to raise a caution.
"""

import re
from dataclasses import dataclass

CIRCA_YEARS = 10
"""How far *c.* reaches either way (proposed; cataloguing rules fix no figure)."""
NEW_SINCE = 2000
"""Cloth marked as bought new is taken to be made from this year on (proposed)."""

_CENTURY_PARTS = {"early": (0, 40), "mid": (30, 70), "late": (60, 100), "": (0, 100)}
_ORDINALS = {"seventeenth": 17, "eighteenth": 18, "nineteenth": 19, "twentieth": 20}
_NAMED = {"victorian": (1837, 1901), "regency": (1811, 1820), "edwardian": (1901, 1910)}
_NEW = frozenset({"new", "modern", "bought new", "new cloth", "present day"})
_MONTH = r"(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec|christmas|michaelmas)[a-z]*\.?"
_CIRCA = re.compile(r"^(?:c\.?|ca\.?|circa|about|abt\.?|around|approx\.?)\s*(?=\d)")
_YEAR = re.compile(rf"^(?:(?:\d{{1,2}}\s+)?{_MONTH},?\s+)?(?P<year>1[4-9]\d\d|20\d\d)\s*$")
_ISO = re.compile(r"^(?P<year>1[4-9]\d\d|20\d\d)-\d\d-\d\d$")
_DECADE = re.compile(r"^(?P<decade>1[4-9]\d|20\d)0['’]?s$")
_SPAN = re.compile(
    r"^(?P<first>1[4-9]\d\d|20\d\d)(?P<s1>['’]?s)?\s*(?:-|/|to|and)\s*(?P<last>\d{1,4})(?P<s2>['’]?s)?$"
)
_CENTURY = re.compile(
    r"^(?:(?P<part>early|mid|middle|late)[\s-]*)?(?:the\s+|of the\s+)?"
    r"(?:(?P<n>1[5-9]|20|21)(?:st|nd|rd|th)|(?P<word>\w+teenth|twentieth))[\s-]*"
    r"(?:century|cent\.?|c\.?)$"
)
_ROMAN = re.compile(r"^m{1,2}(?:cm|cd|d?c{0,4})(?:xc|xl|l?x{0,4})(?:ix|iv|v?i{0,4})\.?$")
_BOUND = re.compile(r"^(?P<side>before|by|after|from|since)\s+(?P<year>1[4-9]\d\d|20\d\d)$")


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A written date as the years it may mean, both ends included; ``None`` is an open end."""

    text: str
    earliest: int | None
    latest: int | None
    words: str
    """How it was understood, for the screen."""

    @property
    def known(self) -> bool:
        """Whether anything at all could be read."""
        return self.earliest is not None or self.latest is not None

    def may_fall_within(self, first: int, last: int) -> bool:
        """Whether a year from ``first`` to ``last`` is possible; an unknown date may be any."""
        return (self.earliest is None or self.earliest <= last) and (
            self.latest is None or self.latest >= first
        )


def read_date(text: str) -> WrittenDate:
    """Read a written date. What cannot be read is unknown, and its words say so."""
    plain = _plain(text)
    if not plain or plain in {"n.d.", "n.d", "nd", "undated", "no date", "unknown", "?"}:
        return WrittenDate(text, None, None, "no date recorded")
    years = _range(plain)
    if years is None:
        return WrittenDate(
            text, None, None, f"“{text.strip()}” could not be read as a date: treated as unknown"
        )
    earliest, latest = years
    if earliest is not None and latest is not None and earliest > latest:
        return WrittenDate(text, None, None, f"“{text.strip()}” runs backwards: treated as unknown")
    return WrittenDate(text, earliest, latest, _words(text.strip(), earliest, latest))


def _plain(text: str) -> str:
    plain = text.strip().lower().translate(str.maketrans("–—−‑", "----"))
    plain = plain.strip("[]() ")
    return re.sub(r"\s+", " ", plain)


def _range(plain: str) -> tuple[int | None, int | None] | None:
    if plain in _NEW:
        return NEW_SINCE, None
    if plain in _NAMED:
        return _NAMED[plain]
    if bound := _BOUND.match(plain):
        year = int(bound["year"])
        side = bound["side"]
        return {
            "before": (None, year - 1),
            "by": (None, year),
            "after": (year + 1, None),
            "from": (year, None),
            "since": (year, None),
        }[side]
    circa = _CIRCA.match(plain)
    doubtful = plain.endswith("?")
    core = _CIRCA.sub("", plain).rstrip("?").strip(" []")
    found = _exact_range(core)
    if found is not None and (circa or doubtful):
        return found[0] - CIRCA_YEARS, found[1] + CIRCA_YEARS
    return found


def _exact_range(core: str) -> tuple[int, int] | None:
    if year := (_YEAR.match(core) or _ISO.match(core)):
        return int(year["year"]), int(year["year"])
    if decade := _DECADE.match(core):
        first = int(decade["decade"]) * 10
        return (first, first + 99) if first % 100 == 0 else (first, first + 9)
    if span := _SPAN.match(core):
        start, end = span["first"], span["last"]
        full = int(start[: 4 - len(end)] + end)
        return int(start), full + (9 if span["s2"] else 0)
    if century := _CENTURY.match(core):
        return _century(century)
    if len(core) > 1 and _ROMAN.match(core):
        year_number = _roman(core.rstrip("."))
        return year_number, year_number
    return None


def _century(found: re.Match[str]) -> tuple[int, int] | None:
    number = int(found["n"]) if found["n"] else _ORDINALS.get(found["word"], 0)
    if not number:
        return None
    part = (found["part"] or "").replace("middle", "mid")
    first, last = _CENTURY_PARTS[part]
    start = (number - 1) * 100
    return start + first, start + last


def _roman(numeral: str) -> int:
    worth = {"m": 1000, "d": 500, "c": 100, "l": 50, "x": 10, "v": 5, "i": 1}
    values = [worth[letter] for letter in numeral]
    later = [*values[1:], 0]
    return sum(-v if v < n else v for v, n in zip(values, later, strict=True))


def _words(text: str, earliest: int | None, latest: int | None) -> str:
    if earliest is None:
        return f"“{text}”: {latest} or earlier"
    if latest is None:
        return f"“{text}”: {earliest} or later"
    if earliest == latest:
        return f"{earliest}"
    return f"“{text}”: taken as {earliest} to {latest}"
