"""Telling what the columns of a stranger's table hold: names first, then physics."""
