"""The shelf: the hoard to scale, the same pieces as a table, and the sheet of the chosen one."""
