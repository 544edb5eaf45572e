"""What a publish is asked for besides the academy and the folder to publish into."""

from dataclasses import dataclass


@dataclass(frozen=True)
class PublishOptions:
    """With `student`, of the students that one alone is made again; with `afresh` everything is, changed or not. The
    work is done by `jobs` processes, or on the Dask cluster at the address `cluster`."""

    student: str | None = None
    jobs: int = 1
    cluster: str | None = None
    afresh: bool = False


USUAL_OPTIONS = PublishOptions()
