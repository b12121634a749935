"""A working folder with one approach in it."""

from support.approach import approach, desk

__all__ = ["approach", "desk"]
