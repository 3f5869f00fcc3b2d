"""Everything that can go wrong in a way the binder can mend.

Each error's text is one plain sentence or two: what went wrong, with which thing, and how to mend
it. It is shown to the user as it stands. Whatever is not one of these is a fault of the program.

::

    BinderyError
    ├── EntryError        something typed cannot be used (carries the field's name)
    │   └── Unchanged         all is so already; a step tells so by its ``Changes``
    ├── PhotoError        a file cannot be read as a photograph
    ├── ColourError       a colour cannot be measured or is out of range
    │   └── ReferenceRefused  a card or target by which no colour may be read
    ├── ShapeError        an outline, scale or size makes no sense
    ├── RulesError        a rules file is wrong (names file and line)
    └── StockError        the stockroom refuses
        ├── NotAStockroom     the folder or file is not one of ours
        ├── NewerStockroom    written by a newer version
        ├── StockroomInUse    another window has it open for writing
        ├── ReadOnly          it was opened for reading only
        ├── DamagedStockroom  the database fails its checks
        ├── DiskTrouble       no room, no permission, unplugged
        ├── NotFound          no such piece, lot, photograph
        ├── Barred            past its life or unfit for a use; a written reason lets it pass
        ├── AlreadyShelved    a photograph shows a piece already (names it); may be gone on with
        ├── Stopped           the rules forbid it; nothing lets it pass
        └── UndoRefused       something later rests on the step (names it)
"""


class BinderyError(Exception):
    """The root of the family. ``str(error)`` is a sentence for the user.

    ``field`` names the entry it is about as the user sees it, for example ``"Width"``; it is empty
    where it is about no one entry.
    """

    def __init__(self, sentence: str = "", *, field: str = "") -> None:
        """Say what is wrong and how to mend it."""
        super().__init__(sentence)
        self.field = field


class EntryError(BinderyError):
    """Something typed cannot be used: an error that always names its entry."""

    def __init__(self, field: str, sentence: str) -> None:
        """Name the field and say what is wrong and how to mend it."""
        super().__init__(sentence, field=field)


class Unchanged(EntryError):  # noqa: N818 - the family names what is the case
    """All is so already, so there was nothing to change."""

    def __init__(self, sentence: str) -> None:
        """Say what is so already."""
        super().__init__("Correction", sentence)


class PhotoError(BinderyError):
    """A file cannot be read as a photograph."""


class ColourError(BinderyError):
    """A colour cannot be measured, or is out of range."""


class ReferenceRefused(ColourError):  # noqa: N818 - the family names what is the case
    """A grey card or a target by which no colour may be read: no number is better than a wrong one.

    The photograph can still be kept, and the cloth's colour family said by eye.
    """


class ShapeError(BinderyError):
    """An outline, a scale or a size makes no sense."""


class RulesError(BinderyError):
    """A rules file is wrong; the sentence names the file and the line."""


class StockError(BinderyError):
    """The stockroom refuses."""


class NotAStockroom(StockError):  # noqa: N818 - the family names what is the case
    """The folder or file is not a stockroom of ours."""


class NewerStockroom(StockError):  # noqa: N818
    """The stockroom was written by a newer version of the program."""


class StockroomInUse(StockError):  # noqa: N818
    """Another window has the stockroom open for writing."""


class ReadOnly(StockError):  # noqa: N818
    """The stockroom was opened for reading only."""


class DamagedStockroom(StockError):  # noqa: N818
    """The database fails its checks."""


class DiskTrouble(StockError):  # noqa: N818
    """The disk is full, not writable or gone."""


class NotFound(StockError):  # noqa: N818
    """No such piece, lot or photograph."""


class Barred(StockError):  # noqa: N818
    """A lot is out of date, spoilt or unfit for the use. Going on takes a written reason."""


class AlreadyShelved(StockError):  # noqa: N818
    """A photograph shows a piece already. It may show another scrap too, so going on is allowed."""

    def __init__(self, sentence: str, codes: tuple[str, ...]) -> None:
        """Name the pieces it shows, as the stockroom has them."""
        super().__init__(sentence)
        self.codes = codes


class Stopped(StockError):  # noqa: N818
    """The rules forbid it, and no written reason lets it pass."""


class UndoRefused(StockError):  # noqa: N818
    """A step cannot be taken back because something later rests on it."""
