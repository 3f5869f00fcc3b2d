"""A photograph to mark: the canvas, its line of words, and the tools every screen shares."""
