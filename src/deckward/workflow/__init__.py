"""One function for each thing a person asks for."""
