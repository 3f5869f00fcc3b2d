"""The windows. The only room that knows Qt."""
