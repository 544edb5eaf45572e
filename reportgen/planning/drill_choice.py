"""Which drills a student takes home, and with what dose."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from reportgen.planning.allowed import Standing, allowed, asked_by_drill, refusal
from reportgen.records.base import Slug
from reportgen.records.content import Drill
from reportgen.records.lesson import DrillChoice
from reportgen.records.report import GivenDrill, Missing, Priority
from reportgen.records.shot_findings import CountFound
from reportgen.records.words import Site

MOST = 2
USUAL = frozenset({"club", "ball", "putter", "paper"})
"""What every player has, so that student.yaml need not name it."""


@dataclass(frozen=True)
class Suits:
    """What suits a student now: nothing that a caution in `standing` speaks against, the easier form of what works hard
    on a `restricted` hip, what the `equipment` at hand allows (none named: any), at most `level`; `given_before` are
    the drills of the last lessons, the newest last."""

    standing: Standing = field(default_factory=Standing)
    restricted: frozenset[Site] = frozenset()
    equipment: Sequence[str] = ()
    level: int = 3
    given_before: Sequence[str] = ()


def given_drills(
    chosen: Sequence[DrillChoice],
    priorities: Sequence[Priority],
    drills: Mapping[str, Drill],
    suits: Suits,
    counted: Sequence[Slug] = (),
) -> tuple[tuple[GivenDrill, ...], tuple[Missing, ...]]:
    """The drills, and what had to be left out.

    The instructor's own choice wins, but for what a caution speaks against. Without a choice the plan proposes one for
    each priority (two where there is one), and with room left one that trains each of the `counted`; a caution speaks
    against none of them.
    """
    if chosen:
        return _instructors(chosen, priorities, drills, suits)
    found: list[Drill] = []
    each = MOST if len(priorities) == 1 else 1
    for priority in priorities:
        serving = [drill for drill in drills.values() if _serves(drill, priority)]
        found += _proposals(serving, suits, found)[:each]
    given = [_given(drill, None, priorities, "plan", suits) for drill in found]
    for count in counted:
        training = [drill for drill in drills.values() if count in drill.trains]
        for drill in _proposals(training, suits, found)[: min(1, MOST - len(given))]:
            found.append(drill)
            given.append(_given(drill, None, priorities, "plan", suits).model_copy(update={"trains": count}))
    return tuple(given), ()


def missed(counts: Sequence[CountFound]) -> tuple[Slug, ...]:
    """What was counted and not always made, in the sheet's order: this can be trained. Which of several is the weakest
    is not told: eight of ten from one distance are not four times as good as two from another."""
    return tuple(dict.fromkeys(one.count for one in counts if one.count is not None and one.run.made < one.run.of))


def _serves(drill: Drill, priority: Priority) -> bool:
    return any(s.metric == priority.metric and s.when == priority.direction for s in drill.serves)


def _instructors(
    chosen: Sequence[DrillChoice],
    priorities: Sequence[Priority],
    drills: Mapping[str, Drill],
    suits: Suits,
) -> tuple[tuple[GivenDrill, ...], tuple[Missing, ...]]:
    given, missing = [], []
    for choice in chosen:
        drill = drills[choice.drill]
        if (why := refusal(asked_by_drill(drill), suits.standing)) is not None:
            missing.append(Missing(kind="left out", drill=drill.id, sites=why.sites, activities=why.activities))
        else:
            given.append(_given(drill, choice, priorities, "instructor", suits))
    return tuple(given), tuple(missing)


def _proposals(helping: Sequence[Drill], suits: Suits, taken: Sequence[Drill]) -> list[Drill]:
    """Fitting drills, the best first: what is at hand, then neither the same for ever nor a new one each week."""
    may = [drill for drill in helping if allowed(asked_by_drill(drill), suits.standing)]
    fitting = [drill for drill in may if drill not in taken]
    before = suits.given_before
    last = before[-1:] and set(before[-2:])

    def order(drill: Drill) -> tuple[bool, int, int, int, str]:
        missing = len(set(drill.needs) - USUAL - set(suits.equipment)) if suits.equipment else 0
        times = list(before).count(drill.id)
        staying = 0 if drill.id in last and times < 3 else 1 if times == 0 else 2
        return drill.level > suits.level, missing, staying, drill.level, drill.id

    return sorted(fitting, key=order)


def level_of(lessons: int) -> int:
    """The highest level of drill to propose after so many lessons: 1 at first, 2 from the third, 3 from the eighth
    (common practice, no source)."""
    return 1 if lessons < 3 else 2 if lessons < 8 else 3


def _given(
    drill: Drill,
    choice: DrillChoice | None,
    priorities: Sequence[Priority],
    by: Literal["instructor", "plan"],
    suits: Suits,
) -> GivenDrill:
    worked_on = [p.metric for p in priorities]
    served = [s.metric for s in drill.serves]
    dose = choice.dose if choice and choice.dose else drill.dose
    if dose.pace == "full" and "fast-swings" in suits.standing.forbidden:
        dose = dose.model_copy(update={"pace": "easy"})
    return GivenDrill(
        drill=drill.id,
        dose=dose,
        serves=next((m for m in worked_on if m in served), None),
        loads=drill.loads,
        note=choice.note if choice else None,
        easier="Easier" in drill.sections and bool(suits.restricted & set(drill.loads)),
        chosen_by=by,
    )
