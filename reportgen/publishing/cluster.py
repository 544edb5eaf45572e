"""Jobs of a publish on a Dask cluster: the sheets travel by value, the pages come back as files.

The workers share no disk with us. Each job takes along the files that it reads and runs, in a folder of its own, the
same function as everywhere. A job whose worker is lost is run again by another.
"""

import io
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from reportgen.errors import ReportgenError
from reportgen.publishing.digests import program
from reportgen.publishing.replacing import write_tree
from reportgen.publishing.student_job import BuildContext, Made, StudentJob, leans_on, make
from reportgen.sheets.loading import read_students

if TYPE_CHECKING:
    from distributed import Client, Future

PATIENCE = "10s"
"""How long the cluster may take to answer at first."""
MOST_TRIES = 3
"""How often a cluster whose workers are lost at the very beginning is asked again."""


class ClusterError(ReportgenError):
    """The cluster cannot be used; the message says why."""


@dataclass(frozen=True)
class Parcel:
    """A job with the students' files that it reads: path inside the academy -> bytes."""

    job: StudentJob
    files: Mapping[str, bytes]


@dataclass(frozen=True)
class Common:
    """What goes to every worker once: the context, and the academy's files that are no student's."""

    context: BuildContext
    files: Mapping[str, bytes]


def made_on_cluster(student_jobs: Sequence[StudentJob], context: BuildContext, address: str) -> Iterator[Made]:
    """The results of the jobs as they come; their files stand in `context.new`, as if they were made here.

    Raises ClusterError where there is no cluster at `address`, it has another version of the program, or the workers of
    a job are lost again and again; OSError; and what a job raised.
    """
    try:
        from distributed import Client, KilledWorker, as_completed
    except ImportError:
        raise ClusterError("Dask is not installed. Install it: pip install 'reportgen[cluster]'") from None
    try:
        client = Client(address, timeout=PATIENCE)
    except (OSError, ValueError) as error:
        raise ClusterError(f"There is no cluster at {address}: {error}") from error
    waiting = [*reversed(student_jobs)]
    with client:
        common = _handed_out(Common(context, _shared_files(context.home.root)), client, address)

        def given() -> object:
            return client.submit(made_from, _parcel(waiting.pop(), context), common, pure=False)

        # Two jobs for each worker: none waits for its next one, and few pictures travel at a time.
        at_work = as_completed([given() for _ in range(min(len(student_jobs), 2 * len(client.ncores())))])
        try:
            for future in at_work:
                made, packed = future.result()
                if waiting:
                    at_work.add(given())
                _unpack(packed, context.new / made.student)
                yield made
        except KilledWorker as error:
            raise ClusterError(f"The workers of one student were lost again and again: {error}") from error


def _handed_out(common: Common, client: "Client", address: str) -> "Future":
    """What all jobs need, on every worker; a worker that is lost meanwhile is looked at again when it is back."""
    for left in reversed(range(MOST_TRIES)):
        try:
            _check_version(client.run(program), address)
            return client.scatter(common, broadcast=True)
        except OSError as error:
            if not left:
                raise ClusterError(f"The workers at {address} are lost again and again: {error}") from error
            client.wait_for_workers(1, timeout=PATIENCE)
    raise AssertionError("the last try returns or raises")


def made_from(parcel: Parcel, common: Common) -> tuple[Made, bytes]:
    """Run a job wherever this is: what came of it, and its files as an archive."""
    with TemporaryDirectory() as folder:
        root, new = Path(folder) / "academy", Path(folder) / "new"
        for name in common.context.folders:
            (root / "students" / name).mkdir(parents=True)
        write_tree(root, {**common.files, **parcel.files})
        home = replace(common.context.home, root=root)
        folders = {name: root / "students" / name for name in common.context.folders}
        made = make(parcel.job, replace(common.context, home=home, folders=folders, new=new, caches=None))
        return made, _packed(new / parcel.job.student)


def _check_version(theirs: Mapping[str, str], address: str) -> None:
    if not theirs:
        raise ClusterError(f"The cluster at {address} has no workers.")
    strange = {worker: version for worker, version in theirs.items() if version != program()}
    for worker, version in strange.items():
        raise ClusterError(f"The worker {worker} would make other pages: it has {version}. Here is {program()}.")


def _parcel(job: StudentJob, context: BuildContext) -> Parcel:
    read = read_students(context.home, context.folders, [job.student])
    root = context.home.root
    needed = {*read, *(other for one in read.values() for other in leans_on(one, root))}
    files: dict[str, bytes] = {}
    for name in sorted(needed & context.folders.keys()):
        folder = root / "students" / name
        files |= _files_below(folder, root, folder / "films")
    return Parcel(job, files)


def _shared_files(root: Path) -> dict[str, bytes]:
    inside = [entry for entry in root.iterdir() if entry.name != "students" and not entry.name.startswith(".")]
    files = {entry.name: entry.read_bytes() for entry in inside if entry.is_file()}
    for entry in inside:
        files |= _files_below(entry, root)
    return files


def _files_below(folder: Path, root: Path, but: Path | None = None) -> dict[str, bytes]:
    """The files below a folder, less those in the folder `but`: no page is made from a film that was kept."""
    found = (f for f in folder.rglob("*") if f.is_file() and (but is None or not f.is_relative_to(but)))
    return {f.relative_to(root).as_posix(): f.read_bytes() for f in found}


def _packed(folder: Path) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as archive:
        for file in sorted(folder.rglob("*")):
            if file.is_file():
                archive.write(file, file.relative_to(folder).as_posix())
    return written.getvalue()


def _unpack(packed: bytes, folder: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        write_tree(folder, {name: archive.read(name) for name in archive.namelist()})
