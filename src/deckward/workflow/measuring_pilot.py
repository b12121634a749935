"""Fitting a pilot to the passes that he flew, and writing him as a pilot file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from deckward.errors import InputError, NoPassError
from deckward.foundation.units import from_si
from deckward.workflow import folder, options
from deckward.workflow.measuring import Measured
from deckward.workflow.measuring_given import Given
from deckward.workflow.session import debrief

#: passes that a pilot is fitted to at least, and how many are plenty
LEAST, PLENTY = 4, 8
#: share of the usual spread that passes must have taken away before they say something of a number
_SEEN = 0.25
#: what a jet without tables makes of power's gains: how far jets differ in thrust by lever, as a logarithm
_OTHER_ENGINE = 0.22
#: s by which samples, smoothing and hands of another make leave a delay open; chosen by us, on four
#: pilots of the open library's jets
_OTHER_HANDS = 0.03
_OF_POWER = ("height_gain", "rate_gain", "climb_gain", "settle_gain")
_REST = (
    "Not fitted, and left the usual pilot's: reaction, hook skip, limits and how long errors last. Fly with "
    "him: deckward study --pilot FILE, deckward debrief RECORDING --odds --pilot FILE."
)


def measure_pilot(
    files: Sequence[str | Path],
    given: Given,
    *,
    seed: int = 0,
    progress: Callable[[str], None] | None = None,
) -> Measured:
    """Fit a pilot to recorded passes: his delay, gains, errors and habits, each with its sigma.

    Args:
        files: recordings of his passes at a ship; eight passes are plenty.
        given: what is known, and how the recordings are read; with the jet's tables of lift, drag and
            thrust, the gains of power are known best.
        seed: of all chance; the same one gives the same pilot.
        progress: called with a few words before each longer step.

    Raises:
        InputError: a file or option that cannot be used, too few passes, or nothing recorded that
            shows a hand.
    """
    for file in [*files, *given.ship, *([given.map] if given.map is not None else [])]:
        options.readable(file)
    ships = given.ship
    if 1 < len(ships) != len(files):
        raise InputError(
            f"{len(files)} recordings and {len(ships)} of the ship.",
            place="ship",
            remedy="Give one ship's recording for each, in the same order, or one for all.",
        )
    if given.out is not None:
        folder.check(Path(given.out))
    flown = []
    for number, file in enumerate(files):
        if progress:
            progress(f"reading {number + 1} of {len(files)}")
        try:
            done = debrief(
                file,
                ship=None if not ships else ships[number if len(ships) > 1 else 0],
                ship_who=given.ship_who,
                map=given.map,
                ask=given.ask,
                site=given.site,
                aircraft=given.aircraft,
                only=given.only,
                ship_time_offset_s=given.ship_time_offset_s if ships else None,
                origin=given.origin,
            )
        except NoPassError:
            continue
        flown += [item.flown for item in done.report.passes]
    return _fitted(files, flown, name=given.name, out=given.out, seed=seed, progress=progress)


def _fitted(files, flown, *, name, out, seed: int, progress) -> Measured:
    from deckward.explanation.hands_shown import LEAST_SECONDS, shown
    from deckward.prediction import fitting, pilots

    who = list(dict.fromkeys(one.who for one in flown))
    if len(files) == 1 and len(who) > 1:
        raise InputError(
            f"several flew here: {', '.join(who)}.",
            file=str(files[0]),
            place="--only",
            remedy="Name one; a pilot is fitted to his own passes.",
        )
    pairs = [(recorded, own) for recorded, own in map(shown, flown) if recorded is not None]
    told: list[tuple[str, str]] = []
    with_lever = [pair for pair in pairs if pair[0].lever is not None]
    if len(with_lever) >= LEAST and len(with_lever) < len(pairs):
        left = len(pairs) - len(with_lever)
        told.append(("left out", f"{left} pass{'es' if left > 1 else ''} without a throttle"))
        pairs = with_lever
    if len(pairs) < LEAST:
        raise InputError(
            f"{len(pairs)} pass{'' if len(pairs) == 1 else 'es'} of {LEAST_SECONDS:.0f} s or more inside "
            f"0.9 nm of a ship, hook down: a pilot is fitted to {LEAST} or more, {PLENTY} are plenty.",
            file=str(files[0]) if len(files) == 1 else None,
            remedy="Give more of his recordings.",
        )
    found = fitting.fit([pair[0] for pair in pairs], seed=seed, progress=progress)
    own = all(pair[1] for pair in pairs)
    told = [("fitted to", f"{found.passes} passes, {found.seconds:.0f} s"), *told]
    told += [_row(found, field, own) for field in found.sigma]
    told += _foretold(found.lever)
    told += _missing(found, pairs, own)
    called = name or "My pilot"
    pictures: list[Path] = []
    if out is not None:
        from deckward import reports

        pictures = reports.draw_pilot(called, found.lever, fitting.EVERY, told, out)
    comment = f"Fitted to {found.passes} passes, {found.seconds:.0f} s; one standard deviation in brackets.\n"
    comment += "\n".join(f"{row}: {words}" for row, words in told[1:])
    return Measured(
        tuple(told), pilots.text(found.pilot, name=called, comment=comment), _REST, tuple(pictures)
    )


def _row(found, field: str, own: bool) -> tuple[str, str]:
    """Say one number of the pilot as his file has it, with its sigma and what the usual one's is."""
    from deckward.prediction import pilots
    from deckward.prediction.following import SHIFTED
    from deckward.prediction.scene import Pilot

    key, unit = pilots.key_of(field)
    value, usual = (float(from_si(getattr(p, field), unit)) for p in (found.pilot, Pilot()))
    sigma = found.sigma[field]
    if field in _OF_POWER and not own:
        sigma = float(np.hypot(sigma, _OTHER_ENGINE))
    size = float(from_si(sigma, unit)) if field in SHIFTED else sigma * value
    if field == "delay":
        size = float(np.hypot(size, _OTHER_HANDS))
    words = f"{value:.3g} (sigma {size:.2g}), usual {usual:.3g}"
    if found.shown[field] < _SEEN:
        words += "; hardly seen in these passes, mostly the usual pilot's"
    return key, words


def _foretold(lever) -> list[tuple[str, str]]:
    """Say how much of what the lever did these hands foretell."""
    if not lever:
        return []
    off = sum(float(np.var(did - told)) for did, told in lever)
    share = max(0.0, 1.0 - off / sum(float(np.var(did)) for did, _ in lever))
    return [("foretold", f"{100.0 * share:.0f} % of what the lever did, a second ahead")]


def _missing(found, pairs, own: bool) -> list[tuple[str, str]]:
    """Say what these passes could not show, and what to be wary of."""
    rows = []
    if "delay" not in found.sigma:
        rows.append(("power", "not fitted: no throttle was recorded, or it never moved"))
    if "line_up_gain" not in found.sigma:
        rows.append(("line-up", "not fitted: no bank was recorded"))
    if "alpha_habit" not in found.sigma:
        rows.append(("nose", "not fitted: neither pitch nor angle of attack was recorded"))
    if "delay" in found.sigma and not own:
        rows.append(("power", "in a usual jet's thrust: add [aerodynamics] and [engine] to the jet's file"))
    if found.differ > 1.0:
        rows.append(
            (
                "passes differ",
                f"more than by chance; every sigma is wider by {np.sqrt(found.differ):.1f} times",
            )
        )
    if len(pairs) < PLENTY:
        rows.append(("more passes", f"narrow the sigmas; {PLENTY} are plenty"))
    return rows
