"""From a marked photograph to a piece on the shelf."""
