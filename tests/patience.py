"""How long a test waits before it holds that something will never come.

A test ends when what it waits for has come, so a long patience costs nothing where all is well. It
is long because the machine may have ten other things to do; a test names no time of its own.
"""

PATIENCE = 600.0
"""Seconds for a child process, another thread, or anything the window does."""
