"""Shapes come back from the flat arrays as they went in, and the browser kernel speaks that form."""

from array import array
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.browser import Browser
from engine.geometry.flat import UNTOUCHED, flatten, unflatten

numbers = st.floats(-1e4, 1e4)
rings = st.lists(st.tuples(numbers, numbers), max_size=5).map(tuple)
regions = st.lists(st.lists(rings, max_size=3).map(tuple), max_size=3).map(tuple)
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


@given(st.lists(regions, max_size=4))
def test_regions_come_back_as_they_went_in(given_regions):
    """Nothing is lost on the way, empty rings and regions included."""
    coords, counts = flatten(given_regions)
    read = [tuple(tuple(map(tuple, polygon)) for polygon in region) for region in unflatten(coords, counts)]
    assert read == given_regions


def test_an_untouched_board_is_told_from_an_empty_one():
    """-1 polygons stands for the board itself, 0 for nothing."""
    assert list(unflatten([], [UNTOUCHED, 0])) == [None, []]


class Bridge:
    """Stands in for the worker: notes what it was asked and gives a prepared answer."""

    def __init__(self, coords, counts, text="", *, proxied=False):
        wrap = (
            (lambda values: SimpleNamespace(to_py=lambda: memoryview(values)))
            if proxied
            else (lambda values: values)
        )
        self.reply = SimpleNamespace(
            coords=wrap(array("d", coords)), counts=wrap(array("i", counts)), text=text
        )
        self.asked = []

    def __call__(self, verb, coords, counts, grid, margin):
        """Note the question, give the answer."""
        self.asked.append((verb, list(coords), list(counts)))
        return self.reply


@pytest.mark.parametrize("proxied", [False, True])
def test_clipping_is_one_call_and_a_whole_board_keeps_its_own_points(proxied):
    """Three boards, one question; whole, cut in half, outside."""
    bridge = Bridge([0, 0, 0, 4, 2, 4, 2, 0], [UNTOUCHED, 1, 1, 4, 0], proxied=proxied)
    whole, half, outside = Browser(bridge).clip((((SQUARE),),), [SQUARE[::-1], SQUARE, SQUARE])
    assert whole == ((SQUARE,),)
    assert half == ((((0.0, 0.0), (2.0, 0.0), (2.0, 4.0), (0.0, 4.0)),),)
    assert outside == ()
    assert [verb for verb, *_ in bridge.asked] == ["clip"]
    assert bridge.asked[0][2] == [1, 1, 4, 3, 1, 4, 1, 4, 1, 4]


def test_a_fault_is_told_in_our_words_with_its_place():
    """GEOS's own reason is translated, its point kept."""
    assert Browser(Bridge([1, 2], [], "Self-intersection")).fault_of((SQUARE,)) == (
        "crosses itself",
        (1.0, 2.0),
    )
    assert Browser(Bridge([], [])).fault_of((SQUARE,)) is None
    assert Browser(Bridge([], [])).fault_of((SQUARE[:2],)) == ("too few corners", (0.0, 0.0))
