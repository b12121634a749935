"""What each command does: ask the workflow, show the answer."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import get_terminal_size
from textwrap import fill

from deckward import workflow
from deckward.errors import InputError


def debrief(given: Namespace) -> int:
    """Debrief one recording."""
    with _progress(given) as progress:
        done = workflow.debrief(
            given.recording,
            ship=given.ship,
            ship_course_deg=given.ship_course_deg,
            ship_speed_kt=given.ship_speed_kt,
            ship_at=given.ship_at,
            map=given.map,
            draft_map=given.draft_map,
            ask=_asking(),
            site=given.site,
            aircraft=given.aircraft,
            rulebook=given.rulebook,
            only=given.only,
            ship_who=given.ship_who,
            wind_from_deg=given.wind_from_deg,
            wind_speed_kt=given.wind_speed_kt,
            ship_time_offset_s=given.ship_time_offset_s,
            origin=given.origin,
            reason=given.reason,
            what_if=given.what_if,
            plan=given.plan,
            odds=given.odds,
            pilot=given.pilot,
            out=given.out,
            progress=progress,
        )
    if given.json:
        print(done.to_json())
    else:
        _show(done, given)
    return 0


def columns(given: Namespace) -> int:
    """Work out what the columns of a recording hold; ask what the data cannot tell."""
    from deckward.cli import conversation

    found = workflow.columns(given.recording)
    if given.json:
        _keep_map(found, given)
        print(found.to_json())
        return 0
    talked = bool(found.draft.questions) and conversation.there_is_someone()
    if talked:
        found = workflow.Columns(conversation.ask(found.draft))
        print()
    print(_columns([(f"{rule.source}  ", _in_words(rule)) for rule in found.draft.map.columns]))
    rate, held = found.draft.map.file.rate_hz, {rule.quantity for rule in found.draft.map.columns}
    if rate is not None and "time" not in held:
        print(f"\nTime is counted by rows, {rate:g} a second; a remark or an answer says so, no column does.")
    if found.draft.questions:
        _show_open(found.draft)
    kept = given.out
    if talked and not kept:
        kept = conversation.keep(found, given.recording)
    _keep_map(found, given)
    if not found.draft.questions:
        _show_next(given, kept, of_ship=found.draft.of_ship)
    return 0


def _show_next(given: Namespace, kept: str | Path | None, *, of_ship: bool) -> None:
    """Say what to do once every column is understood."""
    if not kept:
        print(f"\nKeep it: deckward columns {given.recording} --out MAP.toml")
    by = f" --map {kept}" if kept else ""
    read = f"RECORDING --ship {given.recording}" if of_ship else given.recording
    many = f"RECORDING ... --ship {given.recording} ..." if of_ship else f"{given.recording} ..."
    print(
        f"\nNext: deckward debrief {read}{by} --out pages\n"
        "With a ship or a jet of your own, measure them first:\n"
        f"      deckward measure site {many}{by} --copy ship.toml"
    )


def _show_open(draft: workflow.Draft) -> None:
    print("\nTo be decided (answer at a terminal, or in the file that --out writes):")
    for question in draft.questions:
        choices = " / ".join(choice.text for choice in question.choices)
        width = get_terminal_size().columns
        print(fill(f"- {question.question} [{choices}]", width, subsequent_indent="  "))


def _keep_map(found: workflow.Columns, given: Namespace) -> None:
    if given.out:
        path = workflow.save(Path(given.out), found.to_toml())
        print(f"Written: {path}", file=sys.stderr)


def _in_words(rule) -> str:
    """Say what a column holds, how sure that is, and why."""
    what = rule.quantity.replace("_", " ")
    if rule.quantity == "ignore":
        return f"left out: {rule.why}"
    unit = f", {rule.unit}" if rule.unit else ""
    turned = ", counting the other way" if rule.sign < 0 else ""
    sure = "ASKED" if rule.asked else f"{100.0 * (rule.confidence or 0.0):.0f} %"
    return f"{what}{unit}{turned} ({sure}): {rule.why}"


def _asking() -> Callable[[workflow.Draft], workflow.Draft] | None:
    from deckward.cli import conversation

    return conversation.ask if conversation.there_is_someone() else None


def demo(given: Namespace) -> int:
    """Debrief the bundled session."""
    with _progress(given) as progress:
        done = workflow.demo(out=given.out, progress=progress)
    _show(done, given)
    return 0


def plan(given: Namespace) -> int:
    """Work out the cards of a scenario."""
    from deckward.cli import plan_options

    cards, scenario = plan_options.words(given.words)
    kinds = plan_options.kinds()
    typed = {
        key: plan_options.value(key, kind, text)
        for key, kind in kinds.items()
        if (text := getattr(given, f"fact:{key}")) is not None
    }
    done = workflow.plan(scenario, cards=cards, facts=typed, out=given.out, paper=given.paper)
    if given.json:
        print(done.to_json())
        return 0
    if not given.quiet:
        print(done.to_text(plain=not _knows_letters()), end="")
    if done.files:
        print(f"\nCards: {done.files[0].parent}" if not given.quiet else done.files[0].parent)
    return 0


def study(given: Namespace) -> int:
    """Fly many passes by chance."""
    with _progress(given) as progress:
        done = workflow.study(
            site=given.site,
            aircraft=given.aircraft,
            mass_lb=given.mass_lb,
            wind_kt=given.wind_kt,
            crosswind_kt=given.crosswind_kt,
            ship_speed_kt=given.ship_speed_kt,
            sea=given.sea,
            sea_from_bow_deg=given.sea_from_bow_deg,
            airwake_pct=given.airwake_pct,
            gusts=given.gusts,
            light=given.light,
            pilot=given.pilot,
            officer=given.officer,
            start_nm=given.start_nm,
            number=given.number,
            seed=given.seed,
            out=given.out,
            progress=progress,
        )
    if given.json:
        print(done.to_json())
        return 0
    if not given.quiet:
        print(done.to_text(plain=not _knows_letters()), end="")
    if done.files:
        print(f"\nPage: {done.files[0]}" if not given.quiet else done.files[0])
    return 0


def sites(given: Namespace) -> int:
    """List, show, print or copy sites."""
    return _shelf(given, workflow.SITES)


def aircraft(given: Namespace) -> int:
    """List, show, print or copy aircraft."""
    return _shelf(given, workflow.AIRCRAFT)


def rulebooks(given: Namespace) -> int:
    """List, show, print or copy rulebooks."""
    return _shelf(given, workflow.RULEBOOKS)


def scenarios(given: Namespace) -> int:
    """List, show, print or copy scenarios."""
    return _shelf(given, workflow.SCENARIOS)


def schema(given: Namespace) -> int:
    """Print the JSON Schema of the debrief, a plan or a study."""
    sys.stdout.write(workflow.published_schema(given.of))
    return 0


def measure(given: Namespace) -> int:
    """Measure a ship, a jet or a pilot, and write what is found."""
    known = workflow.Given(
        ship=given.ship,
        ship_who=given.ship_who,
        site=given.site,
        aircraft=given.aircraft,
        map=given.map,
        ask=_asking(),
        only=given.only,
        origin=given.origin,
        ship_time_offset_s=given.ship_time_offset_s,
        name=given.name,
        out=given.out,
    )
    idle = {"site": ("mains_at_ramp",), "aircraft": ("at_lens",)}
    for other in idle.get(given.what, ("at_ramp", "mains_at_ramp", "at_lens")):
        if getattr(given, other):
            raise InputError(
                f"that recording tells nothing of the {given.what}.",
                place=other,
                remedy="Leave it out, or measure what it is for: site or aircraft.",
            )
    if given.what == "pilot":
        with _progress(given) as progress:
            found = workflow.measure_pilot(given.recordings, known, progress=progress)
    elif given.what == "site":
        found = workflow.measure_site(given.recordings, known, at_ramp=given.at_ramp, at_lens=given.at_lens)
    else:
        found = workflow.measure_aircraft(
            given.recordings, known, at_ramp=given.at_ramp, mains_at_ramp=given.mains_at_ramp
        )
    if given.copy:
        target = workflow.save(Path(given.copy), found.text)
        print(f"Written: {target}", file=sys.stderr if given.toml else sys.stdout)
    if given.toml:
        sys.stdout.write(found.text)
    else:
        print(_columns(list(found.rows)))
        wide = max(40, get_terminal_size().columns)
        print("\n" + "\n".join(fill(line, wide, subsequent_indent="  ") for line in found.rest.splitlines()))
    for picture in found.pictures:
        print(f"Written: {picture}", file=sys.stderr if given.toml else sys.stdout)
    if not given.toml:
        _show_after_measuring(given)
    return 0


def _show_after_measuring(given: Namespace) -> None:
    """Say what to do with what was measured."""
    if not given.copy:
        name = {"site": "ship", "aircraft": "jet", "pilot": "me"}[given.what]
        print(f"\nKeep it: add --copy {name}.toml")
        return
    if given.what == "pilot":
        print(f"\nNext: deckward study --pilot standard,{given.copy}")
        return
    site, jet = (given.copy, given.aircraft) if given.what == "site" else (given.site, given.copy)
    known = f"{f' --site {site}' if site else ''}{f' --aircraft {jet}' if jet else ''}"
    by = f" --map {given.map}" if given.map else ""
    if given.what == "site" and not jet:
        print(
            f"\nNext, the jet: deckward measure aircraft {given.recordings[0]} ...{by} --site {site} "
            "--copy jet.toml\n(or the file that you have of her, with --aircraft)"
        )
    else:
        print(f"\nNext: deckward debrief RECORDING{by}{known} --out pages")


def _shelf(given: Namespace, shelf: workflow.Shelf) -> int:
    if given.name is None:
        if given.toml or given.copy:
            raise shelf.nothing_named("--toml" if given.toml else "--copy")
        rows = shelf.bundled()
        print(_columns(list(rows.items())))
        print(f"\nMore of one: deckward {shelf.command} {next(iter(rows))}")
        return 0
    if given.copy:
        target = workflow.save(Path(given.copy), shelf.source(given.name))
        print(f"Written: {target}", file=sys.stderr if given.toml else sys.stdout)
    if given.toml:
        sys.stdout.write(shelf.source(given.name))
    elif not given.copy:
        print(_columns(shelf.describe(given.name)))
    return 0


def _columns(rows: list[tuple[str, str]]) -> str:
    """Set labels and texts side by side, the texts wrapped to the terminal."""
    label = max(len(name) for name, _ in rows) + 2
    width = max(label + 30, get_terminal_size().columns)
    return "\n".join(
        fill(text, width, initial_indent=f"{name:<{label}}", subsequent_indent=" " * label)
        for name, text in rows
    )


def _show(done: workflow.Debrief, given: Namespace) -> None:
    if not given.quiet:
        from deckward import reports

        text = reports.screen(
            done.report,
            width=get_terminal_size().columns,
            colour=_colour(given),
            plain=not _knows_letters(),
        )
        print(text, end="")
    if done.pages:
        print(f"\nPages: {done.pages[0]}" if not given.quiet else done.pages[0])


def _knows_letters() -> bool:
    """Whether the terminal can show more than ASCII."""
    return (sys.stdout.encoding or "").lower().startswith("utf")


def _colour(given: Namespace) -> bool:
    """Whether the terminal is one that shows colour, and nobody asked for none."""
    if given.no_colour or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    # of the consoles of Windows only the newer one says that it understands colour
    return sys.stdout.isatty() and (os.name != "nt" or "WT_SESSION" in os.environ)


@contextmanager
def _progress(given: Namespace) -> Iterator[Callable[[str], None] | None]:
    """Tell a person at the terminal what is being done, on one line that goes away again."""
    if getattr(given, "quiet", False) or not sys.stderr.isatty():
        yield None
        return
    width = 30

    def say(words: str) -> None:
        print(f"\r{words:<{width}}", end="", file=sys.stderr, flush=True)

    try:
        yield lambda words: say(f"{words} ...")
    finally:
        say("")
        print("\r", end="", file=sys.stderr, flush=True)
