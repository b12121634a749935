"""Which entities there are in an exercise, what they are called, and when each was there.

An entity is gone while it is deactivated and after a silence; a frozen exercise stands still while the clocks
run on; one that was set down elsewhere did not fly there.

Source: IEEE 1278.1 and the SISO enumerations, from memory: bit 23 of a platform's appearance tells that it is
deactivated, bit 21 that it is frozen and must not be dead-reckoned; an entity that was not heard of for 2.4
heartbeats of 5 s counts as gone.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
from msgspec import Struct

from deckward.errors import InputError, Note
from deckward.recordings import dis_pdu
from deckward.recordings.content import Content
from deckward.recordings.dis_clocks import times
from deckward.recordings.dis_curves import TIMEOUT

#: m/s^2 that nothing here accelerates by, and m that it may be off besides: farther off it was set down
_HARDEST, _ASIDE = 100.0, 50.0
#: s within which all of a frozen exercise has come to stand
_SETTLES = 1.0


class Entity(Struct, frozen=True):
    """One aircraft or ship: its states (n,) at times (n,), s, strictly increasing.

    ``broken`` (n - 1,) tells the intervals in which it was gone or set down elsewhere; ``loose`` that
    nothing ties its sender's clock to the others'.
    """

    who: str
    number: str
    states: np.ndarray
    time: np.ndarray
    broken: np.ndarray
    surface: bool
    carrier: bool
    loose: bool


def entities(
    content: Content,
    states: np.ndarray,
    captured: np.ndarray,
    named: tuple[str, ...],
    left: Counter[str],
    notes: list[Note],
) -> list[Entity]:
    """Take the states of aircraft and ships, and of what the user named, apart entity by entity.

    Raises:
        InputError: there are none.
    """
    keys = np.stack([states[f].astype(int) for f in ("exercise", "site", "application", "entity")])
    _, entity = np.unique(keys, axis=1, return_inverse=True)
    numbers, names = _names(states, entity)
    wanted = (states["kind"] == dis_pdu.PLATFORM) & np.isin(states["domain"], (dis_pdu.AIR, dis_pdu.SURFACE))
    asked = [i for i, one in enumerate(zip(numbers, names, strict=True)) if set(one) & set(named)]
    wanted |= np.isin(entity, asked)
    left["states of neither aircraft nor ships"] += int((~wanted).sum())
    if not wanted.any():
        raise _none(content, names)
    states, captured, entity = states[wanted], captured[wanted], entity[wanted]
    clocks = times(states, captured, notes)
    time, kept = _without_pauses(states, clocks.time, entity, notes)
    gone = (states["appearance"] & dis_pdu.DEACTIVATED).astype(bool)
    order = np.lexsort((time, entity))
    order = order[kept[order]]
    found = []
    for rows in np.split(order, np.flatnonzero(np.diff(entity[order])) + 1):
        first = np.concatenate([[True], np.diff(time[rows]) > 0.0])
        left["repeated states"] += int((~first).sum())
        rows = rows[first]
        removed, there = np.cumsum(gone[rows]), ~gone[rows]
        rows, removed = rows[there], removed[there]
        if not rows.size:
            continue
        one = int(entity[rows[0]])
        own, when = states[rows], time[rows]
        broken = np.diff(removed) > 0
        jumped = _jumps(own, when) & ~broken
        silent = (np.diff(when) > TIMEOUT) & ~broken
        for code, words, where in (
            ("entity-gone", "was taken out of the exercise", broken),
            ("entity-jumps", "was set down elsewhere", jumped),
            ("entity-silent", f"was silent for more than {TIMEOUT:g} s, and counts as gone,", silent),
        ):
            if where.any():
                notes.append(_told(code, names[one], words, where, float(when[:-1][where][0])))
        state = own[0]
        found.append(
            Entity(
                who=names[one],
                number=numbers[one],
                states=own,
                time=when,
                broken=broken | jumped,
                surface=bool(state["domain"] == dis_pdu.SURFACE),
                carrier=bool(state["category"] == dis_pdu.CARRIER),
                loose=int(clocks.sender[rows[0]]) in clocks.loose,
            )
        )
    if not found:
        raise _none(content, names)
    return found


def _none(content: Content, names: list[str]) -> InputError:
    seen = f" There are {', '.join(names[:12])}; name one with --only." if names else ""
    return content.error(
        "holds neither aircraft nor ships among its entities.",
        remedy=f"Capture while an aircraft is flying.{seen}",
    )


def _told(code: str, who: str, words: str, when: np.ndarray, first: float) -> Note:
    count = int(when.sum())
    times_ = "once" if count == 1 else f"{count} times"
    return Note(code, f"{who} {words} {times_}, first at {first:.2f} s; nothing is put in between.")


def _names(states: np.ndarray, entity: np.ndarray) -> tuple[list[str], list[str]]:
    """Give entities' numbers, and their names: the marking; the number too where it is not theirs alone."""
    several = np.unique(states["exercise"]).size > 1
    rows = np.arange(entity.size)
    first = np.full(int(entity.max(initial=-1)) + 1, entity.size)
    last = np.zeros(first.size, int)
    np.minimum.at(first, entity, rows)
    np.maximum.at(last, entity, rows)
    numbers, markings = [], []
    for begin, end in zip(first.tolist(), last.tolist(), strict=True):
        state = states[begin]
        number = f"{state['site']}:{state['application']}:{state['entity']}"
        numbers.append(f"{state['exercise']}/{number}" if several else number)
        text = bytes(states["marking"][end]).split(b"\0")[0].decode("latin-1")
        markings.append("".join(letter for letter in text if letter.isprintable()).strip())
    how_often = Counter(markings)
    names = [
        marking if marking and how_often[marking] == 1 else f"{marking} {number}".strip()
        for marking, number in zip(markings, numbers, strict=True)
    ]
    return numbers, names


