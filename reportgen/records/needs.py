"""What a metric of stills lacks on the pictures of a lesson, as facts."""

from typing import Literal

from reportgen.records.base import Record
from reportgen.records.words import Checkpoint, Mark, View


class Need(Record):
    """Something that a metric of stills lacks: `marks` on a still, a `scale` on it, the whole `still` with its marks,
    `one camera` for all stills of a view, marks from which a value follows (`sound marks`), or two pictures of `one
    moment`."""

    what: Literal["marks", "scale", "still", "one camera", "sound marks", "one moment"]
    view: View | None = None
    checkpoint: Checkpoint | None = None
    marks: tuple[Mark, ...] = ()
