"""A short conversation at a terminal: questions with numbered answers."""

from __future__ import annotations

import sys
from pathlib import Path
from shutil import get_terminal_size
from textwrap import fill

from deckward import workflow
from deckward.errors import InputError


def there_is_someone() -> bool:
    """Whether a person can be asked: both ways lead to a terminal."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def ask(draft: workflow.Draft) -> workflow.Draft:
    """Ask every open question of a draft on standard error, and settle them by the answers.

    Raises:
        InputError: whoever was asked left.
    """
    number = 0
    while draft.questions:
        # an answer may teach words that answer others, so the count may fall, or rise
        question, number = draft.questions[0], number + 1
        count = number + len(draft.questions) - 1
        _say("")
        _say(fill(f"{number} of {count}. {question.question}", get_terminal_size().columns))
        for place, choice in enumerate(question.choices, start=1):
            _say(f"   {place}  {choice.text}")
        draft = draft.taught(question, question.choices[_pick(len(question.choices)) - 1])
    return draft


def keep(columns: workflow.Columns, recording: str) -> Path | None:
    """Offer to keep the map in a file for the next recording; where it was kept, None where it was not."""
    offered = f"{Path(recording).name.partition('.')[0]}.map.toml"
    _say("")
    while True:
        answer = _read(f"Keep the map in a file? Its name, Enter for {offered}, - for none: ")
        if answer == "-":
            return None
        try:
            path = workflow.save(Path(answer or offered), columns.to_toml())
        except InputError as fault:
            _say(fault.message())
            continue
        _say(f"Written: {path}")
        return path


def _pick(count: int) -> int:
    while True:
        answer = _read(f"   1 to {count}: ")
        if answer.isdecimal() and 1 <= int(answer) <= count:
            return int(answer)
        _say(f"   Please answer with a number from 1 to {count}; Ctrl-D leaves.")


def _read(prompt: str) -> str:
    print(prompt, end="", file=sys.stderr, flush=True)
    line = sys.stdin.readline()
    if not line:
        _say("")
        raise InputError("no answer was given.", remedy="Nothing was written. Start again when you know.")
    return line.strip()


def _say(text: str) -> None:
    print(text, file=sys.stderr)
