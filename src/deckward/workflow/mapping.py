"""What the columns of a recording hold: drafted, asked about, kept as a map."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from deckward import recordings
from deckward.errors import InputError, Note
from deckward.recordings import ColumnMap, Recording
from deckward.recordings.drafted import Choice, Draft, Question
from deckward.workflow import folder, options

SCHEMA = "deckward.columns/1"
#: columns and questions named in one message
_MOST_NAMED = 8

__all__ = ["Choice", "Columns", "Draft", "Question", "columns"]


class Columns(Struct, frozen=True):
    """The drafted column map of one recording, and what is open in it."""

    draft: Draft

    def to_dict(self) -> dict[str, Any]:
        """Return the published object as dicts and lists."""
        return {
            "schema": SCHEMA,
            "columns": [
                {
                    "source": rule.source,
                    "quantity": rule.quantity,
                    "unit": rule.unit,
                    "sign": rule.sign,
                    "confidence": rule.confidence,
                    "why": rule.why,
                    "asked": rule.asked,
                }
                for rule in self.draft.map.columns
            ],
            "questions": [
                {
                    "columns": list(question.columns),
                    "question": question.question,
                    "choices": [choice.text for choice in question.choices],
                }
                for question in self.draft.questions
            ],
        }

    def to_json(self) -> str:
        """Return the published object as JSON text."""
        return msgspec.json.format(msgspec.json.encode(self.to_dict())).decode()

    def to_toml(self) -> str:
        """Return the column map as a file that ``--map`` reads."""
        return recordings.write_column_map(self.draft.map)


def columns(recording: str | Path) -> Columns:
    """Work out what each column of a recording holds.

    Raises:
        InputError: it cannot be read as a table.
    """
    return Columns(recordings.draft_column_map(options.readable(recording)))


class Drafts:
    """Drafts of several recordings: files with the same columns share one, and its answers.

    ``ask`` settles the open questions of a draft; None where nobody is there to answer.
    """

    def __init__(self, ask: Callable[[Draft], Draft] | None) -> None:
        self._ask = ask
        self._made: dict[tuple[tuple[str, ...], bool], Draft] = {}

    def of(self, file: str | Path, *, of_ship: bool, like: Draft | None = None) -> Draft:
        """Give the draft of a file, made now or for an earlier one of its columns.

        ``like`` is the draft of another file of the same recorder.
        """
        key = (recordings.names_of_columns(file), of_ship)
        if key not in self._made:
            known = like.map if like is not None else None
            draft = recordings.draft_column_map(file, of_ship=of_ship, like=known)
            asked = draft.questions and self._ask is not None
            self._made[key] = self._ask(draft) if asked and self._ask is not None else draft
        return self._made[key]


def open_by_draft(
    recording: str | Path,
    ship: str | Path | None,
    *,
    only: str | None,
    origin: tuple[float, float] | None,
    ask: Callable[[Draft], Draft] | None,
    draft_map: str | Path | None = None,
    made: Drafts | None = None,
    whole: bool = False,
    unknown: InputError | None = None,
    ship_who: str | None = None,
) -> Recording:
    """Read a recording (and the ship's own) whose names do not tell enough, by drafted maps.

    Args:
        recording: the aircraft's file.
        ship: the ship's own file, if there is one.
        only: the one craft to read of several.
        origin: latitude and longitude of a local plane's origin, rad.
        ask: settles the open questions of a draft; None where nobody is there to answer.
        draft_map: file that the draft is written to, also where questions stay open.
        made: drafts of earlier recordings, which serve this one where its columns are theirs.
        whole: draft the recording's map even where its own columns tell enough of the aircraft.
        unknown: what is wrong with a file in which nothing can be a place, raised then.
        ship_who: the craft that is the ship, of several.

    Raises:
        InputError: questions stay open; says which. Or it cannot be read by a drafted map either.
    """
    drafts: dict[str, Draft] = {}
    made = made or Drafts(ask)
    for file, of_ship in ((recording, False), (ship, True)):
        wanted = whole and not of_ship
        if file is not None and (wanted or recordings.needs_column_map(file, of_ship=of_ship)):
            drafts[str(file)] = made.of(file, of_ship=of_ship, like=drafts.get(str(recording)))
    if unknown is not None and not any(map(_may_be_somewhere, drafts.values())):
        raise unknown
    if draft_map is not None and drafts:
        folder.save(Path(draft_map), recordings.write_column_map(_joined(list(drafts.values()))))
    for file, draft in drafts.items():
        if draft.questions:
            raise _undecided(file, draft, draft_map)
    own, other = drafts.get(str(recording)), drafts.get(str(ship))
    read = recordings.open_recording(
        recording,
        ship=ship,
        only=only,
        ship_who=ship_who,
        column_map=own.map if own else None,
        # a map that speaks of another file's columns would be refused: each file has its own
        ship_map=other.map if other else ColumnMap() if own else None,
        origin=origin,
    )
    notes = [Note("columns-drafted", _told(file, draft.map)) for file, draft in drafts.items()]
    return replace(read, notes=(*notes, *read.notes))


def open_foreign(
    recording: str | Path,
    ship: str | Path | None,
    *,
    column_map: str | Path | ColumnMap | None,
    only: str | None,
    origin: tuple[float, float] | None,
    ask: Callable[[Draft], Draft] | None,
    draft_map: str | Path | None = None,
    made: Drafts | None = None,
    wants_ship: bool = True,
    ship_who: str | None = None,
) -> Recording:
    """Read a recording by its names or the map given, or where these do not tell enough by a drafted one.

    ``wants_ship`` is whether a ship is looked for among columns of other names where no column of
    ours tells of one. The other arguments and errors are those of :func:`open_by_draft`.
    """
    who: dict[str, Any] = {"only": only, "ship_who": ship_who, "origin": origin}
    more = {**who, "ask": ask, "draft_map": draft_map, "made": made}
    try:
        read = recordings.open_recording(recording, ship=ship, column_map=column_map, **who)
    except recordings.UnknownColumns as unknown:
        if column_map is not None:
            raise
        return open_by_draft(recording, ship, unknown=unknown, **more)
    left_out = any(note.code == "columns-left-out" for note in read.notes)
    if column_map is not None or ship is not None or read.ship is not None or not (wants_ship and left_out):
        return read
    if not recordings.has_columns(recording):
        return read
    found = recordings.draft_column_map(recording)
    if not any(rule.quantity in ("ship_latitude", "ship_north") for rule in found.map.columns):
        return read
    return open_by_draft(recording, ship, whole=True, **more)


def _may_be_somewhere(draft: Draft) -> bool:
    """Whether a column of the drafted file holds a place, or may."""
    told = {rule.quantity.removeprefix("ship_") for rule in draft.map.columns}
    return bool(told & {"latitude", "north"}) or any(question.opens for question in draft.questions)


def _joined(drafts: list[Draft]) -> ColumnMap:
    """Make one map of two files' drafts.

    Raises:
        InputError: a name means one thing in one file and another in the other.
    """
    rules: dict[str, recordings.Rule] = {}
    for draft in drafts:
        for rule in draft.map.columns:
            told = rules.setdefault(rule.source, rule)
            if (told.quantity, told.unit, told.sign) != (rule.quantity, rule.unit, rule.sign):
                raise InputError(
                    f"column {rule.source!r} holds one thing in the recording and another in the ship's.",
                    place="draft_map",
                    remedy="One map serves both files: rename it in one of them.",
                )
    return replace(drafts[0].map, columns=tuple(rules.values()))


def _undecided(file: str, draft: Draft, draft_map: str | Path | None) -> InputError:
    told = [question.question for question in draft.questions[:_MOST_NAMED]]
    more = len(draft.questions) - len(told)
    points = "".join(f"\n  - {text}" for text in told) + (f"\n  - and {more} more" if more > 0 else "")
    count = "one thing" if len(draft.questions) == 1 else f"{len(draft.questions)} things"
    remedy = (
        f'Decide in {draft_map}: set quantity, unit and sign, then "asked = false", and give it with --map.'
        if draft_map is not None
        else f"Answer them once with deckward columns {file} at a terminal and keep the map for --map, or "
        "write the draft with --draft-map FILE and decide in it."
    )
    return InputError(f"{count} must be decided before it can be read:{points}\n", file=file, remedy=remedy)


def _told(file: str, column_map: ColumnMap) -> str:
    used = [rule for rule in column_map.columns if rule.quantity != "ignore"]
    shown = ", ".join(
        f"{rule.source} {'-' if rule.sign < 0 else ''}{rule.quantity}{f' {rule.unit}' if rule.unit else ''}"
        for rule in used[: 3 * _MOST_NAMED]
    )
    more = f" and {len(used) - 3 * _MOST_NAMED} more" if len(used) > 3 * _MOST_NAMED else ""
    return (
        f"What the columns of {Path(file).name} hold was worked out ({shown}{more}); "
        "deckward columns says why."
    )
