"""For whom a band is: which conditions of its `fits` hold, and whether two bands hold for somebody equally well."""

from itertools import product
from typing import Any, NamedTuple, get_args

from reportgen.records.content import Band, Fits
from reportgen.records.words import ClubFamily, GrowthStage, LessonKind, PressureStyle, Sex, Site, Skill, Stage

HIPS: tuple[Site, ...] = ("lead-hip", "trail-hip")


class BandConditions(NamedTuple):
    """What bands are chosen by: a student on one day, with the club in hand, in a lesson of a kind. `restricted` are
    the hips that turn little."""

    stage: Stage
    restricted: tuple[Site, ...]
    sex: Sex | None
    club: ClubFamily
    pressure_style: PressureStyle | None
    growth: GrowthStage | None = None
    skill: Skill | None = None
    kinds: LessonKind = "full-swing"


def fits(condition: Fits, body: BandConditions) -> bool:
    """Whether each condition that is set holds; a condition on something unknown of the student does not. `hips` asks
    about either hip, `restricted` about those that it names, any of them."""
    facts: dict[str, tuple[Any, ...]] = {name: (fact,) for name, fact in body._asdict().items()}
    facts["restricted"] = body.restricted
    facts["hips"] = ("restricted" if body.restricted else "typical",)
    asked = {name: getattr(condition, name) for name in Fits.model_fields}
    return all(not wanted or bool(set(wanted) & set(facts[name])) for name, wanted in asked.items())


def tied(bands: tuple[Band, ...]) -> tuple[Band, Band] | None:
    """Two bands that fit some student equally well, better than all others; None where there is no such student."""
    kinds = {
        "stage": get_args(Stage), "restricted": ((), *((hip,) for hip in HIPS), HIPS), "sex": (*get_args(Sex), None),
        "club": get_args(ClubFamily), "pressure_style": (*get_args(PressureStyle), None),
        "growth": (*get_args(GrowthStage), None), "skill": (*get_args(Skill), None), "kinds": get_args(LessonKind),
    }  # fmt: skip
    # what no band asks about makes no difference, so one student of that kind stands for all
    asked = {name: any(getattr(band.fits, name) for band in bands) for name in kinds}
    asked["restricted"] |= any(band.fits.hips for band in bands)
    students = product(*(values if asked[name] else values[:1] for name, values in kinds.items()))
    for student in students:
        fitting = sorted((b for b in bands if fits(b.fits, BandConditions(*student))), key=lambda b: -b.fits.conditions)
        if len(fitting) > 1 and fitting[0].fits.conditions == fitting[1].fits.conditions:
            return fitting[0], fitting[1]
    return None
