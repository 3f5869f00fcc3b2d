"""Tips, the one way: what the binder typed is shown as it was typed, never taken for markup.

Qt shows a tip as rich text as soon as its words look like it; a name with ``<`` in it would draw
pictures or lose letters. Whatever is not written out in the source goes through ``plain_tip``.
"""

from markupsafe import Markup
from PySide6.QtGui import Qt

_ONE_LINE = 100
"""Characters; Qt never breaks a longer line of a tip, and the screen ends somewhere."""


def plain_tip(words: str) -> str:
    """The words for a tip, which shows them letter for letter, long lines broken.

    Short words without markup come back as they are.
    """
    longest = max((len(line) for line in words.splitlines()), default=0)
    if longest <= _ONE_LINE and not Qt.mightBeRichText(words):
        return words
    return Markup('<p style="white-space: pre-wrap">{}</p>').format(words)
