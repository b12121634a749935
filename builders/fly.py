"""Fly passes with exactly known truth: a jet of the library, a simple pilot, a ship, a deck.

``fly(plan)`` returns the whole flight on the simulator's 120 Hz grid. Nothing here uses the
product's code: what is measured against these flights is measured from outside.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from fly_deck import DeckRun, enter
from fly_geometry import FOOT, KNOT, euler_angles, euler_matrix, local_axes, path_constant, to_geodetic
from fly_jet import TYPES, Jet, trim, wind_vector
from fly_log import Log
from fly_pilot import Pilot, Turbulence, look_up
from fly_plan import Flight, Plan
from fly_ship import STEP, Ship, sail

SETTLE = 10.0  # s flown before the recording starts


class Scene:
    """The ship's axes beside the jet's state: what a pilot could see, step by step."""

    def __init__(self, plan: Plan, ship: Ship):
        self.plan, self.ship = plan, ship
        self.eye = np.array(plan.points["eye"])
        self.hook = np.array(plan.points["hook"])
        x, y, z = plan.points["main_wheels"]
        self.wheels = np.array([[x, y, z], [x, -y, z]])

    def body(self, raw):
        ned = local_axes(np.float64(raw[3]), np.float64(raw[4]))
        return ned @ euler_matrix(np.float64(raw[11]), np.float64(raw[10]), np.float64(raw[9]))

    def see(self, i, raw, previous):
        """State record for the pilot and the contact test at ship index i."""
        ship = self.ship
        cg = np.array(raw[0:3]) * FOOT
        body = self.body(raw)
        level, deck = ship.level[i], ship.deck[i]
        ref = level.T @ (cg - ship.steady_ramp[i])
        eye = level.T @ (cg + body @ self.eye - ship.steady_ramp[i])
        s = {
            "cg": cg,
            "body": body,
            "range": -ref[0],
            "side": ref[1],
            "height": ref[2],
            "eye": eye,
            "alpha": raw[15],
            "pitch": raw[10],
            "roll": raw[9],
            "p": raw[12],
            "q": raw[13],
            "climb": -raw[8] * FOOT,
            "altitude": raw[5] * FOOT,
            "airspeed": raw[16] * FOOT,
        }
        if previous is None:
            s["closure"] = s["closure_total"] = 50.0
            s["side_rate"] = s["course_error"] = 0.0
        else:
            dx = (previous["range"] - s["range"]) / STEP
            dy = (s["side"] - previous["side"]) / STEP
            s["closure"], s["side_rate"] = dx, dy
            s["closure_total"] = math.hypot(dx, dy)
            s["course_error"] = math.atan2(dy, dx)
        angle = math.radians(self.plan.site["landing_area"]["angle_deg"])
        heading = ship.heading[i] - angle
        s["course_to_go"] = (heading - raw[11] + math.pi) % (2 * math.pi) - math.pi
        s["downwind_error"] = (ship.heading[i] + math.pi - raw[11] + math.pi) % (2 * math.pi) - math.pi
        hull = ship.hull[i].T @ (cg - ship.point[i])
        s["abeam_passed"] = hull[0] < self.plan.site["landing_area"]["ramp_m"][0]
        hook = deck.T @ (cg + body @ self.hook - ship.ramp[i])
        wheels = (cg + (body @ self.wheels.T).T - ship.ramp[i]) @ deck
        s["hook"], s["wheels"] = hook, wheels
        return s


def start_state(plan: Plan, ship: Ship, i: int, throttle, speed):
    """Where and how the jet begins, on the commanded path (or downwind) at ship index i."""
    level, angle = ship.level[i], math.radians(plan.site["landing_area"]["angle_deg"])
    wind = wind_vector(plan.wind_from, plan.wind_kt)
    ship_speed = plan.ship.speed_kt * KNOT
    course = float(ship.heading[i])
    vs = (ship_speed * math.cos(course), ship_speed * math.sin(course))
    slope = math.tan(math.radians(plan.site["lens"]["basic_angle_deg"]))
    if plan.start == "final":
        heading = course - angle
        # closure along the centreline at which the air speed is the on-speed one
        ux, uy = math.cos(heading), math.sin(heading)
        ax, ay = vs[0] - wind[0], vs[1] - wind[1]
        along = ax * ux + ay * uy
        across2 = ax * ax + ay * ay - along * along
        closure = math.sqrt(max(speed**2 - across2, 1.0)) - along
        vn, ve = vs[0] + closure * ux, vs[1] + closure * uy
        vd = closure * slope
        distance = plan.start_range + SETTLE * closure
        pitch0 = math.radians(plan.on_speed) - math.atan2(vd, speed)
        c = path_constant(plan.site, plan.points, pitch0)
        lens = plan.site["lens"]["position_m"]
        height = lens[2] + c + (lens[0] + distance) * slope - 2.0
        where = ship.steady_ramp[i] + level @ np.array([-distance, look_up(plan.lateral, 2000.0), height])
        latitude, longitude, up = (float(v) for v in to_geodetic(where))
    else:
        heading = course + math.pi
        ux, uy = math.cos(heading), math.sin(heading)
        ax, ay = -wind[0], -wind[1]
        along = ax * ux + ay * uy
        across2 = ax * ax + ay * ay - along * along
        ground = math.sqrt(max(speed**2 - across2, 1.0)) - along
        vn, ve, vd = ground * ux, ground * uy, 0.0
        ahead = 1000.0 + SETTLE * (ground + ship_speed)
        pitch0 = math.radians(plan.on_speed)
        where = ship.point[i] + ship.hull[i] @ np.array([ahead, -plan.abeam, 0.0])
        latitude, longitude, _ = (float(v) for v in to_geodetic(where))
        up = 600 * FOOT
    yaw = math.atan2(ve - wind[1], vn - wind[0])
    return {
        "latitude": latitude,
        "longitude": longitude,
        "height": up,
        "velocity": (vn, ve, vd),
        "attitude": (yaw % (2 * math.pi), pitch0, 0.0),
        "throttle": throttle,
    }


def fly(plan: Plan, pilot_of=None) -> Flight:
    """Fly one pass to its end, by the usual pilot or by the one that ``pilot_of(plan, rng)`` makes."""
    rng = np.random.default_rng(plan.seed)
    throttle, elevator, speed = trim(plan.jet)
    ship = sail(plan.ship, plan.site, -SETTLE, 260.0)
    log = Log()
    jet = Jet(TYPES[plan.jet], wind_vector(plan.wind_from, plan.wind_kt))
    jet.place(**start_state(plan, ship, 0, throttle, speed))
    jet.command(throttle, elevator, 0.0)
    pilot = (pilot_of or new_pilot)(plan, rng)
    end = fly_pass(plan, ship, log, 0, jet, pilot, Turbulence(plan.turbulence, rng))
    return log.flight(
        plan, ship, wire=end.wire, engaged=end.engaged, stopped=end.stopped, wave_off=end.wave_off
    )


def new_pilot(plan: Plan, rng) -> Pilot:
    """A pilot who knows the commanded path of the plan's site."""
    throttle, elevator, speed = trim(plan.jet)
    lens = plan.site["lens"]["position_m"]
    basic = plan.site["lens"]["basic_angle_deg"]
    slope = math.tan(math.radians(basic))
    # near enough for a pilot; the truth takes the pitch of the aircraft's file
    constant = path_constant(plan.site, plan.points, math.radians(plan.on_speed - basic * 0.78))

    def path_height(x):
        return lens[2] + constant + (lens[0] - x) * slope

    return Pilot(plan, rng, path_height, throttle, elevator, speed)


