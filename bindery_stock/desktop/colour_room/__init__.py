"""The Colour place: how far a photograph's colours can be trusted, and cloths held side by side."""
