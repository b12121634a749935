"""What can be typed: commands, options, and messages in a person's words.

Only the standard library's parser is imported here, so that help comes at once.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Sequence

from deckward import TYPE_CHECKING, __version__

if TYPE_CHECKING:
    from typing import NoReturn

    from deckward.errors import DeckwardError, InputError

CAUTION = (
    "For simulation and training study. Real operations follow their own manuals,\n"
    "the ship's bulletins and licensed people."
)


class _Layout(argparse.RawDescriptionHelpFormatter):
    """Help with its right column far enough out for our longest option."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, max_help_position=28)


class Parser(argparse.ArgumentParser):
    """A parser that raises an InputError and takes no shortened options."""

    def __init__(self, **settings) -> None:
        super().__init__(allow_abbrev=False, formatter_class=_Layout, add_help=False, **settings)
        self.add_argument("--help", "-h", action="help", help="show this help")

    def error(self, message: str) -> NoReturn:
        """Turn the standard parser's complaint into ours."""
        place, problem = None, message
        if found := re.fullmatch(r"argument ([^:]+): (.*)", message, re.DOTALL):
            place, problem = found[1].split("/")[0], found[2]
        if problem == "expected one argument":
            problem = "this option needs a value."
        elif problem.startswith("ignored explicit argument"):
            problem = "this option takes no value."
        elif missing := re.fullmatch(r"the following arguments are required: (.*)", problem):
            problem = f"{missing[1]} is missing."
        raise _input_error(problem, place=place, remedy=f"See {self.prog} --help.")


def arguments(argv: list[str]) -> argparse.Namespace:
    """Read the command line; the command's function is in ``run``.

    Raises:
        InputError: an unknown command or option, a value missing or out of place.
        SystemExit: help or the version was asked for, and printed.
    """
    parser, commands = build()
    if not argv:
        parser.print_help()
        raise SystemExit(0)
    first = argv[0]
    if not first.startswith("-"):
        if first not in commands:
            remedy = f"Commands: {', '.join(commands)}."
            raise _input_error(
                f"there is no command {first!r}.{_did_you_mean(first, commands)}", remedy=remedy
            )
    elif first not in _options(parser):
        raise _misplaced(first, commands) or _unknown([first], parser)
    given, extra = parser.parse_known_args(_join_negative_values(argv))
    if extra:
        raise _unknown(extra, commands[given.command])
    return given


def _input_error(problem: str, *, remedy: str, place: str | None = None) -> InputError:
    from deckward.errors import InputError

    return InputError(problem, place=place, remedy=remedy)


def message(fault: DeckwardError) -> str:
    """Say the fault in one line, with the Python names of arguments shown as options."""
    first, _, rest = (fault.place or "").partition(" ")
    if first in _ARGUMENTS:
        fault.place = f"--{first.replace('_', '-')} {rest}".rstrip()
    long_names = "|".join(name for name in _ARGUMENTS if "_" in name)
    return re.sub(
        rf"(?<![\w-])({long_names})(?![\w-])",
        lambda found: "--" + found[1].replace("_", "-"),
        fault.message(),
    )


_ARGUMENTS = (
    "ship",
    "ship_course_deg",
    "ship_speed_kt",
    "ship_at",
    "ship_time_offset_s",
    "map",
    "draft_map",
    "origin",
    "only",
    "ship_who",
    "reason",
    "what_if",
    "site",
    "at_ramp",
    "mains_at_ramp",
    "at_lens",
    "out",
    "wind_from_deg",
    "wind_speed_kt",
    "paper",
    "mass_lb",
    "fuel_lb",
    "wind_kt",
    "crosswind_kt",
    "sea_from_bow_deg",
    "airwake_pct",
    "start_nm",
    "sea",
    "gusts",
    "light",
    "officer",
    "number",
    "seed",
)


def _did_you_mean(word: str, choices) -> str:
    from difflib import get_close_matches

    near = get_close_matches(word, list(choices), n=1)
    return f" Did you mean {near[0]}?" if near else ""


