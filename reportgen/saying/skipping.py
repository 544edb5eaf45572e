"""Who leaves a drill out, in words: made of the same data by which the plan leaves it out."""

from collections.abc import Iterable, Iterator, Mapping

from reportgen.languages.conventions import one_of
from reportgen.languages.speaking import later, say
from reportgen.records.content import Drill
from reportgen.records.skipping import SORE_FROM
from reportgen.records.words import SITES, Site, Unfit


def leave_out_if(drill: Drill) -> str | None:
    """`A knee hurts more than a little, or is being watched. You feel unsteady on your feet.` None where nothing speaks
    against it. What a drill works hard is left out where it is watched too."""
    said = []
    if drill.loads:
        said.append(say("{places} hurts more than a little, or is being watched.", places=_places(drill.loads)))
    sore: dict[int, list[Site]] = {}
    for one in drill.skip_if.hurts:
        sore.setdefault(one.at_least, []).append(one.site)
    said += [_sore(sites, least) for least, sites in sorted(sore.items(), reverse=True)]
    said += [say(_CONDITIONS[condition]) for condition in drill.skip_if.conditions]
    if drill.skip_if.also:
        said.append(drill.skip_if.also)
    return " ".join(said) or None


def _sore(sites: Iterable[Site], least: int) -> str:
    if least == 1:
        return say("{places} hurts at all.", places=_places(sites))
    if least == SORE_FROM:
        return say("{places} hurts more than a little.", places=_places(sites))
    return say("{places} hurts {score} out of 10 or more.", places=_places(sites), score=least)


def _places(sites: Iterable[Site]) -> str:
    """`Your low back or an elbow`: both sides of a joint are said as one."""
    said = one_of(tuple(_each(frozenset(sites))))
    return said[:1].upper() + said[1:]


def _each(sites: frozenset[Site]) -> Iterator[str]:
    for site in SITES:
        side, _, joint = site.partition("-")
        both = {f"lead-{joint}", f"trail-{joint}"} <= sites
        if site in sites and not both:
            yield say(_OF_ONE[site])
        elif site in sites and side == "lead":
            yield say(_OF_BOTH[joint])


_OF_ONE: Mapping[Site, str] = {
    "low-back": later("your low back"),
    "neck": later("your neck"),
    "lead-shoulder": later("your lead shoulder"),
    "trail-shoulder": later("your trail shoulder"),
    "lead-elbow": later("your lead elbow"),
    "trail-elbow": later("your trail elbow"),
    "lead-wrist": later("your lead wrist"),
    "trail-wrist": later("your trail wrist"),
    "lead-hip": later("your lead hip"),
    "trail-hip": later("your trail hip"),
    "lead-knee": later("your lead knee"),
    "trail-knee": later("your trail knee"),
    "lead-ankle": later("your lead ankle"),
    "trail-ankle": later("your trail ankle"),
}
_OF_BOTH: Mapping[str, str] = {
    "shoulder": later("a shoulder"),
    "elbow": later("an elbow"),
    "wrist": later("a wrist"),
    "hip": later("a hip"),
    "knee": later("a knee"),
    "ankle": later("an ankle"),
}
_CONDITIONS: Mapping[Unfit, str] = {
    "unsteady": later("You feel unsteady on your feet."),
    "told-to-rest": later("You have been told to rest."),
    "walking-hurts": later("Walking hurts."),
    "turning-hurts": later("Turning hurts, even slowly."),
    "bending-hurts": later("Standing bent hurts."),
    "swinging-hurts": later("Swinging a club hurts."),
    "holding-still-hurts": later("Holding the position hurts."),
}
