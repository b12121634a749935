"""Putting the frozen pass together from settled lanes."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from deckward.errors import Note
from deckward.foundation import frames
from deckward.foundation.units import DEGREE, FOOT, NAUTICAL_MILE, STANDARD_GRAVITY
from deckward.passes import axes, contact, events, infer, sigmas
from deckward.passes.axes import Geometry, Moment
from deckward.passes.draft import Draft, hook_up, raw_moment
from deckward.passes.model import (
    Groove,
    Pass,
    Position,
    Ramp,
    Series,
    Touchdown,
    Turn,
    WaveOff,
    Wind,
)

#: on-speed pitch where neither profile nor recording tells it: closure over airspeed
_CLOSURE_SHARE = 0.82
#: gain of throttle, and of specific energy rate (m/s), that make a sustained rise
_POWER_RISE, _ENERGY_RISE = 0.12, 3.0
#: full power this long before contact is a wave-off, not power for the bolter, s; common practice
_EARLY_POWER = 0.5


class Builder:
    """Works out one pass; each value is computed once, when first asked for."""

    def __init__(self, draft: Draft, wind: Wind | None, who: str) -> None:
        self.d = draft
        self.site = draft.site
        self.profile = draft.profile
        self.who = who
        self.wind = wind
        self.notes = list(draft.notes)
        self.flags: list[str] = []
        self.time = draft.aircraft.lanes["north"].time
        self.first_contact = int(np.searchsorted(self.time, self._contact_time))

    @property
    def _contact_time(self) -> float:
        return np.inf if self.d.contact is None else self.d.contact

    @cached_property
    def geometry(self) -> Geometry:
        """Axes at the samples: smoothed before contact, as recorded from then on."""
        flown = self.d.geometry(self.time).moment
        n = self.first_contact
        if n < self.time.size:
            rows = np.arange(n, self.time.size)
            raw = raw_moment(self.d, rows)
            flown = _joined(flown, raw, n)
        return Geometry(flown, self.site, self.profile, self.d.aircraft.ground)

    @cached_property
    def reference(self) -> np.ndarray:
        """Reference point in approach axes at the samples."""
        return self.geometry.reference()

    @cached_property
    def air(self) -> infer.AirMass:
        """The wind at the samples."""
        return infer.air_mass(self.d.aircraft, self.time, self.wind, self._contact_time)

    @cached_property
    def hook_is_up(self) -> bool:
        """Whether a channel says that the hook is up."""
        return hook_up(self.d)

    # --- the commanded path

    @cached_property
    def on_speed_pitch(self) -> float:
        """Pitch at which the hook's path is commanded, rad."""
        profile = self.profile
        if profile.on_speed_pitch is not None:
            return profile.on_speed_pitch
        share = 1.0
        if not (self.site.is_field and (self.wind is None or self.wind.speed == 0.0)):
            share = self._closure_share()
        return profile.on_speed - self.site.lens.basic_angle * share

    def _closure_share(self) -> float:
        range_ = -self.reference[:, 0]
        rows = (range_ < 0.75 * NAUTICAL_MILE) & (range_ > 0.0)
        rows &= np.arange(self.time.size) < self.first_contact
        share = self.closure[rows] / self.airspeed[rows]
        share = share[np.isfinite(share)]
        if share.size and self.airspeed_source != "none":
            return float(np.median(share))
        self.notes.append(
            Note(
                "on-speed-pitch-assumed",
                "Neither the profile nor the recording tells the on-speed pitch: closure is taken as "
                f"{_CLOSURE_SHARE} of the airspeed.",
            )
        )
        return _CLOSURE_SHARE

    @cached_property
    def constant(self) -> float:
        """Height over the lens at which the eye's commanded path passes it, m."""
        return axes.path_constant(self.site, self.profile, self.on_speed_pitch)

    @cached_property
    def mean_lens_height(self) -> float:
        """Mean height of the lens over the sea in the pass, m."""
        inside = (self.time >= self.d.window.start) & (self.time <= self.d.window.end)
        heights = self.geometry.lens_height(self._ship_altitude(self.geometry.moment))
        return float(np.mean(heights[inside]))

    def _ship_altitude(self, moment: Moment) -> np.ndarray:
        return self.d.ship.ground.altitude(moment.ship_place)

    def glide_slope(self, geometry: Geometry) -> tuple[np.ndarray, np.ndarray]:
        """Glide-slope error and distance to the lens at a geometry's times."""
        inertial = self.site.lens.stabilisation == "inertial"
        altitude = self._ship_altitude(geometry.moment) if inertial else np.zeros(1)
        mean = self.mean_lens_height if inertial else 0.0
        return geometry.glide_slope(self.constant, ship_altitude=altitude, mean_lens_height=mean)

    # --- quantities at the samples

    @cached_property
    def velocity(self) -> np.ndarray:
        """Velocity against the ship in approach axes at the samples."""
        place, velocity = self.reference, self._relative_velocity(self.time)
        n = self.first_contact
        if self.time.size - n >= 3:
            velocity[n:] = np.gradient(place[n:], self.time[n:], axis=0)
        elif n < self.time.size:
            velocity[n:] = velocity[n - 1]
        return velocity

    def _relative_velocity(self, when: np.ndarray) -> np.ndarray:
        """Rate (m, 3) of the reference point's place in approach axes, which turn with the ship."""
        step = 0.01
        after, before = (self.d.geometry(when + s).reference() for s in (step, -step))
        return (after - before) / (2.0 * step)

    @cached_property
    def closure(self) -> np.ndarray:
        """Speed against the ship along the centreline, m/s."""
        return self.velocity[:, 0]

    @cached_property
    def sink(self) -> np.ndarray:
        """Descent of the reference point against the earth, m/s."""
        n = self.first_contact
        down = self._descent(self.geometry.moment)
        if self.time.size - n >= 3:
            down[n:] = np.gradient(self.geometry.moment.place[n:, 2], self.time[n:])
        elif n < self.time.size:
            down[n:] = down[n - 1]
        return down

    def _descent(self, moment: Moment) -> np.ndarray:
        """Descent against the earth (m,), m/s, along what is plumb at the aircraft."""
        levels = self.d.aircraft.ground.levels(moment.place)
        return frames.rotate(levels, moment.velocity)[:, 2]

    @cached_property
    def _air_velocity(self) -> np.ndarray:
        return self.geometry.moment.velocity - self.air.wind

    @property
    def airspeed_source(self) -> str:
        """Where the true airspeed comes from: "recorded", a wind's source, or "none"."""
        return "recorded" if "true_airspeed" in self.d.aircraft.lanes else self.air.source

    @cached_property
    def airspeed(self) -> np.ndarray:
        """True airspeed at the samples, m/s: recorded, else from path and wind."""
        lane = self.d.aircraft.lanes.get("true_airspeed")
        if lane is not None:
            value = lane.at(self.time)[:, 0].copy()
            n = self.first_contact
            value[n:] = np.interp(self.time[n:], lane.time, lane.value)
            return value
        return np.linalg.norm(self._air_velocity, axis=-1)

    @cached_property
    def attack(self) -> tuple[np.ndarray, np.ndarray, str]:
        """Angle of attack, its sigma, and "measured" or "inferred"."""
        lane = self.d.aircraft.lanes.get("angle_of_attack")
        if lane is not None:
            value = lane.at(self.time)[:, 0].copy()
            n = self.first_contact
            value[n:] = np.interp(self.time[n:], lane.time, lane.value)
            return value, np.hypot(lane.sigma(self.time), lane.spread), "measured"
        value, sigma = infer.attack_from_path(self.d.aircraft, self.air, self.time)
        value = value.copy()
        value[self.first_contact :] = np.nan
        self.notes.append(
            Note(
                "angle-of-attack-inferred",
                "Angle of attack not recorded: worked out from attitude, path and "
                + ("a wind that nobody told (taken as calm)" if self.air.source == "none" else "wind")
                + f", to about {np.degrees(np.median(sigma)):.1f} deg.",
            )
        )
        return value, sigma, "inferred"

    @cached_property
    def power(self) -> np.ndarray:
        """Throttle, else engine speed, 0..1; NaN where not recorded."""
        track = self.d.aircraft.track
        for name in ("throttle", "engine_rpm"):
            values = track.get(name)
            if values is not None and np.isfinite(values).any():
                ok = np.isfinite(values)
                return np.interp(self.time, track.time[ok], values[ok])
        return np.full(self.time.size, np.nan)

    @cached_property
    def energy_rate(self) -> np.ndarray:
        """Rate of height plus V^2/2g in the air mass, m/s."""
        speed = self.airspeed
        lane = self.d.aircraft.lanes.get("true_airspeed")
        rate = lane.at(self.time)[:, 1] if lane is not None else np.gradient(speed, self.time)
        out = speed * rate / STANDARD_GRAVITY - self.sink
        out[self.first_contact :] = np.nan
        return out

    # --- events

    @cached_property
    def ramp(self) -> Ramp | None:
        """The moment the hook point crosses the ramp."""
        hook = self.d.geometry(self.time).hook()
        x = hook[:, 0]
        near = np.flatnonzero((x[:-1] < 0.0) & (x[1:] >= 0.0) & (np.abs(hook[1:, 1]) < 300.0))
        near = near[self.time[near] >= self.d.window.entry]
        if not near.size:
            return None
        i = int(near[0])
        when = np.linspace(self.time[i], self.time[i + 1], 41)
        fine = self.d.geometry(when).hook()
        time = float(np.interp(0.0, fine[:, 0], when))
        height = float(np.interp(time, when, fine[:, 2]))
        sigma = float(sigmas.hook_height(self, np.array([time]))[0])
        return Ramp(time, height, sigma)

    @cached_property
    def roll(self) -> contact.RollOut | None:
        """What the recording shows after contact."""
        if self.d.contact is None:
            return None
        n = self.first_contact
        geometry = self.d.geometry(self.d.contact + np.array([-0.02, 0.0]))
        at = geometry.hook()[1, 0]
        before, after = geometry.deck(geometry.offset)[:, 0]
        return contact.roll_out(
            self.time[n:],
            # the reference point's run, since the hook swings as the nose comes down
            float(at) + self._deck_x()[n:] - float(after),
            contact=self.d.contact,
            x_contact=float(at),
            speed=float(after - before) / 0.02,
            wires=() if self.site.wires is None else self.site.wires.positions,
        )

    def _deck_x(self) -> np.ndarray:
        """Deck x of the reference point at the samples, m."""
        return self.geometry.deck(self.geometry.offset)[:, 0]

    @property
    def _place_noise(self) -> float:
        """Standard deviation of a recorded horizontal place, m."""
        lanes = self.d.aircraft.lanes
        return float(np.sqrt(np.nanmax([lanes[k].variance for k in ("north", "east")])))

    @cached_property
    def hook_path(self) -> tuple[np.ndarray, np.ndarray]:
        """Fine times and hook points (deck axes) from the ramp to past the deck contact.

        In free flight up to the first contact of any part; from there as recorded.
        """
        start = self.ramp.time if self.ramp else self._contact_time - 2.0
        first = self._contact_time
        when = np.arange(start - 0.2, first + 0.004, 0.002)
        points = self.d.geometry(when).hook()
        after = self.geometry.hook()[self.first_contact :]
        later = self.time[self.first_contact :]
        keep = later > when[-1]
        return np.concatenate([when, later[keep]]), np.concatenate([points, after[keep]])

    @cached_property
    def struck(self) -> bool:
        """Whether the hook point came to the ramp below the deck."""
        ramp = self.ramp
        if ramp is None or ramp.hook_to_ramp >= -2.0 * ramp.hook_to_ramp_sigma or self.hook_is_up:
            return False
        return abs(self._hook_y(ramp.time)) < self.site.width

    @cached_property
    def touchdown(self) -> Touchdown | None:
        """First contact of the hook with deck or wire; wheels alone with the hook up."""
        if self.d.contact is None or self.struck:
            return None
        wheels_x = self._wheels_x()
        if self.hook_is_up:
            return self._wheels_only(wheels_x)
        when, hook = self.hook_path
        meets = contact.first_below(when, hook[:, 2], contact.over_deck(hook, self.site))
        kind = "deck"
        x = None if meets is None else float(np.interp(meets, when, hook[:, 0]))
        taken = self._wire_in_the_air(when, hook, meets)
        if taken is not None:
            meets, x, kind = taken[0], taken[1], "wire"
        if meets is None:
            return self._wheels_only(wheels_x)
        before = min(meets, self._contact_time)
        sigma = 0.0 if kind == "wire" else float(sigmas.touchdown_x(self, before))
        if kind == "wire":
            sigma = self.site.sigma.wires
        return self._touchdown(meets, kind, x, sigma, wheels_x)

    def _touchdown(self, when: float, kind: str, x, sigma, wheels_x) -> Touchdown:
        pair = np.array([when - 0.02, when])
        geometry = self.d.geometry(pair)
        point = geometry.hook() if kind != "wheels" else geometry.wheels()[0]
        lane = self.d.aircraft.lanes.get("angle_of_attack")
        if lane is not None:
            angle = float(lane.at(pair)[1, 0])
        else:
            angle = float(infer.attack_from_path(self.d.aircraft, self._air_at(pair), pair)[0][1])
        off = geometry.hook()[1, 1] if kind != "wheels" else 0.5 * sum(w[1, 1] for w in geometry.wheels()[:2])
        return Touchdown(
            time=float(when),
            kind=kind,
            hook_x=x,
            hook_x_sigma=sigma,
            wheels_x=wheels_x,
            off_centre=float(off) if kind != "wheels" else None,
            sink=float(-(point[1, 2] - point[0, 2]) / 0.02),
            closure=float(self._relative_velocity(pair)[1, 0]),
            angle_of_attack=angle,
            pitch=float(geometry.moment.pitch[1]),
        )

    def _air_at(self, when: np.ndarray) -> infer.AirMass:
        return infer.air_mass(self.d.aircraft, when, self.wind, self._contact_time)

    def _wheels_only(self, wheels_x: float | None) -> Touchdown:
        assert self.d.contact is not None
        return self._touchdown(self.d.contact, "wheels", None, None, wheels_x)

    def _wheels_x(self) -> float | None:
        """Deck x of the main wheels where the first of them meets the deck."""
        right, left, _ = self.geometry.wheels()
        n = max(self.first_contact - 1, 0)
        low = np.minimum(right[n:, 2], left[n:, 2])
        when = contact.first_below(self.time[n:], low, contact.over_deck(right[n:], self.site))
        if when is None:
            return None
        return float(np.interp(when, self.time[n:], 0.5 * (right[n:, 0] + left[n:, 0])))

    def _wire_in_the_air(self, when, hook, meets: float | None) -> tuple[float, float] | None:
        """Time and x at which the hook, still in the air, takes the wire that held it."""
        wires, roll = self.site.wires, self.roll
        if wires is None or roll is None or not roll.held:
            return None
        limit = np.inf if meets is None else meets
        least = min(roll.misfit.values(), default=0.0)
        for number, x in enumerate(wires.positions, start=1):
            if roll.misfit.get(number, 0.0) > least + 3.0 * np.hypot(contact.SHAPE_SIGMA, self._place_noise):
                continue
            i = int(np.searchsorted(hook[:, 0], x))
            if i == 0 or i >= when.size or when[i] > limit:
                continue
            height = float(np.interp(x, hook[i - 1 : i + 1, 0], hook[i - 1 : i + 1, 2]))
            if height > wires.height:
                continue
            return float(np.interp(x, hook[i - 1 : i + 1, 0], when[i - 1 : i + 1])), float(x)
        return None

    @cached_property
    def low_x(self) -> float | None:
        """Deck x at which the hook point first is as low as a wire."""
        touch = self.touchdown
        if touch is None or touch.hook_x is None or self.site.wires is None:
            return None
        if touch.kind == "wire":
            return touch.hook_x
        when, hook = self.hook_path
        height = hook[:, 2] - self.site.wires.height
        at = contact.first_below(when, height, contact.over_deck(hook, self.site))
        return touch.hook_x if at is None else float(np.interp(at, when, hook[:, 0]))

    @cached_property
    def outcome(self) -> tuple[str | None, contact.Wire]:
        """The outcome in the project's words, and the wire."""
        none = contact.Wire(None, {}, False, ())
        roll, touch = self.roll, self.touchdown
        if self.struck:
            return "ramp strike", none
        if touch is None or roll is None:
            return self._untouched(), none
        if self._outside(touch):
            return "outside", none
        if roll.seconds < 0.3:
            self.notes.append(
                Note(
                    "ends-at-touchdown",
                    "The recording ends at touchdown: what stopped the aircraft is not in it.",
                )
            )
            odds = contact.wire_odds(self.site, self.low_x, touch.hook_x_sigma or 0.0) if self.low_x else {}
            return None, contact.Wire(None, odds, False, ())
        if roll.held and self.site.wires is not None and self.low_x is not None:
            sigma = touch.hook_x_sigma or 0.0
            wire = contact.stopped_by(self.site, self.low_x, sigma, roll, self._place_noise)
            return "trap", contact.Wire(wire.number, wire.odds, touch.kind == "wire", wire.flags)
        flags: tuple[str, ...] = ()
        if self.low_x is not None and contact.geometric_wire(self.site, self.low_x) is not None:
            flags = ("hook skip",)
        if roll.stopped:
            return "landing", contact.Wire(None, {}, False, flags)
        if self.hook_is_up or self.site.is_field:
            return "touch-and-go", none
        return "bolter", contact.Wire(None, {}, False, flags)

    def _untouched(self) -> str | None:
        """A wave-off, unless the recording ends before that can be known."""
        height = self.reference[:, 2]
        climbs = float(height[-1]) > float(np.min(height)) + 3.0
        beyond = self.reference[-1, 0] > self.site.length
        if climbs or beyond or self.closure[-1] < 0.0 or self.wave_off_start is not None:
            return "wave-off"
        self.notes.append(
            Note("ends-early", "The recording ends before it shows a landing or a climb: no outcome in it.")
        )
        return None

    def _hook_y(self, when: float) -> float:
        return float(self.d.geometry(np.array([when])).hook()[0, 1])

    def _outside(self, touch: Touchdown) -> bool:
        x = touch.hook_x if touch.hook_x is not None else touch.wheels_x
        off = touch.off_centre
        if off is None:
            right, left, _ = self.d.geometry(np.array([touch.time])).wheels()
            off = float(0.5 * (right[0, 1] + left[0, 1]))
        beyond = x is not None and not 0.0 <= x <= self.site.length
        return bool(beyond or abs(off) > self.site.width / 2.0)

    @cached_property
    def wave_off_start(self) -> float | None:
        """Start of the last sustained rise of power, else of specific energy rate, s."""
        before = self._contact_time
        rows = (self.time >= self.d.window.entry - 5.0) & (self.time <= before)
        if np.isfinite(self.power[rows]).sum() > 5:
            return events.last_rise(self.time[rows], self.power[rows], least=_POWER_RISE, seconds=1.0)
        return events.last_rise(self.time[rows], self.energy_rate[rows], least=_ENERGY_RISE, seconds=1.5)

    def _went_around(self, start: float) -> bool:
        """Whether full power was set before the deck was touched, and kept: a wave-off that touches."""
        contact_time = self._contact_time
        if contact_time - start < _EARLY_POWER or not np.isfinite(self.power).any():
            return False
        top = float(np.nanmax(self.power))
        at_contact = float(np.interp(contact_time, self.time, self.power))
        kept = self.power[(self.time > start + 1.0) & (self.time <= contact_time)]
        full = top > 0.85 and at_contact > 0.9 * top and (not kept.size or float(kept.min()) > 0.75 * top)
        if not full or self.roll is None:
            return False
        # with a wire, only one who was already climbing away was going around
        sink_then, sink_now = np.interp([start, contact_time - 0.05], self.time, self.sink)
        return bool(not self.roll.held or sink_now < 0.85 * sink_then)

    @cached_property
    def wave_off(self) -> WaveOff | None:
        """The wave-off, where the pass ended in one."""
        outcome, _ = self.outcome
        start = self.wave_off_start
        if outcome == "wave-off":
            pass
        elif self.touchdown is not None and start is not None and self._went_around(start):
            self.flags.append("touched after wave-off")
        else:
            return None
        if start is None:
            self.notes.append(
                Note(
                    "wave-off-start-unknown",
                    "The aircraft never touched, and no rise of power shows in the recording.",
                )
            )
            return None
        range_ = float(np.interp(start, self.time, -self.reference[:, 0]))
        hook = self.geometry.hook()
        over = contact.over_deck(hook, self.site) & (self.time >= start)
        lowest = float(hook[over, 2].min()) if over.any() else None
        return WaveOff(start, range_, lowest)

    @cached_property
    def groove(self) -> Groove | None:
        """The groove, up to touchdown or wave-off."""
        end = self.time[-1]
        if self.wave_off is not None:
            end = self.wave_off.start
        elif self.touchdown is not None:
            end = self.touchdown.time
        elif self.ramp is not None:
            end = self.ramp.time
        ref = self.reference
        error = self.geometry.line_up_error(ref)
        return events.groove(self.time, -ref[:, 0], self.geometry.moment.roll, error, float(end))

    @cached_property
    def turn(self) -> Turn | None:
        """The turn from downwind, where the pass has one."""
        abeam = self.d.window.abeam
        if abeam is None or abeam < self.time[0]:
            return None
        geometry = self.d.geometry(np.array([abeam]))
        distance = self.site.ramp[1] - float(geometry.hull()[0, 1])
        altitude = float(self.d.aircraft.ground.altitude(geometry.moment.place)[0])
        roll = self.geometry.moment.roll
        banked = np.flatnonzero((self.time >= abeam - 5.0) & (roll < -10.0 * DEGREE))
        start = float(self.time[banked[0]]) if banked.size else abeam
        return Turn(distance, altitude, start)

    @cached_property
    def positions(self) -> tuple[Position, ...]:
        """The state at the named ranges and at the ramp."""
        end = self.time[-1]
        for event in (self.ramp, self.touchdown):
            if event is not None:
                end = min(end, event.time)
        rows = (self.time <= end + 1e-9) & (self.time >= self.d.window.start)
        range_ = -self.reference[:, 0]
        found = []
        for name, distance in events.RANGES.items():
            time = events.last_falling(self.time[rows], range_[rows], distance)
            if time is None:
                continue
            position = self._position(name, time)
            if abs(position.line_up_offset) > events.WIDEST:
                self.notes.append(
                    Note(
                        "position-left-out",
                        f"{name} is left out: {abs(position.line_up_offset) / FOOT:.0f} ft from the "
                        "centreline there, still in the turn.",
                    )
                )
                continue
            found.append(position)
        if self.ramp is not None:
            found.append(self._position("ramp", self.ramp.time))
        return tuple(found)

    def _position(self, name: str, time: float) -> Position:
        when = np.array([time])
        geometry = self.d.geometry(when)
        reference = geometry.reference()
        error, distance = self.glide_slope(geometry)
        lane = self.d.aircraft.lanes.get("angle_of_attack")
        if lane is not None:
            attack = float(lane.at(when)[0, 0])
        else:
            attack = float(infer.attack_from_path(self.d.aircraft, self._air_at(when), when)[0][0])
        start = None if self.wave_off is None else self.wave_off.start
        spread = {key: float(value[0]) for key, value in sigmas.at(self, when, geometry, distance).items()}
        return Position(
            name=name,
            range=float(-reference[0, 0]),
            time=float(time),
            glide_slope_error=float(error[0]),
            ball_cells=float(error[0] / self.site.lens.cell),
            line_up_error=float(geometry.line_up_error(reference)[0]),
            line_up_offset=float(reference[0, 1]),
            angle_of_attack=attack,
            angle_of_attack_error=attack - self.profile.on_speed,
            sink=float(self._descent(geometry.moment)[0]),
            closure=float(self._relative_velocity(when)[0, 0]),
            after_wave_off=bool(start is not None and time >= start),
            sigma=spread,
        )

    # --- what the pilot saw

    def series(self) -> Series:
        """The state at the samples, with what the pilot saw."""
        geometry, reference = self.geometry, self.reference
        error, distance = self.glide_slope(geometry)
        attack, attack_sigma, origin = self.attack
        right, left, _ = geometry.wheels()
        velocity = self.velocity
        corner_right, corner_above = self._marker(geometry)
        spread = sigmas.at(self, self.time, geometry, distance)
        spread["angle_of_attack"] = spread["angle_of_attack_error"] = attack_sigma
        moment = geometry.moment
        ramp_down = (geometry.ramp + frames.rotate(geometry.at_ship, moment.ship_place))[:, 2]
        return Series(
            time=self.time,
            range=-reference[:, 0],
            line_up_offset=reference[:, 1],
            line_up_error=geometry.line_up_error(reference),
            height=reference[:, 2],
            glide_slope_error=error,
            ball_cells=error / self.site.lens.cell,
            angle_of_attack=attack,
            angle_of_attack_error=attack - self.profile.on_speed,
            sink=self.sink,
            closure=self.closure,
            true_airspeed=self.airspeed if self.airspeed_source != "none" else np.full_like(error, np.nan),
            pitch=moment.pitch,
            roll=moment.roll,
            heading=moment.heading,
            power=self.power,
            specific_energy_rate=self.energy_rate,
            hook=geometry.hook(),
            right_wheel=right,
            left_wheel=left,
            eye=geometry.eye(),
            drift=np.arctan2(velocity[:, 1], velocity[:, 0]),
            aim=self._aim(geometry),
            marker_right_of_corner=corner_right,
            marker_above_corner=corner_above,
            ball_in_window=axes.ball_in_window(error, distance, self.site.lens.image_distance),
            deck_pitch=moment.ship_pitch,
            deck_roll=moment.ship_roll,
            deck_heave=ramp_down.mean() - ramp_down,
            contact=self.first_contact,
            sigma=spread,
            correlation=sigmas.correlation(self),
            origin={
                "angle_of_attack": origin,
                "true_airspeed": "measured" if self.airspeed_source == "recorded" else "inferred",
                "pitch": self._origin("pitch"),
                "roll": self._origin("roll"),
                "heading": self._origin("heading"),
            },
        )

    def _origin(self, name: str) -> str:
        return "measured" if name in self.d.aircraft.track else "inferred"

    def _marker(self, geometry: Geometry) -> tuple[np.ndarray, np.ndarray]:
        """Flight-path marker against the far right corner of the landing area, seen from the eye, rad."""
        site = self.site
        corner = geometry.approach(geometry.deck_point((site.length, site.width / 2.0, 0.0)))
        sight = corner - geometry.eye()
        flown = geometry.earth_velocity()
        azimuth = np.arctan2(flown[:, 1], flown[:, 0]) - np.arctan2(sight[:, 1], sight[:, 0])
        level = np.hypot(sight[:, 0], sight[:, 1])
        above = np.arctan2(flown[:, 2], np.hypot(flown[:, 0], flown[:, 1])) - np.arctan2(sight[:, 2], level)
        behind = (sight[:, 0] <= 0.0) | (np.arange(self.time.size) >= self.first_contact)
        return np.where(behind, np.nan, azimuth), np.where(behind, np.nan, above)

    def _aim(self, geometry: Geometry) -> np.ndarray:
        """Deck x, y (n, 2) that the hook point would meet if the present velocity stayed."""
        hook = geometry.hook()
        velocity = self.velocity
        out = np.full((self.time.size, 2), np.nan)
        falling = (velocity[:, 2] < -0.2) & (hook[:, 2] > 0.0)
        falling[self.first_contact :] = False
        seconds = hook[falling, 2] / -velocity[falling, 2]
        out[falling] = hook[falling, :2] + velocity[falling, :2] * seconds[:, None]
        return out

    def build(self) -> Pass:
        """Freeze the pass."""
        outcome, wire = self.outcome
        wave_off = self.wave_off
        if outcome == "wave-off" and self.touchdown is not None:
            self.flags.append("touched after wave-off")
        flags = tuple(dict.fromkeys([*wire.flags, *self.flags]))
        start = max(self.d.window.start, self.time[0])
        series = self.series()
        return Pass(
            who=self.who,
            aircraft=self.profile,
            site=self.site,
            start=float(start),
            end=float(self.time[-1]),
            outcome=outcome,
            flags=flags,
            wire=wire.number,
            wire_odds=wire.odds,
            wire_in_the_air=wire.in_the_air,
            groove=self.groove,
            turn=self.turn,
            positions=self.positions,
            ramp=self.ramp,
            touchdown=self.touchdown,
            wave_off=wave_off,
            series=series,
            notes=tuple(dict.fromkeys(self.notes)),
            path_constant=self.constant,
            on_speed_pitch=self.on_speed_pitch,
        )


def _joined(flown: Moment, raw: Moment, n: int) -> Moment:
    """Take a moment's rows up to n, and another's from then on."""
    return Moment(
        **{
            name: np.concatenate([getattr(flown, name)[:n], getattr(raw, name)])
            for name in Moment.__dataclass_fields__
        }
    )
