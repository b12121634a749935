"""The corpora of standard telemetry: passes as Entity State PDUs at 20 Hz and on thresholds."""

from __future__ import annotations

from dataclasses import replace

import corpus_clean
import numpy as np
from corpus_clean import HEAVING, HEAVY, MEDIUM, PITCHING
from fly_dis import Capture, Sender
from fly_record import Form

THRESHOLDS = Sender(rate=None)
#: (algorithm of the aircraft, of the ship, whether fixed ones tell their spin)
ALGORITHMS = ((4, 4, True), (2, 2, False), (5, 5, True), (4, 2, True), (3, 3, True), (8, 8, True),
              (9, 9, False), (6, 6, True), (4, 5, False), (7, 7, True))  # fmt: skip
PLACES = ((27.0, -88.0), (-39.0, 160.0), (55.0, -8.0), (-12.0, 12.0), (36.0, 178.0), (4.0, 70.0))


def _plans(count: int, seed: int):
    """Flights of no special aim at ships that lie still, sway a little and a lot."""
    rng = np.random.default_rng(seed)
    for i in range(count):
        key = ("halcyon", "petrel", "tern", "kestrel")[int(rng.integers(4))]
        yield corpus_clean.plan_at(
            ("A4", "F4N")[i % 2],
            key,
            PLACES[int(rng.integers(len(PLACES)))],
            float(rng.integers(0, 360)),
            speed=float(rng.integers(12, 24)),
            wind=(float(rng.integers(-12, 6)), float(rng.integers(5, 15))),
            motion=(None, MEDIUM, HEAVY, PITCHING, HEAVING)[i % 5],
            seed=seed + i,
            aim=float(rng.uniform(-14, 22)),
            glide=((1600, float(rng.normal(0, 0.25))), (600, float(rng.normal(0, 0.2))), (0, 0.0)),
            lateral=((1500, float(rng.normal(0, 8))), (300, float(rng.normal(0, 2))), (0, 0.0)),
            alpha=((1500, float(rng.normal(0, 0.4))), (0, float(rng.normal(0, 0.4)))),
            told=("of no special aim",),
        )


def _reference(rng) -> tuple:
    """A recorded point: the centre of gravity, or a point that tilts with the aircraft."""
    if rng.random() < 0.5:
        return (0.0, 0.0, 0.0)
    return (round(rng.uniform(-1, 3), 2), 0.0, round(rng.uniform(-1, 1), 2))


def _even(make, count: int, seed: int):
    rng = np.random.default_rng(seed + 1)
    for i, plan in enumerate(_plans(count, seed)):
        algorithm, ship, spin = ALGORITHMS[i % len(ALGORITHMS)]
        speaks = Sender(rate=20.0, algorithm=algorithm, spin_told=spin, version=(7, 6)[i % 2])
        capture = Capture(
            aircraft=speaks,
            ship=replace(speaks, algorithm=ship, phase=int(rng.integers(0, 6))),
            kind=("pcap", "pcapng", "dump", "prefixed")[i % 4],
            seed=i,
        )
        form = Form(reference=_reference(rng), channels=())
        yield make(name=f"even-{seed}-{i:02d}", plan=plan, form=form, capture=capture)


def _threshold(make, count: int, seed: int):
    rng = np.random.default_rng(seed + 2)
    for i, plan in enumerate(_plans(count, seed)):
        algorithm, ship, spin = ALGORITHMS[i % len(ALGORITHMS)]
        speaks = replace(
            THRESHOLDS,
            algorithm=algorithm,
            spin_told=spin,
            tick=(1, 2, 4, 6)[int(rng.integers(4))],
            inertial=bool(rng.integers(2)),
            version=(7, 6)[i % 2],
        )
        sails = replace(speaks, algorithm=ship, phase=int(rng.integers(0, 60)))
        kind = ("pcap", "pcapng", "dump", "prefixed")[i // 2 % 4]
        capture = Capture(aircraft=speaks, ship=sails, kind=kind, seed=i)
        form = Form(reference=_reference(rng), channels=())
        # the flights of the even ones, told on thresholds
        name, even = f"threshold-{seed}-{i:02d}", f"even-{seed}-{i:02d}"
        yield make(name=name, plan=plan, form=form, capture=capture, flown_as=even)


def _apart(make, count: int, seed: int):
    """Two senders with clocks of their own, up to 2 s apart, each in a capture of its own."""
    rng = np.random.default_rng(seed + 3)
    for i, plan in enumerate(_plans(count, seed)):
        air = Sender(rate=(20.0, 10.0)[i % 2], algorithm=4)
        ship = Sender(rate=(10.0, 20.0, 5.0)[i % 3], algorithm=4, clock=round(float(rng.uniform(-2, 2)), 3))
        kind = ("dump", "prefixed")[i // 2 % 2]
        capture = Capture(aircraft=air, ship=ship, kind=kind, apart=True, seed=i)
        form = Form(channels=())
        name, even = f"apart-{seed}-{i:02d}", f"even-{seed}-{i:02d}"
        yield make(name=name, plan=plan, form=form, capture=capture, flown_as=even)


def _together(make, count: int, seed: int):
    """Two senders with clocks of their own in one file, counting from the hour or from their own starts."""
    rng = np.random.default_rng(seed + 4)
    for i, plan in enumerate(_plans(count, seed)):
        absolute = bool(i // 4 % 2)
        air = Sender(rate=(20.0, 10.0)[i % 2], algorithm=4, absolute=absolute)
        clock = round(float(rng.uniform(-2, 2)), 3)
        ship = replace(air, rate=(10.0, 20.0, 5.0)[i % 3], clock=clock, phase=int(rng.integers(0, 12)))
        kind = ("pcap", "dump", "pcapng", "prefixed")[i % 4]
        capture = Capture(aircraft=air, ship=ship, kind=kind, seed=i)
        name, even = f"together-{seed}-{i:02d}", f"even-{seed}-{i:02d}"
        yield make(name=name, plan=plan, form=Form(channels=()), capture=capture, flown_as=even)


def even(make):
    """Forty passes at 20 Hz in every kind of file, by every algorithm."""
    return list(_even(make, 40, 21_000))


def threshold(make):
    """The same passes on thresholds of 0.3 m and 1 deg with a heartbeat of 5 s: to build with."""
    return list(_threshold(make, 40, 21_000))


def threshold_held(make):
    """Sixty other passes on the same thresholds: held out."""
    return list(_threshold(make, 60, 47_000))


def threshold_last(make):
    """Fifty more, looked at last."""
    return list(_threshold(make, 50, 91_000))


def together(make):
    """The even passes, two clocks in one file."""
    return list(_together(make, 40, 21_000))


def apart(make):
    """The even passes, two clocks."""
    return list(_apart(make, 40, 21_000))
