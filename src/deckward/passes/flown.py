"""The quantities of a pass at its samples: what was flown, against deck and air."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from deckward.errors import Note
from deckward.foundation import frames
from deckward.foundation.statistics import median
from deckward.foundation.units import NAUTICAL_MILE, STANDARD_GRAVITY
from deckward.passes import axes, infer
from deckward.passes.axes import Geometry, Moment
from deckward.passes.draft import Draft, hook_up, raw_moment
from deckward.passes.model import GrooveBounds, Wind

#: on-speed pitch where neither profile nor recording tells it: closure over airspeed
_CLOSURE_SHARE = 0.82


class Flown:
    """One pass at its samples; each value is computed once, when first asked for."""

    def __init__(
        self, draft: Draft, wind: Wind | None, who: str, groove_bounds: GrooveBounds | None = None
    ) -> None:
        self.groove_bounds = groove_bounds
        self.d = draft
        self.site = draft.site
        self.profile = draft.profile
        self.who = who
        self.wind = wind
        self.notes = list(draft.notes)
        self.flags: list[str] = []
        self.time = draft.aircraft.lanes["north"].time
        self.first_contact = int(np.searchsorted(self.time, self.contact_time))

    @property
    def contact_time(self) -> float:
        """First contact with the deck, s; inf where there is none."""
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
    def hook(self) -> np.ndarray:
        """Hook point in deck axes at the samples."""
        return self.geometry.hook()

    @cached_property
    def reference(self) -> np.ndarray:
        """Reference point in approach axes at the samples."""
        return self.geometry.reference()

    @cached_property
    def air(self) -> infer.AirMass:
        """The wind at the samples."""
        return infer.air_mass(self.d.aircraft, self.time, self.wind, self.contact_time)

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
            return float(median(share))
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
        time = self.time[inside]
        return float(np.trapezoid(heights[inside], time) / (time[-1] - time[0]))

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
        place, velocity = self.reference, self.geometry.relative_velocity()
        n = self.first_contact
        if self.time.size - n >= 3:
            velocity[n:] = np.gradient(place[n:], self.time[n:], axis=0)
        elif n < self.time.size:
            velocity[n:] = velocity[n - 1]
        return velocity

    @cached_property
    def closure(self) -> np.ndarray:
        """Speed against the ship along the centreline, m/s."""
        return self.velocity[:, 0]

    @cached_property
    def sink(self) -> np.ndarray:
        """Descent of the reference point against the earth, m/s."""
        n = self.first_contact
        down = self.descent(self.geometry.moment)
        if self.time.size - n >= 3:
            down[n:] = np.gradient(self.geometry.moment.place[n:, 2], self.time[n:])
        elif n < self.time.size:
            down[n:] = down[n - 1]
        return down

    def descent(self, moment: Moment) -> np.ndarray:
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
                + f", to about {np.degrees(median(sigma)):.1f} deg.",
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


def _joined(flown: Moment, raw: Moment, n: int) -> Moment:
    """Take a moment's rows up to n, and another's from then on."""
    return Moment(
        **{
            name: np.concatenate([getattr(flown, name)[:n], getattr(raw, name)])
            for name in Moment.__struct_fields__
        }
    )