@dataclass
class End:
    """How a pass ended: the next sample, the jet if it flies, what the deck did."""

    i: int
    jet: Jet | None
    wire: int | None = None
    engaged: float | None = None
    stopped: float | None = None
    wave_off: float | None = None
    run: DeckRun | None = None

    def outcome(self):
        """What a flight keeps of it."""
        return {k: getattr(self, k) for k in ("wire", "engaged", "stopped", "wave_off")}


def fly_pass(plan: Plan, ship: Ship, log: Log, i: int, jet: Jet, pilot: Pilot, gusts: Turbulence) -> End:
    """Fly from sample i until the jet rests, or has flown on for the plan's time."""
    kind, wind = TYPES[plan.jet], wind_vector(plan.wind_from, plan.wind_kt)
    scene = Scene(plan, ship)
    end, seen, until = End(i, jet), None, None
    while i < len(ship.time) - 2:
        raw = jet.read()
        previous, seen = seen, scene.see(i, raw, seen)
        t = ship.time[i]
        due = plan.wave_off is not None and end.wave_off is None and seen["range"] < plan.wave_off
        if due and pilot.phase == "final" and t > 0:
            end.wave_off = t
            until = t + plan.after
            pilot.wave_off()
        if (until is not None and t > until) or pilot.phase == "over":
            break
        commands = pilot.fly(t, seen)
        log.air(seen, raw, commands, plan)
        if previous is not None and met(plan, seen, previous):
            run = deck_run(plan, kind, ship, i, previous, seen, commands[0], pilot.trim_throttle)
            i, ended = stay_on_deck(run, plan, ship, log, i, wind)
            end.run, end.wire, end.engaged, end.stopped = run, run.wire, run.engaged, run.stopped
            if ended:
                end.i, end.jet = i, None
                return end
            jet = fly_on(run, kind, log, wind)
            pilot.throttle = run.throttle
            pilot.wave_off()
            until, seen = ship.time[i] + plan.after, None
            continue
        if seen["altitude"] < 1.0 and not plan.site.get("place"):
            break
        jet.command(*commands)
        if plan.turbulence:
            along, across, up = gusts.step(seen["airspeed"])
            c, s = math.cos(raw[11]), math.sin(raw[11])
            jet.gust(along * c - across * s, along * s + across * c, -up)
        jet.step()
        i += 1
    end.i, end.jet = i, jet
    return end


