"""The inks against published formulas of contrast and of colour deficiency."""

from __future__ import annotations

import numpy as np
import pytest

from deckward.reports import palette
from support.authorities import rows

THEMES = {"day": palette.DAY, "night": palette.NIGHT}
# matrices for linear RGB: deficiency to rows
DEFICIENCIES: dict[str, list[list[float]]] = {}
for row in rows("colour-deficiencies").values():
    shares = [row[f"{ink} [1]"] for ink in ("red", "green", "blue")]
    DEFICIENCIES.setdefault(row["deficiency"], []).append(shares)
# pairs that stand side by side and mean different things
APART = [
    ("amber", "red"),
    ("amber-wash", "red-wash"),
    ("amber-wash-2", "red-wash-2"),
    ("ink", "red"),
    ("ink", "blue"),
    ("deck", "blue"),
    ("lens", "amber"),
    ("lens", "red"),
    ("amber-wash", "green"),
]


def linear(colour: str) -> np.ndarray:
    """Source: IEC 61966-2-1 (sRGB), as WCAG 2.2 writes it in "relative luminance"."""
    s = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255.0
    return np.where(s <= 0.04045, s / 12.92, ((s + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    return float(linear(colour) @ [0.2126, 0.7152, 0.0722])


def contrast(a: str, b: str) -> float:
    """Source: WCAG 2.2, "contrast ratio"."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def lab(rgb: np.ndarray) -> np.ndarray:
    """Source: CIE 15, L*a*b* from linear sRGB with the D65 white."""
    matrix = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    t = (np.array(matrix) @ np.clip(rgb, 0.0, 1.0)) / [0.9505, 1.0, 1.089]
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def test_the_formula_of_contrast_gives_its_published_ends():
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("ink", palette.TEXT_INKS)
@pytest.mark.parametrize("ground", ["paper", "sheet"])
def test_words_reach_level_aa_on_both_grounds(theme, ink, ground):
    # Source: WCAG 2.2, success criterion 1.4.3
    assert contrast(THEMES[theme][ink], THEMES[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("ink", palette.LINE_INKS)
def test_lines_and_marks_reach_three_to_one(theme, ink):
    # Source: WCAG 2.2, success criterion 1.4.11
    assert contrast(THEMES[theme][ink], THEMES[theme]["paper"]) >= 3.0


@pytest.mark.parametrize("theme", THEMES)
def test_words_on_the_washes_of_the_cells_reach_level_aa(theme):
    inks = THEMES[theme]
    assert contrast(inks["red-ink"], inks["red-wash"]) >= 4.5
    assert contrast(inks["amber-ink"], inks["amber-wash"]) >= 4.5
    assert contrast(inks["ink"], inks["red-wash-2"]) >= 4.5
    assert contrast(inks["ink"], inks["amber-wash-2"]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("deficiency", DEFICIENCIES)
def test_inks_that_mean_different_things_look_different_to_the_colour_blind(deficiency, theme):
    matrix, inks = np.array(DEFICIENCIES[deficiency]), THEMES[theme]
    for a, b in APART:
        seen = [lab(matrix @ linear(inks[name])) for name in (a, b)]
        # a difference of 2.3 is just noticeable (Mahy et al. 1994, from memory); five times that
        assert np.linalg.norm(seen[0] - seen[1]) > 11.5, (a, b)


@pytest.mark.parametrize("theme", THEMES)
def test_amber_and_red_part_in_grey(theme):
    inks = THEMES[theme]
    grey = {name: lab(np.full(3, luminance(inks[name])))[0] for name in ("amber", "red")}
    assert abs(grey["amber"] - grey["red"]) > 20.0


def test_both_themes_have_the_same_inks():
    assert set(palette.DAY) == set(palette.NIGHT)
