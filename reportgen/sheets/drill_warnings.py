"""What `check` tells of an academy's own drills and practice.yaml: what they leave unsaid, and how it is taken."""

import os
import re
from collections.abc import Iterator

from reportgen.records.content import Drill
from reportgen.records.practice import PracticeRules
from reportgen.records.words import SITES, Site
from reportgen.sheets.academy_folder import AcademyFolder

_ARMS: tuple[Site, ...] = ("lead-elbow", "trail-elbow", "lead-wrist", "trail-wrist")


def drill_warnings(folder: AcademyFolder) -> Iterator[str]:
    """A line for each of the academy's own drills that leaves to a guess what the plan goes by, and for phases of
    practice whose words cannot know what a week has."""
    for name, drill in sorted(folder.library.drills.items()):
        if os.path.isfile(folder.root / "drills" / f"{name}.md"):  # where it may not be looked for, it is none
            yield from (f"drills/{name}.md: {told}" for told in _of_drill(drill))
    if os.path.isfile(folder.root / "practice.yaml"):
        yield from _of_phases(folder.library.practice)


def _of_drill(drill: Drill) -> Iterator[str]:
    if drill.swing is None or drill.ground is None:
        taken = f"swing: {drill.swings} and ground: {str(drill.meets_ground).lower()}"
        yield f"what it does not say is taken for the most: {taken}. Write both as they are."
    known = {*drill.loads, *(sore.site for sore in drill.skip_if.hurts)}
    if drill.skip_if.also and (named := [site for site in _named(drill.skip_if.also) if site not in known]):
        yield (
            f"skip_if names places that the plan does not read out of a line of words. "
            f"Write skip_if: {{hurts: [{', '.join(named)}]}}, or name them in loads."
        )
    if drill.meets_ground and (arms := [site for site in _ARMS if site not in known]):
        yield (
            f"the club meets the ground, and neither loads nor skip_if names {', '.join(arms)}. "
            "Name them in one of the two."
        )


def _named(text: str) -> Iterator[Site]:
    """The places of the body that an English line names; a joint without a side is both."""
    for site in SITES:
        side, _, joint = site.partition("-")
        words = {"low-back": "back", "neck": "neck"}.get(site, joint)
        if re.search(rf"\b{words}\b", text, re.IGNORECASE) and _of_side(side, joint, text):
            yield site


def _of_side(side: str, joint: str, text: str) -> bool:
    """Whether the text means this side: it names it before the joint, or no side at all."""
    sides = re.findall(rf"\b(lead|trail)\b[\w ,]*\b{joint}\b", text, re.IGNORECASE)
    return side not in ("lead", "trail") or not sides or side in [one.lower() for one in sides]


def _of_phases(practice: PracticeRules) -> Iterator[str]:
    if bare := [phase.id for phase in practice.phases if phase.id != "new" and phase.mixed is None]:
        yield (
            f"practice.yaml: the phases {' and '.join(bare)} say the same in every week. Where says speaks of other "
            "clubs or of speed, write that under mixed: and speed:, so that only a week that has them says it."
        )
