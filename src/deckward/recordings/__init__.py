"""Reading flight recordings: the only part that parses flight files."""
