"""Deckward: plan, measure and explain carrier recoveries flown in simulation.

Inside: SI and radians. Frames, signs and words are in ``docs/``. For simulation and
training study only; real operations follow their own manuals, the ship's bulletins and
licensed people.
"""

from __future__ import annotations

TYPE_CHECKING = False  # type checkers read it as true; the real one would import typing
if TYPE_CHECKING:
    from deckward.workflow import Cards, Debrief, Studied, debrief, plan, study

__version__ = "0.1.0"
__all__ = ["Cards", "Debrief", "Studied", "__version__", "debrief", "plan", "study"]


def __getattr__(name: str):
    """Import a job only when it is asked for: the command line starts without it."""
    if name in __all__:
        from deckward import workflow

        return getattr(workflow, name)
    raise AttributeError(f"module 'deckward' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
