"""Jobs that take more than one room: shelve a photograph, match a part, cut a piece. No Qt."""
