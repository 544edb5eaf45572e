"""The mobility screen: how far each hip turns inward when somebody else moves it, beside the published figures.

How somebody lies or sits changes the figure (total rotation 95 ± 13° face down against 82 ± 12° seated, 34 adults,
2003), so a figure is only ever held against one that was taken the same way.
"""

from reportgen.records.academy import Student
from reportgen.records.body import Screen
from reportgen.records.words import ScreenPosition

NORM_SOURCE = (
    "Murray E, Birley E, Twycross-Lewis R, Morrissey D. Phys Ther Sport 2009;10:131-135; Kouyoumdjian P, Coulomb R, "
    "Sanchez T, Asencio G. Orthop Traumatol Surg Res 2012;98:17-23; the limit of a restricted hip is derived from the "
    "first (mean − 1 SD), and so is that of 10 degrees between the sides (difference of its groups)"
)

HEALTHY_DEG: dict[ScreenPosition, float] = {"prone": 35.2, "supine": 29.6, "seated": 37.9}
"""Mean internal rotation of 120 adults of 20 to 60 years: Kouyoumdjian 2012."""


def screen_of(student: Student) -> Screen | None:
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
        source=NORM_SOURCE,
    )
