"""Angles in radians. Only :func:`difference` subtracts headings."""

from __future__ import annotations

import numpy as np

TURN = 2.0 * np.pi


def wrap(angle):
    """Bring an angle into [-pi, pi).

    >>> float(round(wrap(3.5 * np.pi) / np.pi, 6))
    -0.5
    """
    return compass(np.asarray(angle) + np.pi) - np.pi


def compass(angle):
    """Bring a heading into [0, 2 pi)."""
    rest = np.asarray(angle) % TURN
    # the remainder of a tiny negative angle rounds to the whole turn
    return np.where(rest == TURN, 0.0, rest)


def difference(a, b):
    """``a - b`` the short way round, in [-pi, pi); + when ``a`` is clockwise of ``b``.

    >>> float(round(np.degrees(difference(np.radians(5), np.radians(355))), 6))
    10.0
    """
    return wrap(np.asarray(a) - np.asarray(b))


def unwrap(angle):
    """Make a sequence of headings continuous, NaN kept; shape (n,)."""
    angle = np.asarray(angle, dtype=float)
    ok = np.isfinite(angle)
    known = angle[ok]
    out = angle.copy()
    if known.size > 1 and np.abs(np.diff(known)).max() > 0.5 * TURN:
        out[ok] = np.unwrap(known)
    return out
