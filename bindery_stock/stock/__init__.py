"""The stockroom on disk. The only room that knows SQL."""
