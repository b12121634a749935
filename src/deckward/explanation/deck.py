"""Set-up before the deck, and what is done on it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from deckward.explanation.hits import Detector, Hit
from deckward.explanation.rules import Rule
from deckward.explanation.view import View
from deckward.foundation.units import KNOT, STANDARD_GRAVITY, from_si


def _inside(view: View, distance: float) -> float | None:
    """When the pass was last inside a distance from the ramp, coming in, s."""
    near = view.aloft & (view.range < distance)
    rows = np.flatnonzero(near & ~np.concatenate([[False], near[:-1]]))
    return float(view.time[rows[-1]]) if rows.size else None


def _state_at(view: View, name: str, when: float) -> float | None:
    """A recorded switch at a time: its last sample before it."""
    track = None if view.flown.recorded is None else view.flown.recorded.aircraft
    values = None if track is None else track.get(name)
    if track is None or values is None:
        return None
    rows = np.flatnonzero(np.isfinite(values) & (track.time <= when))
    return float(values[rows[-1]]) if rows.size else None


def _not_configured(view: View, rule: Rule) -> Iterator[Hit]:
    when = _inside(view, rule["within"])
    if when is None or view.until <= when:
        return
    for name, least in (("gear", rule["gear_down"]), ("flaps", rule["flaps_down"])):
        value = _state_at(view, name, when)
        if value is not None and value < least:
            yield Hit(when, view.until, 1.0 + (least - value), {"what": name, "stood_at": round(value, 2)})


def _hook_not_down(view: View, rule: Rule) -> Iterator[Hit]:
    if view.flown.site.is_field:
        return
    when = _inside(view, rule["within"])
    value = None if when is None else _state_at(view, "hook", when)
    if when is None or value is None or value >= rule["hook_down"] or view.until <= when:
        return
    values = view.channel("hook")
    assert values is not None
    later = (view.time > when) & (values >= rule["hook_down"])
    came = float(view.time[later][0]) if later.any() else None
    yield Hit(
        when,
        view.until if came is None else came,
        2.0 if came is None or came > view.until else 1.2,
        {"came_down_s": None if came is None else round(came, 1)},
    )


def _too_heavy(view: View, rule: Rule) -> Iterator[Hit]:
    most = view.flown.aircraft.max_landing_mass
    mass = _mass(view)
    if most is None or mass is None or mass <= most + rule["over"]:
        return
    yield Hit(
        view.flown.groove.start if view.flown.groove else view.flown.start,
        view.until,
        1.0 + 10.0 * (mass / most - 1.0),
        {"mass_lb": round(float(from_si(mass, "lb"))), "limit_lb": round(float(from_si(most, "lb")))},
    )


def _mass(view: View) -> float | None:
    """Mass at the end of the approach, recorded or of fuel and the empty aircraft."""
    recorded = _state_at(view, "mass", view.until)
    if recorded is not None:
        return recorded
    fuel = _state_at(view, "fuel", view.until)
    empty = (view.flown.aircraft.tables.get("mass") or {}).get("empty_kg")
    return None if fuel is None or empty is None else fuel + empty


def _power_short(view: View, rule: Rule) -> Iterator[Hit]:
    deck, touch = view.on_deck, view.flown.touchdown
    if touch is None or view.flown.recorded is None or view.flown.site.is_field or touch.kind == "wheels":
        return
    if view.flown.outcome not in ("trap", "bolter", "landing"):
        return
    power = deck.get("throttle")
    if power is None:
        return
    ends = touch.time + rule["after"] if deck.stop is None else min(touch.time + rule["after"], deck.stop)
    rows = (deck.time <= ends) & np.isfinite(power)
    if deck.time[-1] < touch.time + 0.9 or rows.sum() < 4:
        return
    most = float(np.max(power[rows]))
    if most < rule["full_power"]:
        yield Hit(
            touch.time,
            ends,
            1.0 + 2.0 * (rule["full_power"] - most),
            {"most_power_pct": round(100.0 * most)},
            "on deck",
        )


def _power_off_early(view: View, rule: Rule) -> Iterator[Hit]:
    deck = view.on_deck
    if not deck.known or view.flown.outcome != "trap":
        return
    power = deck.get("throttle")
    touch = view.flown.touchdown
    if power is None or touch is None:
        return
    rolling = (deck.speed > rule["speed"]) & np.isfinite(power)
    rolling &= np.cumsum(~(deck.speed > rule["speed"]) & (deck.time > touch.time + 1.0)) == 0
    if rolling.sum() < 4:
        return
    top = int(np.argmax(np.where(rolling, power, -1.0)))
    most = float(power[top])
    if most < 0.5:
        return
    off = rolling & (np.arange(power.size) > top) & (power < rule["left"] * most)
    for start, end, part in deck.runs(off, 0.0):
        yield Hit(
            start,
            end,
            1.0 + float(deck.speed[part][0]) / (60.0 * KNOT),
            {
                "speed_kt": round(float(from_si(deck.speed[part][0], "kt"))),
                "power_pct": round(100 * float(power[part].min())),
            },
            "on deck",
        )
        return


def _brakes_in_wire(view: View, rule: Rule) -> Iterator[Hit]:
    deck = view.on_deck
    if not deck.known or view.flown.outcome != "trap":
        return
    brake = deck.get("wheel_brake")
    if brake is None:
        return
    rolling = (deck.speed > rule["speed"]) & (np.cumsum(deck.speed < 1.5) == 0)
    for start, end, part in deck.runs(rolling & (brake > rule["brake"]), rule["held"]):
        yield Hit(
            start,
            end,
            1.0 + float(np.max(brake[part])),
            {
                "brake_pct": round(100 * float(np.max(brake[part]))),
                "speed_kt": round(float(from_si(deck.speed[part][0], "kt"))),
            },
            "on deck",
        )


def _hook_left_down(view: View, rule: Rule) -> Iterator[Hit]:
    deck = view.on_deck
    if not deck.known or view.flown.outcome != "trap" or deck.stop is None:
        return
    hook = deck.get("hook")
    if hook is None:
        return
    down = (deck.time > deck.stop + 1.0) & (hook > 0.5)
    for start, end, _ in deck.runs(down & (deck.speed > rule["speed"]), rule["held"]):
        yield Hit(start, end, 1.0 + (end - start) / 20.0, {"taxied_s": round(end - start, 1)}, "on deck")
        return
    for start, end, _ in deck.runs(down, rule["after"]):
        yield Hit(start, end, 1.0, {"down_after_stop_s": round(end - start, 1)}, "on deck")
        return


def _hook_skip(view: View, rule: Rule) -> Iterator[Hit]:
    touch = view.flown.touchdown
    if touch is None or "hook skip" not in view.flown.flags:
        return
    pitch = None if touch.pitch is None else touch.pitch - view.flown.on_speed_pitch
    flat = pitch is not None and pitch < -rule["nose_low"]
    hard = touch.sink is not None and touch.sink > rule["sink"]
    yield Hit(
        touch.time,
        touch.time + 1.0,
        1.0 + 0.5 * flat + 0.5 * hard,
        {
            "pitch_off_deg": None if pitch is None else round(float(from_si(pitch, "deg")), 2),
            "sink_fps": None if touch.sink is None else round(float(from_si(touch.sink, "ft")), 1),
            "foretold_by": "nose low and hard"
            if flat and hard
            else "nose low"
            if flat
            else "hard"
            if hard
            else "neither attitude nor sink",
        },
        "in the wires",
    )


def _fast_taxi(view: View, rule: Rule) -> Iterator[Hit]:
    deck = view.on_deck
    if not deck.known or deck.stop is None or deck.turn_rate is None:
        return
    sideways = np.abs(deck.turn_rate) * deck.speed
    rows = (deck.time > deck.stop + 1.0) & (deck.speed > rule["speed"]) & (deck.speed < 40 * KNOT)
    for start, end, part in deck.runs(rows & (sideways > rule["sideways"]), rule["held"]):
        most = float(sideways[part].max())
        yield Hit(
            start,
            end,
            most / rule["sideways"],
            {
                "sideways_g": round(most / STANDARD_GRAVITY, 2),
                "speed_kt": round(float(from_si(deck.speed[part].max(), "kt"))),
                "turn_deg_per_s": round(float(from_si(np.abs(deck.turn_rate[part]).max(), "deg"))),
            },
            "on deck",
        )


DETECTORS = (
    Detector("not-configured", _not_configured),
    Detector("hook-not-down", _hook_not_down),
    Detector("too-heavy", _too_heavy),
    Detector("power-short-at-touchdown", _power_short),
    Detector("power-off-early", _power_off_early),
    Detector("brakes-in-wire", _brakes_in_wire),
    Detector("hook-left-down", _hook_left_down),
    Detector("hook-skip", _hook_skip),
    Detector("fast-taxi-turn", _fast_taxi),
)