def _jumps(states: np.ndarray, time: np.ndarray) -> np.ndarray:
    """Tell the intervals (n - 1,) whose end no motion reaches from their start."""
    velocity = np.nan_to_num(dis_pdu.motion(states)[0])
    span = np.diff(time)[:, None]
    place = states["location"].astype(float)
    off = np.linalg.norm(np.diff(place, axis=0) - 0.5 * (velocity[1:] + velocity[:-1]) * span, axis=1)
    told = (velocity != 0.0).any(axis=1)
    # without velocities nothing here is faster than sound by far
    reach = (
        np.where(told[1:] & told[:-1], 0.0, 700.0 * span[:, 0]) + 0.5 * _HARDEST * span[:, 0] ** 2 + _ASIDE
    )
    return (off > reach) & (span[:, 0] <= TIMEOUT)


# -- a frozen exercise -------------------------------------------------------------------------


def _without_pauses(states, time, entity, notes) -> tuple[np.ndarray, np.ndarray]:
    """Take the time out in which the whole exercise stood frozen, so that it goes on where it stopped.

    Gives the times (n,) and which states (n,) are left: none of those in a pause. How long one was tells the
    fastest entity: what it flew between its last state before and its first after took it so long.
    """
    frozen = (states["appearance"] & dis_pdu.FROZEN).astype(bool)
    left = np.ones(time.size, bool)
    if not frozen.any() or frozen.all():
        return time, left
    speed = np.linalg.norm(np.nan_to_num(dis_pdu.motion(states)[0]), axis=1)
    fastest = entity[np.argmax(np.where(frozen, 0.0, speed))]
    rows = np.flatnonzero(entity == fastest)
    rows = rows[np.argsort(time[rows], kind="stable")]
    edges = np.flatnonzero(np.diff(np.concatenate([[0], frozen[rows].astype(int), [0]]))).reshape(-1, 2)
    out, seconds = time.copy(), []
    for begin, end in edges.tolist():
        if begin == 0 or end == rows.size:
            continue
        before, first, last, after = rows[begin - 1], rows[begin], rows[end - 1], rows[end]
        meanwhile = (time > time[first] + _SETTLES) & (time < time[last])
        flown = np.linalg.norm(states["location"][after] - states["location"][before])
        took = flown / max(0.5 * (speed[before] + speed[after]), 1.0)
        stood = float(time[after] - time[before] - took)
        if not frozen[meanwhile].all() or stood <= 0.0:
            continue
        middle = 0.5 * (time[first] + time[last])
        left &= ~(frozen & (time > time[before]) & (time < time[after]))
        out[time > middle] -= stood
        seconds.append(f"{stood:.1f} s at {out[before]:.2f} s")
    if seconds:
        notes.append(
            Note(
                "exercise-frozen",
                f"The exercise stood frozen ({', '.join(seconds[:6])}); that time is taken out, so that what "
                "follows is earlier than stamped.",
            )
        )
    return out, left
