"""Colours taken from photographs and instruments, on whatever screen they are wanted."""
