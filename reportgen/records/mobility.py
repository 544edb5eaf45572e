"""How far the hips of a student turn, as written in student.yaml."""

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, TypeAdapter

from reportgen.records.amounts import Angle, Quantity
from reportgen.records.base import Record
from reportgen.records.bounds import NAME
from reportgen.records.units import convert
from reportgen.records.words import Hips, ScreenPosition, Site

RESTRICTED_BELOW_DEG = 23.0
"""Passive internal rotation below this reads as a restricted hip: mean − 1 SD (31.1 − 8.1) of 36 golfers without
low-back pain, lead hip at 0° flexion: Murray E, Birley E, Twycross-Lewis R, Morrissey D. Phys Ther Sport
2009;10:131-135. The cut itself is derived; there is no agreed one."""


class HipMobility(Record):
    """One hip: restricted or not, with its passive internal rotation in degrees where it was measured."""

    hips: Hips
    rotation_deg: Annotated[float, Field(ge=0, le=90)] | None = None


def _read_hip(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    if written in ("typical", "restricted"):
        return HipMobility(hips=written)
    try:
        quantity = _ANGLE.validate_python(written)
    except ValueError:
        raise ValueError(
            "is not the mobility of a hip", "Write typical, restricted, or the passive inward turn as in 28 deg."
        ) from None
    degrees = convert(quantity.value, quantity.unit, "deg")
    if not 0 <= degrees <= 90:
        raise ValueError("is out of its limits", "Write an angle from 0 to 90 deg.")
    return HipMobility(hips="restricted" if degrees < RESTRICTED_BELOW_DEG else "typical", rotation_deg=degrees)


_ANGLE: TypeAdapter[Quantity] = TypeAdapter(Angle)

Hip = Annotated[
    HipMobility,
    BeforeValidator(_read_hip, json_schema_input_type=Annotated[str, Field(max_length=NAME)]),
    Field(description="typical, restricted, or the passive inward turn, as 28 deg"),
]


class Mobility(Record):
    """Mobility of each hip; a side that was not looked at counts as typical.

    `position` is how the passive turn was measured: prone (face down), supine (on the back, legs straight) or seated.
    A hip turns differently in each, so the limit of a restricted hip holds for a straight hip only.
    """

    lead_hip: Hip = Field(default=HipMobility(hips="typical"), alias="lead-hip")
    trail_hip: Hip = Field(default=HipMobility(hips="typical"), alias="trail-hip")
    position: ScreenPosition = "prone"

    @property
    def restricted(self) -> tuple[Site, ...]:
        """The hips that are restricted, by the instructor's word or by their figure."""
        sides: tuple[tuple[Site, HipMobility], ...] = (("lead-hip", self.lead_hip), ("trail-hip", self.trail_hip))
        counts = self.position != "seated"
        return tuple(site for site, hip in sides if hip.hips == "restricted" and (counts or hip.rotation_deg is None))

    @property
    def hips(self) -> Hips:
        """Restricted as soon as one hip is."""
        return "restricted" if self.restricted else "typical"

    @property
    def difference(self) -> float | None:
        """Degrees between the two sides; None where one was not measured."""
        lead, trail = self.lead_hip.rotation_deg, self.trail_hip.rotation_deg
        return None if lead is None or trail is None else abs(lead - trail)
