"""Good files spoilt at random: read with notes, or refused with the file and a remedy; never a trace.

Short here; ``benchmarks/fuzz_readers.py`` goes on for as long as it is told.
"""

from __future__ import annotations

import pytest

from support.spoiling import KINDS, try_case

#: cases of each kind of file
CASES = 25


@pytest.mark.parametrize("kind", range(len(KINDS)), ids=[kind.name for kind in KINDS])
def test_spoilt_files_are_read_or_refused(kind, tmp_path):
    outcomes = [try_case(kind + len(KINDS) * number, tmp_path) for number in range(CASES)]
    assert [(seed, o.why) for seed, o in enumerate(outcomes) if o.what == "broken"] == []
    assert {o.kind for o in outcomes} == {KINDS[kind].name}
    assert any(o.what == "refused" for o in outcomes)
