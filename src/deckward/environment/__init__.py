"""Atmosphere, wind and wind over deck, turbulence, the carrier's airwake, the sea and the deck's motion."""
