"""Numbers of things in words."""


def counted(number: int, noun: str, plural: str = "") -> str:
    """``1 piece``, ``12 pieces``."""
    return f"{number} {noun if number == 1 else plural or f'{noun}s'}"
