"""Drawings of planned pattern, marshal and launch: to scale, whole, and told in words."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest
from msgspec.structs import replace

from deckward import planning
from deckward.foundation.units import KNOT, NAUTICAL_MILE
from deckward.planning import launch_plan, marshal_plan, pattern_plan, wind_plan
from deckward.planning.scenario import Scenario
from deckward.reports import planned_launch, planned_marshal, planned_pattern
from deckward.reports.palette import DAY
from deckward.reports.svg import Drawing

SVG = "{http://www.w3.org/2000/svg}"


def of(name: str) -> Scenario:
    return planning.load(name)


def chosen(scenario: Scenario):
    return wind_plan.plan(scenario).recovery.answer.chosen


def pattern_of(scenario: Scenario) -> Drawing:
    plan = pattern_plan.plan(scenario, chosen(scenario), mass=scenario.aircraft.max_landing_mass)
    return planned_pattern.draw(plan, scenario.site)


def marshal_of(scenario: Scenario) -> Drawing:
    plan = marshal_plan.plan(scenario, chosen(scenario), mass=scenario.aircraft.max_landing_mass)
    return planned_marshal.draw(plan)


def launch_of(scenario: Scenario) -> Drawing:
    return planned_launch.draw(launch_plan.plan(scenario))


def texts(drawing: Drawing) -> list[str]:
    return [item.text or "" for item in ElementTree.fromstring(drawing.render(DAY)).iter(f"{SVG}text")]


def circles(drawing: Drawing, radius: float) -> np.ndarray:
    found = ElementTree.fromstring(drawing.render(DAY)).iter(f"{SVG}circle")
    spots = [(item.get("cx"), item.get("cy")) for item in found if float(item.get("r", 0)) == radius]
    return np.array(spots, dtype=float)


@pytest.mark.parametrize("name", planning.bundled())
@pytest.mark.parametrize("draw", [pattern_of, marshal_of, launch_of])
def test_every_bundled_scenario_is_drawn_inside_its_frame(name, draw):
    drawing = draw(of(name))
    root = ElementTree.fromstring(drawing.render(DAY))
    for item in root.iter(f"{SVG}text"):
        assert 0.0 <= float(item.get("x")) <= drawing.width, item.text
        assert 8.0 <= float(item.get("y")) <= drawing.height, item.text
        assert float(item.get("font-size")) >= 10.0, item.text
    assert drawing.title and drawing.says


def test_the_pattern_is_to_scale():
    """The bar of half a mile measures what stands between abeam and the ramp."""
    scenario = of("lantern-evening")
    plan = pattern_plan.plan(scenario, chosen(scenario), mass=6000.0)
    drawing = planned_pattern.draw(plan, scenario.site)
    rings = circles(drawing, 5.0)
    assert len(rings) == 5
    svg = drawing.render(DAY)
    bar = re.search(r'<line x1="10" y1="338" x2="([\d.]+)"', svg)
    assert bar is not None
    per_mile = (float(bar[1]) - 10.0) / 0.5
    points = plan.pattern.checkpoints[:-1]
    for one, other in zip(range(4), range(1, 5), strict=True):
        a, b = points[one], points[other]
        metres = np.hypot(a.ahead - b.ahead, a.port - b.port)
        pixels = np.hypot(*(rings[one] - rings[other]))
        assert pixels == pytest.approx(metres / NAUTICAL_MILE * per_mile, abs=0.5)


def test_the_pattern_says_what_to_fly():
    scenario = of("lantern-evening")
    plan = pattern_plan.plan(scenario, chosen(scenario), mass=6000.0)
    said = texts(planned_pattern.draw(plan, scenario.site))
    assert f"{plan.pattern.abeam / NAUTICAL_MILE:.2f} nm abeam" in said
    assert any(text.startswith("the 90: 450 ft") for text in said)
    assert any(text.startswith("groove 16.5 s") for text in said)
    assert any("after" in text for text in said if text.startswith("turn"))
    felt = float(plan.steaming.over_deck.speed) / KNOT
    assert f"{felt:.0f} kt" in said


def test_a_turn_before_abeam_is_named_so():
    scenario = of("lantern-evening")
    scenario = replace(scenario, pattern=replace(scenario.pattern, groove=9.0))
    plan = pattern_plan.plan(scenario, chosen(scenario), mass=6000.0)
    assert plan.pattern.time_to_turn < 0.0
    assert any("before" in text for text in texts(planned_pattern.draw(plan, scenario.site)))


def test_marshal_names_first_and_last_and_the_gates():
    said = texts(marshal_of(of("lantern-evening")))
    assert "6,000 ft at 21 nm … 13,000 ft at 28 nm" in said
    assert {"fix", "gear and flaps, 1,200 ft", "platform, 5,000 ft", "tip over"} <= set(said)
    assert any(text.startswith("dashed: Abel Renn, 1 lap of") for text in said)


def test_one_alone_without_a_place_is_drawn_without_a_way():
    scenario = of("full-creel")
    said = texts(marshal_of(scenario))
    assert "6,000 ft at 21 nm" in said
    assert not any(text.startswith("dashed") for text in said)


def test_launch_names_its_curves_and_the_limit():
    said = texts(launch_of(of("full-creel")))
    assert "an engine less" in said and "10 ft of settle" in said
    assert any(text.startswith("planned") for text in said)
    assert not any("engine less" in text for text in texts(launch_of(of("lantern-evening"))))
