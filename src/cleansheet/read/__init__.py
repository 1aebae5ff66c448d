"""Reading: from the words of a note to what they say, each at its place."""
