"""What leaves the program and what comes back: labels, lists, records, archives, backups."""
