"""Which drills a student takes home, and with what dose."""

from collections.abc import Mapping, Sequence
from typing import Literal

from reportgen.languages.speaking import say
from reportgen.records.content import Drill
from reportgen.records.lesson import DrillChoice
from reportgen.records.report import GivenDrill, Missing, Priority
from reportgen.records.wording import listed, slug_name
from reportgen.records.words import Site

MOST = 2


def given_drills(
    chosen: Sequence[DrillChoice],
    priorities: Sequence[Priority],
    drills: Mapping[str, Drill],
    spared: frozenset[Site],
    equipment: Sequence[str],
    given_before: Sequence[str],
    level: int,
    restricted: frozenset[Site] = frozenset(),
) -> tuple[tuple[GivenDrill, ...], tuple[Missing, ...]]:
    """The drills, and what had to be left out.

    The instructor's own choice wins, but for a drill that loads a site to be spared (on hold, or watched and not
    cleared). Without a choice the plan proposes one for each priority (two where there is one), none of which loads
    such a site, of at most `level` where there is one. `given_before` are the drills of the last lessons, newest last.
    A drill that works hard on one of the `restricted` hips is given in its easier form.
    """
    if chosen:
        return _instructors(chosen, priorities, drills, spared, restricted)
    found: list[Drill] = []
    each = MOST if len(priorities) == 1 else 1
    for priority in priorities:
        found += _proposals(priority, drills, spared, equipment, given_before, found, level)[:each]
    return tuple(_given(drill, None, priorities, "plan", restricted) for drill in found), ()


def _instructors(
    chosen: Sequence[DrillChoice],
    priorities: Sequence[Priority],
    drills: Mapping[str, Drill],
    spared: frozenset[Site],
    restricted: frozenset[Site],
) -> tuple[tuple[GivenDrill, ...], tuple[Missing, ...]]:
    given, missing = [], []
    for choice in chosen:
        drill = drills[choice.drill]
        if loaded := sorted(spared & set(drill.loads)):
            sites = listed([slug_name(site) for site in loaded])
            says = say("{drill} is left out for now: it loads your {sites}.", drill=drill.title, sites=sites)
            missing.append(Missing(metric=None, kind="left out", says=says))
        else:
            given.append(_given(drill, choice, priorities, "instructor", restricted))
    return tuple(given), tuple(missing)


def _proposals(
    priority: Priority,
    drills: Mapping[str, Drill],
    spared: frozenset[Site],
    equipment: Sequence[str],
    given_before: Sequence[str],
    taken: Sequence[Drill],
    level: int,
) -> list[Drill]:
    """Fitting drills, the best first: what is at hand, then neither the same for ever nor a new one each week."""
    fitting = [
        drill
        for drill in drills.values()
        if any(s.metric == priority.metric and s.when == priority.direction for s in drill.serves)
        and not spared & set(drill.loads)
        and drill not in taken
    ]
    last = given_before[-1:] and set(given_before[-2:])

    def order(drill: Drill) -> tuple[bool, int, int, int, str]:
        missing = len(set(drill.equipment) - set(equipment)) if equipment else 0
        times = list(given_before).count(drill.id)
        staying = 0 if drill.id in last and times < 3 else 1 if times == 0 else 2
        return drill.level > level, missing, staying, drill.level, drill.id

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
    restricted: frozenset[Site],
) -> GivenDrill:
    worked_on = [p.metric for p in priorities]
    served = [s.metric for s in drill.serves]
    return GivenDrill(
        drill=drill.id,
        title=drill.title,
        aim=drill.aim,
        feel=drill.feel,
        dose=choice.dose if choice and choice.dose else drill.dose,
        serves=next((m for m in worked_on if m in served), None),
        loads=drill.loads,
        note=choice.note if choice else None,
        easier=drill.sections.get("Easier") if restricted & set(drill.loads) else None,
        chosen_by=by,
    )
