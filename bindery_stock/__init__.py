"""Bindery Stock: the stockroom of a person who repairs cloth-bound books by hand.

The rooms, from the inside outward (nothing imports a room further out):

``colour``, ``shape``, ``trade``
    numbers and rules only: pixels to CIELAB, outlines in millimetres, what a binder knows.
``stock``, ``matching``
    what is kept on disk; which piece serves which part. Neither knows the other.
``records``
    what leaves the program: sentences, lists, labels.
``bench``
    jobs that need two rooms at once: shelve a photograph, match a part, cut a piece.
``desktop``
    the windows. The only room that knows Qt.
"""

__version__ = "0.1.0"
