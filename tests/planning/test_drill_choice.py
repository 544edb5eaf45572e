"""Which drills a student takes home: never one that loads a held or watched site."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.safety import Facts, cautions, held_sites
from reportgen.planning.allowed import Standing
from reportgen.planning.drill_choice import USUAL, Suits, given_drills, level_of
from reportgen.records.lesson import Comfort, DrillChoice
from reportgen.records.report import Priority
from reportgen.records.words import SITES, FeltWhen
from tests.judging.academies import ADULT, library, one, reading

DRILLS = library().drills
SIDES = sorted({(s.metric, s.when) for drill in DRILLS.values() for s in drill.serves})
sites = st.frozensets(st.sampled_from(SITES), max_size=6)
taken_before = st.lists(st.sampled_from(sorted(DRILLS)), max_size=8)
sides = st.lists(st.sampled_from(SIDES), min_size=1, max_size=2, unique_by=lambda side: side[0])


def served(drill):
    return {(s.metric, s.when) for s in drill.serves}


def priority(metric, when):
    return Priority(metric=metric, direction=when, chosen_by="numbers")


def proposed(worked_on, spared=frozenset(), equipment=(), before=(), level=3):
    chosen = [priority(*side) for side in worked_on]
    suits = Suits(Standing(spared=spared), equipment=equipment, level=level, given_before=before)
    return [g.drill for g in given_drills((), chosen, DRILLS, suits)[0]]


@given(sides, sites, taken_before, st.sampled_from([1, 2, 3]))
def test_the_plan_never_proposes_a_drill_that_loads_a_site_to_be_spared(worked_on, spared, before, level):
    for drill in proposed(worked_on, spared, before=before, level=level):
        assert not spared & set(DRILLS[drill].loads)


@given(sides, sites, taken_before, st.sampled_from([1, 2, 3]))
def test_every_proposed_drill_serves_a_priority_on_its_side_and_none_is_proposed_twice(
    worked_on, spared, before, level
):
    found = proposed(worked_on, spared, before=before, level=level)
    assert len(set(found)) == len(found) <= 2
    for drill in found:
        assert served(DRILLS[drill]) & set(worked_on)


felt = st.builds(
    Comfort, site=st.sampled_from(SITES), score=st.integers(0, 10), when=st.sampled_from(get_args(FeltWhen))
)


@given(sides, st.sampled_from(["junior", "adult", "senior"]), sites, st.lists(felt, max_size=3))
def test_with_the_shipped_rules_no_drill_loads_a_site_that_is_watched_or_hurts(worked_on, stage, watched, comfort):
    """From a score of 3 (a junior's from 1) the site itself is spared, whatever else the rules say."""
    firing = cautions(library().rules.values(), Facts(stage, "typical", tuple(watched), tuple(comfort), {}))
    if any(caution.level == "stop" for caution in firing):
        return
    hurts = {c.site for c in comfort if c.score >= (1 if stage == "junior" else 3)}
    for drill in proposed(worked_on, held_sites(library().rules, firing) | watched):
        assert not (watched | hurts) & set(DRILLS[drill].loads)


@given(sites)
def test_the_instructors_own_choice_never_goes_round_a_site_to_be_spared_and_each_loss_is_told(spared):
    choice = [DrillChoice(drill=name) for name in sorted(DRILLS)]
    kept, missing = given_drills(choice, (), DRILLS, Suits(Standing(spared=spared)))
    assert [g.drill for g in kept] == [name for name in sorted(DRILLS) if not spared & set(DRILLS[name].loads)]
    assert len(kept) + len(missing) == len(DRILLS)


def test_a_drill_that_is_left_out_is_told_with_the_site(tmp_path):
    report = one(tmp_path, "", f"{ADULT}\nwatch: [low-back]", "drills: [seated-shoulder-turn]")
    assert report.drills == ()
    says = "Seated shoulder turn is left out for now: it works hard on your low back."
    assert says in [gap.says for gap in report.missing]


@pytest.mark.parametrize("side", SIDES, ids="-".join)
def test_one_priority_gets_up_to_two_drills_and_each_of_two_gets_one(side):
    assert 1 <= len(proposed([side])) <= 2
    other = next(s for s in SIDES if s[0] != side[0])
    assert 1 <= len(proposed([side, other])) <= 2


@pytest.mark.parametrize("side", SIDES, ids="-".join)
def test_a_drill_stays_for_some_lessons_and_then_makes_room_where_there_is_another(side):
    before = []
    for _ in range(8):
        before += proposed([side], before=before[-6:])[:1]
    assert before[0] == before[1]
    serving = [drill for drill in DRILLS.values() if side in served(drill)]
    assert len(set(before)) > 1 or len(serving) == 1


@pytest.mark.parametrize("side", SIDES, ids="-".join)
def test_a_beginner_gets_a_first_drill_and_a_practised_player_is_never_held_to_it(side):
    assert DRILLS[proposed([side], level=1)[0]].level == 1
    assert [level_of(lessons) for lessons in (1, 2, 3, 7, 8, 40)] == [1, 1, 2, 2, 3, 3]


def test_what_is_at_hand_goes_first():
    side = next(s for s in SIDES if len({d.equipment for d in DRILLS.values() if s in served(d)}) > 1)
    owned = next(d.equipment for d in DRILLS.values() if side in served(d) and d.equipment)
    first = DRILLS[proposed([side], equipment=owned)[0]]
    assert set(first.equipment) - USUAL <= set(owned)


def test_the_instructors_dose_and_note_take_the_place_of_the_drills_own(tmp_path):
    chosen = "drills: [count-the-swing, {drill: light-lead-toes, dose: 4 x 6 slow, note: softly}]"
    plain, own = one(tmp_path, reading("pelvis-open-impact", 75, u=1), ADULT, chosen).drills
    assert (plain.dose, plain.note, plain.chosen_by) == (DRILLS["count-the-swing"].dose, None, "instructor")
    assert (str(own.dose), own.note) == ("4 × 6 slow", "softly")


def test_a_drill_that_works_a_restricted_hip_hard_is_given_in_its_easier_form(tmp_path):
    name = next(drill.id for drill in library().drills.values() if "lead-hip" in drill.loads)
    free = one(tmp_path / "free", "", ADULT, f"drills: [{name}]").drills[0]
    stiff = one(tmp_path / "stiff", "", f"{ADULT}\nmobility: {{lead-hip: restricted}}", f"drills: [{name}]")
    assert free.easier_form is None
    assert [given.easier_form for given in stiff.drills] in ([library().drills[name].sections["Easier"]], [])
