"""Deckward: plan, measure and explain carrier recoveries flown in simulation.

Inside: SI and radians. Frames, signs and words are in ``docs/``. For simulation and
training study only; real operations follow their own manuals, the ship's bulletins and
licensed people.
"""

__version__ = "0.1.0"
