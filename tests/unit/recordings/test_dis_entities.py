"""Who is in an exercise and when: gone, silent, frozen, set down elsewhere, begun anew; several of each.

Appearance bits, heartbeat and timeout as IEEE 1278.1 and the SISO enumerations have them (from memory; the
bits are also a dissector's, see ``check_values/test_dis_peers.py``).
"""

from __future__ import annotations

import struct

import numpy as np
import pytest

from deckward.errors import InputError
from deckward.foundation.earth import geodetic_to_ecef
from deckward.recordings import dis_pdu, open_recording
from support.dis_packets import (
    SURFACE,
    as_ship,
    datagram,
    entity_state,
    ethernet,
    pcap,
    states_of,
    timestamp,
)
from support.recorded_flight import flight

FLIGHT = flight(60.0, 20.0)
SHIP = as_ship(FLIGHT)
START = 1_937_124_000.0 + 600.0
EVERY = range(2, 1198)
#: a heartbeat of 5 s, of which 2.4 may pass in silence (IEEE 1278.1, from memory)
TIMEOUT = 2.4 * 5.0


def capture(tmp_path, *states, name="flight.pcap"):
    path = tmp_path / name
    every = sorted((one for group in states for one in group), key=lambda state: state[0])
    path.write_bytes(pcap([(when, ethernet(datagram(pdu))) for when, pdu in every]))
    return path


def dump(tmp_path, *states, name="flight.bin"):
    path = tmp_path / name
    every = sorted((one for group in states for one in group), key=lambda state: state[0])
    path.write_bytes(b"".join(pdu for _, pdu in every))
    return path


def jet(rows=EVERY, **how):
    return states_of(FLIGHT, rows, **{"start": START, "marking": "Wren", "entity": (1, 2, 3), **how})


def ship(rows=EVERY, **how):
    how = {"start": START, "marking": "Ark", "entity": (1, 9, 4), "domain": SURFACE, **how}
    return states_of(SHIP, rows, **how)


def looking(state, bit):
    """The same state with a bit of its appearance set."""
    when, pdu = state
    return when, pdu[:84] + struct.pack(">I", 1 << bit) + pdu[88:]


def later(states, seconds):
    """States sent so much later, absolute stamps and all."""
    return [
        (when + seconds, pdu[:4] + struct.pack(">I", timestamp(when + seconds)) + pdu[8:])
        for when, pdu in states
    ]


def told(recording) -> dict[str, str]:
    return {note.code: note.text for note in recording.notes}


def off_the_flight(track, zero=START):
    """How far a track is from the truth at most, m."""
    when = track.time - zero
    place = geodetic_to_ecef(track["latitude"], track["longitude"], track["altitude"])
    truth = geodetic_to_ecef(FLIGHT["latitude"], FLIGHT["longitude"], FLIGHT["altitude"])
    true = np.column_stack([np.interp(when, FLIGHT["time"], column) for column in truth.T])
    return float(np.linalg.norm(place - true, axis=1).max())


@pytest.mark.parametrize(("silence", "gone"), [(TIMEOUT - 1.0, False), (TIMEOUT + 1.0, True)])
def test_an_entity_that_is_not_heard_of_for_longer_than_the_timeout_is_gone(tmp_path, silence, gone):
    cut = FLIGHT["time"][400] + silence
    rows = [i for i in EVERY if i <= 400 or FLIGHT["time"][i] >= cut]
    recording = open_recording(capture(tmp_path, jet(rows)))
    (track,) = recording.aircraft
    assert ("entity-silent" in told(recording)) == gone
    longest = np.diff(track.time).max()
    assert (longest > TIMEOUT) if gone else (longest < 0.11)


def test_a_deactivated_entity_is_gone_until_it_is_active_again(tmp_path):
    """Between 20 and 24 s it says once a second that it is deactivated."""
    states = [one for one in jet() if not START + 20.0 < one[0] < START + 24.0]
    states += [looking(one, 23) for one in jet(range(402, 480, 20))]
    recording = open_recording(capture(tmp_path, states))
    (track,) = recording.aircraft
    assert "Wren was taken out of the exercise once" in told(recording)["entity-gone"]
    between = (track.time > START + 20.05) & (track.time < START + 23.95)
    assert not between.any()
    assert off_the_flight(track) < 0.01


def test_an_entity_that_is_only_ever_deactivated_is_none(tmp_path):
    with pytest.raises(InputError) as caught:
        open_recording(capture(tmp_path, [looking(one, 23) for one in jet()], ship()))
    assert "only the ship" in caught.value.problem


def frozen_for(seconds, at=30.0):
    """Both craft stand frozen for some seconds at one moment, and say so once a second."""
    out = []
    for craft in (jet(), ship()):
        before = [one for one in craft if one[0] <= START + at]
        after = [one for one in craft if one[0] > START + at]
        pdu = before[-1][1]
        still = [(START + at + 0.01 + k, pdu) for k in range(int(seconds))]
        still = [(when, pdu[:4] + struct.pack(">I", timestamp(when)) + pdu[8:]) for when, pdu in still]
        out += [*before, *(looking(one, 21) for one in still), *later(after, seconds)]
    return out


