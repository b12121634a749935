"""Cards for the knee: one a page whatever stands on them, to scale, and dark in a dark cockpit."""

from __future__ import annotations

import re
import struct
import zlib

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import planning
from deckward.errors import InputError
from deckward.foundation.units import KNOT
from deckward.planning.plan import CARDS, make
from deckward.reports import cards, palette, typeface
from deckward.reports.cards import bundle, columns, wind
from deckward.reports.caution import CAUTION


@pytest.fixture(scope="module")
def evening():
    return make(planning.load("lantern-evening"))


def luminance(colour) -> np.ndarray:
    """Source: WCAG 2.2, relative luminance; colour 0..255, (..., 3)."""
    s = np.asarray(colour) / 255.0
    return np.where(s <= 0.04045, s / 12.92, ((s + 0.055) / 1.055) ** 2.4) @ [0.2126, 0.7152, 0.0722]


def of(ink: str) -> float:
    return float(luminance([int(palette.COCKPIT[ink][k : k + 2], 16) for k in (1, 3, 5)]))


def pixels(png: bytes) -> np.ndarray:
    """Decode a PNG of 8 bits a channel without interlace, (rows, columns, channels).

    Source: PNG specification (ISO/IEC 15948), filter types 0 to 4.
    """
    width, height, depth, kind, _, _, interlace = struct.unpack_from(">IIBBBBB", png, 16)
    assert (depth, interlace) == (8, 0)
    channels = {2: 3, 6: 4}[kind]
    data, at = b"", 8
    while at < len(png):
        (size,) = struct.unpack_from(">I", png, at)
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + size]
        at += 12 + size
    rows = np.frombuffer(zlib.decompress(data), np.uint8).reshape(height, 1 + width * channels)
    out = np.zeros((height + 1, width + 1, channels), np.uint8)
    for y, row in enumerate(rows, start=1):
        line = row[1:].reshape(width, channels)
        filtered, above = row[0], out[y - 1]
        if filtered == 0:
            out[y, 1:] = line
        elif filtered == 2:
            out[y, 1:] = line + above[1:]
        elif filtered == 1:
            out[y, 1:] = np.cumsum(line, axis=0, dtype=np.uint8)
        else:
            for x in range(1, width + 1):
                left, up, corner = (v.astype(int) for v in (out[y, x - 1], above[x], above[x - 1]))
                if filtered == 3:
                    guess = (left + up) // 2
                else:
                    p = left + up - corner
                    a, b, c = abs(p - left), abs(p - up), abs(p - corner)
                    guess = np.where((a <= b) & (a <= c), left, np.where(b <= c, up, corner))
                out[y, x] = line[x - 1] + guess
    return out[1:, 1:]


def test_the_inks_of_the_dark_cockpit_can_be_read_and_do_not_dazzle():
    for ground in ("paper", "sheet"):
        for ink in palette.TEXT_INKS:
            assert (of(ink) + 0.05) / (of(ground) + 0.05) >= 4.5, (ink, ground)
        for ink in palette.LINE_INKS:
            assert (of(ink) + 0.05) / (of(ground) + 0.05) >= 3.0, (ink, ground)
    assert set(palette.COCKPIT) == set(palette.DAY)
    assert max(of(ink) for ink in palette.COCKPIT) < 0.42
    for ink, colour in palette.COCKPIT.items():
        red, green, blue = (int(colour[k : k + 2], 16) for k in (1, 3, 5))
        assert red >= green >= blue, ink


def test_a_night_card_is_nearly_all_dark(evening):
    made = cards.make(evening)[:1]
    (png,) = bundle.pictures(evening, made, inks=palette.COCKPIT, ppi=50)
    bright = luminance(pixels(png)[..., :3])
    assert bright.mean() < 0.05
    assert bright.max() < 0.45


