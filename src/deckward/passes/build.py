"""Putting the frozen pass together from settled lanes: its events and its outcome."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from deckward.errors import Note
from deckward.foundation.units import DEGREE, FOOT
from deckward.passes import contact, events, infer, sight, sigmas
from deckward.passes.flown import Flown
from deckward.passes.model import (
    Groove,
    Pass,
    Position,
    Ramp,
    Touchdown,
    Turn,
    WaveOff,
)

#: gain of throttle, and of specific energy rate (m/s), that make a sustained rise
_POWER_RISE, _ENERGY_RISE = 0.12, 3.0
#: full power this long before contact is a wave-off, not power for the bolter, s; chosen by us
_EARLY_POWER = 0.5
#: sigma of the touchdown (m) up to which a wire taken in the air is told from one taken on deck
_TELLS_APART = 0.6
#: likelihood of a pull below which a wire is not the one that held; that of three sigmas
_UNLIKELY = 0.01
#: a recorded wheel this close to the deck stands on it, m
_WHEEL_SLACK = 0.02


class Builder(Flown):
    """Works out the events of one pass, and freezes it."""

    @cached_property
    def ramp(self) -> Ramp | None:
        """The moment the hook point crosses the ramp."""
        hook = self.hook
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
        rows = np.flatnonzero(self.time > self.d.contact - 1.0)
        geometry = self.d.geometry(self.d.contact + np.array([-0.02, 0.0]))
        at = geometry.hook()[1, 0]
        before, after = geometry.deck(geometry.offset)[:, 0]
        return contact.roll_out(
            self.time[rows],
            # the reference point's run, since the hook swings as the nose comes down
            float(at) + self._deck_x()[rows] - float(after),
            contact=self.d.contact,
            x_contact=float(at),
            speed=float(after - before) / 0.02,
            noise=self._place_noise,
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
        start = self.ramp.time if self.ramp else self.contact_time - 2.0
        first = self.contact_time
        when = np.arange(start - 0.2, first + 0.01, 0.01)
        points = self.d.geometry(when).hook()
        after = self.hook[self.first_contact :]
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
        sigma = float(sigmas.touchdown_x(self, min(self.contact_time, meets or np.inf)))
        # between the wire and the deck behind it lie two metres: a poor height cannot tell
        taken = self._wire_in_the_air(when, hook, meets) if sigma < _TELLS_APART else None
        if taken is not None:
            meets, x, kind = taken[0], taken[1], "wire"
        if meets is None:
            return self._wheels_only(wheels_x)
        if kind == "wire":
            sigma = self.site.sigma.wires
        return self._touchdown(meets, kind, x, sigma, wheels_x)

    def _touchdown(self, when: float, kind: str, x, sigma, wheels_x) -> Touchdown:
        pair = np.array([when - 0.02, when])
        geometry = self.d.geometry(pair)
        point = geometry.hook() if kind != "wheels" else geometry.wheels()[0]
        off = geometry.hook()[1, 1] if kind != "wheels" else 0.5 * sum(w[1, 1] for w in geometry.wheels()[:2])
        return Touchdown(
            time=float(when),
            kind=kind,
            hook_x=x,
            hook_x_sigma=sigma,
            wheels_x=wheels_x,
            off_centre=float(off) if kind != "wheels" else None,
            sink=float(-(point[1, 2] - point[0, 2]) / 0.02),
            closure=float(geometry.relative_velocity()[1, 0]),
            angle_of_attack=float(self._attack_at(pair)[1]),
            pitch=float(geometry.moment.pitch[1]),
        )

    def _air_at(self, when: np.ndarray) -> infer.AirMass:
        return infer.air_mass(self.d.aircraft, when, self.wind, self.contact_time)

    def _wheels_only(self, wheels_x: float | None) -> Touchdown:
        assert self.d.contact is not None
        return self._touchdown(self.d.contact, "wheels", None, None, wheels_x)

    def _wheels_x(self) -> float | None:
        """Deck x of the main wheels where the first of them meets the deck.

        The flight carried on says when they would, the recording when they did: the
        earlier of its first samples that low, but not before the flight says so.
        """
        when = self.contact_time + np.arange(0.0, 1.0, 0.01)
        right, left, _ = self.d.geometry(when).wheels()
        free = contact.first_below(
            when, np.minimum(right[:, 2], left[:, 2]), contact.over_deck(right, self.site)
        )
        n = max(self.first_contact - 1, 0)
        seen_right, seen_left, _ = self.geometry.wheels()
        low = np.minimum(seen_right[n:, 2], seen_left[n:, 2])
        seen = contact.first_below(
            self.time[n:], low - _WHEEL_SLACK, contact.over_deck(seen_right[n:], self.site)
        )
        if free is None and seen is None:
            return None
        if free is not None and (seen is None or seen < free or seen > free + 0.3):
            return float(np.interp(free, when, 0.5 * (right[:, 0] + left[:, 0])))
        return (
            None
            if seen is None
            else float(np.interp(seen, self.time[n:], 0.5 * (seen_right[n:, 0] + seen_left[n:, 0])))
        )

    def _wire_in_the_air(self, when, hook, meets: float | None) -> tuple[float, float] | None:
        """Time and x at which the hook, still in the air, takes the wire that held it."""
        wires, roll = self.site.wires, self.roll
        if wires is None or roll is None or not roll.held:
            return None
        limit = np.inf if meets is None else meets
        likely = roll.pulled_at(np.asarray(wires.positions))
        for x, chance in zip(wires.positions, likely, strict=True):
            if chance < _UNLIKELY:
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
            return "ramp strike", self._wire_after_strike()
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
            in_the_air = touch.kind == "wire"
            sigma = sigmas.touchdown_x(self, touch.time) if in_the_air else touch.hook_x_sigma or 0.0
            wire = contact.stopped_by(self.site, self.low_x, sigma, roll)
            return "trap", contact.Wire(wire.number, wire.odds, in_the_air, wire.flags)
        flags: tuple[str, ...] = ()
        if self.low_x is not None and contact.passed_over(self.site, self.low_x, touch.hook_x_sigma or 0.0):
            flags = ("hook skip",)
        if roll.stopped:
            return "landing", contact.Wire(None, {}, False, flags)
        if self.hook_is_up or self.site.is_field:
            return "touch-and-go", none
        return "bolter", contact.Wire(None, {}, False, flags)

    def _wire_after_strike(self) -> contact.Wire:
        """The wire that stopped an aircraft whose hook came over the ramp too low for every wire."""
        if self.roll is None or not self.roll.held or self.site.wires is None:
            return contact.Wire(None, {}, False, ())
        return contact.stopped_by(self.site, 0.0, 0.0, self.roll)

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
        before = self.contact_time
        rows = (self.time >= self.d.window.entry - 5.0) & (self.time <= before)
        if np.isfinite(self.power[rows]).sum() > 5:
            return events.last_rise(self.time[rows], self.power[rows], least=_POWER_RISE, seconds=1.0)
        return events.last_rise(self.time[rows], self.energy_rate[rows], least=_ENERGY_RISE, seconds=1.5)

    def _went_around(self, start: float) -> bool:
        """Whether full power was set before the deck was touched, and kept: a wave-off that touches."""
        contact_time = self.contact_time
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
        hook = self.hook
        over = contact.over_deck(hook, self.site) & (self.time >= start)
        heights = [float(hook[over, 2].min())] if over.any() else []
        if self.ramp is not None and self.ramp.time >= start:
            heights.append(self.ramp.hook_to_ramp)
        lowest = min(heights, default=None)
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
        return events.groove(
            self.time, -ref[:, 0], self.geometry.moment.roll, error, float(end), self.groove_bounds
        )

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
        crossed = {
            name: events.last_falling(self.time[rows], range_[rows], distance)
            for name, distance in events.RANGES.items()
        }
        if self.ramp is not None:
            crossed["ramp"] = self.ramp.time
        met = {name: time for name, time in crossed.items() if time is not None}
        return tuple(p for p in self._states(met) if self._belongs(p)) if met else ()

    def _belongs(self, position: Position) -> bool:
        """Whether a crossing belongs to the approach; one that does not is noted."""
        offset = abs(position.line_up_offset)
        if position.name == "ramp" or offset <= events.WIDEST:
            return True
        self.notes.append(
            Note(
                "position-left-out",
                f"{position.name} is left out: {offset / FOOT:.0f} ft from the centreline there, still in "
                "the turn.",
            )
        )
        return False

    def _states(self, crossed: dict[str, float]) -> list[Position]:
        """The state at named times."""
        when = np.array(list(crossed.values()))
        geometry = self.d.geometry(when)
        reference = geometry.reference()
        line_up = geometry.line_up_error(reference)
        error, distance = self.glide_slope(geometry)
        attack = self._attack_at(when)
        sink = self.descent(geometry.moment)
        closure = geometry.relative_velocity()[:, 0]
        spread = sigmas.at(self, when, geometry, distance)
        start = np.inf if self.wave_off is None else self.wave_off.start
        return [
            Position(
                name=name,
                range=float(-reference[i, 0]),
                time=float(time),
                glide_slope_error=float(error[i]),
                ball_cells=float(error[i] / self.site.lens.cell),
                line_up_error=float(line_up[i]),
                line_up_offset=float(reference[i, 1]),
                angle_of_attack=float(attack[i]),
                angle_of_attack_error=float(attack[i]) - self.profile.on_speed,
                sink=float(sink[i]),
                closure=float(closure[i]),
                after_wave_off=bool(time >= start),
                sigma={key: float(value[i]) for key, value in spread.items()},
            )
            for i, (name, time) in enumerate(crossed.items())
        ]

    def _attack_at(self, when: np.ndarray) -> np.ndarray:
        """Angle of attack (m,), rad, recorded or worked out."""
        lane = self.d.aircraft.lanes.get("angle_of_attack")
        if lane is not None:
            return lane.at(when)[:, 0]
        return infer.attack_from_path(self.d.aircraft, self._air_at(when), when)[0]

    def build(self) -> Pass:
        """Freeze the pass."""
        outcome, wire = self.outcome
        wave_off = self.wave_off
        if outcome == "wave-off" and self.touchdown is not None:
            self.flags.append("touched after wave-off")
        flags = tuple(dict.fromkeys([*wire.flags, *self.flags]))
        start = max(self.d.window.start, self.time[0])
        series = sight.series(self)
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
