"""The approach card: speeds by fuel at the ball, limits, and what a slip costs at the hook."""

from __future__ import annotations

import numpy as np

from deckward.foundation.units import FOOT, POUND, from_si
from deckward.planning import says
from deckward.planning.approach_plan import ApproachPlan
from deckward.planning.plan import Plan
from deckward.planning.words import pounds
from deckward.reports.cards.model import Card, Figure, Table, plain, signed, verdict
from deckward.reports.svg import Drawing, Scale

WIDTH, HEIGHT = 470.0, 190.0


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, approach = plan.scenario, plan.approach
    assert approach is not None, "asked for"
    said = says.approach(scenario, approach)
    planned, jet = approach.planned, approach.planned.jet
    figures = [
        Figure("on speed", plain(jet.calibrated, "kt"), "kt CAS", f"{plain(jet.true, 'kt')} true"),
        Figure("sink", plain(planned.sink, "fpm"), "ft/min"),
        Figure("closing", plain(planned.closure, "kt"), "kt"),
        Figure(
            "most at the ball",
            plain(approach.most_fuel, "lb"),
            "lb",
            "" if approach.arriving is None else f"comes with {plain(approach.arriving, 'lb')}",
        ),
        Figure("hook to ramp", plain(approach.geometry.hook_to_ramp, "ft", 1), "ft"),
    ]
    return Card(
        key="approach",
        title="Approach numbers",
        by=" · ".join(
            (
                scenario.aircraft.name,
                scenario.site.name,
                f"lens {plain(approach.setting.angle, 'deg', 2)}°",
                f"{plain(approach.setting.along, 'kt', 1)} kt down the angle",
            )
        ),
        verdict=verdict(said),
        ok=said.feasible,
        figures=tuple(figures),
        drawing=draw(approach),
        tables=(_by_fuel(approach), _facts(approach), _slips(approach), _angles(approach)),
        says=said,
    )


def _by_fuel(plan: ApproachPlan) -> Table:
    listed = [(row.fuel, row.flown, "yes" if row.within else "too heavy") for row in plan.rows]
    listed = [one for one in listed if abs(one[0] - plan.fuel) > 100.0 * POUND]
    listed.append((plan.fuel, plan.planned, "planned"))
    listed.sort(key=lambda one: one[0])
    rows = tuple(
        (
            plain(fuel, "lb"),
            plain(flown.jet.mass, "lb"),
            plain(flown.jet.calibrated, "kt"),
            plain(flown.sink, "fpm"),
            plain(flown.closure, "kt"),
            plain(flown.pitch, "deg", 1),
            plain(flown.jet.power, "pct"),
            word,
        )
        for fuel, flown, word in listed
    )
    head = ("fuel, lb", "mass, lb", "kt CAS", "ft/min", "engaging", "pitch°", "power %", "may land")
    marked = frozenset(k for k, one in enumerate(listed) if one[2] == "too heavy")
    return Table("By fuel at the ball", head, rows, marked)


def _facts(plan: ApproachPlan) -> Table:
    geometry = plan.geometry
    over = geometry.eye_over_lens
    side = "over" if over > 0 else "under"
    roll = "" if geometry.lens_roll is None else f", a lens roll of {signed(geometry.lens_roll, 'deg', 1)}°"
    gear = f"{plain(plan.engaging_limit, 'kt')} ({plan.engaging_limit_of})"
    eye = f"eye {plain(geometry.hook_to_eye, 'ft', 1)} ft over the hook"
    times = ", ".join(f"{from_si(at, 'nm'):g} nm {seconds:.0f} s" for at, seconds in plan.seconds)
    rows = [
        ("to the ramp from", times),
        ("groove", f"{plan.groove:g} s is {plain(plan.groove * plan.planned.closure, 'nm', 2)} nm"),
        ("engaging speed", f"{plain(plan.planned.closure, 'kt')} kt of {gear}"),
        (
            "run-out",
            f"{plain(plan.arrest.length, 'ft')} ft in {plan.arrest.seconds:.1f} s at "
            f"{plain(plan.arrest.acceleration, 'g', 1)} g on average",
        ),
        ("hook and eye", f"{eye}, {plain(geometry.eye_ahead, 'ft', 1)} ft ahead of it"),
        (
            "at the lens",
            f"eye's path {plain(abs(over), 'ft', 1)} ft {side} it{roll}",
        ),
    ]
    if plan.ramp_sigma is not None:
        rise = 2.0 * plan.ramp_sigma
        rows.append(
            (
                "deck in this sea",
                f"ramp ±{plain(rise, 'ft', 1)} ft (2 sigma): hook "
                f"{plain(geometry.hook_to_ramp - rise, 'ft', 1)} ft over it at its highest",
            )
        )
    if plan.limits:
        rows.append(
            (
                "landing mass",
                ", ".join(f"{limit.what} {pounds(limit.mass)}" for limit in plan.limits[:2]),
            )
        )
    return Table("On the path", ("", ""), tuple(rows))


