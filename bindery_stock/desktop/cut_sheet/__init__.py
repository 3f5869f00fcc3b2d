"""The cut sheet: a piece, the parts laid on it, and what goes back on the shelf."""
