"""The mobility screen: how far each hip turns inward when somebody else moves it, beside the published figures.

How somebody lies or sits changes the figure (total rotation 95 ± 13° face down against 82 ± 12° seated, 34 adults,
2003), so a figure is only ever held against one that was taken the same way.
"""

from reportgen.languages.speaking import later, say
from reportgen.records.academy import RESTRICTED_BELOW_DEG, Mobility, Student
from reportgen.records.body import Screen
from reportgen.records.wording import listed, number
from reportgen.records.words import ScreenPosition, Stage

NORM_SOURCE = (
    "Murray E, Birley E, Twycross-Lewis R, Morrissey D. Phys Ther Sport 2009;10:131-135; Kouyoumdjian P, Coulomb R, "
    "Sanchez T, Asencio G. Orthop Traumatol Surg Res 2012;98:17-23; the limit of a restricted hip is derived from the "
    "first (mean − 1 SD), and so is that of 10 degrees between the sides (difference of its groups)"
)

HEALTHY_DEG: dict[ScreenPosition, float] = {"prone": 35.2, "supine": 29.6, "seated": 37.9}
"""Mean internal rotation of 120 adults of 20 to 60 years: Kouyoumdjian 2012."""

_POSITION = {"prone": later("lying face down"), "supine": later("lying on the back"), "seated": later("seated")}
_ON = {"lead": later("{degrees} on the lead side"), "trail": later("{degrees} on the trail side")}


def screen_of(student: Student, stage: Stage) -> Screen | None:
    """The screen; None where no hip was looked at."""
    mobility = student.mobility
    lead, trail = mobility.lead_hip.rotation_deg, mobility.trail_hip.rotation_deg
    if lead is None and trail is None and not mobility.restricted:
        return None
    return Screen(
        lead_deg=lead,
        trail_deg=trail,
        position=mobility.position,
        difference=mobility.difference,
        restricted=mobility.restricted,
        says=_says(mobility, stage),
        source=NORM_SOURCE,
    )


def _says(mobility: Mobility, stage: Stage) -> str:
    figures = [
        say(_ON[side], degrees=f"{number(degrees, 0)}°")
        for side, degrees in (("lead", mobility.lead_hip.rotation_deg), ("trail", mobility.trail_hip.rotation_deg))
        if degrees is not None
    ]
    parts = []
    if figures:
        position = say(_POSITION[mobility.position])
        parts.append(
            say("Your hips turn inward {figures}, measured {position}.", figures=listed(figures), position=position)
        )
        parts.append(_beside(mobility.position, stage))
    for hip in mobility.restricted:
        parts.append(
            say("The lead hip counts as one that turns less, and your ranges are chosen for it.")
            if hip == "lead-hip"
            else say("The trail hip counts as one that turns less, and your ranges are chosen for it.")
        )
    return " ".join(parts)


def _beside(position: ScreenPosition, stage: Stage) -> str:
    if stage == "junior":
        return say("There is no published figure for your age that we hold it against.")
    healthy = say(
        "A group of 120 healthy adults had {degrees} on average in this position.",
        degrees=f"{number(HEALTHY_DEG[position], 0)}°",
    )
    if position == "seated":
        return healthy
    most = say(
        "Most golfers without back pain in one study had {degrees} or more on the lead side.",
        degrees=f"{number(RESTRICTED_BELOW_DEG, 0)}°",
    )
    return f"{healthy} {most}"
