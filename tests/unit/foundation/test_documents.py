"""The reader of hand-written TOML: what it takes, and how it refuses."""

from __future__ import annotations

import time
from typing import Annotated, Literal

import msgspec
import pytest
from msgspec import Meta

from deckward.errors import InputError
from deckward.foundation import documents
from deckward.foundation.shelf import Shelf


class Aid(msgspec.Struct, forbid_unknown_fields=True):
    cells: Annotated[int, Meta(ge=2, le=40, description="number of cells")]
    place_m: Annotated[tuple[float, float, float], Meta(description="where it stands")]
    mode: Literal["line", "none"] = "line"
    height_m: Annotated[float, Meta(gt=0)] | None = None


class Step(msgspec.Struct, forbid_unknown_fields=True):
    low: float


class Form(msgspec.Struct, forbid_unknown_fields=True):
    name: Annotated[str, Meta(min_length=1, max_length=80)]
    aid: Aid
    step: list[Step] = []
    by: dict[str, Step] = {}


GOOD = 'name = "one"\n[aid]\ncells = 12\nplace_m = [1, 2.5, 3]\n'


def refused(text: str) -> str:
    with pytest.raises(InputError) as caught:
        documents.parse(text, Form, file="one.toml")
    message = str(caught.value)
    assert message.startswith("one.toml")
    return message


def test_reads_tables_lists_and_defaults():
    form = documents.parse(GOOD + '[[step]]\nlow = 1\n[by."3/4 nm"]\nlow = 2.0\n', Form, file="one.toml")
    assert form.aid == Aid(cells=12, place_m=(1.0, 2.5, 3.0))
    assert form.step == [Step(1.0)]
    assert form.by == {"3/4 nm": Step(2.0)}


def test_tells_every_fault_at_once_with_its_line():
    text = (
        "[aid]\ncells = 3.5\nplaec_m = [1, 2]\nmod = 'line'\nheigth_m = 1\n"
        '[[step]]\nlow = 1\n[[step]]\nlow = "x"\n[by."3/4 nm"]\nlow = nan\n'
    )
    message = refused(text)
    assert "7 things to mend" in message  # a misspelt key is not told again as missing
    assert "key name: this key is missing." in message
    assert "key aid.cells (line 2)" in message and "a whole number from 2 to 40: number of cells" in message
    assert "key aid.plaec_m (line 3): unknown key. Did you mean 'place_m'?" in message
    assert "key aid.mod (line 4): unknown key. Did you mean 'mode'?" in message
    assert "key aid.heigth_m (line 5): unknown key. Did you mean 'height_m'?" in message
    assert 'key step[2].low (line 9): the text "x" stands here.' in message
    assert 'key by."3/4 nm".low (line 11): nan is not a usable number.' in message


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("cells = true", "true stands here"),
        ("cells = 41", "41 is out of range"),
        ("cells = 2026-01-01", "a date or time stands here"),
        ("cells = 99999999999999999999", "not a usable number"),
        ("cells = {a = 1}", "a table stands here"),
        ("place_m = [1.0, 2.0, inf]", "inf is not a usable number"),
        ("place_m = [1.0, 2.0, 1e999]", "inf is not a usable number"),
        ("place_m = 3", "the number 3 stands here"),
        ("height_m = 0", "Give a number above 0"),
        ('mode = "lines"', 'Give one of "line", "none"'),
    ],
)
def test_refuses_a_value_that_cannot_stand(line, says):
    key = line.split(" ")[0]
    kept = [row for row in GOOD.splitlines() if not row.startswith(key)]
    message = refused("\n".join([*kept, line]))
    assert f"key aid.{key} (line {len(kept) + 1})" in message
    assert says in message


