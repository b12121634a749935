from __future__ import annotations

import itertools
import json
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from deckward.reports import approach, deck, page, pattern, sight, spark, svg, typeface
from deckward.reports.palette import DAY
from deckward.reports.svg import Drawing, Form
from support import drawn_pass

SVG = "{http://www.w3.org/2000/svg}"
MAKERS = {
    "good": drawn_pass.good,
    "low": drawn_pass.low_red,
    "bolter": drawn_pass.bolter,
    "wave-off": drawn_pass.wave_off,
    "poor": drawn_pass.poor,
    "downwind": drawn_pass.from_downwind,
}


@pytest.fixture(scope="module")
def reports():
    return {name: make() for name, make in MAKERS.items()}


def tree(drawing: Drawing) -> ET.Element:
    return ET.fromstring(drawing.render(DAY, ground="paper"))


def words_of(root: ET.Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def boxes(root: ET.Element, dx: float = 0.0, dy: float = 0.0):
    """Yield (words, left, top, right, bottom) of upright text, group shifts applied."""
    for element in root:
        if element.tag == f"{SVG}g":
            move = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", element.get("transform", ""))
            shift = (float(move[1]), float(move[2])) if move else (0.0, 0.0)
            yield from boxes(element, dx + shift[0], dy + shift[1])
        elif element.tag == f"{SVG}text" and "rotate" not in element.get("transform", ""):
            size = float(element.get("font-size"))
            wide = typeface.width(element.text, size, bold=element.get("font-weight") == "700")
            left = (
                dx
                + float(element.get("x"))
                - wide * {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor"), 0.0)
            )
            base = dy + float(element.get("y"))
            yield element.text, left, base - 0.75 * size, left + wide, base + 0.2 * size


def every_drawing(reports):
    for report in reports.values():
        for form in Form:
            yield from page.figures(report, form).values()
    for form in Form:
        yield deck.scatter([replace(r, number=n) for n, r in enumerate(reports.values(), 1)], form=form)


def test_every_drawing_is_well_formed_and_told_to_those_who_hear_it(reports):
    for drawing in every_drawing(reports):
        root = tree(drawing)
        assert root.find(f"{SVG}title").text
        assert root.get("role") == "img"
        ET.fromstring(drawing.render())


def test_no_label_is_cut_by_the_edge_of_its_drawing(reports):
    for drawing in every_drawing(reports):
        for text, left, top, right, bottom in boxes(tree(drawing)):
            place = (drawing.name, text, left, top, right, bottom)
            assert left >= -0.5 and right <= drawing.width + 0.5, place
            assert top >= -0.5 and bottom <= drawing.height + 0.5, place


def assert_apart(drawing: Drawing) -> None:
    seen = list(boxes(tree(drawing)))
    for k, (a, left, top, right, bottom) in enumerate(seen):
        for b, left2, top2, right2, bottom2 in seen[k + 1 :]:
            across = min(right, right2) - max(left, left2)
            down = min(bottom, bottom2) - max(top, top2)
            assert across < 1.5 or down < 1.5, (drawing.name, a, b)


def test_no_label_lies_on_another(reports):
    for drawing in every_drawing(reports):
        assert_apart(drawing)


def test_ids_are_unique_within_a_page(reports):
    ids = []
    for form in (Form.WIDE, Form.NARROW):
        for number, report in enumerate(reports.values(), 1):
            for drawing in page.figures(replace(report, number=number), form).values():
                ids += [element.get("id") for element in tree(drawing).iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_the_side_view_puts_a_steady_ball_in_its_cell():
    # 2.5 cells high all the way: the path must run in the ninth wedge from below, 12 in all
    flown = drawn_pass.fly(
        ball=lambda r: np.full_like(r, 2.5), line_up=np.zeros_like, slow=np.zeros_like, outcome="trap"
    )
    root = tree(approach.draw(flown, name="t"))
    wedges = [
        np.array(re.findall(r"[-\d.]+", e.get("d")), float).reshape(-1, 2)
        for e in root.iter(f"{SVG}path")
        if e.get("fill") in {DAY[k] for k in ("amber-wash", "amber-wash-2", "red-wash", "red-wash-2")}
        and e.get("d").count("L") == 2
    ]
    assert len(wedges) == 12
    apex, low, high = wedges[8]
    path = next(
        e for e in root.iter(f"{SVG}path") if e.get("stroke") == DAY["ink"] and e.get("fill") == "none"
    )
    points = np.array(re.findall(r"[-\d.]+", path.get("d")), float).reshape(-1, 2)
    part = (points[:, 0] - low[0]) / (apex[0] - low[0])
    inside = part < 0.8
    assert inside.sum() >= 2
    middle = (low[1] + high[1]) / 2
    expected = middle + part * (apex[1] - middle)
    assert points[inside, 1] == pytest.approx(expected[inside], abs=0.35)


def test_the_red_cells_are_hatched_and_their_path_is_red(reports):
    root = tree(approach.draw(reports["low"].flown, name="t"))
    assert len(list(root.iter(f"{SVG}pattern"))) == 2
    red = [e for e in root.iter(f"{SVG}path") if e.get("stroke") == DAY["red"]]
    assert red and all(float(e.get("stroke-width")) > 3 for e in red)


def test_the_last_300_feet_are_as_high_as_they_are_long(reports):
    flown = reports["good"].flown
    root = tree(deck.draw(flown, name="t"))
    wires = [float(e.get("cx")) for e in root.iter(f"{SVG}circle") if e.get("r") == "2.8"]
    per_metre = (wires[-1] - wires[0]) / (88.4 - 51.8)
    measure = [
        e
        for e in root.iter(f"{SVG}line")
        if e.get("stroke") == DAY["blue"] and e.get("x1") == e.get("x2") and e.get("stroke-width") == "1.1"
    ]
    drawn = abs(float(measure[0].get("y1")) - float(measure[0].get("y2")))
    assert drawn / per_metre == pytest.approx(flown.ramp.hook_to_ramp, abs=0.03)


def test_the_wire_that_stopped_the_jet_is_the_only_filled_one(reports):
    flown = reports["good"].flown
    root = tree(deck.draw(flown, name="t"))
    fills = [e.get("fill") for e in root.iter(f"{SVG}circle") if e.get("r") == "2.8"]
    assert [fill == DAY["ink"] for fill in fills] == [n == flown.wire for n in (1, 2, 3, 4)]


def test_a_high_wave_off_says_that_the_hook_is_above_the_picture(reports):
    said = words_of(tree(deck.draw(reports["wave-off"].flown, name="t")))
    # 38.67 m over the ramp is 126.9 ft
    assert "hook to ramp 127 ft, above this picture" in said


def test_the_ball_stands_where_its_image_does(reports):
    """Published form (derived from the 150 ft image distance): y = d R e / (R + d)."""
    flown = reports["low"].flown
    root = tree(sight.draw(flown, name="t"))
    lamps = [e for e in root.iter(f"{SVG}rect") if e.get("fill") in (DAY["amber"], DAY["red"])]
    assert len(lamps) == 4
    lens = flown.site.lens
    for lamp, at in zip(lamps, flown.positions, strict=True):
        eye_x = -at.range + flown.aircraft.eye[0]
        seen = lens.position[0] - eye_x
        image = lens.image_distance * seen * at.glide_slope_error / (seen + lens.image_distance)
        middle = float(lamp.get("y")) + float(lamp.get("height")) / 2
        assert (80.0 - middle) / 88.0 * lens.window_height == pytest.approx(image, abs=0.02)


def test_a_ball_off_the_lens_is_not_drawn_in_the_window(reports):
    root = tree(sight.draw(reports["bolter"].flown, name="t"))
    lamps = [e for e in root.iter(f"{SVG}rect") if e.get("fill") in (DAY["amber"], DAY["red"])]
    assert len(lamps) == 3
    assert any("off the lens" in said for said in words_of(root))


def test_moments_after_the_wave_off_are_not_shown(reports):
    shown = [moment.names for moment in sight.moments(reports["wave-off"].flown)]
    assert shown == ["3/4 nm", "1/2 nm", "1/4 nm"]


def test_of_many_moments_those_that_follow_soonest_are_left_out():
    flown = drawn_pass.good().flown
    first = flown.positions[0]
    more = [
        replace(first, name="soon", range=1360.0, time=first.time + 0.3),
        replace(first, name="later", range=1200.0, time=first.time + 3.0),
        replace(first, name="over", range=-20.0, time=flown.ramp.time + 0.4),
    ]
    flown = replace(flown, positions=(*flown.positions, *more))
    assert [m.names for m in sight.moments(flown)] == ["3/4 nm", "later", "1/2 nm", "1/4 nm", "ramp", "over"]
    assert [m.names for m in sight.moments(flown, 5)] == ["3/4 nm", "later", "1/2 nm", "1/4 nm", "ramp"]


def test_positions_close_together_keep_their_labels_apart():
    item = drawn_pass.good()
    first = item.flown.positions[0]
    near = [replace(first, name=f"p{k}", range=first.range - 30.0 * k) for k in range(1, 6)]
    crowded = replace(item.flown, positions=(*item.flown.positions, *near))
    for form in Form:
        assert_apart(approach.draw(crowded, name="t", form=form))


def test_the_deck_tilts_as_the_hull_does():
    """Bow up 2 deg lifts a point ahead by its distance times sin 2 deg; starboard down drops the right."""
    point = np.array([[100.0, 0.0, 0.0], [0.0, 10.0, 0.0]])
    up = sight.level(point, 0.0, np.radians(2.0), 0.0)
    assert up[0] == pytest.approx([100 * np.cos(np.radians(2)), 0.0, 100 * np.sin(np.radians(2))])
    down = sight.level(point, 0.0, 0.0, np.radians(3.0))
    assert down[1] == pytest.approx([0.0, 10 * np.cos(np.radians(3)), -10 * np.sin(np.radians(3))])
    # with the landing area 9 deg to port, "ahead" on it is to the left of the keel: rolled up
    rolled = sight.level(point, np.radians(9.0), 0.0, np.radians(3.0))
    assert rolled[0, 2] == pytest.approx(100 * np.sin(np.radians(9)) * np.sin(np.radians(3)))


def test_the_axis_holds_the_last_run_only(reports):
    flown = reports["downwind"].flown
    run = approach.stretch(flown).samples
    assert np.all(np.diff(flown.series.range[run][:-1]) < 0)
    assert flown.series.range[run][0] > 0.75 * 1852
    assert approach.stretch(flown).far <= approach.FAR


def test_what_was_not_recorded_is_said(reports):
    said = words_of(tree(approach.draw(reports["poor"].flown, name="t")))
    assert said.count("not in the recording") == 2
    assert {"Angle of attack", "Power"} < set(said)


def test_a_straight_in_has_no_pattern(reports):
    assert pattern.draw(reports["good"].flown, name="t") is None
    said = words_of(tree(pattern.draw(reports["downwind"].flown, name="t")))
    # 1950 m is 1.05 nm; abeam at 600 ft
    assert {"abeam", "the 90", "the 45", "groove", "1.05 nm", "600 ft"} <= set(said)


def test_the_pattern_is_to_scale(reports):
    drawing = pattern.draw(reports["downwind"].flown, name="t")
    root = tree(drawing)
    bar = next(e for e in root.iter(f"{SVG}line") if e.get("stroke-width") == "2")
    half_mile = float(bar.get("x2")) - float(bar.get("x1"))
    dash = next(
        e for e in root.iter(f"{SVG}line") if e.get("stroke") == DAY["blue"] and e.get("stroke-dasharray")
    )
    length = np.hypot(
        float(dash.get("x1")) - float(dash.get("x2")), float(dash.get("y1")) - float(dash.get("y2"))
    )
    assert length / half_mile * 926.0 == pytest.approx(1950.0, rel=0.01)


def test_touchdowns_of_a_session_without_any_are_not_drawn(reports):
    assert deck.scatter([reports["wave-off"]]) is None


def test_touchdowns_at_another_site_are_left_out_and_that_is_said(reports):
    item = reports["good"]
    other = replace(item.flown, site=replace(item.flown.site, name="Other deck"))
    said = words_of(tree(deck.scatter([item, replace(item, number=2, flown=other)])))
    assert "at Long deck only" in said and "2" not in said[4:]


def test_fifteen_touchdowns_in_one_place_keep_their_numbers_apart(reports):
    crowd = [replace(reports["good"], number=n) for n in range(1, 16)]
    root = tree(deck.scatter(crowd))
    assert {str(n) for n in range(1, 16)} <= set(words_of(root))


def test_blocks_rise_with_the_ball():
    high = drawn_pass.fly(ball=lambda r: np.full_like(r, 5.5), line_up=np.zeros_like, slow=np.zeros_like)
    low = drawn_pass.fly(ball=lambda r: np.full_like(r, -5.5), line_up=np.zeros_like, slow=np.zeros_like)
    assert spark.blocks(high, [900.0, 400.0]) == ["█", "█"]
    assert spark.blocks(low, [900.0, 400.0]) == ["▁", "▁"]
    assert spark.blocks(low, [5000.0]) == [" "]


@given(
    st.lists(
        st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
        min_size=2,
        max_size=40,
        unique_by=lambda p: p[0],
    )
)
def test_simplifying_keeps_the_ends_and_stays_near(points):
    line = np.array(sorted(points))
    kept = svg.simplify(line, 0.5)
    assert (kept[0] == line[0]).all() and (kept[-1] == line[-1]).all()
    for p in line:
        nearest = min(_away(p, a, b) for a, b in itertools.pairwise(kept))
        assert nearest <= 0.5 + 1e-9


def _away(p, a, b) -> float:
    along = b - a
    part = np.clip((p - a) @ along / max(along @ along, 1e-300), 0.0, 1.0)
    return float(np.hypot(*(p - a - part * along)))


@given(st.floats(-1e4, 1e4), st.floats(0.01, 1e4), st.integers(2, 12))
def test_ticks_are_round_within_and_not_too_many(low, span, most):
    marks = svg.ticks(low, low + span, most)
    assert all(low - 1e-6 * span <= v <= low + span + 1e-6 * span for v in marks)
    assert len(marks) <= most + 1
    steps = np.diff(marks)
    assert np.allclose(steps, steps[0]) if len(steps) else True


def test_words_are_as_wide_as_the_typesetter_says():
    """Outside truth: the typesetter's own measure of the same font, kerning off."""
    words = ["hook to ramp 13.8 ft", "In the middle", "0123456789", "½ nm − 3.5°", "WAVE"]
    quotes = [json.dumps(w, ensure_ascii=False) for w in words]
    for bold in (False, True):
        source = (
            '#set text(font: "B612", size: 100pt, kerning: false, ligatures: false, weight: '
            + ("700" if bold else "400")
            + ")\n#context {"
            + "\n".join(f"[#metadata(measure({quoted}).width.pt()) <w>]" for quoted in quotes)
            + "}"
        )
        found = json.loads(
            typst.query(
                source.encode(),
                "<w>",
                field="value",
                font_paths=[str(typeface.FOLDER)],
                ignore_system_fonts=True,
            )
        )
        assert [typeface.width(w, 100, bold=bold) for w in words] == pytest.approx(found, abs=0.1)


def test_a_text_that_does_not_fit_is_cut():
    assert typeface.fit("short", 10, 100) == "short"
    cut = typeface.fit("a rather long name indeed", 10, 60)
    assert cut.endswith("…") and typeface.width(cut, 10) <= 60
