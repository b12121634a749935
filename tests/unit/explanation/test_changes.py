"""Changes of a pass as a person writes them."""

from __future__ import annotations

import pytest

from deckward.errors import InputError
from deckward.explanation.what_if import CHANGES, Change, change


def test_a_change_without_a_number_takes_the_usual_one():
    assert change("sooner") == Change("sooner", 1.0)
    assert change("wave-off") == Change("wave-off", 0.25)


def test_a_change_takes_a_number():
    assert change("hold-power=5") == Change("hold-power", 5.0)


@pytest.mark.parametrize(
    "text", ["later", "", "sooner=", "sooner=soon", "sooner=9", "wave-off=nan", "on-speed=1"]
)
def test_what_is_no_change_is_an_error_that_says_what_is(text):
    if text == "sooner=":
        assert change(text).value == CHANGES["sooner"][0]
        return
    with pytest.raises(InputError) as fault:
        change(text)
    assert fault.value.remedy