def _unknown(extra: list[str], parser: argparse.ArgumentParser) -> InputError:
    """Say which word was not understood, and which option comes near it."""
    word = next((token for token in extra if token.startswith("-")), extra[0]).split("=")[0]
    remedy = f"See {parser.prog} --help."
    if not word.startswith("-"):
        return _input_error(f"{word!r} is one word too many.", remedy=remedy)
    return _input_error(f"there is no option {word}.{_did_you_mean(word, _options(parser))}", remedy=remedy)


def _misplaced(option: str, commands: dict[str, argparse.ArgumentParser]) -> InputError | None:
    """Say which command an option goes behind; None where there is no such option."""
    word = option.split("=")[0]
    owners = [name for name, parser in commands.items() if word in _options(parser)]
    if not owners:
        return None
    return _input_error(
        f"{word} belongs behind the command.", remedy=f"For example: deckward {owners[0]} ... {word}"
    )


def _options(parser: argparse.ArgumentParser) -> list[str]:
    return re.findall(r"(?<![\w-])--?[a-z][a-z0-9-]*", parser.format_usage() + parser.format_help())


def _join_negative_values(argv: Sequence[str]) -> list[str]:
    """Tie ``--origin -39.2,160.4`` together, so that the minus is not taken for an option."""
    joined: list[str] = []
    for token in argv:
        if re.match(r"-[\d.]", token) and joined and re.fullmatch(r"--[a-z0-9-]+", joined[-1]):
            joined[-1] += f"={token}"
        else:
            joined.append(token)
    return joined


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number.") from None


def _numbers(text: str) -> tuple:
    """``LAT,LON`` or ``LAT,LON,TIME``: numbers, and a time as it is written."""
    return tuple(_or_text(part.strip()) for part in text.split(","))


def _or_text(part: str) -> float | str:
    try:
        return float(part)
    except ValueError:
        return part


def build() -> tuple[Parser, dict[str, argparse.ArgumentParser]]:
    """Make the parser; return it with the parser of each command."""
    parser = Parser(
        prog="deckward",
        usage="deckward COMMAND [options]",
        description="Debrief carrier passes flown in simulation, from a recording of the flight.",
        epilog=f"deckward COMMAND --help tells more of a command.\n\n{CAUTION}",
    )
    parser.add_argument(
        "--version", action="version", version=f"deckward {__version__}", help="show the version"
    )
    commands = parser.add_subparsers(
        dest="command", prog="deckward", metavar="COMMAND is one of", title="commands", parser_class=Parser
    )
    _debrief(commands)
    _columns(commands)
    _demo(commands)
    _plan(commands)
    _study(commands)
    _shelf(commands, "sites", "ships and fields", "a ship or a field", "wintermere")
    _shelf(commands, "aircraft", "aircraft", "an aircraft", "sandlark")
    _shelf(commands, "rulebooks", "rulebooks", "a rulebook", "strict")
    _shelf(commands, "scenarios", "scenarios", "a scenario", "lantern-evening")
    _measure(commands)
    schema = commands.add_parser(
        "schema",
        help="print the JSON Schema of the debrief, a plan or a study",
        description="Print the JSON Schema (draft 2020-12) that the output of debrief --json, plan --json or "
        "study --json keeps to.",
    )
    schema.add_argument(
        "of", metavar="debrief|plan|study", nargs="?", default="debrief", help="which of them"
    )
    schema.set_defaults(run=_later("schema"))
    return parser, dict(commands.choices)


def _later(name: str) -> Callable[[argparse.Namespace], int]:
    """Run ``deckward.cli.commands.NAME`` and import it only then."""

    def run(given: argparse.Namespace) -> int:
        from deckward.cli import commands

        return getattr(commands, name)(given)

    return run


def _screen_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--quiet", action="store_true", help="print no debrief, only where the pages are")
    parser.add_argument("--no-colour", action="store_true", help="print without colour")