@pytest.mark.parametrize("name", planning.bundled())
def test_each_card_has_a_page_of_its_own(name):
    plan = make(planning.load(name))
    made = cards.make(plan)
    assert tuple(card.key for card in made) == CARDS
    assert len(bundle.pictures(plan, made, ppi=30)) == len(made)
    for paper in bundle.PAPERS:
        text = bundle.pdf(plan, made, paper)
        assert len(re.findall(rb"/Type\s*/Page\b", text)) == len(made)


@pytest.mark.parametrize("name", planning.bundled())
def test_each_page_has_the_caution_and_type_that_can_be_read(name):
    """Tables of 6.6 points and more on a kneeboard card, and the caution at the foot of each."""
    plan = make(planning.load(name))
    made = cards.make(plan)
    for paper in bundle.PAPERS:
        sheet = bundle._sheet(plan, made, paper)
        assert sheet.told("caution") == [card.title for card in made]
        sizes = [bundle.SIZES[k] for k in sheet.told("size")]
        assert min(sizes) * 7.8 >= 6.6


@pytest.mark.parametrize("name", planning.bundled())
def test_large_numbers_stand_apart(name):
    """Number to number there is always more than the widest space of their type (a third of an em)."""
    plan = make(planning.load(name))
    for card in cards.make(plan):
        widths = [
            max(
                typeface.width(one.value, 19.0, bold=True) + typeface.width(f" {one.unit}", 7.5),
                typeface.width(one.what, 6.6),
                typeface.width(one.remark, 6.6),
            )
            for one in card.figures
        ]
        room = 125.7 / 25.4 * 72.0
        # what is left between them, at the size that the card is set in
        left = (room / 1.0 - 0.95 * sum(widths)) / (len(widths) - 1)
        assert left >= 19.0 / 3.0, card.key


@pytest.mark.parametrize("name", planning.bundled())
def test_tables_are_all_there_once_and_fit_side_by_side(name):
    for card in cards.make(make(planning.load(name))):
        for size in bundle.SIZES:
            rows = columns.arrange(card.tables, size)
            assert sorted(k for row in rows for one in row for k in one["tables"]) == list(
                range(len(card.tables))
            )
            for row in rows:
                assert all(one["tables"] == sorted(one["tables"]) for one in row)
                total = sum(one["width"] for one in row) + columns.GUTTER * size * (len(row) - 1)
                assert total == pytest.approx(columns.WIDTH)


@pytest.mark.parametrize("name", planning.bundled())
def test_each_answer_says_its_inputs_its_limits_and_what_binds(name):
    for card in cards.make(make(planning.load(name))):
        said = card.says
        assert said.inputs and said.limits
        # the verdict names what binds, or what is missed, or that the wanted wind cannot be had
        binds = said.binds
        assert binds is not None
        missed = [limit for limit in said.limits if not limit.kept]
        assert binds.what in card.verdict or "cannot be had" in card.verdict
        assert all(limit.what in card.verdict for limit in missed)
        assert card.ok == (not missed)


def test_a_card_with_too_much_to_say_is_still_one_page():
    flights = [{"name": f"flight of a long name {k}", "count": 2, "fuel_lb": 900} for k in range(16)]
    legs = [{"name": f"leg of a long name {k}", "minutes": 3} for k in range(16)]
    plan = make(planning.load("lantern-evening", typed={"flight": flights, "leg": legs}))
    assert len(bundle.pictures(plan, cards.make(plan), ppi=30)) == len(CARDS)


def test_the_text_has_every_card_with_limits_inputs_and_the_caution(evening):
    text = cards.render(cards.make(evening))
    for words in (
        "LAUNCH",
        "MARSHAL",
        "DAY PATTERN",
        "WIND AND COURSE",
        "APPROACH NUMBERS",
        "FUEL",
        "Limits",
        "Worked out from",
        "To know",
    ):
        assert words in text
    assert " ".join(CAUTION.split()) in " ".join(text.split())
    assert max(len(line) for line in text.splitlines()) <= 110
    assert cards.render(cards.make(evening), plain=True).isascii()


