"""The Match place: a part held against the shelf."""
