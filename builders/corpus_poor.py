"""The corpora of slow, rough and noisy recordings, made from the flights of the clean one and new ones."""

from __future__ import annotations

from dataclasses import replace

import corpus_clean
import numpy as np
from corpus_clean import FULL, HEAVY, MEDIUM, without
from fly_record import Form

RECIPES = (  # name, form changes, damage of the aircraft's file, damage of the ship's file
    ("jitter", {"jitter": 0.012}, (), ()),
    ("jitter-stamps", {"jitter": 0.008}, (("stamp_noise", {"rms": 0.004}),), ()),
    ("gaps", {}, (("gaps", {"count": 4, "longest": 1.5}),), ()),
    ("spikes", {}, (("spikes", {"count": 9}),), ()),
    ("tenths", {"rate": 20}, (("stamps", {"step": 0.1}),), (("stamps", {"step": 0.1}),)),
    ("tenths-cut", {"rate": 30}, (("stamps", {"step": 0.1, "truncate": True}),), ()),
    ("hundredths", {"rate": 30}, (("stamps", {"step": 0.01}),), (("stamps", {"step": 0.01}),)),
    ("hundredths-cut", {"rate": 30}, (("stamps", {"step": 0.01, "truncate": True}),), ()),
    ("whole-feet", {}, (("coarse", {"altitude_ft": 1.0}),), ()),
    ("attitude-tenths", {}, (("coarse", {"attitude_deg": 0.1, "alpha_deg": 0.1}),),
     (("coarse", {"attitude_deg": 0.1}),)),
    ("attitude-whole", {}, (("coarse", {"attitude_deg": 1.0}),), ()),
    ("six-decimals", {}, (("coarse", {"position_decimals": 6}),), (("coarse", {"position_decimals": 6}),)),
    ("five-decimals", {}, (("coarse", {"position_decimals": 5}),), (("coarse", {"position_decimals": 5}),)),
    ("single-precision", {}, (("single_precision", {}),), (("single_precision", {}),)),
    ("time-back", {}, (("out_of_order", {"count": 5}),), ()),
    ("duplicates", {}, (("duplicates", {"count": 25}),), (("duplicates", {"count": 10}),)),
    ("frozen", {}, (("frozen", {"count": 3, "longest": 0.6}),), ()),
    ("noisy", {}, (("noise", {"position_m": 0.3, "altitude_ft": 0.7, "attitude_deg": 0.08,
     "alpha_deg": 0.1}),), ()),
    ("blanks", {}, (("blank", {"share": 0.03}),), ()),
    ("coarse-all", {"rate": 20}, (("coarse", {"altitude_ft": 1.0, "attitude_deg": 0.1, "position_decimals": 6,
     "alpha_deg": 0.1}), ("stamps", {"step": 0.01})), ()),
    ("gappy-spiky", {}, (("spikes", {"count": 5}), ("gaps", {"count": 3, "longest": 1.0}),
     ("out_of_order", {"count": 2})), ()),
)  # fmt: skip


def plain(form: Form) -> Form:
    """The form written as plain CSV."""
    return replace(form, file="track.csv", ship_file="ship.csv")


def five(make):
    """Every clean case at 5 Hz."""
    out = []
    for i, case in enumerate(corpus_clean.cases(make)):
        form = replace(
            plain(case.form), rate=5.0, phase=0.07 * (i % 3), ship_rate=min(case.form.ship_rate, 5.0)
        )
        out.append(replace(case, form=form, flown_as=case.name))
    return out


def rough(make):
    """Every clean case damaged in two ways; the damage goes round the recipes."""
    out = []
    for i, case in enumerate(corpus_clean.cases(make)):
        for turn in (0, 10):
            name, changes, damage, ship_damage = RECIPES[(i + turn) % len(RECIPES)]
            out.append(
                replace(
                    case,
                    name=f"{case.name}--{name}",
                    form=replace(plain(case.form), **changes),
                    damage=damage,
                    ship_damage=ship_damage,
                    damage_seed=1000 + 2 * i + turn,
                    flown_as=case.name,
                )
            )
    return out


NOISES = (  # name, form changes, damage
    ("single-precision", {}, (("single_precision", {}),)),
    ("altitude-1ft", {}, (("noise", {"altitude_ft": 1.0}),)),
    ("altitude-2ft", {}, (("noise", {"altitude_ft": 2.0}),)),
    ("altitude-3ft", {}, (("noise", {"altitude_ft": 3.0}),)),
    ("attitude", {}, (("noise", {"attitude_deg": 0.1}),)),
    ("altitude-lag-0.1", {}, (("lag", {"altitude_s": 0.1}),)),
    ("altitude-lag-0.2", {}, (("lag", {"altitude_s": 0.2}), ("noise", {"altitude_ft": 1.0}))),
    ("attitude-lag-0.05", {}, (("lag", {"attitude_s": 0.05}), ("noise", {"attitude_deg": 0.1}))),
    ("attitude-lag-0.2", {}, (("lag", {"attitude_s": 0.2}),)),
    ("all", {}, (("lag", {"altitude_s": 0.05, "attitude_s": 0.1}),
     ("noise", {"altitude_ft": 1.5, "attitude_deg": 0.1}), ("single_precision", {}))),
)  # fmt: skip


def noisy(make):
    """Forty flights of no special aim, each with four noises of known size."""
    rng = np.random.default_rng(7)
    out = []
    places = ((27.0, -88.0), (-39.0, 160.0), (55.0, -8.0), (-12.0, 12.0), (36.0, 178.0), (4.0, 70.0))
    for i in range(40):
        jet, key = ("A4", "F4N")[i % 2], ("halcyon", "petrel", "tern", "halcyon")[i // 2 % 4]
        motion = (None, MEDIUM, None, HEAVY, None)[i % 5]
        target = {"halcyon": 70.0, "petrel": 65.0, "tern": 54.0}[key]
        plan = corpus_clean.plan_at(
            jet,
            key,
            places[i % len(places)],
            float(rng.integers(0, 360)),
            speed=float(rng.integers(12, 24)),
            wind=(float(rng.integers(-12, 6)), float(rng.integers(5, 15))),
            motion=motion,
            seed=500 + i,
            aim=float(rng.uniform(-18, 34)),
            glide=((1600, float(rng.normal(0, 0.25))), (600, float(rng.normal(0, 0.2))), (0, 0.0)),
            lateral=((1500, float(rng.normal(0, 8))), (300, float(rng.normal(0, 2))), (0, 0.0)),
            alpha=((1500, float(rng.normal(0, 0.4))), (0, float(rng.normal(0, 0.4)))),
            wave_off=350.0 if i % 13 == 12 else None,
            told=(f"aims near {target:.0f} m",),
        )
        form = Form(
            rate=(10, 20, 30, 50)[i // 3 % 4],
            ship=("rows", "file")[i // 2 % 2],
            channels=(FULL, corpus_clean.COMMON, without("angle_of_attack"))[i % 3],
        )
        for k in range(4):
            name, changes, damage = NOISES[(3 * i + k) % len(NOISES)]
            out.append(
                make(
                    name=f"flight-{i:02d}--{name}",
                    plan=plan,
                    form=replace(form, **changes),
                    damage=damage,
                    damage_seed=9000 + 10 * i + k,
                    flown_as=f"flight-{i:02d}",
                )
            )
    return out
