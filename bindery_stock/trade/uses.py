"""What a binder uses stock for, and the words a verdict may take."""

from enum import StrEnum


class Use(StrEnum):
    """A use that a verdict is given for."""

    SPINE_LINING = "spine lining"
    CLOTH_TO_BOARD = "cloth to board"
    MENDING = "mending paper"
    TIPPING = "tipping in and guards"
    CONSOLIDATING = "consolidating"
    LEATHER = "leather"
    LABEL = "label"
    HIDDEN = "hidden structure"
    BOX = "box making"
    PHOTO = "beside photographs"


class Grade(StrEnum):
    """The word of a verdict, from good to bad."""

    SUITABLE = "suitable"
    CARE = "use with care"
    TEST = "cannot tell: test this"
    NOT = "not for conservation"


class Weight(StrEnum):
    """What one rule says, from slight to grave; the gravest wins."""

    INFO = "info"
    SUITABLE = "suitable"
    CARE = "care"
    TEST = "test"
    NOT = "no"
    BLOCK = "block"

    @property
    def rank(self) -> int:
        """Larger is graver."""
        return list(Weight).index(self)

    @property
    def grade(self) -> Grade:
        """The word it gives a verdict; a block bars conservation use outright."""
        return _GRADES[self]


_GRADES = {
    Weight.INFO: Grade.SUITABLE,
    Weight.SUITABLE: Grade.SUITABLE,
    Weight.CARE: Grade.CARE,
    Weight.TEST: Grade.TEST,
    Weight.NOT: Grade.NOT,
    Weight.BLOCK: Grade.NOT,
}
