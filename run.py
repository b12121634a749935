#!/usr/bin/env python3
"""Set up Deckward beside this file and run it: needs nothing but Python 3.11 or newer.

    python3 run.py demo             debrief the bundled session (any other command works too)
    python3 run.py test             run every check and test
    python3 run.py --here demo      use this Python as it is, set nothing up

The first run makes a folder .venv and installs the pinned requirements into it; later runs
start at once. On Windows: python run.py demo.
"""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
READY = VENV / "deckward-ready"
OLDEST = (3, 11)


def main(words):
    """Run what the words ask for and return its exit code."""
    if sys.version_info < OLDEST:
        return stop(
            "this is Python {}.{}, Deckward needs 3.11 or newer.".format(*sys.version_info[:2]),
            "Start run.py with a newer one, for example: python3.12 run.py demo",
        )
    here = words[:1] == ["--here"]
    words = words[1:] if here else words
    if not words or words[0] in ("-h", "--help"):
        print(__doc__.strip())
        return 0
    testing = words[0] == "test"
    python = sys.executable if here else environment(testing)
    if testing:
        return checks(python, words[1:])
    return subprocess.call([python, "-m", "deckward", *words], env=variables(here))


def checks(python, words):
    """Lint, types, import contract, then the tests; stop at the first that fails."""
    for command in (
        ["-m", "ruff", "check", "."],
        ["-m", "ruff", "format", "--check", "."],
        ["-m", "mypy"],
        ["-c", "from importlinter.cli import lint_imports_command as check; check()"],
        ["-m", "pytest", *(words or ["-n", "2"])],
    ):
        code = subprocess.call([python, *command], cwd=ROOT, env=variables(here=True))
        if code:
            return code
    return 0


def environment(testing):
    """Make .venv ready and return its Python; at once where it is ready already."""
    python = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    # dev.txt holds everything that core.txt holds
    names = ["dev.txt", "build.txt"] if testing else ["core.txt", "build.txt"]
    # recordings of real flights, in a package that is wanted without what it needs to run
    samples = [ROOT / "requirements" / "samples.txt"] if testing else []
    files = [ROOT / "requirements" / name for name in names]
    marked = {*files, *samples, ROOT / "requirements" / "core.txt", ROOT / "pyproject.toml"}
    wanted = [sys.version.split()[0], *(digest(path) for path in sorted(marked))]
    have = READY.read_text(encoding="utf-8").split() if READY.exists() and python.exists() else []
    if set(wanted) <= set(have):
        return str(python)

    print("Setting up .venv (once; needs the network, a minute or two) ...", file=sys.stderr, flush=True)
    if (have and have[0] != wanted[0]) or not python.exists():
        made = subprocess.call([sys.executable, "-m", "venv", "--clear", str(VENV)])
        if made:
            sys.exit(
                stop(
                    "this Python cannot make a virtual environment.",
                    "On Debian and Ubuntu: sudo apt-get install python3-venv, then run this again.",
                )
            )
    pip = [str(python), "-m", "pip", "install", "-qq", "--disable-pip-version-check"]
    wheels = [part for path in files for part in ("-r", str(path))]
    for command in (
        [*pip, "--require-hashes", *wheels],
        *([*pip, "--require-hashes", "--no-deps", "-r", str(path)] for path in samples),
        [*pip, "--no-deps", "--no-build-isolation", "-e", str(ROOT)],
    ):
        if subprocess.call(command, cwd=ROOT):
            sys.exit(stop("the set-up did not finish.", "Check the network, then run this again."))
    READY.write_text("\n".join(wanted), encoding="utf-8")
    return str(python)


def digest(path):
    """Name a file with a mark that changes when it does."""
    return path.name + ":" + hashlib.sha256(path.read_bytes()).hexdigest()[:16]


def variables(here):
    """Add this checkout to what an environment not made here can import."""
    if not here:
        return None
    path = os.pathsep.join(filter(None, [str(ROOT / "src"), os.environ.get("PYTHONPATH")]))
    return {**os.environ, "PYTHONPATH": path}


def stop(problem, remedy):
    """Say what is wrong and what to do; return the exit code."""
    sys.stderr.write(f"run.py: {problem}\n{remedy}\n")
    return 2


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
