"""The sample stockroom: an invented hoard, its rendered photographs and its builder."""
