"""What every record shares: frozen, no unknown keys, texts without stray white space."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, StringConstraints

Slug = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
"""An id: small letters, digits and single hyphens, as in `pelvis-open-impact`."""

Text = Annotated[str, StringConstraints(min_length=1, max_length=20_000)]
Line = Annotated[str, StringConstraints(min_length=1, max_length=300, pattern=r"^[^\n\r\x00-\x08]*$")]
"""One line of text."""


class Record(BaseModel):
    """Base of all records: plain values that never change after they are made."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        str_strip_whitespace=True,
        allow_inf_nan=False,
        populate_by_name=True,
        ser_json_inf_nan="null",
    )
