"""The Adhesives place: lots, what is wanted, old finds."""