def met(plan, now, before):
    """Whether hook or wheels met the deck plane, or the hook the ramp or a wire, in this step."""
    hook, earlier = now["hook"], before["hook"]
    edge = plan.site["landing_area"]["length_m"]
    if plan.hook_down:
        if hook[2] <= 0.0 < hook[0] < edge and abs(hook[1]) < 60:
            return True
        if earlier[0] <= 0.0 < hook[0] and hook[2] < 0.0:
            return True
        wires = plan.site.get("wires")
        if wires and plan.deck.wires_live and abs(hook[1]) < plan.site["landing_area"]["width_m"] / 2:
            for n, x in enumerate(wires["positions_m"]):
                if earlier[0] <= x < hook[0] and hook[2] <= wires["height_m"]:
                    return n + 1 not in plan.deck.skips
    return any(w[2] <= 0.0 < w[0] < edge for w in now["wheels"])


def deck_run(plan, kind, ship, i, before, now, throttle, trim_throttle):
    cg0 = ship.deck[i - 1].T @ (before["cg"] - ship.ramp[i - 1])
    cg1 = ship.deck[i].T @ (now["cg"] - ship.ramp[i])
    state = enter(ship.deck[i - 1], ship.deck[i], cg0, cg1, before["body"], now["body"])
    wires = plan.site.get("wires") or {"positions_m": (), "height_m": 0.1}
    run = DeckRun(
        kind=kind,
        points=plan.points,
        plan=plan.deck,
        wires=tuple(wires["positions_m"]),
        wire_height=wires["height_m"],
        half_width=plan.site["landing_area"]["width_m"] / 2,
        hook_down=plan.hook_down,
        state=state,
        airspeed=now["airspeed"],
        angle_of_attack=math.degrees(now["alpha"]),
        throttle=throttle,
        trim_throttle=trim_throttle,
    )
    if plan.hook_down:
        earlier, hook = before["hook"], now["hook"]
        run._passed = [earlier[0] > x for x in run.wires]
        run._look_for_wire(earlier, hook)
    return run


def stay_on_deck(run, plan, ship, log, i, wind):
    """Step the deck run until it rests long enough, or flies; the new index and whether all is over."""
    edge = plan.site["landing_area"]["length_m"]
    start = i
    while i < len(ship.time) - 2:
        run.advance()
        i += 1
        log.deck(run, plan.hook_down, ship, i, wind)
        if plan.crash_after is not None and (i - start) * STEP > plan.crash_after:
            return i, True
        if run.stopped is not None and run.time - run.stopped > plan.deck.hold:
            return i, True
        clear = min(run._up("main_wheels", 1)[1], run._up("main_wheels", -1)[1])
        flying = clear > 0.6 and run.state.vz > 0 and run.time > 1.0
        if run.wire is None and run.stopped is None and (flying or run._up("main_wheels")[0] > edge):
            return i, False
    return i, True


def fly_on(run, kind, log, wind):
    """Hand the jet back to the simulator with the motion it has on the deck."""
    body, velocity = log.body[-1], log.velocity[-1]
    latitude, longitude, height = (float(v) for v in to_geodetic(log.cg[-1]))
    ned = local_axes(np.float64(latitude), np.float64(longitude))
    attitude = tuple(float(v) for v in euler_angles(ned.T @ body))
    turn = log.body[-2].T @ body
    rates = (turn[2, 1] / STEP, turn[0, 2] / STEP, turn[1, 0] / STEP)
    jet = Jet(kind, wind)
    jet.place(
        latitude=latitude,
        longitude=longitude,
        height=height,
        velocity=tuple(float(v) for v in velocity),
        attitude=(attitude[0] % (2 * math.pi), attitude[1], attitude[2]),
        throttle=run.throttle,
        rates=rates,
    )
    log.cut(len(log.cg) - 1)
    return jet
