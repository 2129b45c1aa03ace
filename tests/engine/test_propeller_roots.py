"""Root finders that work on whole arrays."""

import numpy as np

from engine.propeller.roots import bracketed_root, falling_cubic_root, falling_root, first_fall, pick


def test_newton_is_caught_when_it_would_leave_the_bracket():
    """arctan of a steep line throws Newton out of any bracket unless the start is close."""
    target = np.array([0.1, 0.5, 0.9])

    def function(x):
        return -np.arctan(50 * (x - target)), -50 / (1 + (50 * (x - target)) ** 2)

    ends = np.zeros(3), np.ones(3)
    np.testing.assert_allclose(falling_root(function, *ends, np.array([1.0, 0.0, 0.0])), target, rtol=1e-10)


def test_a_root_at_an_end_is_found():
    def function(x):
        return 1.0 - x, -np.ones_like(x)

    assert falling_root(function, np.zeros(1), np.ones(1), np.zeros(1)) == 1.0


def test_false_position_finds_each_root_and_lets_nan_through():
    target = np.array([0.2, 1.7, np.nan])

    def function(x):
        return target**3 - x**3

    low, high = np.zeros(3), np.full(3, 2.0)
    np.testing.assert_allclose(bracketed_root(function, low, high, function(low), function(high)), target, rtol=1e-10)


def test_newton_stops_when_what_is_left_is_the_square_of_a_small_step():
    """Newton on exp(-x) - c: each error is half the square of the one before, so 1e-6 leaves less than 1e-12."""
    asked, root = [], np.log(np.array([2.0, 3.0, 5.0]))

    def function(x):
        asked.append(x.copy())
        return np.exp(-x) - np.exp(-root), -np.exp(-x)

    found = falling_root(function, np.zeros(3), np.full(3, 4.0), np.full(3, 1.0))
    np.testing.assert_allclose(found, root, rtol=1e-11)
    assert np.abs(asked[-1] / root - 1.0).max() > 1e-11, "a step more than was needed"


def test_a_small_step_of_a_halving_is_not_taken_for_the_last():
    """The slope given is far too steep, so that Newton crawls within the bracket or leaves it; only halving settles."""
    target = np.array([0.3])

    def function(x):
        return np.sign(target - x) * np.sqrt(np.abs(target - x)), np.full_like(x, -1e-3)

    np.testing.assert_allclose(falling_root(function, np.zeros(1), np.ones(1), np.full(1, 0.5)), target, rtol=1e-10)


def test_newton_does_not_go_round_between_the_straight_parts_of_a_bent_function():
    """Of some in a thousand such functions it went to and fro until it was stopped, and gave where it then was."""
    rng = np.random.default_rng(0)
    bends = np.sort(np.concatenate([np.zeros((3000, 1)), rng.random((3000, 8)), np.ones((3000, 1))], axis=1), axis=1)
    values = np.cumsum(rng.exponential(size=bends.shape) ** 3, axis=1)[:, ::-1]
    share = rng.random((3000, 1))
    values -= share * values[:, :1] + (1.0 - share) * values[:, -1:]
    slopes, each, asked = np.diff(values) / np.diff(bends), np.arange(len(bends)), []

    def function(x):
        asked.append(x)
        part = np.clip((x[:, None] >= bends).sum(axis=1) - 1, 0, slopes.shape[1] - 1)
        slope = slopes[each, part]
        return values[each, part] + slope * (x - bends[each, part]), slope

    target = [np.interp(0.0, falling[::-1], at[::-1]) for falling, at in zip(values, bends, strict=True)]
    found = falling_root(function, np.zeros(3000), np.ones(3000), np.full(3000, 0.45))
    np.testing.assert_allclose(found, target, rtol=1e-9, atol=1e-12)
    assert len(asked) < 60, "it was stopped"


def test_false_position_needs_few_calls():
    """Where one end of the bracket stays, its value is scaled by what the other has lost, not always by half."""
    calls, target = [], np.linspace(0.2, 1.9, 50)

    def function(x):
        calls.append(x)
        return target**3 - x**3

    low, high = 0.8 * target, 1.2 * target
    np.testing.assert_allclose(bracketed_root(function, low, high, function(low), function(high)), target, rtol=1e-10)
    assert len(calls) - 2 <= 6  # beside the two ends


def test_the_first_fall_is_not_the_last():
    values = np.array([[2.0, 1.0, -1.0, 1.0, -2.0], [3.0, 2.0, np.nan, -1.0, -1.0], [-1.0, -2.0, -3.0, -4.0, -5.0]])
    step, found = first_fall(values)
    assert step[0] == 1
    assert found.tolist() == [True, False, False]


def test_picking_broadcasts_leading_axes():
    assert pick(np.array([10.0, 20.0, 30.0]), np.array([[0, 2], [1, 1]])).tolist() == [[10.0, 30.0], [20.0, 20.0]]


def test_newton_gives_nan_where_the_function_has_no_value():
    def function(x):
        value = np.where(np.arange(2) == 0, 0.5 - x, np.nan)
        return value, -np.ones_like(x)

    np.testing.assert_equal(falling_root(function, np.zeros(2), np.ones(2), np.full(2, 0.3)), [0.5, np.nan])


def test_the_root_of_a_falling_cubic_is_found_from_end_to_end():
    """(x - r)(...) with a known root; the last of them bends so much that free Newton steps leave the bracket."""
    root = np.linspace(0.0, 1.0, 201)
    for bend, tilt in ((0.0, 1.0), (0.3, 1.0), (-0.3, 1.2), (40.0, 1.0), (400.0, 0.01)):
        # f = tilt (r - x) + bend (r - x)^3 falls everywhere
        c0, c1 = tilt * root + bend * root**3, -tilt - 3.0 * bend * root**2
        c2, c3 = 3.0 * bend * root, np.full(root.shape, -bend)
        found = falling_cubic_root(c0, c1, c2, c3, np.ones(root.shape))
        np.testing.assert_allclose(found, root, rtol=1e-10, atol=1e-13)


def test_a_falling_cubic_broadcasts_and_lets_nan_through():
    c0, high = np.array([[0.5], [np.nan]]), np.array([1.0, np.nan])
    found = falling_cubic_root(c0, np.array(-1.0), np.array(0.0), np.array(0.0), high)
    np.testing.assert_equal(found, [[0.5, np.nan], [np.nan, np.nan]])
