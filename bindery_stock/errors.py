"""Everything that can go wrong in a way the binder can mend.

Each error's text is one plain sentence or two: what went wrong, with which thing, and how to mend
it. It is shown to the user as it stands. Whatever is not one of these is a fault of the program.

::

    BinderyError
    ├── EntryError        something typed cannot be used (carries the field's name)
    ├── PhotoError        a file cannot be read as a photograph
    ├── ColourError       a colour cannot be measured or is out of range
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
        ├── Barred            a lot is past its life or unfit for a use; a written reason passes
        ├── WetWorkStopped    water would free what is harmful in a piece
        └── UndoRefused       something later rests on the step (names it)
"""


class BinderyError(Exception):
    """The root of the family. ``str(error)`` is a sentence for the user."""


class EntryError(BinderyError):
    """Something typed cannot be used.

    ``field`` names the entry as the user sees it, for example ``"Width"``.
    """

    def __init__(self, field: str, sentence: str) -> None:
        """Name the field and say what is wrong and how to mend it."""
        super().__init__(sentence)
        self.field = field


class PhotoError(BinderyError):
    """A file cannot be read as a photograph."""


class ColourError(BinderyError):
    """A colour cannot be measured, or is out of range."""


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


class WetWorkStopped(StockError):  # noqa: N818
    """Water, paste or a damp poultice would free what is harmful in a piece."""


class UndoRefused(StockError):  # noqa: N818
    """A step cannot be taken back because something later rests on it."""
