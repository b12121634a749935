"""The cases of the clean corpus: every way to record, every ship motion, every end of a pass."""

from __future__ import annotations

from fly_deck import DeckPlan
from fly_jet import TYPES
from fly_plan import Plan
from fly_record import COMMON, POSE, Form
from fly_ship import ShipPlan
from sites import field, ship

MEDIUM = {
    "pitch": ((0.50, 0.60, 0.3), (0.30, 0.63, 1.1)),
    "roll": ((1.2, 0.50, 0.0), (0.9, 0.52, 2.0)),
    "heave": ((0.8, 0.60, 0.9), (0.3, 0.20, 0.2)),
}
PITCHING = {"pitch": ((1.1, 0.62, 0.5), (0.4, 0.78, 2.2))}
ROLLING = {"roll": ((2.6, 0.33, 0.4), (0.8, 0.41, 1.0)), "list_roll": 0.4}
HEAVING = {"heave": ((1.3, 0.66, 0.0), (0.5, 0.48, 1.5))}
HEAVY = {
    "pitch": ((1.0, 0.55, 0.1), (0.6, 0.71, 0.9)),
    "roll": ((2.0, 0.37, 1.2), (1.0, 0.45, 0.3)),
    "heave": ((1.5, 0.52, 2.1), (0.6, 0.69, 0.4)),
}
FULL = (
    *POSE, "true_airspeed", "indicated_airspeed", "angle_of_attack", "vertical_speed", "velocity_north",
    "velocity_east", "velocity_down", "normal_acceleration", "throttle", "engine_rpm", "fuel_flow", "mass",
    "stick_pitch", "stick_roll", "gear", "flaps", "hook", "weight_on_wheels",
)  # fmt: skip


def without(*names):
    return tuple(c for c in COMMON if c not in names)


def plan_at(
    jet, key, place, heading, *, speed=20.0, wind=(0.0, 10.0), motion=None, turn=0.0, lens=None, **more
):
    """A plan at a ship; ``wind`` is (degrees from the bow, + to starboard, knots)."""
    site, height = ship(key, **(lens or {}))
    kind = TYPES[jet]
    sails = ShipPlan(
        latitude=place[0],
        longitude=place[1],
        heading=heading,
        speed_kt=speed,
        height=height,
        turn_rate=turn,
        **(motion or {}),
    )
    return Plan(
        jet=jet,
        site=site,
        ship=sails,
        points=more.pop("points", kind.points),
        on_speed=kind.on_speed,
        wind_from=round((heading + wind[0]) % 360.0, 1),
        wind_kt=wind[1],
        **more,
    )


def plan_field(jet, key, *, wind=(10.0, 8.0), lens=None, **more):
    site = field(key, **(lens or {}))
    kind, place = TYPES[jet], site["place"]
    stands = ShipPlan(
        latitude=place["latitude_deg"],
        longitude=place["longitude_deg"],
        heading=place["heading_deg"],
        height=place["elevation_m"],
    )
    return Plan(
        jet=jet,
        site=site,
        ship=stands,
        points=kind.points,
        on_speed=kind.on_speed,
        wind_from=round((place["heading_deg"] + wind[0]) % 360.0, 1),
        wind_kt=wind[1],
        **more,
    )