def _slips(plan: ApproachPlan) -> Table:
    slips = plan.slips
    rows = (
        ("nose up 1°, ball held", signed(slips.nose_height, "ft", 1), signed(slips.nose_touchdown, "ft")),
        (
            "1 kt more wind from 3/4 nm",
            signed(slips.wind_height, "ft", 1),
            signed(slips.wind_touchdown, "ft"),
        ),
        ("a cell high at the ramp", signed(slips.ball_height, "ft", 1), signed(slips.ball_touchdown, "ft")),
        ("a foot high at the ramp", signed(FOOT, "ft", 1), signed(slips.foot_touchdown, "ft")),
    )
    return Table("What a slip moves at the hook", ("", "up, ft", "on, ft"), rows)


def _angles(plan: ApproachPlan) -> Table:
    rows = tuple(
        (
            f"{plain(row.angle, 'deg', 2)}°",
            plain(row.flown.sink, "fpm"),
            plain(row.hook_to_ramp, "ft", 1),
            plain(row.flown.jet.power, "pct"),
            "set" if abs(row.angle - plan.setting.angle) < 1e-6 else "",
        )
        for row in plan.angles
    )
    return Table("Other lens settings", ("lens", "ft/min", "to ramp, ft", "power %", ""), rows)


def draw(plan: ApproachPlan) -> Drawing:
    """Draw the last of the path from the side: hook and eye over the ramp, wires and lens."""
    setting, geometry = plan.setting, plan.geometry
    site, lens = setting.site, setting.site.lens
    d = Drawing(
        "approach-card",
        WIDTH,
        HEIGHT,
        title="Hook and eye over the ramp on the commanded path, from the side",
    )
    far, near = -150.0 * FOOT, max(lens.position[0], lens.hook_target) + 30.0 * FOOT
    x = Scale(far, near, 14.0, WIDTH - 14.0)
    top = geometry.hook_to_eye + (lens.hook_target - far) * np.tan(setting.angle)
    y = Scale(-12.0 * FOOT, top * 1.08, HEIGHT - 8.0, 26.0)
    d.rect(0, 0, WIDTH, HEIGHT, fill="sheet")
    d.polygon([(x(0.0), y(0.0)), (x(near), y(0.0)), (x(near), HEIGHT), (x(4.0), HEIGHT)], fill="deck")
    d.line(x(0.0), y(0.0), x(near), y(0.0), stroke="ink", width=2.0)
    slope = float(np.tan(setting.angle))

    def hook(at: float) -> float:
        return (lens.hook_target - at) * slope

    d.line(x(far), y(hook(far)), x(lens.hook_target), y(0.0), stroke="ink", width=2.4)
    ahead, up = geometry.eye_ahead, geometry.hook_to_eye
    reach = min(near, lens.position[0] + 20.0 * FOOT)
    d.line(
        x(far),
        y(hook(far - ahead) + up),
        x(reach),
        y(hook(reach - ahead) + up),
        stroke="blue",
        width=1.6,
        dash="6 4",
    )
    for number, at in enumerate(site.wires.positions if site.wires else (), start=1):
        d.circle(x(at), y(0.0), 2.8, fill="ink")
        d.text(x(at), y(0.0) + 16, str(number), size=11, anchor="middle", halo="deck")
    d.line(x(0.0), y(0.0), x(0.0), y(hook(0.0)), stroke="blue", width=1.4)
    d.text(
        x(0.0) - 6,
        (y(0.0) + y(hook(0.0))) / 2 + 5,
        f"{plain(hook(0.0), 'ft', 1)} ft",
        size=14,
        bold=True,
        ink="blue",
        anchor="end",
        halo="sheet",
    )
    d.line(x(0.0), y(hook(0.0)), x(ahead), y(hook(0.0) + up), stroke="soft", width=1.0)
    d.circle(x(0.0), y(hook(0.0)), 4.0, fill="ink")
    d.circle(x(ahead), y(hook(0.0) + up), 4.0, fill="sheet", stroke="ink", width=1.8)
    d.text(
        x(ahead) + 8,
        y(hook(0.0) + up) - 6,
        f"eye, {plain(up, 'ft', 1)} ft over the hook",
        size=12,
        halo="sheet",
    )
    d.text(x(far) + 4, y(hook(far)) + 32, "hook", size=12, halo="sheet")
    lens_x, lens_y = x(lens.position[0]), y(lens.position[2])
    d.rect(lens_x - 3, lens_y - 7, 6, 14, fill="amber", stroke="ink", line=1.0)
    d.text(lens_x, y(0.0) + 16, "lens", size=11, anchor="middle", halo="deck")
    d.text(14, 17, "from the side; heights drawn larger than lengths", size=10, ink="soft")
    d.text(
        x(lens.hook_target),
        y(0.0) + 30,
        f"target {plain(lens.hook_target, 'ft')} ft",
        size=11,
        anchor="middle",
        halo="deck",
    )
    return d