def _debrief(commands) -> None:
    parser = commands.add_parser(
        "debrief",
        help="tell of every pass in a recording what happened",
        description="Find the passes in a recording, measure and grade them.",
        epilog=f"Exit codes: 0 at least one pass, 2 the input cannot be used, 3 no pass in it.\n\n{CAUTION}",
    )
    recording = parser.add_argument_group("the recording")
    recording.add_argument("recording", metavar="RECORDING", help="CSV, Parquet, JSON lines or DIS")
    recording.add_argument("--map", metavar="FILE", help="column map (TOML), for columns with other names")
    recording.add_argument(
        "--draft-map", metavar="FILE", help="write the map here that is drafted without one"
    )
    recording.add_argument("--only", metavar="WHO", help="debrief one craft of several, by name or number")
    recording.add_argument(
        "--origin", metavar="LAT,LON", type=_numbers, help="where north 0, east 0 of a local plane is"
    )

    deck = parser.add_argument_group("the deck, the jet and the grading (generic where not given)")
    deck.add_argument("--site", metavar="NAME|FILE", help="ship or field: see deckward sites")
    deck.add_argument("--aircraft", metavar="NAME|FILE", help="the jet: see deckward aircraft")
    deck.add_argument("--rulebook", metavar="NAME|FILE", help="how to grade: see deckward rulebooks")

    ship = parser.add_argument_group("where the ship was, if not in the recording")
    ship.add_argument("--ship", metavar="FILE|fitted", help="recording of the ship; or fit a steady one")
    ship.add_argument("--ship-who", metavar="WHO", help="which craft is the ship, by name or number")
    ship.add_argument("--ship-course-deg", metavar="D", type=_number, help="or: its true course,")
    ship.add_argument("--ship-speed-kt", metavar="V", type=_number, help="its speed,")
    ship.add_argument("--ship-at", metavar="LAT,LON,TIME", type=_numbers, help="and where it was at one time")
    ship.add_argument(
        "--ship-time-offset-s",
        metavar="S",
        type=_number,
        help="seconds to add to the ship's times (else estimated)",
    )

    wind = parser.add_argument_group("the wind, if not in the recording")
    wind.add_argument("--wind-from-deg", metavar="D", type=_number, help="true bearing it comes from")
    wind.add_argument("--wind-speed-kt", metavar="V", type=_number, help="its speed over the sea")

    result = parser.add_argument_group("what you get")
    result.add_argument(
        "--reason",
        metavar="WHY",
        help="why a wave-off was waved off: technique, pattern, foul-deck or own",
    )
    result.add_argument(
        "--what-if",
        metavar="CHANGE",
        action="append",
        default=[],
        help="fly each pass again with one change: hold-power[=S], sooner[=S], on-speed or wave-off[=NM]; "
        "may be given again",
    )
    result.add_argument(
        "--plan",
        metavar="SCENARIO",
        help="set the plan of this scenario beside each pass (see deckward plan)",
    )
    result.add_argument("--odds", action="store_true", help="tell the odds along each pass; takes longer")
    result.add_argument("--pilot", metavar="standard|FILE", help="whose hands fly on in the odds")
    result.add_argument("--out", metavar="DIR", help="write pages, figures and a PDF into this folder")
    result.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    _screen_options(result)
    parser.set_defaults(run=_later("debrief"))


def _columns(commands) -> None:
    parser = commands.add_parser(
        "columns",
        help="tell what each column of a recording holds, and ask what cannot be told",
        description="Work out what each column of a recording holds, by its name and by physics.",
        epilog="At a terminal, what the data cannot tell is asked. The map serves the next recording:\n"
        "deckward debrief RECORDING --map MAP",
    )
    which = parser.add_argument_group("the recording")
    which.add_argument("recording", metavar="RECORDING", help="CSV, Parquet or JSON, plain or gzip")
    parser.add_argument("--out", metavar="MAP", help="write the column map (TOML) into this new file")
    parser.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    parser.set_defaults(run=_later("columns"))


