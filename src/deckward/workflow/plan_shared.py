"""What published cards have in common: what they say, and courses of the ship."""

from __future__ import annotations

from deckward.planning import answer
from deckward.planning import wind as winds
from deckward.planning.wind_plan import Course
from deckward.workflow import plan_contract as c
from deckward.workflow.published import known, note, number


def said_of(said: answer.Says) -> c.Says:
    """Publish what a card says."""
    binds = said.binds
    return c.Says(
        inputs=[c.Input(what=one.what, text=one.text) for one in said.inputs],
        limits=[
            c.Limit(
                what=one.what,
                of=one.of,
                value=known(one.value, one.suffix),
                least=number(one.least, one.suffix),
                greatest=number(one.greatest, one.suffix),
                margin=known(one.margin, one.suffix),
                unit=one.suffix,
                kept=one.kept,
            )
            for one in said.limits
        ],
        binds=binds.what if binds else None,
        feasible=said.feasible,
        notes=[note(one) for one in said.notes],
    )


def course_of(course: Course) -> c.Course:
    """Publish a course with its runs and shifts."""
    found, run = course.answer, course.run
    return c.Course(
        wanted_kt=known(found.wanted.along, "kt"),
        exact=found.is_exact,
        chosen=_steering(found.chosen),
        solutions=[_steering(one) for one in found.exact],
        least_crosswind=_steering(found.least_crosswind) if found.least_crosswind else None,
        wind_needed_kt=known(found.wind_needed, "kt"),
        along_range_kt=_range(course.along_range),
        crosswind_range_kt=_range(course.crosswind_range),
        may_back_deg=number(course.backs, "deg"),
        may_veer_deg=number(course.veers, "deg"),
        shifts=[
            c.Shift(
                turned_deg=known(shift.turned, "deg"),
                held=_steering(shift.held),
                mended=_steering(shift.answer.chosen),
            )
            for shift in course.shifts
        ],
        run=c.Run(
            turn_s=number(run.turn),
            aircraft=run.aircraft,
            interval_s=known(run.interval),
            seconds=known(run.seconds),
            distance_nm=known(run.distance, "nm"),
            one_more_nm=known(run.each, "nm"),
            sea_room_nm=number(run.sea_room, "nm"),
            fits=run.fits,
        ),
        now=_steering(course.now) if course.now else None,
    )


def _steering(one: winds.Steering) -> c.Steering:
    return c.Steering(
        course_deg=known(one.course, "deg"),
        speed_kt=known(one.speed, "kt"),
        felt_speed_kt=known(one.felt_speed, "kt"),
        wind_from_bow_deg=known(one.from_bow, "deg"),
        along_kt=known(one.along, "kt"),
        crosswind_from_starboard_kt=known(one.crosswind, "kt"),
        limits_missed=[miss.what for miss in one.misses],
    )


def _range(values: tuple[float, float]) -> tuple[float, float]:
    low, high = values
    return known(low, "kt"), known(high, "kt")
