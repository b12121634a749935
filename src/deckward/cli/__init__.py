"""The terminal face of Deckward. Nothing heavy is imported before a command runs."""

from __future__ import annotations

import gc
import os
import sys

TYPE_CHECKING = False  # type checkers read it as true; the real one would import typing
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import NoReturn

#: shows the whole trace of an unexpected failure instead of two lines
TRACE_VARIABLE = "DECKWARD_TRACE"

UNEXPECTED = 70
INTERRUPTED = 130
PIPE_CLOSED = 141


def run() -> NoReturn:
    """Run the command line and end the process, without taking it apart first.

    Letting go of the libraries one by one would take a tenth of a debrief's time.
    """
    code = main()
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        code = code or PIPE_CLOSED
    if sys.gettrace() or sys.getprofile():  # someone is measuring, and writes at the end
        sys.exit(code)
    os._exit(code)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code.

    0 done, 2 the input cannot be used, 3 no pass in the recording; 70 a fault of
    Deckward itself, 130 stopped from the keyboard, 141 the reader of the output left.
    """
    from deckward.cli.parser import arguments

    _prepare_streams()
    # a command is over long before collecting cycles would pay for its time
    collecting = gc.isenabled()
    gc.disable()
    try:
        given = arguments(sys.argv[1:] if argv is None else list(argv))
        code = given.run(given)
        sys.stdout.flush()
        return code
    except SystemExit as stop:  # --help and --version end here
        return stop.code if isinstance(stop.code, int) else 0
    except KeyboardInterrupt:
        return _say("stopped.", INTERRUPTED)
    except BrokenPipeError:
        # the interpreter flushes once more on its way out: give it somewhere to go
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PIPE_CLOSED
    except Exception as fault:
        return _tell(fault)
    finally:
        if collecting:
            gc.enable()


def _prepare_streams() -> None:
    """Never fail on a sign the terminal cannot show; keep library warnings off the screen."""
    import warnings

    # where a stream is closed there is none at all
    sys.stdout = sys.stdout or os.fdopen(os.open(os.devnull, os.O_WRONLY), "w")
    sys.stderr = sys.stderr or os.fdopen(os.open(os.devnull, os.O_WRONLY), "w")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    if not sys.warnoptions:
        warnings.simplefilter("ignore")


def _say(text: str, code: int) -> int:
    print(f"deckward: {text}", file=sys.stderr)
    return code


def _tell(fault: Exception) -> int:
    """Say in one message what went wrong and what to do, and return the exit code."""
    from deckward.cli.parser import message
    from deckward.errors import DeckwardError

    if isinstance(fault, DeckwardError):
        return _say(message(fault), fault.exit_code)
    if os.environ.get(TRACE_VARIABLE):
        import traceback

        traceback.print_exception(fault)
        return UNEXPECTED
    if isinstance(fault, MemoryError):
        return _say("out of memory. Close other programs, or cut the recording into parts.", UNEXPECTED)
    return _say(
        f"this is a fault in Deckward, not in your file ({type(fault).__name__}: {fault}).\n"
        f"Nothing was left half-written. Please report it: set {TRACE_VARIABLE}=1, run the same "
        "command again, and send what it prints with the first lines of the recording.",
        UNEXPECTED,
    )