def cases(make):
    """All cases; ``make`` is the case's class."""
    out = []

    def add(name, plan, form=None, **more):
        out.append(make(name=name, plan=plan, form=form or Form(), **more))

    # Traps on each wire, each way to give the ship.
    add(
        "trap-3-rows-20hz",
        plan_at("A4", "halcyon", (27.6, -88.3), 152.0, wind=(-6, 9), seed=1, told=("a good pass",)),
        Form(rate=20),
        hit=("hook", 70.1),
        pitch_given=5.299,
        expect=("trap", 3),
    )
    add(
        "trap-1-rows-50hz",
        plan_at(
            "A4", "halcyon", (-17.2, 178.9), 331.0, wind=(4, 6), seed=2, told=("low, takes the first wire",)
        ),
        Form(rate=50, channels=FULL),
        hit=("hook", 45.0),
        pitch_given=5.3,
        expect=("trap", 1),
    )
    add(
        "trap-2-file-10hz",
        plan_at("F4N", "petrel", (58.4, -3.1), 12.0, wind=(10, 14), seed=3, told=("a little low",)),
        Form(rate=10, ship="file"),
        hit=("hook", 60.2),
        expect=("trap", 2),
    )
    add(
        "trap-4-file-30hz",
        plan_at(
            "A4", "halcyon", (35.0, 139.9), 88.0, wind=(-10, 12), seed=4, told=("a little high, fourth wire",)
        ),
        Form(rate=30, ship="file", ship_rate=4.0, ship_phase=0.11),
        hit=("hook", 83.5),
        pitch_given=5.25,
        expect=("trap", 4),
    )
    add(
        "trap-course-20hz",
        plan_at(
            "A4", "kestrel", (14.5, -65.2), 205.0, speed=16.0, wind=(0, 12), seed=5, told=("a good pass",)
        ),
        Form(rate=20, ship="course"),
        hit=("hook", 67.0),
        expect=("trap", 3),
    )
    add(
        "trap-course-10hz-at-later",
        plan_at(
            "F4N", "kestrel", (-34.0, 172.0), 47.0, speed=22.0, wind=(-4, 5), seed=6, told=("a good pass",)
        ),
        Form(rate=10, ship="course", time_zero=1250.0),
        hit=("hook", 66.0),
        expect=("trap", 3),
    )
    add(
        "trap-still-ship-anchored",
        plan_at(
            "F4N", "tern", (1.2, 103.5), 60.0, speed=0.0, wind=(-10, 24), seed=7, told=("ship at anchor",)
        ),
        Form(rate=20),
        hit=("hook", 46.5),
        expect=("trap", 2),
    )
    # Moving decks.
    add(
        "trap-pitching-20hz",
        plan_at(
            "A4",
            "halcyon",
            (49.0, -12.0),
            270.0,
            motion=PITCHING,
            wind=(-8, 16),
            seed=8,
            told=("pitching deck",),
        ),
        Form(rate=20),
        hit=("hook", 69.0),
        expect=("trap", 3),
    )
    add(
        "trap-rolling-file-20hz",
        plan_at(
            "F4N",
            "petrel",
            (-45.5, 30.0),
            318.0,
            motion=ROLLING,
            wind=(-9, 12),
            seed=9,
            told=("rolling deck",),
        ),
        Form(rate=20, ship="file"),
        hit=("hook", 74.5),
        pitch_given=3.2,
        expect=("trap", 3),
    )
    add(
        "trap-heaving-file-10hz",
        plan_at(
            "A4",
            "kestrel",
            (62.0, -30.0),
            182.0,
            motion=HEAVING,
            wind=(0, 18),
            seed=10,
            told=("heaving deck",),
        ),
        Form(rate=10, ship="file", ship_rate=20.0),
        hit=("hook", 66.8),
        expect=("trap", 3),
    )
    add(
        "trap-medium-sea-30hz",
        plan_at(
            "F4N",
            "halcyon",
            (40.0, 171.0),
            300.0,
            motion=MEDIUM,
            wind=(-12, 17),
            seed=11,
            told=("moving deck",),
        ),
        Form(rate=30),
        hit=("hook", 58.0),
        expect=("trap", 2),
    )
    add(
        "trap-heavy-sea-50hz",
        plan_at(
            "A4",
            "petrel",
            (57.0, 2.0),
            20.0,
            motion=HEAVY,
            wind=(-5, 22),
            speed=12.0,
            seed=12,
            told=("heavy deck",),
        ),
        Form(rate=50, ship="file"),
        hit=("hook", 61.0),
        expect=("trap", 2),
    )
    add(
        "trap-turning-ship-20hz",
        plan_at(
            "A4",
            "halcyon",
            (20.0, -157.0),
            100.0,
            turn=0.15,
            wind=(5, 10),
            seed=13,
            told=("ship turning slowly to starboard",),
        ),
        Form(rate=20),
        hit=("hook", 70.2),
        expect=("trap", 3),
    )
    add(
        "trap-turning-port-file-10hz",
        plan_at(
            "F4N",
            "tern",
            (-8.0, -14.0),
            5.0,
            turn=-0.25,
            motion=MEDIUM,
            wind=(0, 10),
            seed=14,
            told=("ship turning to port, moving deck",),
        ),
        Form(rate=10, ship="file"),
        hit=("hook", 47.0),
        expect=("trap", 2),
    )
    # Deviations.
    add(
        "high-all-the-way",
        plan_at(
            "A4",
            "halcyon",
            (30.0, -75.0),
            33.0,
            wind=(-9, 11),
            seed=15,
            glide=((1800, 0.9), (900, 0.8), (300, 0.55), (0, 0.3)),
            told=("high all the way",),
        ),
        Form(rate=10),
        pitch_given=5.3,
    )
    add(
        "low-in-close",
        plan_at(
            "A4",
            "halcyon",
            (30.0, -75.0),
            213.0,
            wind=(-9, 11),
            seed=16,
            glide=((1200, 0.0), (600, -0.5), (200, -0.9), (0, -0.9)),
            told=("low in close",),
        ),
        Form(rate=20),
        hit=("hook", 46.0),
        expect=("trap", 1),
    )
    add(
        "fast",
        plan_at(
            "F4N",
            "petrel",
            (5.0, 80.0),
            145.0,
            wind=(-8, 9),
            seed=17,
            alpha=((1800, -1.4), (0, -1.4)),
            told=("fast",),
        ),
        Form(rate=20, channels=FULL),
        hit=("hook", 74.4),
        expect=("trap", 3),
    )
    add(
        "slow",
        plan_at(
            "A4",
            "kestrel",
            (5.0, 80.0),
            325.0,
            wind=(-8, 9),
            seed=18,
            alpha=((1800, 1.3), (0, 1.5)),
            told=("slow",),
        ),
        Form(rate=10, ship="file"),
        hit=("hook", 55.0),
        expect=("trap", 2),
    )
    add(
        "left",
        plan_at(
            "A4",
            "tern",
            (36.0, 15.0),
            75.0,
            wind=(-10, 14),
            seed=19,
            lateral=((2000, -20), (800, -9), (0, -6.5)),
            told=("left all the way",),
        ),
        Form(rate=20),
        hit=("hook", 57.5),
        expect=("trap", 3),
    )
    add(
        "right",
        plan_at(
            "F4N",
            "halcyon",
            (36.0, 15.0),
            255.0,
            wind=(-10, 14),
            seed=20,
            lateral=((2000, 30), (800, 12), (0, 7.0)),
            told=("right all the way",),
        ),
        Form(rate=30, ship="file"),
        hit=("hook", 69.5),
        expect=("trap", 3),
    )
    add(
        "drifting-left",
        plan_at(
            "A4",
            "petrel",
            (44.0, -50.0),
            197.0,
            wind=(12, 18),
            seed=21,
            speed=14.0,
            lateral=((1500, 10), (400, 6), (100, -2), (0, -7)),
            told=("drifts left at the ramp",),
        ),
        Form(rate=20),
        hit=("hook", 61.5),
        expect=("trap", 2),
    )
    add(
        "s-turning",
        plan_at(
            "F4N",
            "kestrel",
            (-12.0, 96.0),
            236.0,
            wind=(-6, 10),
            seed=22,
            weave=(14.0, 10.0),
            told=("S-turns on the centreline",),
        ),
        Form(rate=20),
        hit=("hook", 67.0),
        expect=("trap", 3),
    )
    add(
        "flared",
        plan_at(
            "A4",
            "halcyon",
            (22.0, 60.0),
            17.0,
            wind=(-9, 13),
            seed=23,
            flare=(110.0, 2.2),
            told=("flares over the deck",),
        ),
        Form(rate=50),
        hit=("hook", 81.5),
    )
    add(
        "power-cut",
        plan_at(
            "F4N",
            "petrel",
            (22.0, 60.0),
            197.0,
            wind=(-9, 13),
            seed=24,
            cut=(330.0, -0.35),
            told=("cuts power at the ramp",),
        ),
        Form(rate=20),
        hit=("hook", 48.0),
        expect=("trap", 1),
    )
    # Other ends.
    add(
        "bolter-long",
        plan_at(
            "A4", "halcyon", (10.0, -20.0), 310.0, wind=(-9, 12), seed=25, told=("bolter past the wires",)
        ),
        Form(rate=20),
        hit=("hook", 102.0),
        expect=("bolter", None),
    )
    add(
        "bolter-file-10hz",
        plan_at(
            "F4N",
            "petrel",
            (10.0, -20.0),
            130.0,
            motion=MEDIUM,
            wind=(-9, 12),
            seed=26,
            told=("bolter on a moving deck",),
        ),
        Form(rate=10, ship="file"),
        hit=("hook", 93.0),
        expect=("bolter", None),
    )
    add(
        "bolter-course-30hz",
        plan_at("A4", "kestrel", (-25.0, 45.0), 20.0, speed=18.0, wind=(-6, 9), seed=27, told=("bolter",)),
        Form(rate=30, ship="course", channels=without("throttle")),
        hit=("hook", 101.0),
        expect=("bolter", None),
    )
    add(
        "touch-and-go-hook-up",
        plan_at(
            "A4",
            "halcyon",
            (33.0, -118.0),
            240.0,
            wind=(-8, 10),
            seed=28,
            hook_down=False,
            told=("touch and go, hook up",),
        ),
        Form(rate=20),
        hit=("wheels", 75.0),
        expect=("touch-and-go", None),
    )
    add(
        "touch-and-go-hook-up-file",
        plan_at(
            "F4N",
            "tern",
            (33.0, -118.0),
            60.0,
            motion=MEDIUM,
            wind=(-8, 10),
            seed=29,
            hook_down=False,
            told=("touch and go, hook up",),
        ),
        Form(rate=10, ship="file"),
        hit=("wheels", 62.0),
        expect=("touch-and-go", None),
    )
    add(
        "hook-skip-bolter",
        plan_at(
            "A4",
            "halcyon",
            (45.0, -30.0),
            120.0,
            wind=(-9, 12),
            seed=30,
            deck=DeckPlan(skips=(3, 4)),
            told=("hook skips the wires",),
        ),
        Form(rate=20),
        hit=("hook", 69.5),
        expect=("bolter", None),
    )
    add(
        "hook-skip-then-trap",
        plan_at(
            "F4N",
            "halcyon",
            (45.0, -30.0),
            300.0,
            wind=(-9, 12),
            seed=31,
            deck=DeckPlan(skips=(2,)),
            told=("hook skips one wire, takes the next",),
        ),
        Form(rate=20),
        hit=("hook", 57.5),
        expect=("trap", 3),
    )
    add(
        "wave-off-in-the-middle",
        plan_at(
            "A4",
            "halcyon",
            (27.6, -88.3),
            152.0,
            wind=(-6, 9),
            seed=32,
            wave_off=680.0,
            told=("wave-off in the middle",),
        ),
        Form(rate=10),
        expect=("wave-off", None),
    )
    add(
        "wave-off-at-the-start",
        plan_at(
            "F4N",
            "petrel",
            (52.0, -20.0),
            260.0,
            wind=(-9, 15),
            seed=33,
            wave_off=1150.0,
            told=("wave-off at the start",),
        ),
        Form(rate=20, ship="file"),
        expect=("wave-off", None),
    )
    add(
        "wave-off-in-close",
        plan_at(
            "A4",
            "kestrel",
            (52.0, -20.0),
            80.0,
            wind=(-9, 15),
            seed=34,
            wave_off=330.0,
            motion=MEDIUM,
            glide=((1000, 0), (400, -0.5), (0, -0.5)),
            told=("low, wave-off in close",),
        ),
        Form(rate=20, channels=without("throttle")),
        expect=("wave-off", None),
    )
    add(
        "wave-off-at-the-ramp",
        plan_at(
            "F4N",
            "halcyon",
            (-3.0, 40.0),
            350.0,
            wind=(-9, 12),
            seed=35,
            wave_off=95.0,
            told=("late wave-off",),
        ),
        Form(rate=30),
        expect=("wave-off", None),
    )
    add(
        "wave-off-touches",
        plan_at(
            "A4",
            "halcyon",
            (-3.0, 40.0),
            170.0,
            wind=(-9, 12),
            seed=36,
            wave_off=-58.0,
            told=("very late wave-off, touches past the wires",),
        ),
        Form(rate=20),
        hit=("hook", 101.0),
        expect=("bolter", None),
    )
    add(
        "wire-in-the-air",
        plan_at(
            "A4",
            "petrel",
            (18.0, -40.0),
            90.0,
            wind=(-9, 13),
            seed=37,
            told=("hook takes the wire just before the deck",),
        ),
        Form(rate=20),
        hit=("hook", 68.5),
        expect=("trap", 2),
    )
    add(
        "wire-in-the-air-over-rotated",
        plan_at(
            "F4N",
            "halcyon",
            (18.0, -40.0),
            270.0,
            wind=(-9, 13),
            seed=38,
            flare=(30.0, 3.0),
            wave_off=-52.0,
            told=("over-rotates on a late wave-off, hook takes a wire",),
        ),
        Form(rate=50),
        hit=("hook", 77.2),
    )
    add(
        "ramp-strike-hook",
        plan_at(
            "A4",
            "halcyon",
            (12.0, 70.0),
            215.0,
            wind=(-9, 12),
            seed=39,
            deck=DeckPlan(wires_live=False),
            glide=((700, 0), (250, -0.6), (0, -1.0)),
            told=("hook strikes the ramp, jet flies on",),
        ),
        Form(rate=20),
        hit=("ramp", -0.35),
        expect=("ramp strike", None),
    )
    add(
        "ramp-strike-crash",
        plan_at(
            "F4N",
            "petrel",
            (12.0, 70.0),
            35.0,
            wind=(-9, 12),
            seed=40,
            crash_after=0.5,
            deck=DeckPlan(wires_live=False, drag=12.0),
            cut=(500.0, -0.3),
            told=("settles into the ramp",),
        ),
        Form(rate=20, ship="file"),
        hit=("ramp", -1.6),
        expect=("ramp strike", None),
    )
    add(
        "outside-right",
        plan_at(
            "A4",
            "tern",
            (2.0, -150.0),
            270.0,
            wind=(-10, 12),
            seed=41,
            lateral=((1500, 4), (500, 9), (150, 15), (0, 17.5)),
            told=("touches right of the landing area",),
        ),
        Form(rate=20),
        hit=("hook", 55.0),
        expect=("outside", None),
    )
    # Fields.
    add(
        "field-touch-and-go",
        plan_field("A4", "sandholm", seed=42, hook_down=False, told=("field, touch and go",)),
        Form(rate=20, ship="field"),
        hit=("wheels", 165.0),
        expect=("touch-and-go", None),
    )
    add(
        "field-landing",
        plan_field(
            "F4N",
            "sandholm",
            seed=43,
            hook_down=False,
            wind=(-30, 12),
            deck=DeckPlan(brakes=2.2, idle=True, hold=4.0),
            told=("field, full stop",),
        ),
        Form(rate=10, ship="field"),
        hit=("wheels", 158.0),
        expect=("landing", None),
    )
    add(
        "field-no-hook-channel",
        plan_field(
            "A4",
            "dry gulch",
            seed=44,
            deck=DeckPlan(wires_live=False),
            wind=(20, 9),
            told=("field, touch and go, hook not recorded",),
        ),
        Form(rate=20, ship="field", channels=without("hook")),
        hit=("hook", 182.0),
    )
    add(
        "field-wire",
        plan_field("A4", "dry gulch", seed=45, wind=(-15, 10), told=("field arrested landing",)),
        Form(rate=20, ship="field"),
        hit=("hook", 167.5),
        expect=("trap", 2),
    )
    add(
        "field-wave-off",
        plan_field("F4N", "sandholm", seed=46, wave_off=420.0, hook_down=False, told=("field, wave-off",)),
        Form(rate=20, ship="field"),
        expect=("wave-off", None),
    )
    # From the downwind through the turn.
    add(
        "downwind-trap",
        plan_at(
            "A4",
            "halcyon",
            (27.0, -70.0),
            30.0,
            wind=(-8, 8),
            seed=47,
            start="downwind",
            turn_delay=15.0,
            told=("from the downwind",),
        ),
        Form(rate=10),
        hit=("hook", 69.9),
        expect=("trap", 3),
        pitch_given=5.3,
    )
    add(
        "downwind-moving-file",
        plan_at(
            "F4N",
            "petrel",
            (-30.0, 5.0),
            200.0,
            motion=MEDIUM,
            wind=(-5, 12),
            seed=48,
            start="downwind",
            abeam=2300.0,
            told=("from the downwind, moving deck",),
        ),
        Form(rate=20, ship="file", channels=FULL),
        hit=("hook", 61.0),
        expect=("trap", 2),
        pitch_given=3.2,
    )
    add(
        "downwind-overshoot-bolter",
        plan_at(
            "A4",
            "petrel",
            (8.0, 120.0),
            110.0,
            wind=(2, 10),
            seed=49,
            start="downwind",
            abeam=1750.0,
            turn_delay=4.0,
            told=("overshooting start, bolter",),
        ),
        Form(rate=20),
        hit=("hook", 94.0),
        expect=("bolter", None),
        pitch_given=5.3,
    )
    add(
        "downwind-wave-off",
        plan_at(
            "F4N",
            "kestrel",
            (60.0, 20.0),
            345.0,
            wind=(-8, 10),
            seed=50,
            start="downwind",
            abeam=2200.0,
            turn_delay=12.0,
            wave_off=250.0,
            told=("long in the groove, wave-off",),
        ),
        Form(rate=10, ship="file"),
        expect=("wave-off", None),
        pitch_given=3.2,
    )
    add(
        "downwind-field",
        plan_field(
            "A4",
            "sandholm",
            seed=51,
            start="downwind",
            hook_down=False,
            abeam=2000.0,
            turn_delay=14.0,
            told=("field pattern, touch and go",),
        ),
        Form(rate=20, ship="field"),
        hit=("wheels", 160.0),
        expect=("touch-and-go", None),
        pitch_given=5.3,
    )
    # Places on earth.
    add(
        "high-latitude",
        plan_at("A4", "halcyon", (78.4, 15.2), 65.0, wind=(-9, 12), seed=52, told=("far north",)),
        Form(rate=20),
        hit=("hook", 69.5),
        expect=("trap", 3),
    )
    add(
        "date-line",
        plan_at(
            "F4N",
            "petrel",
            (-19.0, 179.999),
            72.0,
            wind=(-9, 12),
            seed=53,
            motion=MEDIUM,
            told=("over the date line",),
        ),
        Form(rate=20, ship="file"),
        hit=("hook", 61.5),
        expect=("trap", 2),
    )
    add(
        "date-line-eastward-course",
        plan_at(
            "A4", "kestrel", (51.5, -179.9995), 268.0, wind=(-9, 12), seed=54, told=("over the date line",)
        ),
        Form(rate=10, ship="course"),
        hit=("hook", 67.5),
        expect=("trap", 3),
    )
    add(
        "far-south",
        plan_at(
            "F4N",
            "halcyon",
            (-66.5, 140.0),
            358.0,
            wind=(-9, 12),
            seed=55,
            told=("far south, heading through north",),
        ),
        Form(rate=30),
        hit=("hook", 57.5),
        expect=("trap", 2),
    )
    add(
        "equator-meridian",
        plan_at(
            "A4",
            "petrel",
            (0.003, 0.004),
            222.0,
            wind=(-9, 12),
            seed=56,
            told=("over the equator and the zero meridian",),
        ),
        Form(rate=20, ship="file"),
        hit=("hook", 61.0),
        expect=("trap", 2),
    )
    # Channels and forms.
    add(
        "no-alpha",
        plan_at("A4", "halcyon", (24.0, -150.0), 133.0, wind=(-9, 12), seed=57, told=("no angle of attack",)),
        Form(rate=20, channels=without("angle_of_attack")),
        hit=("hook", 70.5),
        expect=("trap", 3),
    )
    add(
        "no-alpha-no-airspeed",
        plan_at(
            "F4N",
            "petrel",
            (24.0, -150.0),
            313.0,
            wind=(-9, 12),
            seed=58,
            alpha=((1800, 0.0), (900, -0.8), (0, 0.3)),
            told=("no angle of attack, no airspeed",),
        ),
        Form(rate=10, channels=without("angle_of_attack", "true_airspeed", "indicated_airspeed")),
        hit=("hook", 61.0),
        expect=("trap", 2),
    )
    add(
        "position-pitch-only",
        plan_at(
            "A4",
            "kestrel",
            (-40.0, -70.0),
            22.0,
            wind=(-9, 10),
            seed=59,
            told=("position, pitch and nothing else",),
        ),
        Form(rate=20, channels=("pitch",)),
        hit=("hook", 67.3),
        expect=("trap", 3),
    )
    add(
        "pose-only",
        plan_at(
            "F4N",
            "halcyon",
            (-40.0, -70.0),
            202.0,
            wind=(-9, 10),
            seed=60,
            told=("position and attitude only",),
        ),
        Form(rate=10, channels=POSE, ship="file"),
        hit=("hook", 58.3),
        expect=("trap", 2),
    )
    add(
        "no-throttle-wave-off",
        plan_at(
            "A4",
            "petrel",
            (28.0, 50.0),
            290.0,
            wind=(-9, 12),
            seed=61,
            wave_off=540.0,
            told=("wave-off, no power channel",),
        ),
        Form(rate=20, channels=(*POSE, "angle_of_attack", "true_airspeed")),
        expect=("wave-off", None),
    )
    add(
        "feet-and-radians",
        plan_at(
            "A4",
            "halcyon",
            (38.0, -30.0),
            77.0,
            wind=(-9, 12),
            seed=62,
            motion=MEDIUM,
            told=("feet and radians",),
        ),
        Form(
            rate=20,
            units=(
                ("altitude", "ft"),
                ("heading", "rad"),
                ("pitch", "rad"),
                ("roll", "rad"),
                ("latitude", "rad"),
                ("longitude", "rad"),
                ("true_airspeed", "fps"),
                ("angle_of_attack", "rad"),
                ("indicated_airspeed", "kmh"),
                ("time", "ms"),
            ),
            time_style="ms",
        ),
        hit=("hook", 69.5),
        expect=("trap", 3),
    )
    add(
        "plane-shared-rows",
        plan_at(
            "A4",
            "petrel",
            (43.0, 9.0),
            130.0,
            wind=(-9, 12),
            seed=63,
            motion=MEDIUM,
            told=("local plane, both craft",),
        ),
        Form(rate=20, plane="shared", plane_origin=(-400.0, 250.0)),
        hit=("hook", 61.0),
        expect=("trap", 2),
    )
    add(
        "plane-origin-file-feet",
        plan_at(
            "F4N",
            "halcyon",
            (43.0, 9.0),
            310.0,
            wind=(-9, 12),
            seed=64,
            told=("local plane with its origin",),
        ),
        Form(
            rate=10,
            plane="origin",
            ship="file",
            plane_origin=(300.0, -600.0),
            units=(("north", "ft"), ("east", "ft"), ("up", "ft")),
        ),
        hit=("hook", 69.8),
        expect=("trap", 3),
    )
    add(
        "other-reference-point",
        plan_at(
            "A4",
            "halcyon",
            (-5.0, -100.0),
            12.0,
            wind=(-9, 12),
            seed=65,
            motion=MEDIUM,
            told=("the nose is what is recorded",),
        ),
        Form(rate=20, reference=(4.1, 0.0, 0.35)),
        hit=("hook", 70.0),
        pitch_given=5.31,
        expect=("trap", 3),
    )
    add(
        "reference-point-low-aft",
        plan_at(
            "F4N",
            "petrel",
            (-5.0, -100.0),
            192.0,
            wind=(-9, 12),
            seed=66,
            told=("a point between the wheels is what is recorded",),
        ),
        Form(rate=20, ship="file", reference=(-0.76, 0.0, 1.55)),
        hit=("hook", 61.3),
        expect=("trap", 2),
    )
    add(
        "clock-offset-file",
        plan_at(
            "A4", "halcyon", (31.0, -60.0), 160.0, wind=(-9, 12), seed=67, told=("the ship's clock is ahead",)
        ),
        Form(rate=20, ship="file", ship_clock=0.84),
        hit=("hook", 69.6),
        expect=("trap", 3),
    )
    add(
        "clock-offset-behind-moving",
        plan_at(
            "F4N",
            "petrel",
            (31.0, -60.0),
            340.0,
            wind=(-9, 12),
            seed=68,
            motion=MEDIUM,
            told=("the ship's clock is behind",),
        ),
        Form(rate=10, ship="file", ship_clock=-0.52),
        hit=("hook", 61.4),
        expect=("trap", 2),
    )
    add(
        "iso-time-midnight-gz",
        plan_at("A4", "kestrel", (50.0, -5.0), 240.0, wind=(-9, 12), seed=69, told=("through midnight",)),
        Form(
            rate=20,
            time_style="iso",
            time_zero=86380.0,
            file="track.csv.gz",
            ship="file",
            ship_file="ship.csv.gz",
        ),
        hit=("hook", 66.9),
        expect=("trap", 3),
    )
    add(
        "json-lines",
        plan_at("F4N", "halcyon", (50.0, -5.0), 60.0, wind=(-9, 12), seed=70, told=("JSON lines",)),
        Form(rate=20, file="track.jsonl"),
        hit=("hook", 58.0),
        expect=("trap", 2),
    )
    add(
        "parquet",
        plan_at(
            "A4", "petrel", (50.0, -5.0), 150.0, wind=(-9, 12), seed=71, motion=MEDIUM, told=("Parquet",)
        ),
        Form(rate=50, file="track.parquet", channels=FULL),
        hit=("hook", 61.0),
        expect=("trap", 2),
    )
    add(
        "unknown-columns",
        plan_at(
            "A4", "halcyon", (-50.0, -5.0), 150.0, wind=(-9, 12), seed=72, told=("columns nobody knows",)
        ),
        Form(rate=20, extra=(("cabin_mood", "constant"), ("g_meter_lamp", "wave")), who="Wren"),
        hit=("hook", 69.9),
        expect=("trap", 3),
    )
    # Lens stabilisation and air.
    add(
        "lens-inertial",
        plan_at(
            "A4",
            "halcyon",
            (47.0, -8.0),
            265.0,
            wind=(-9, 14),
            seed=73,
            motion=MEDIUM,
            lens={"stabilisation": "inertial"},
            told=("inertial lens",),
        ),
        Form(rate=20),
        hit=("hook", 69.4),
        pitch_given=5.3,
        expect=("trap", 3),
    )
    add(
        "lens-unstabilised",
        plan_at(
            "F4N",
            "petrel",
            (47.0, -8.0),
            85.0,
            wind=(-9, 14),
            seed=74,
            motion=PITCHING,
            lens={"stabilisation": "none"},
            told=("lens fixed to the deck",),
        ),
        Form(rate=20, ship="file"),
        hit=("hook", 61.0),
        pitch_given=3.2,
        expect=("trap", 2),
    )
    add(
        "turbulence",
        plan_at(
            "A4",
            "halcyon",
            (41.0, -45.0),
            300.0,
            wind=(-9, 20),
            speed=12.0,
            seed=75,
            turbulence=0.6,
            motion=HEAVING,
            told=("bumpy air",),
        ),
        Form(rate=20),
        hit=("hook", 70.0),
        expect=("trap", 3),
    )
    add(
        "turbulence-heavy-file",
        plan_at(
            "F4N",
            "kestrel",
            (41.0, -45.0),
            120.0,
            wind=(-9, 24),
            speed=10.0,
            seed=76,
            turbulence=1.0,
            motion=HEAVY,
            told=("rough air, heavy deck",),
        ),
        Form(rate=30, ship="file"),
        hit=("hook", 67.0),
        expect=("trap", 3),
    )
    add(
        "crosswind-no-wind-told",
        plan_at(
            "A4",
            "petrel",
            (3.0, -28.0),
            45.0,
            wind=(25, 20),
            speed=8.0,
            seed=77,
            told=("axial wind, wind not told",),
        ),
        Form(rate=20),
        hit=("hook", 61.0),
        wind_told=False,
        expect=("trap", 2),
    )
    add(
        "wheels-first",
        plan_at(
            "F4N",
            "petrel",
            (3.0, -28.0),
            225.0,
            wind=(-9, 12),
            seed=78,
            flare=(160.0, -4.0),
            told=("drops the nose, wheels first",),
        ),
        Form(rate=20),
        hit=("hook", 75.0),
    )
    return out
