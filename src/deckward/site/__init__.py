"""A ship or a field: landing area, ramp, wires, lens, and how it moves."""