@pytest.mark.parametrize(
    ("text", "place", "says"),
    [
        ("name = one", "line 1", "text without quotes"),
        ('name = "one\n', "line 1", "not closed by its quote"),
        ('name = "a"\nname = "b"\n', "line 2", "twice"),
        ("[aid\n", "line 1", "not valid TOML"),
        ("name", "one.toml", "not valid TOML"),
        ("a = " + "9" * 10_000, "one.toml", "not valid TOML"),
        ("a = " + "[" * 100_000, "one.toml", "nested far too deeply"),
        ("a = " + "{a = " * 30_000, "one.toml", "nested far too deeply"),
        ("\n" + ".".join("a" * 100_000) + " = 1", "line 2", "more than 16 levels"),
        ('"' * 200_000, "one.toml", "not valid TOML"),
        ("a-" * 100_000, "one.toml", "not valid TOML"),
        ("".join(f"key{i} = 1\n" for i in range(15_000)), "key0 (line 1)", "and 14990 more"),
    ],
)
def test_hostile_text_is_refused_quickly_and_shortly(text, place, says):
    start = time.perf_counter()
    message = refused(text)
    assert time.perf_counter() - start < 60  # hostile text may cost no minutes; speed is not judged here
    assert len(message) < 3000
    assert place in message and says in message


def test_a_byte_order_mark_is_taken(tmp_path):
    path = tmp_path / "form.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.encode())
    assert documents.load(path, Form).name == "one"


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b'name = "caf\xe9"', "line 1: the text is not UTF-8"),
        ('name = "x"'.encode("utf-16"), "not UTF-8"),
        (b"a = 1\n" + b"#" * 300_000, "larger than 256 KiB"),
        (b"\x00\x01\x02", "not valid TOML"),
    ],
)
def test_refuses_bytes_that_are_no_document(tmp_path, content, says):
    path = tmp_path / "form.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        documents.load(path, Form)
    assert str(path) in str(caught.value) and says in str(caught.value)


@pytest.mark.parametrize("name", ["missing.toml", ".", "a" * 5000, "with\0nul"])
def test_refuses_a_path_that_is_no_file(tmp_path, name):
    with pytest.raises(InputError) as caught:
        documents.load(tmp_path / name, Form)
    assert caught.value.remedy


def test_the_check_of_the_whole_document_speaks_with_lines():
    def check(form):
        yield documents.Problem("aid.cells", "an odd count.", "Give an even one.")

    with pytest.raises(InputError) as caught:
        documents.parse(GOOD, Form, file="one.toml", check=check)
    assert str(caught.value) == "one.toml, key aid.cells (line 3): an odd count. Give an even one."


@pytest.fixture
def shelf(tmp_path):
    folder = tmp_path / "bundled"
    folder.mkdir()
    for name in ("grey-heron", "pintail"):
        (folder / f"{name}.toml").write_text(GOOD, encoding="utf-8")
    return Shelf("site", "--site", folder)


def test_a_bundled_name_is_found_however_it_is_cased(shelf):
    assert shelf.names() == ("grey-heron", "pintail")
    assert shelf.find("Grey Heron") == (GOOD, "grey-heron.toml (bundled)")
    assert shelf.name_of("PINTAIL") == "pintail" and shelf.name_of("./pintail.toml") is None


def test_a_path_is_read(shelf, tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text("x = 1", encoding="utf-8")
    assert shelf.find(path) == ("x = 1", str(path))


def test_a_typo_gets_a_guess_and_the_list(shelf):
    with pytest.raises(InputError) as caught:
        shelf.find("pintial")
    message = str(caught.value)
    assert "--site" in message and "Did you mean 'pintail'?" in message and "grey-heron, pintail" in message
    with pytest.raises(InputError, match=r"'pintail\.toml'.*Did you mean 'pintail'\?"):
        shelf.find("pintail.toml")


@pytest.mark.parametrize("name", ["x" * 5000, "a\0b", "", "nothing/like/it", "it.toml"])
def test_no_name_makes_a_traceback(shelf, name):
    with pytest.raises(InputError) as caught:
        shelf.find(name)
    assert caught.value.remedy