@pytest.mark.parametrize("seconds", [4.0, 30.0])
def test_a_frozen_exercise_goes_on_where_it_stopped(tmp_path, seconds):
    recording = open_recording(capture(tmp_path, frozen_for(seconds)))
    (track,) = recording.aircraft
    assert f"{seconds:.1f} s at" in told(recording)["exercise-frozen"]
    assert np.diff(track.time).max() < 0.11
    assert off_the_flight(track) < 0.1  # a millisecond and a half of the jet's way
    assert recording.ship.time[-1] == pytest.approx(track.time[-1], abs=1e-3)
    assert len(track) == len(EVERY)


def test_one_frozen_craft_among_others_that_move_is_no_pause(tmp_path):
    """A ship that never moves and says that she is frozen: the clocks are left alone."""
    recording = open_recording(capture(tmp_path, jet(), [looking(one, 21) for one in ship()]))
    assert "exercise-frozen" not in told(recording)
    assert recording.aircraft[0].time == pytest.approx(START + FLIGHT["time"][2:1198], abs=2e-6)
    assert len(recording.ship) == len(EVERY)


def test_a_frozen_state_is_not_reckoned_on():
    location = geodetic_to_ecef(0.5, -1.5, 100.0)
    pdu = entity_state(stamp=1, location=location, velocity=(70.0, 0.0, 0.0), acceleration=(1.0, 0.0, 0.0))
    _, pdu = looking((0.0, pdu), 21)
    velocity, acceleration = dis_pdu.motion(dis_pdu.decode(pdu, np.array([0])))
    assert not velocity.any()
    assert not acceleration.any()


def test_a_craft_that_is_set_down_elsewhere_did_not_fly_there(tmp_path):
    """At 30 s it goes on 2 km farther north; it sends once a second."""
    moved = {**FLIGHT, "latitude": FLIGHT["latitude"] + np.where(FLIGHT["time"] > 30.0, 2000.0 / 6.37e6, 0.0)}
    location = geodetic_to_ecef(FLIGHT["latitude"], FLIGHT["longitude"], FLIGHT["altitude"])
    speed = np.gradient(location, FLIGHT["time"], axis=0)
    states = []
    for i in range(2, 1190, 20):
        (one,) = states_of(moved, [i], start=START, marking="Wren")
        states.append((one[0], one[1][:36] + struct.pack(">3f", *speed[i]) + one[1][48:]))
    recording = open_recording(capture(tmp_path, states))
    (track,) = recording.aircraft
    assert "Wren was set down elsewhere once" in told(recording)["entity-jumps"]
    gap = np.diff(track.time).argmax()
    assert np.diff(track.time)[gap] == pytest.approx(1.0, abs=1e-3)
    assert track.time[gap] - START == pytest.approx(30.0, abs=1.0)


def test_an_exercise_that_begins_anew_is_another_stretch_of_flight(tmp_path):
    """A dump of two runs, each counted from its own start; nothing of the two is mixed."""
    zero = START - 5.0
    first = [*jet(absolute=False, zero=zero), *ship(absolute=False, zero=zero)]
    second = [(when + 100.0, pdu) for when, pdu in first]
    recording = open_recording(dump(tmp_path, first, second))
    (track,) = recording.aircraft
    assert "set back once" in told(recording)["time-back"]
    assert len(track) == 2 * len(EVERY)
    gap = int(np.diff(track.time).argmax())
    assert gap == len(EVERY) - 1
    assert np.diff(track.time)[gap] > TIMEOUT
    for part, begin in ((track.take(slice(0, gap + 1)), 0), (track.take(slice(gap + 1, None)), gap + 1)):
        assert off_the_flight(part, zero=track.time[begin] - FLIGHT["time"][2]) < 0.01
    assert recording.ship.time[gap + 1] == pytest.approx(track.time[gap + 1], abs=0.06)


# -- several of each ---------------------------------------------------------------------------


def many(tmp_path):
    """Two jets, a carrier, her escort and a thing of no kind that is known."""
    return capture(
        tmp_path,
        jet(),
        jet(marking="Heron", entity=(1, 2, 5)),
        ship(),
        ship(marking="Guard", entity=(1, 9, 6), category=6),
        jet(marking="Kite", entity=(7, 7, 7), kind=0, domain=0),
    )


def test_the_ship_is_the_one_that_the_user_names(tmp_path):
    path = many(tmp_path)
    usual = open_recording(path)
    assert "The rows of Ark are taken as the ship's track, not those of Guard" in told(usual)["ship-by-name"]
    assert [track.who for track in usual.aircraft] == ["Heron", "Wren"]
    for name in ("Guard", "1:9:6"):
        named = open_recording(path, ship_who=name)
        assert named.ship.who == "Guard"
        assert [track.who for track in named.aircraft] == ["Heron", "Wren"]


