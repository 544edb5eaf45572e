"""Whether the patterns of three dates or more have changed: how seldom it is said falsely, and how often truly."""

from datetime import date, timedelta
from math import exp, log
from random import Random

import pytest

from reportgen.judging.pattern_course import Table, pattern_course

FIRST = date(2026, 3, 5)
STILL = [(2.0, 140.0), (-6.5, 151.0), (4.0, 138.0), (11.0, 146.0), (0.5, 144.0), (-3.0, 149.0)]


def on(day, shots):
    return Table(FIRST + timedelta(days=14 * day), shots)


def shifted(by):
    return [(side + by, carry) for side, carry in STILL]


def season(draw, dates, shots, *, tails="normal", shift=0.0, ratio=1.0):
    """Tables a fortnight apart, single shots scattering by 8 m across and 10 m along. The days of the player scatter by
    a third of that, and their spread by 0.15 of itself; over the season side goes by `shift` and the spread to
    `ratio`."""
    for n in range(dates):
        gone = n / (dates - 1)
        wide = exp(draw.gauss(log(ratio) * gone, 0.15))
        side, carry = draw.gauss(shift * gone, 8 / 3), draw.gauss(150, 10 / 3)
        tail = [1.0 if tails == "normal" else (4 / (2 * draw.gammavariate(2, 1))) ** 0.5 for _ in range(shots)]
        yield on(n, [(draw.gauss(side, 8 * wide * t), draw.gauss(carry, 10 * wide * t)) for t in tail])


def said(what, seasons, *season_of, seed, **how):
    draw = Random(seed)
    found = [pattern_course(list(season(draw, *season_of, **how))) for _ in range(seasons)]
    return sum(any(getattr(of, name).verdict == "has changed" for name in what) for of in found) / seasons


def test_two_dates_are_no_course():
    assert pattern_course([on(0, STILL), on(1, shifted(40)), on(1, shifted(40))]) is None


def test_a_date_with_four_shots_is_left_out():
    assert pattern_course([on(0, STILL), on(1, STILL[:4]), on(2, STILL)]) is None
    assert pattern_course([on(0, STILL), on(1, STILL[:5]), on(2, STILL)]).side.dates == 3


def test_two_tables_of_one_date_are_one():
    halves = [on(1, shifted(3)[:2]), on(1, shifted(3)[2:])]
    assert pattern_course([on(0, STILL), *halves, on(2, STILL)]) == pattern_course(
        [on(0, STILL), on(1, shifted(3)), on(2, STILL)]
    )


def test_shots_that_all_landed_in_one_place_have_no_course():
    assert pattern_course([on(n, [(1.0, 140.0)] * 6) for n in range(3)]) is None


def test_the_same_table_every_time_has_not_changed():
    found = pattern_course([on(n, STILL) for n in range(8)])
    assert {found.side.verdict, found.carry.verdict, found.spread.verdict} == {"not enough shots to say"}
    assert found.spread.by == pytest.approx(0)


def test_a_side_that_goes_out_over_eight_dates_has_changed_and_the_carry_has_not():
    found = pattern_course([on(n, shifted(5 * n)) for n in range(8)])
    assert (found.side.verdict, found.carry.verdict) == ("has changed", "not enough shots to say")
    assert found.side.by == pytest.approx(35)


def test_a_spread_that_halves_goes_by_a_half():
    around = [[(side * 0.5 ** (n / 7), carry * 0.5 ** (n / 7)) for side, carry in STILL] for n in range(8)]
    assert pattern_course([on(n, shots) for n, shots in enumerate(around)]).spread.by == pytest.approx(-0.5)


@pytest.mark.parametrize("tails", ["normal", "long"])
@pytest.mark.parametrize(("dates", "shots"), [(3, 10), (9, 10), (5, 25)])
def test_a_steady_player_is_hardly_ever_said_to_have_changed(dates, shots, tails):
    assert said(["side", "carry", "spread"], 600, dates, shots, seed=dates, tails=tails) <= 0.02


def test_a_side_that_goes_by_two_sd_over_six_dates_is_seen_in_two_of_three_seasons():
    assert said(["side"], 300, 6, 10, seed=1, shift=16) >= 0.60


def test_a_spread_that_halves_over_ten_dates_of_thirty_shots_is_seen_in_three_of_four_seasons():
    assert said(["spread"], 150, 10, 30, seed=2, ratio=0.5) >= 0.70
