"""The commands by name, each in a few words. Nothing here loads what a command needs."""

COMMANDS = {
    "show": "say what a stockroom holds",
    "check": "look at everything: pages, references, ledger, photographs",
    "back-up": "make a checked copy of the database",
    "backups": "list the copies there are, newest first",
    "restore": "go back to a copy; what is there now is kept",
    "salvage": "write a sound copy of what can be read of a damaged stockroom",
    "export": "write a list, a proposal, a treatment record or the whole stockroom",
    "unpack": "lay out a saved stockroom in a new folder",
    "match": "find the pieces a part can be cut from, closest first",
    "share": "share the shelf out over a set; nothing is reserved",
}
PAPERS_OF_VOLUMES = ("record", "proposal")
"""What is exported of one volume."""
NAMES = tuple(COMMANDS)