def test_a_craft_may_be_asked_for_by_its_number(tmp_path):
    assert [track.who for track in open_recording(many(tmp_path), only="1:2:5").aircraft] == ["Heron"]


def test_what_seems_to_be_no_aircraft_is_one_where_the_user_says_so(tmp_path):
    path = many(tmp_path)
    assert "1196 states of neither aircraft nor ships" in told(open_recording(path))["packets-left-out"]
    assert [track.who for track in open_recording(path, only="Kite").aircraft] == ["Kite"]
    assert open_recording(path, ship_who="7:7:7").ship.who == "Kite"
    alone = capture(tmp_path, jet(kind=9), name="alone.pcap")
    with pytest.raises(InputError) as caught:
        open_recording(alone)
    assert "There are Wren; name one with --only" in (caught.value.remedy or "")
    assert [track.who for track in open_recording(alone, only="Wren").aircraft] == ["Wren"]


@pytest.mark.parametrize(
    ("wanted", "problem"),
    [
        ({"only": "Hero"}, "no craft named 'Hero'"),
        ({"ship_who": "Arc"}, "no ship named 'Arc'"),
        ({"only": "Wren", "ship_who": "Wren"}, "no ship named 'Wren'"),
    ],
)
def test_an_unknown_name_is_refused_with_those_there_are(tmp_path, wanted, problem):
    with pytest.raises(InputError) as caught:
        open_recording(many(tmp_path), **wanted)
    assert problem in caught.value.problem
    assert "Heron (1:2:5)" in caught.value.remedy
    assert "Ark (1:9:4)" in caught.value.remedy or "only" in wanted


def test_a_ships_file_of_several_craft_is_read_by_name(tmp_path):
    other = capture(tmp_path, ship(), ship(marking="Guard", entity=(1, 9, 6), category=6), name="sea.pcap")
    recording = open_recording(capture(tmp_path, jet()), ship=other, ship_who="Guard")
    assert recording.two_clocks
    with pytest.raises(InputError) as caught:
        open_recording(capture(tmp_path, jet()), ship=other, ship_who="Gard")
    assert caught.value.file == str(other)


# -- clocks ------------------------------------------------------------------------------------


@pytest.mark.parametrize("offset", [-2.0, -0.3, 0.08, 1.25, 2.0])
@pytest.mark.parametrize("absolute", [True, False])
def test_in_a_capture_the_arrival_ties_two_clocks(tmp_path, offset, absolute):
    rng = np.random.default_rng(5)
    ahead = ship(absolute=absolute, zero=-offset)
    late = [(when + 0.002 + rng.exponential(0.001), pdu) for when, pdu in ahead]
    recording = open_recording(capture(tmp_path, jet(), late))
    assert recording.ship.time == pytest.approx(START + FLIGHT["time"][2:1198], abs=0.05)
    assert recording.ship.time - recording.aircraft[0].time == pytest.approx(0.0, abs=0.05)
    assert ("clocks-apart" in told(recording)) == absolute
    assert not recording.two_clocks


@pytest.mark.parametrize("offset", [-2.0, -0.3, 0.2, 1.25, 2.0])
@pytest.mark.parametrize("absolute", [True, False])
def test_in_a_dump_the_order_ties_two_clocks(tmp_path, offset, absolute):
    """Arrival some milliseconds late; the jet's at 20 Hz, the ship's at 5: no closer than half a step."""
    rng = np.random.default_rng(6)
    rows = range(3, 1195, 4)
    ahead = ship(rows, absolute=absolute, zero=-offset if absolute else START - 77.0 - offset)
    own = jet(absolute=absolute, zero=0.0 if absolute else START - 5.0)
    late = [(when + 0.002 + rng.exponential(0.002), pdu) for when, pdu in [*own, *ahead]]
    recording = open_recording(dump(tmp_path, late))
    (track,) = recording.aircraft
    zero = track.time[0] - FLIGHT["time"][2]
    ends = [rows[0], rows[-1]]
    assert recording.ship.time[[0, -1]] - zero == pytest.approx(FLIGHT["time"][ends], abs=0.05)
    assert "clocks-apart" in told(recording)
    assert not recording.two_clocks


@pytest.mark.parametrize("write", [capture, dump])
def test_clocks_that_agree_are_left_alone(tmp_path, write):
    rng = np.random.default_rng(7)
    late = [(when + 0.002 + rng.exponential(0.002), pdu) for when, pdu in [*jet(), *ship()]]
    recording = open_recording(write(tmp_path, late))
    assert "clocks-apart" not in told(recording)
    assert recording.ship.time == pytest.approx(recording.aircraft[0].time, abs=2e-6)


def test_where_neither_arrival_nor_order_tells_the_clocks_count_as_two(tmp_path):
    """A dump that holds all of one sender and then all of the other."""
    path = tmp_path / "flight.bin"
    path.write_bytes(b"".join(pdu for _, pdu in [*jet(), *ship()]))
    assert open_recording(path).two_clocks
