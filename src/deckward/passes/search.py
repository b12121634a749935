"""From two tracks to measured passes: the door to this room."""

from __future__ import annotations

import math

from msgspec.structs import replace

from deckward.aircraft.model import Profile
from deckward.errors import Note
from deckward.foundation.statistics import median
from deckward.foundation.track import Track
from deckward.passes import aids, clocks, estimate, finder, infer, lateness
from deckward.passes.build import Builder
from deckward.passes.draft import Draft, draft, lanes_to_smooth, settle_contact
from deckward.passes.model import Found, GrooveBounds, Pass, Recorded, ShipCourse, Wind
from deckward.passes.ship import shifted, ship_track
from deckward.site.model import Site

#: seconds of the recording kept before and after a pass, and of the ship's track beyond them
_EARLIER, _LATER, _STEP = 60.0, 120.0, 15.0


def find(
    track: Track,
    *,
    ship: Track | ShipCourse | None,
    site: Site,
    aircraft: Profile,
    wind: Wind | None = None,
    ship_time_offset: float | None = None,
    two_clocks: bool = False,
    groove: GrooveBounds | None = None,
) -> Found:
    """Find and measure every pass that an aircraft makes at a site.

    Args:
        track: the aircraft's own recording.
        ship: the ship's recording, her course and speed, or None for a field.
        site: where the passes are flown at.
        aircraft: the profile of what flies.
        wind: a steady true wind; None takes what the recording has, or works it out.
        ship_time_offset: seconds to add to the ship's clock.
        two_clocks: aircraft and ship come from two senders: where no offset is given, it
            is estimated, told, and applied where the recording shows one.
        groove: what counts as the groove; None for the usual bounds.

    Raises:
        InputError: the site is a ship and no ship is given, or the frames do not meet.
    """
    vessel = shifted(ship_track(ship, track, site), ship_time_offset or 0.0)
    drafts, view = _drafts(track, vessel, site, aircraft, wind)
    notes: list[Note] = []
    if drafts and two_clocks and ship_time_offset is None and isinstance(ship, Track):
        speed = float(median(drafts[0].ship.speed(drafts[0].ship.track.time)))
        found, moved = clocks.estimate_offset(drafts, track, vessel), vessel
        if found.differ:
            # contacts were settled on a deck that was elsewhere: look again from where it is now
            moved = clocks.shift(vessel, found)
            drafts, view = _drafts(track, moved, site, aircraft, wind)
            if drafts:
                again = clocks.estimate_offset(drafts, track, moved, moved_by=found.offset)
                found = clocks.settled(found, again)
                moved = clocks.shift(vessel, found) if found.differ else vessel
                drafts, view = _drafts(track, moved, site, aircraft, wind)
        notes += clocks.notes(found, speed)
        vessel = moved if found.differ else clocks.unsure(moved, found)
        for one in drafts:
            one.ship.track = one.ship.track if found.differ else clocks.unsure(one.ship.track, found)
    if not drafts:
        return Found((), finder.describe(view))
    lanes = lanes_to_smooth(drafts)
    estimate.end_anew([lane for lane in lanes if lane.shares is None and lane.end != lane.smoothed_to])
    aids.refresh([one.aircraft for one in drafts])
    passes = tuple(Builder(one, wind, track.who, groove).build() for one in drafts)
    return Found(_with_channels(passes, track, vessel), "", tuple(notes + _shared_notes(drafts)))


def _with_channels(passes: tuple[Pass, ...], track: Track, vessel: Track) -> tuple[Pass, ...]:
    """Hand each pass what was recorded around it, up to the next one."""
    nexts = [one.start for one in passes[1:]] + [math.inf]
    return tuple(
        replace(one, recorded=_around(one, track, vessel, min(until, one.end + _LATER)))
        for one, until in zip(passes, nexts, strict=True)
    )


def _around(one: Pass, track: Track, vessel: Track, until: float) -> Recorded:
    first = one.start - _EARLIER
    return Recorded(track.between(first, until), vessel.between(first - _STEP, until + _STEP))


def _drafts(
    track: Track, vessel: Track, site: Site, aircraft: Profile, wind: Wind | None
) -> tuple[list[Draft], finder.Overview]:
    """Lay out every pass, its lanes smoothed and its contact settled; and the flight in rough."""
    view = finder.overview(track, vessel, site, aircraft)
    drafts: list[Draft] = []
    windows = finder.windows(view, site)
    track, late = lateness.made_good(track, lateness.lateness(track, windows))
    for window in windows:
        one = draft(window, track, vessel, site, aircraft)
        if one is not None:
            one.notes += late
            drafts.append(one)
    if not drafts:
        return [], view
    estimate.smooth(lanes_to_smooth(drafts))
    aids.aid([one.aircraft for one in drafts])
    for one in drafts:
        _complete(one, wind)
        settle_contact(one)
    return drafts, view


def _complete(one: Draft, wind: Wind | None) -> None:
    """Add what was not recorded to the lanes of one pass."""
    one.notes += infer.level_ship(one.ship)
    one.notes += infer.fill_attitude(one.aircraft, one.profile, wind)


def _shared_notes(drafts: list[Draft]) -> list[Note]:
    rejected = sum(
        lane.rejected for one in drafts for craft in (one.aircraft, one.ship) for lane in craft.lanes.values()
    )
    if not rejected:
        return []
    return [Note("spikes", f"{rejected} values stood far off what their neighbours say and were left out.")]