def test_names_of_strangers_stay_words_on_the_card(tmp_path):
    plan = make(planning.load("lantern-evening", typed={"name": "#panic() <b>&", "divert.name": "*[$x$]*"}))
    made = cards.make(plan)
    assert len(bundle.pictures(plan, made, ppi=30)) == len(CARDS)
    assert all("<b>" not in (card.drawing.render() if card.drawing else "") for card in made)


def test_everything_is_written_or_nothing(evening, tmp_path, monkeypatch):
    files = cards.write(evening, tmp_path / "knee")
    assert len(files) == 4 + 2 * len(CARDS) and all(path.stat().st_size for path in files)

    def fail(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(bundle, "_sheet", fail)
    with pytest.raises(InputError, match="No space left"):
        cards.write(evening, tmp_path / "other")
    assert [path.name for path in tmp_path.iterdir()] == ["knee"]


def test_the_triangle_of_winds_is_to_scale(evening):
    """The rings are 10 kt apart; the three arrows have the lengths of the three winds."""
    drawn = wind.draw(evening.scenario, evening.wind).render()
    rings = sorted(
        {float(r) for r in re.findall(r'<circle[^>]* r="([\d.]+)"[^>]*stroke="var\(--rule\)"', drawn)}
    )
    scale = rings[0] / (10 * KNOT)
    assert np.allclose(np.diff(rings), rings[0], atol=0.02)
    chosen = evening.wind.recovery.answer.chosen
    tails = {
        ink: (float(x1), float(y1), float(x2), float(y2))
        for x1, y1, x2, y2, ink, width in re.findall(
            r'<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)" '
            r'stroke="var\(--([a-z-]+)\)" stroke-width="([\d.]+)"',
            drawn,
        )
        if width in ("2.2", "2.6", "4")
    }
    # an arrow's line ends at its head's base, 6 + 2.2 x width before its tip
    for ink, width, speed in (
        ("ink", 4.0, chosen.felt_speed),
        ("green", 2.2, chosen.speed),
        ("amber-ink", 2.6, evening.wind.wind.speed),
    ):
        x1, y1, x2, y2 = tails[ink]
        length = np.hypot(x2 - x1, y2 - y1) + 6 + 2.2 * width
        assert length == pytest.approx(speed * scale, abs=0.1)


def test_the_launch_has_its_own_triangle(evening):
    """Its three arrows close, and the felt one is as long against the true one as the winds are."""
    drawn = wind.draw(evening.scenario, evening.wind).render()
    lines = {
        ink: np.array([float(v) for v in ends])
        for *ends, ink, width in re.findall(
            r'<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)" '
            r'stroke="var\(--([a-z-]+)\)" stroke-width="([\d.]+)"',
            drawn,
        )
        if width in ("1.8", "2", "3")
    }
    chosen = evening.wind.launch.answer.chosen
    lengths = {ink: np.hypot(*(at[2:] - at[:2])) for ink, at in lines.items()}
    heads = {"green": 6 + 2.2 * 1.8, "amber-ink": 6 + 2.2 * 2.0, "ink": 6 + 2.2 * 3.0}
    felt, true = (lengths[ink] + heads[ink] for ink in ("ink", "amber-ink"))
    assert felt / true == pytest.approx(chosen.felt_speed / evening.wind.wind.speed, rel=0.02)
    assert f"launch: 238 at {chosen.speed / KNOT:.1f} kt" in drawn
    # the felt and the true one begin together: where the wind comes from
    assert lines["ink"][:2] == pytest.approx(lines["amber-ink"][:2], abs=0.02)
    bare = make(planning.load("lantern-evening"), ["wind"])
    assert "launch:" not in wind.draw(bare.scenario, replace(bare.wind, launch=None)).render()


def test_fuel_is_drawn_against_the_limits_it_has():
    drawn = cards.make(make(planning.load("full-creel")))[-1].drawing.render()
    assert "most to land 3,553" in drawn
    assert "bingo 2,696" in drawn
