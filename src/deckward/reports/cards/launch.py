"""The launch card: the end airspeed and what asks for it, the wind, trim, and the settle off the bow."""

from __future__ import annotations

from deckward.planning import says_flying
from deckward.planning.launch_plan import LaunchPlan, Shot
from deckward.planning.plan import Plan
from deckward.planning.words import bearing, clock
from deckward.reports import planned_launch
from deckward.reports.cards.model import Card, Figure, Table, plain, verdict
from deckward.reports.words import NOTHING


def card(plan: Plan) -> Card:
    """Make the card."""
    scenario, launch = plan.scenario, plan.launch
    assert launch is not None, "asked for"
    said, shot, course = says_flying.launch(scenario, launch), launch.shot, launch.course
    when = "" if scenario.launch.time is None else f" · {clock(scenario.launch.time)[:5]}"
    chosen = None if course is None else course.answer.chosen
    return Card(
        key="launch",
        title="Launch",
        by=f"{scenario.aircraft.name} · {scenario.site.name}{when}",
        verdict=verdict(said),
        ok=said.feasible,
        figures=(
            Figure("gross, lb", plain(shot.mass, "lb"), "", f"{shot.power.name} power"),
            Figure(
                "trim",
                NOTHING if shot.trim is None else f"{plain(shot.trim, 'deg', 1)}°",
                "up",
                f"flaps {shot.flaps}",
            ),
            Figure("end airspeed", plain(shot.wanted, "kt"), "kt", f"least {plain(shot.least, 'kt')}"),
            Figure("wind needed", plain(shot.wind_needed, "kt", 1), "kt", "down the catapult"),
            Figure(
                "ship steers",
                NOTHING if chosen is None else bearing(chosen.course),
                "true",
                "" if chosen is None else f"at {plain(chosen.speed, 'kt', 1)} kt",
            ),
        ),
        drawing=planned_launch.draw(shot),
        tables=tuple(
            table for table in (_bounds(shot), _off_the_bow(shot), _shot(launch), _steps(shot)) if table.rows
        ),
        says=said,
    )


def _bounds(shot: Shot) -> Table:
    rows = [(bound.what, plain(bound.airspeed, "kt", 1)) for bound in shot.bounds]
    rows.append(("margin", plain(shot.margin, "kt", 1)))
    return Table("Least end airspeed, true", ("", "kt"), tuple(rows))


def _off_the_bow(shot: Shot) -> Table:
    flown = [("planned", shot.flown, shot.acceleration), ("at the least", shot.flown_least, None)]
    if shot.engine_out is not None:
        flown.append(("an engine less", shot.engine_out.flown, shot.engine_out.acceleration))
    rows = tuple(
        (
            name,
            plain(one.end_airspeed, "kt"),
            plain(one.settle, "ft", 1),
            NOTHING if gained is None else plain(gained, "g", 2),
            plain(float(one.angle_of_attack.max()), "deg", 1),
        )
        for name, one, gained in flown
    )
    return Table("Off the bow", ("", "kt", "settle, ft", "g level", "most aoa°"), rows)


def _shot(launch: LaunchPlan) -> Table:
    stroke, rows = launch.shot.stroke, []
    if stroke is not None:
        set_to = plain(launch.shot.capacity, "pct")
        rows += [
            ("catapult", f"{plain(stroke.end_speed, 'kt')} kt at {set_to} %"),
            ("stroke", f"{plain(stroke.length, 'ft')} ft, {stroke.seconds:.1f} s"),
            ("on average", f"{plain(stroke.acceleration, 'g', 1)} g"),
        ]
    if launch.course is not None:
        chosen = launch.course.answer.chosen
        rows.append(("wind down it", f"{plain(chosen.along, 'kt', 1)} kt"))
    if launch.end_airspeed is not None:
        rows.append(("end airspeed then", f"{plain(launch.end_airspeed, 'kt')} kt"))
    if launch.least_capacity is not None:
        enough = "" if launch.least_capacity <= 1.0 else ", too much"
        rows.append(("would do", f"{plain(launch.least_capacity, 'pct')} %{enough}"))
    return Table("The shot", ("", ""), tuple(rows))


def _steps(shot: Shot) -> Table:
    rows = tuple((str(number), step) for number, step in enumerate(shot.steps, start=1))
    return Table("Before the shot", ("", ""), rows)
