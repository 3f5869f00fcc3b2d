"""Where a fact comes from: its mark, its sources, and the file and line that state it."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path


class Mark(StrEnum):
    """How far a stated fact can be trusted; shown beside every figure."""

    PUBLISHED = "published"
    STANDARD = "standard, from memory"
    COMMON = "common practice"
    MEMORY = "from memory"
    PROPOSED = "proposed"
    COMPUTED = "computed"
    MEASURED = "measured"
    OWN = "own rule"

    @property
    def words(self) -> str:
        """The mark as it stands beside a figure."""
        return _MARK_WORDS[self]


_MARK_WORDS = {
    Mark.PUBLISHED: "published",
    Mark.STANDARD: "published standard or paper, quoted from memory: check a copy",
    Mark.COMMON: "common practice, no source: a default, not a standard",
    Mark.MEMORY: "from memory, no source: a default, not a standard",
    Mark.PROPOSED: "proposed by this program, no source: a default, not a standard",
    Mark.COMPUTED: "computed from the measurements",
    Mark.MEASURED: "measured on the book",
    Mark.OWN: "your own rule",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A published work, standard or dated note that a fact rests on."""

    key: str
    citation: str
    seen: str = ""
    """How much of it was read: ``excerpt``, ``abstract``, ``second-hand`` …"""


@dataclass(frozen=True, slots=True)
class Origin:
    """The rules file and line on which an entry stands."""

    file: Path
    line: int

    def __str__(self) -> str:
        """``paste.toml, line 12``."""
        return f"{self.file.name}, line {self.line}"


@dataclass(frozen=True, slots=True)
class Provenance:
    """What stands beside a fact: mark, sources, caveat, and which file said so."""

    mark: Mark
    sources: tuple[Source, ...] = ()
    caveat: str = ""
    origin: Origin | None = None
    overrides: Origin | None = None
    """The entry of an earlier file that this one replaces."""

    @property
    def words(self) -> str:
        """Mark, citations, caveat and, where a user's file overrides, which file it was."""
        return self._words([source.citation for source in self.sources])

    @property
    def read_words(self) -> str:
        """The same with how much of each work was read: an excerpt is not the whole."""
        return self._words(
            [
                f"{source.citation} (read: {source.seen})" if source.seen else source.citation
                for source in self.sources
            ]
        )

    def _words(self, citations: list[str]) -> str:
        text = self.mark.words
        if citations:
            text += ": " + "; ".join(citations)
        if self.caveat:
            text += f" ({self.caveat})"
        if self.overrides is not None and self.origin is not None:
            text += f" [{self.origin}, in place of {self.overrides}]"
        return text
