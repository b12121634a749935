from __future__ import annotations

import base64
import hashlib
import html
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pytest
import typst
from msgspec.structs import replace

from deckward import reports
from deckward.errors import InputError, Note
from deckward.passes.model import Series
from deckward.reports import approach, paper, readout, terminal, typeface, typesetting
from deckward.reports.caution import CAUTION
from support import drawn_pass

NOT_SAMPLED = ("contact", "sigma", "correlation", "origin")
SAMPLED = [name for name in Series.__struct_fields__ if name not in NOT_SAMPLED]
VOID = {"meta", "link", "br", "img", "input", "hr"}
HOSTILE = '<script>alert("x")</script>&amp;"\'><img src=x onerror=alert(1)> #panic() $x$ \x1b[31m \u202e \x00'


class Page(HTMLParser):
    """Reads a page strictly: every element closed in order; links, tables and words kept."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.links: list[str] = []
        self.tags: list[str] = []
        self.handlers: list[str] = []
        self.ids: list[str] = []
        self.cells: list[list[str]] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        for name, value in attrs:
            if name in ("href", "src"):
                self.links.append(value)
            if name.startswith("on"):
                self.handlers.append(name)
            if name == "id":
                self.ids.append(value)
        if tag not in VOID:
            self.open.append(tag)
        if tag == "tr":
            self.cells.append([])
        if tag in ("td", "th") and self.cells:
            self.cells[-1].append("")

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" in self.open or "script" in self.open:
            return
        self.words.append(data)
        if ("td" in self.open or "th" in self.open) and "svg" not in self.open:
            self.cells[-1][-1] += data

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def session():
    return drawn_pass.session()


@pytest.fixture(scope="module")
def folder(session, tmp_path_factory) -> Path:
    out = tmp_path_factory.mktemp("debrief") / "out"
    reports.write(session, out)
    return out


def pages(folder: Path) -> dict[str, Page]:
    return {path.name: Page(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.html"))}


def test_every_file_that_is_promised_is_there(session, folder):
    names = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert {"index.html", "debrief.pdf"} <= names
    for item in session.passes:
        assert f"pass-{item.number:02d}.html" in names
        for figure in ("approach", "sight", "deck"):
            assert f"figures/pass-{item.number:02d}-{figure}.svg" in names
            assert f"figures/pass-{item.number:02d}-{figure}.png" in names
    assert "figures/pass-06-pattern.png" in names and "figures/pass-01-pattern.png" not in names
    assert "figures/session-touchdowns.png" in names


def test_pages_are_well_formed_and_carry_the_caution(folder):
    for page in pages(folder).values():
        assert CAUTION in page.text
        assert len(page.ids) == len(set(page.ids))
        assert page.tags.count("h1") == 1 and page.tags.count("main") == 1


def test_pages_need_nothing_from_outside(folder):
    for path in [*folder.glob("*.html"), *folder.glob("figures/*.svg")]:
        text = path.read_text(encoding="utf-8")
        assert set(re.findall(r"https?://[^\s\"'<>)]+", text)) <= {"http://www.w3.org/2000/svg"}
        assert not re.search(r"@import|url\((?!\"data:|#)", text)
    for name, page in pages(folder).items():
        for link in page.links:
            assert link.startswith("#") or (folder / link).is_file(), (name, link)


def test_the_policy_allows_only_our_own_script(folder):
    for path in folder.glob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert text.count("<script>") == 1
        script = text[text.index("<script>") + 8 : text.index("</script>")]
        digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
        policy = f"default-src 'none'; .*script-src 'sha256-{re.escape(digest)}'"
        assert re.search(policy, html.unescape(text))


def test_the_positions_stand_in_the_table_in_trade_units(session, folder):
    for item in session.passes:
        page = Page((folder / f"pass-{item.number:02d}.html").read_text(encoding="utf-8"))
        rows = [row for row in page.cells if len(row) == 7][1:]
        assert len(rows) == len(item.flown.positions)
        for row, at in zip(rows, item.flown.positions, strict=True):
            name, _, ball, line_up, alpha, sink, closing = (" ".join(cell.split()) for cell in row)
            assert name.startswith(at.name)
            # 1 ft = 0.3048 m; 1 m/s = 60 / 0.3048 ft/min; 1 kt = 1852/3600 m/s
            assert float(sink.replace("−", "-")) == pytest.approx(at.sink * 60 / 0.3048, abs=0.51)
            assert float(closing) == pytest.approx(at.closure * 3600 / 1852, abs=0.51)
            size, side, angle = line_up.split()
            assert float(size) == pytest.approx(abs(at.line_up_offset) / 0.3048, abs=0.51)
            if float(size):
                assert side == ("right" if at.line_up_offset > 0 else "left")
            assert float(angle.rstrip("°")) == pytest.approx(abs(at.line_up_error) * 57.29578, abs=0.051)
            high, word = ball.split()[:2]
            if abs(at.ball_cells) >= 100.0:
                assert high == "off"
            else:
                assert float(high) == pytest.approx(abs(at.ball_cells), abs=0.051)
            if high == "off" or float(high):
                assert word == ("high" if at.ball_cells > 0 else "low")
            if at.angle_of_attack is None:
                assert alpha == "–"
            else:
                assert float(alpha.split("°")[0]) == pytest.approx(at.angle_of_attack * 57.29578, abs=0.051)


def test_pointing_at_a_place_reads_the_pass_there(session):
    flown = session.passes[1].flown
    s, run = flown.series, approach.stretch(flown)
    lines = readout.lines(flown)
    assert len(lines) == readout.STEPS and lines[-1].startswith("518 ft past the ramp")
    for k in (40, 70, 100):
        place = run.far - k / (readout.STEPS - 1) * (run.far + run.past)
        i = int(np.argmin(np.abs(s.range - place)))
        distance, to_go, ball, side, alpha, sink, *_ = lines[k].split(" · ")
        assert float(distance.split()[0]) == pytest.approx(place / 0.3048, abs=0.51)
        assert float(to_go.split()[0]) == pytest.approx(flown.ramp.time - s.time[i], abs=0.1)
        assert ball.split()[0] == "ball"
        assert float(ball.split()[1]) == pytest.approx(abs(s.ball_cells[i]), abs=0.1)
        assert side.endswith("left" if s.line_up_offset[i] < 0 else "right")
        assert float(alpha.split("°")[0]) == pytest.approx(np.degrees(s.angle_of_attack[i]), abs=0.1)
        assert float(sink.split()[0]) == pytest.approx(s.sink[i] * 60 / 0.3048, abs=12)


def test_nothing_is_read_where_the_pass_did_not_come():
    flown = drawn_pass.wave_off().flown
    short = replace(flown.series, **{f: getattr(flown.series, f)[:300] for f in SAMPLED})
    lines = readout.lines(replace(flown, series=replace(short, contact=300), positions=flown.positions[:1]))
    assert lines[0] and not lines[-1]


def test_what_matters_stands_before_the_figures(session, folder):
    for item in session.passes:
        text = (folder / f"pass-{item.number:02d}.html").read_text(encoding="utf-8")
        order = ["<h1>", 'class="grade"', 'class="line"', 'class="look"', 'class="facts"', "<svg", "quality"]
        text = text[text.index("<body>") :]
        places = [text.index(mark) for mark in order]
        assert places == sorted(places)
        assert item.score.look_at.replace("'", "&#39;") in text


def test_facts_of_the_good_pass(session, folder):
    flown = session.passes[0].flown
    text = Page((folder / "pass-01.html").read_text(encoding="utf-8")).text
    assert f"hook to ramp {flown.ramp.hook_to_ramp / 0.3048:.1f} ft" in text
    assert f"hook down {flown.touchdown.hook_x / 0.3048:.0f} ft" in text


def test_odds_are_on_page_sheet_and_screen(session, folder):
    page = Page((folder / "pass-05.html").read_text(encoding="utf-8"))
    assert "Fair or OK, 59 to 41" in page.text and "wire 2 or 3, 71 to 29" in page.text
    assert "Fair or OK, 59 to 41" in reports.screen(session)


def test_the_session_lists_every_pass(session, folder):
    page = Page((folder / "index.html").read_text(encoding="utf-8"))
    for item in session.passes:
        assert f"pass-{item.number:02d}.html" in page.links
        assert item.flown.who in page.text and item.score.summary in page.text
    assert "3 columns were left out" in page.text


def test_figures_as_files_stand_alone(folder):
    for path in folder.glob("figures/*.svg"):
        root = ET.fromstring(path.read_text(encoding="utf-8"))
        assert "var(" not in path.read_text(encoding="utf-8")
        assert float(root.get("width")) > 0
        png = path.with_suffix(".png").read_bytes()
        assert png.startswith(b"\x89PNG")
        wide, tall = (int.from_bytes(png[k : k + 4], "big") for k in (16, 20))
        assert wide / tall == pytest.approx(float(root.get("width")) / float(root.get("height")), rel=0.01)


def cautions(data: str, *, foreign: bool = False) -> list[str]:
    """Ask the typesetter, page by page, for the words of the foot line."""
    import json

    found = typst.query(
        typesetting._FOLDER / "debrief.typ",
        "<caution>",
        font_paths=[typeface.FOLDER],
        ignore_system_fonts=not foreign,
        sys_inputs={"data": data},
    )
    return re.findall(re.escape(CAUTION), json.dumps(json.loads(found), ensure_ascii=False))


def test_the_pdf_has_a_sheet_for_the_session_and_one_for_each_pass(session, monkeypatch):
    sent = {}
    compiler = typst.Compiler

    def watched(*args, **options):
        sent.update(options)
        return compiler(*args, **options)

    monkeypatch.setattr(typst, "Compiler", watched)
    data = paper.pdf(session)
    assert data.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type\s*/Page\b", data)) == len(session.passes) + 1
    assert len(cautions(sent["sys_inputs"]["data"])) == len(session.passes) + 1
    assert sent["ignore_system_fonts"] is True


def test_a_pass_never_needs_a_second_sheet():
    item = drawn_pass.low_red()
    notes = tuple(Note(f"n{k}", f"Note number {k} " + "with many words " * 30) for k in range(20))
    score = replace(item.score, summary="Words and more words. " * 30, look_at="Here and there. " * 12)
    flown = replace(item.flown, notes=notes, who="W" * 400, flags=tuple(f"flag {k}" for k in range(12)))
    data = paper.pdf(drawn_pass.session(replace(item, flown=flown, score=score)))
    assert len(re.findall(rb"/Type\s*/Page\b", data)) == 2


@pytest.mark.parametrize("who", [HOSTILE, "名前 🛬 Анна", "", "x" * 5000])
def test_strangers_names_do_no_harm(tmp_path, who):
    item = drawn_pass.good()
    flown = replace(
        item.flown,
        who=who,
        flags=(who,),
        aircraft=replace(item.flown.aircraft, name=who),
        site=replace(item.flown.site, name=who),
        notes=(Note("n", who),),
        positions=(replace(item.flown.positions[0], name=who), *item.flown.positions[1:]),
    )
    score = replace(item.score, summary=who, shorthand=who, look_at=who)
    hostile = drawn_pass.session(replace(item, flown=flown, score=score), drawn_pass.bolter())
    hostile = replace(hostile, title=who, recording=who, notes=(Note("n", who),))
    reports.write(hostile, tmp_path / "out")
    for page in pages(tmp_path / "out").values():
        assert page.tags.count("script") == 1 and "img" not in page.tags and not page.handlers
        assert "\x1b" not in page.text and "\x00" not in page.text
    for path in (tmp_path / "out" / "figures").glob("*.svg"):
        ET.fromstring(path.read_text(encoding="utf-8"))
    shown = reports.screen(hostile, colour=False)
    assert "\x1b" not in shown and "\x00" not in shown and "\u202e" not in shown


def test_an_error_on_the_way_leaves_the_folder_as_it_was(session, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    (out / "index.html").write_text("mine")

    def stop(what: str, share: float) -> None:
        if share > 0.5:
            raise RuntimeError("stopped")

    with pytest.raises(RuntimeError):
        reports.write(session, out, progress=stop)
    assert (out / "index.html").read_text() == "mine"
    assert [path.name for path in tmp_path.rglob("*")] == ["out", "index.html"]


def test_a_folder_that_was_not_there_is_not_there_after_an_error(session, tmp_path):
    def stop(what: str, share: float) -> None:
        raise RuntimeError("stopped")

    with pytest.raises(RuntimeError):
        reports.write(session, tmp_path / "a" / "b", progress=stop)
    assert list(tmp_path.iterdir()) == []


def test_strangers_files_stay_and_our_own_are_replaced(tmp_path):
    one = drawn_pass.session(drawn_pass.good())
    out = tmp_path / "out"
    (out / "figures").mkdir(parents=True)
    (out / "keep.txt").write_text("keep")
    (out / "figures" / "keep.png").write_bytes(b"keep")
    (out / "index.html").write_text("old")
    made = reports.write(one, out)
    assert (out / "keep.txt").read_text() == "keep"
    assert (out / "figures" / "keep.png").read_bytes() == b"keep"
    assert "Thursday evening" in (out / "index.html").read_text(encoding="utf-8")
    assert made[-1] == out / "index.html" and all(path.is_file() for path in made)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out"]


def test_a_folder_deep_down_is_made(tmp_path):
    made = reports.write(drawn_pass.session(drawn_pass.good()), tmp_path / "a" / "b")
    assert made[-1] == tmp_path / "a" / "b" / "index.html"


@pytest.mark.parametrize("place", ["file", "file/below"])
def test_a_file_in_the_way_is_refused_with_a_remedy(session, tmp_path, place):
    (tmp_path / "file").write_text("mine")
    with pytest.raises(InputError, match=r"is a file, not a folder\. Name another folder\."):
        reports.write(session, tmp_path / place)
    assert (tmp_path / "file").read_text() == "mine"


def test_a_folder_that_cannot_be_written_to_is_refused(session, tmp_path, monkeypatch):
    def refuse(*args, **options):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.mkdtemp", refuse)
    with pytest.raises(InputError, match=r"cannot be written to \(Permission denied\)"):
        reports.write(session, tmp_path / "out")


def test_progress_is_told_and_never_goes_back(tmp_path):
    seen = []
    session = drawn_pass.session(drawn_pass.good(), drawn_pass.bolter())
    reports.write(session, tmp_path / "out", progress=lambda what, share: seen.append((what, share)))
    shares = [share for _, share in seen]
    assert shares == sorted(shares) and shares[0] == 0.0 and shares[-1] == 1.0
    assert len(seen) >= 5 and all(what for what, _ in seen)


@pytest.mark.parametrize("width", [20, 44, 50, 60, 72, 80, 100, 200])
@pytest.mark.parametrize("plain", [False, True])
def test_the_screen_fits_the_terminal(session, width, plain):
    for line in reports.screen(session, width=width, plain=plain).splitlines():
        assert terminal.cells(line) <= max(width, terminal.NARROWEST), line


def test_the_screen_says_everything_at_eighty_columns(session):
    shown = reports.screen(session, width=80)
    assert " ".join(CAUTION.split()) in " ".join(shown.split())
    for item in session.passes:
        assert item.score.grade.name in shown and item.score.shorthand in shown
        assert " ".join(item.score.look_at.split()) in " ".join(shown.split())
        for at in item.flown.positions:
            sink = f"{at.sink * 60 / 0.3048:.0f}".replace("-", "−")
            row = next(line for line in shown.splitlines() if sink in line)
            assert f"{abs(at.line_up_offset) / 0.3048:.0f}" in row


def test_colour_only_repeats_what_the_words_say(session):
    bare, coloured = reports.screen(session), reports.screen(session, colour=True)
    assert "\x1b[" not in bare and "\x1b[" in coloured
    # the plaque is padded in colour only
    stripped = re.sub(r"\x1b\[[\d;]*m", "", coloured)
    assert stripped.split() == bare.split()


def test_plain_screens_are_ascii(session):
    assert reports.screen(session, plain=True).isascii()


def test_one_pass_has_no_list_of_passes():
    assert "The session" not in reports.screen(drawn_pass.session(drawn_pass.good()))


def test_a_pass_with_nothing_measured_is_still_reported(tmp_path):
    item = drawn_pass.good()
    flown = replace(
        item.flown,
        outcome=None,
        wire=None,
        wire_odds={},
        positions=(),
        ramp=None,
        touchdown=None,
        groove=None,
    )
    bare = drawn_pass.session(replace(item, flown=flown, score=replace(item.score, look_at="", shorthand="")))
    reports.write(bare, tmp_path / "out")
    page = pages(tmp_path / "out")["pass-01.html"]
    assert "Not told: the recording ends too early" in page.text
    assert "What the pilot saw" not in page.text
    assert "Not told" in reports.screen(bare)


def test_a_field_without_wires_is_drawn(tmp_path):
    item = drawn_pass.good()
    field = replace(item.flown.site, kind="field", angle=0.0, wires=None, name="Practice strip")
    flown = replace(item.flown, site=field, outcome="touch-and-go", wire=None, wire_odds={})
    reports.write(drawn_pass.session(replace(item, flown=flown)), tmp_path / "out")
    assert "Touch-and-go" in pages(tmp_path / "out")["pass-01.html"].text


def test_fifteen_passes_make_fifteen_sheets():
    many = drawn_pass.session(*[drawn_pass.good() for _ in range(15)])
    sheets = len(re.findall(rb"/Type\s*/Page\b", paper.pdf(many)))
    assert 16 <= sheets <= 17


def test_asking_for_the_room_loads_nothing_heavy():
    code = (
        "import sys, deckward.reports as r; r.screen, r.write;"
        "print([m for m in ('numpy', 'jinja2', 'typst', 'rich') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