def _demo(commands) -> None:
    parser = commands.add_parser(
        "demo",
        help="debrief the bundled session of three invented pilots",
        description="Debrief the bundled session of three invented pilots, and write its pages.",
    )
    parser.add_argument(
        "--out", metavar="DIR", default="deckward-demo", help="where the pages go (deckward-demo)"
    )
    _screen_options(parser)
    parser.set_defaults(run=_later("demo"))


def _measure(commands) -> None:
    parser = commands.add_parser(
        "measure",
        help="measure your ship, your jet or your pilot from recordings",
        description="Measure a ship with a known jet, or a jet with a known ship, from recordings of\n"
        "traps, bolters and rests on deck; or fit a pilot to his passes.\n"
        "Write what is found as a file with its sigmas.",
        epilog=f"For example: deckward measure site one.csv two.csv --copy ship.toml\n\n{CAUTION}",
    )
    what = parser.add_argument_group("what")
    what.add_argument(
        "what", metavar="site|aircraft|pilot", choices=("site", "aircraft", "pilot"), help="which of them"
    )
    what.add_argument("recordings", metavar="RECORDING", nargs="+", help="of the jet; eight traps are plenty")
    what.add_argument(
        "--at-ramp", metavar="FILE", help="recording with the nose wheel parked on the ramp's edge"
    )
    what.add_argument("--mains-at-ramp", metavar="FILE", help="with the main wheels there (aircraft)")
    what.add_argument("--at-lens", metavar="FILE", help="with the nose wheel abreast of the lens (site)")

    known = parser.add_argument_group("what is known (generic where not given)")
    known.add_argument("--site", metavar="NAME|FILE", help="the ship, or what to start from")
    known.add_argument("--aircraft", metavar="NAME|FILE", help="the jet, or what to start from")
    known.add_argument("--name", metavar="TEXT", help="what to call what is measured")

    reading = parser.add_argument_group("reading the recordings")
    reading.add_argument(
        "--ship", metavar="FILE", action="append", default=[], help="recording of the ship; once, or for each"
    )
    reading.add_argument("--ship-who", metavar="WHO", help="which craft is the ship, by name or number")
    reading.add_argument("--map", metavar="FILE", help="column map (TOML)")
    reading.add_argument("--only", metavar="WHO", help="one craft of several, by name or number")
    reading.add_argument("--origin", metavar="LAT,LON", type=_numbers, help="where a local plane's zero is")
    reading.add_argument(
        "--ship-time-offset-s", metavar="S", type=_number, help="seconds to add to the ship's own recordings"
    )

    result = parser.add_argument_group("what you get")
    result.add_argument("--toml", action="store_true", help="print its file")
    result.add_argument("--copy", metavar="FILE", help="write its file here")
    result.add_argument("--out", metavar="DIR", help="draw what was seen and concluded into this folder")
    parser.set_defaults(run=_later("measure"))


def _plan(commands) -> None:
    from deckward.cli import plan_options

    parser = commands.add_parser(
        "plan",
        usage="deckward plan [CARD ...] [SCENARIO] [options]",
        help="work out course, approach numbers and fuel before the flight, as cards",
        description="Work out the cards of a scenario: all of them, or those that are named\n"
        f"({', '.join(plan_options.CARDS)}). A scenario is a file, the name of a bundled one, or none:\n"
        "every fact that a file can tell may be typed, and what is typed wins over the file.",
        epilog="To start a file of your own: deckward scenarios lantern-evening --copy mine.toml\n\n"
        + CAUTION,
    )
    parser.add_argument(
        "words", metavar="CARD ... SCENARIO", nargs="*", help="which cards, of which scenario"
    )
    result = parser.add_argument_group("what you get")
    result.add_argument("--out", metavar="DIR", help="write PDF, PNG and text into this folder")
    result.add_argument("--paper", metavar="SIZE", default="a4", help="a4 or letter, beside the kneeboard")
    result.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    result.add_argument("--quiet", action="store_true", help="print no cards, only where the files are")
    for title, facts in plan_options.FACTS:
        group = parser.add_argument_group(title)
        for key, kind, about in facts:
            many = {"action": "append"} if kind in (plan_options.PAIRS, plan_options.TABLE) else {}
            group.add_argument(
                plan_options.option(key), dest=f"fact:{key}", metavar=kind, default=None, help=about, **many
            )
    parser.set_defaults(run=_later("plan"))


