"""The hoard: finding, laying out and telling of pieces."""
