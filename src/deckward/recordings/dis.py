"""Reading IEEE 1278.1 Entity State PDUs: captured on a network, or dumped.

A sender speaks up when the others' dead reckoning would leave what it does, so between
its words the path follows from the positions, velocities and accelerations it sent:
samples are put in there, said so, with the sigma that leaving each word out in turn shows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection

import numpy as np
from msgspec import Struct

from deckward.errors import Note
from deckward.foundation.earth import ecef_to_geodetic
from deckward.recordings import dis_pdu
from deckward.recordings.cells import Cells, Table
from deckward.recordings.columns import FileOptions
from deckward.recordings.content import Content
from deckward.recordings.dis_between import Between, fill
from deckward.recordings.dis_curves import Curve
from deckward.recordings.dis_entities import Entity, entities
from deckward.recordings.dis_frames import Frames, find_frames, looks_like_frames

_COLUMNS = (
    "who",
    "time_s",
    "latitude_rad",
    "longitude_rad",
    "altitude_m",
    "heading_rad",
    "pitch_rad",
    "roll_rad",
    "velocity_north_mps",
    "velocity_east_mps",
    "velocity_down_mps",
)
#: nearest and farthest that a craft may be from the middle of the earth, m
_NEAREST, _FARTHEST = 6.33e6, 6.46e6
#: one way of going from update to update is taken for another only where it is this much better
_MUCH_BETTER = 0.7
#: and where the declared one leaves more than this, m
_GOOD_ENOUGH = 0.05


class Dis:
    """Entity State PDUs in pcap, pcapng or a dump of PDUs."""

    name = "dis"

    def guess_can_open(self, head: bytes, name: str) -> bool:
        """Tell by its first bytes whether a file is a capture or a dump of PDUs; never raises."""
        return looks_like_frames(head)

    def open(self, content: Content, options: FileOptions) -> Table:
        """Read the entity states of aircraft and ships.

        Raises:
            InputError: there are none in it, or the capture is of a kind that is not known.
        """
        data = content.read()
        try:
            frames = find_frames(data)
        except ValueError as error:
            raise content.error(f"{error}.", remedy="Capture on an Ethernet or loopback link.") from None
        left: Counter[str] = Counter()
        states, captured = _states(content, data, frames, left)
        notes: list[Note] = []
        found = entities(content, states, captured, options.named, left, notes)
        craft = [_craft(one, notes) for one in found]
        ships = sorted(
            (one for one in found if one.surface), key=lambda one: (not one.carrier, -one.time.size)
        )
        if frames.ends_early:
            notes.append(
                Note("file-cut", "The file ends in the middle of a packet; it was read as far as it goes.")
            )
        told = ", ".join(f"{count} {what}" for what, count in left.items() if count)
        if told:
            notes.append(Note("packets-left-out", f"Left out: {told}."))

        def load(numbers: Collection[int], texts: Collection[int]) -> Cells:
            columns = {
                0: np.repeat([c.who for c in craft], [c.time.size for c in craft]),
                1: np.concatenate([c.time for c in craft]),
                **{2 + k: np.concatenate([c.values[k] for c in craft]) for k in range(len(_COLUMNS) - 2)},
            }
            rows = sum(c.time.size for c in craft)
            put_in = rows - sum(c.updates for c in craft)
            return Cells(
                content,
                {i: columns[i] for i in {*numbers, *texts}},
                rows,
                notes,
                line_word="update",
                computed=put_in,
                doubt={q: np.concatenate([c.doubt[q] for c in craft]) for q in craft[0].doubt if put_in},
            )

        return Table(
            _COLUMNS,
            load,
            tuple(one.who for one in ships),
            also={one.number: one.who for one in found if one.number != one.who},
            loose=tuple(one.who for one in found if one.loose),
        )


class _Craft(Struct, frozen=True):
    """One entity: its updates and what was put between them.

    ``values`` as in ``_COLUMNS[2:]``; ``doubt`` as in ``Track``.
    """

    who: str
    time: np.ndarray
    values: list[np.ndarray]
    updates: int
    doubt: dict[str, np.ndarray]


def _states(
    content: Content, data: bytes, frames: Frames, left: Counter[str]
) -> tuple[np.ndarray, np.ndarray]:
    """Decode the entity states that can be used; also when they were captured."""
    offsets, captured = frames.offsets, frames.captured
    whole = dis_pdu.whole_states(data, offsets) if offsets.size else np.empty(0, bool)
    if not whole.any():
        if frames.fragments and not offsets.size:
            seen = f"{frames.fragments} fragments of larger packets"
        elif offsets.size:
            seen = f"{offsets.size} PDUs of other types"
        else:
            seen = f"{frames.datagrams} UDP datagrams of something else"
        raise content.error(
            f"holds no Entity State PDU, only {seen}.",
            remedy="Capture the traffic of the simulation itself, UDP port 3000 by default.",
        )
    states = dis_pdu.decode(data, offsets[whole])
    captured = captured[whole]
    left["fragments of larger packets"] += frames.fragments
    left["packets captured in part"] += frames.cut
    left["PDUs of other types"] += int((~whole).sum())
    place, angle = dis_pdu.numbers(states["location"]), dis_pdu.numbers(states["orientation"])
    possible = (np.abs(place) < _FARTHEST).all(axis=1) & (np.abs(angle) < 1e3).all(axis=1)
    distance = np.linalg.norm(np.where(possible[:, None], place, 0.0), axis=1)
    possible &= (distance > _NEAREST) & (distance < _FARTHEST)
    left["states of nowhere near the earth's surface"] += int((~possible).sum())
    return states[possible], captured[possible]


def _craft(one: Entity, notes: list[Note]) -> _Craft:
    """Put samples between the updates of one entity."""
    states, time = one.states, one.time
    location = states["location"].astype(float)
    heading, pitch, roll = dis_pdu.attitude(states["orientation"], location)
    turned = np.column_stack([np.unwrap(heading), pitch, np.unwrap(roll)])
    path = _best_path(states, location, time, one.who, notes)
    rates = dis_pdu.attitude_rates(states, pitch, roll)
    turns = [Curve.through(time, turned, rates), Curve.through(time, turned)]
    turn = min(turns, key=Curve.left)
    between = fill(path, turn, broken=one.broken, sways=one.surface)
    latitude, longitude, altitude = ecef_to_geodetic(between.place)
    level = np.full((between.time.size, 3), np.nan)
    level[between.share == 0.0] = dis_pdu.level_velocity(dis_pdu.motion(states)[0], location)
    if between.time.size > time.size:
        notes.append(_dead_reckoned(one.who, time, between))
    values = [latitude, longitude, altitude, *between.attitude.T, *level.T]
    doubt = {"up": between.up, "level": between.level, "climb": between.climb, "pace": between.pace}
    doubt |= dict(zip(("heading", "pitch", "roll"), between.turned.T, strict=True))
    return _Craft(one.who, between.time, values, time.size, doubt)


def _dead_reckoned(who: str, time: np.ndarray, between: Between) -> Note:
    """Tell what was put in and how far off it may be."""
    put_in = between.share > 0.0
    low, high = np.percentile(np.diff(time), [5, 95])
    place = float(np.sqrt(np.mean(between.up[put_in] ** 2 + 2.0 * between.level[put_in] ** 2)))
    turned = float(np.degrees(np.sqrt(np.mean(between.turned[put_in] ** 2))))
    return Note(
        "dead-reckoned",
        f"{who}: {time.size} updates, {low:.2g} to {high:.2g} s apart; {int(put_in.sum())} samples between "
        f"them follow from the motion that was sent, to about {place:.1g} m and {turned:.1g} deg; "
        "sigmas are wider there.",
    )


def _best_path(
    states: np.ndarray, location: np.ndarray, time: np.ndarray, who: str, notes: list[Note]
) -> Curve:
    """Choose how to go from update to update: as the states say, unless their positions say otherwise."""
    velocity, acceleration = dis_pdu.motion(states)
    bends = [acceleration, None]
    if np.isin(states["algorithm"], dis_pdu.BODY_RATES).any():
        bends.insert(1, dis_pdu.motion(states, turning=True)[1])
    declared = [Curve.through(time, location, velocity, bend) for bend in bends]
    best, left = min(((curve, curve.left()) for curve in declared), key=lambda tried: tried[1])
    if left < _GOOD_ENOUGH or not np.isfinite(velocity).any():
        return best
    other = states.copy()
    other["algorithm"] = np.where(np.isin(states["algorithm"], dis_pdu.IN_BODY), 2, 6)
    for rate, words in (
        (dis_pdu.motion(other)[0], "taken in the other axes than they are declared in"),
        (None, "not used"),
    ):
        instead = Curve.through(time, location, rate)
        if instead.left() < _MUCH_BETTER * left:
            best, left = instead, instead.left()
            text = f"{who}: the velocities sent do not fit the positions; {words}."
            notes.append(Note("velocities-do-not-fit", text))
    return best
