"""The rulebook, deviations and the grade: what happened, nothing of why."""
