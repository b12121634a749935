"""Atmosphere, wind and wind over deck."""