def _study(commands) -> None:
    parser = commands.add_parser(
        "study",
        help="fly many passes by chance: odds of boarding, and how they change with the day",
        description="Fly many passes by chance and tell how they end: traps, bolters, wave-offs, ramp\n"
        "strikes, wires, touchdowns and sink. Give an option several values (20,25,30 or 15:35:5)\n"
        "to compare them; two options may have several.",
        epilog="For example: deckward study --wind-kt 15:35:5 --sea 0,3,4,5,6 --out study\n\n" + CAUTION,
    )
    ship = parser.add_argument_group("the ship and the jet")
    ship.add_argument("--site", metavar="NAME|FILE", default="wintermere", help="the ship (wintermere)")
    ship.add_argument("--aircraft", metavar="NAME|FILE", default="sandlark", help="the jet (sandlark)")
    ship.add_argument("--mass-lb", metavar="N", help="landing mass (the jet's own)")

    day = parser.add_argument_group("the day")
    day.add_argument("--wind-kt", metavar="N", default="25", help="wind over deck down the angle (25)")
    day.add_argument("--crosswind-kt", metavar="N", default="0", help="across it, + from starboard (0)")
    day.add_argument("--ship-speed-kt", metavar="N", default="15", help="the ship's share of it (15)")
    day.add_argument("--sea", metavar="N", default="0", help="sea state, 0 to 7 (0)")
    day.add_argument("--sea-from-bow-deg", metavar="N", default="0", help="where it comes from, 0 ahead (0)")
    day.add_argument("--airwake-pct", metavar="N", default="100", help="her airwake, 0 for none (100)")
    day.add_argument("--gusts", metavar="KIND", default="free-air", help="free-air, low-altitude or none")
    day.add_argument("--light", metavar="day|night", default="day", help="day or night (day)")

    hands = parser.add_argument_group("who flies, and who watches")
    hands.add_argument("--pilot", metavar="standard|FILE", default="standard", help="whose hands (standard)")
    hands.add_argument("--officer", metavar="yes|no", default="yes", help="a landing signal officer (yes)")
    hands.add_argument("--start-nm", metavar="N", default="0.75", help="where the passes start (0.75)")

    many = parser.add_argument_group("how many")
    many.add_argument("--number", metavar="N", type=_number, default=2000, help="passes a case (2000)")
    many.add_argument("--seed", metavar="N", type=_number, default=0, help="of all chance (0)")

    result = parser.add_argument_group("what you get")
    result.add_argument("--out", metavar="DIR", help="write page, figures and a table into this folder")
    result.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    result.add_argument("--quiet", action="store_true", help="print no tables, only where the page is")
    parser.set_defaults(run=_later("study"))


def _shelf(commands, name: str, many: str, one: str, example: str) -> None:
    parser = commands.add_parser(
        name,
        help=f"list the bundled {many}, or show one",
        description=f"List the bundled {many}; with a NAME or FILE, check and show {one}.",
        epilog=f"To start a file of your own: deckward {name} {example} --copy mine.toml",
    )
    which = parser.add_argument_group("which")
    which.add_argument("name", metavar="NAME|FILE", nargs="?", help="one of the list, or a file of yours")
    parser.add_argument("--toml", action="store_true", help="print its file")
    parser.add_argument("--copy", metavar="FILE", help="write its file here, as a start for your own")
    parser.set_defaults(run=_later(name))
