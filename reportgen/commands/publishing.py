"""The command that makes the site."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen.commands.shared import FOLDER, SOME_PROBLEMS, counted, instructors_word, leave, leaving_on_errors

if TYPE_CHECKING:
    from reportgen.publishing.foresee import Foreseen
    from reportgen.sealing.keyring import Keyring
    from reportgen.sheets.academy_folder import Home


@click.command()
@click.argument("academy", type=FOLDER)
@click.option("--to", "to", type=FOLDER, required=True, help="The folder to publish into.")
@click.option("--student", metavar="ID", help="Make this student's pages again, and no others.")
@click.option(
    "--jobs", type=click.IntRange(1, 64), default=1, show_default=True, help="Work on so many students at once."
)
@click.option("--cluster", metavar="ADDRESS", help="Work on the Dask cluster whose scheduler is at ADDRESS.")
@click.option("--afresh", is_flag=True, help="Make everything again, changed or not.")
@click.option("--journal", type=FOLDER, help="The journal of mails, where it does not stand beside ACADEMY.")
@click.option("--dry-run", is_flag=True, help="List whose pages would be made or taken away, and write nothing.")
def publish(
    academy: Path,
    to: Path,
    student: str | None,
    jobs: int,
    cluster: str | None,
    afresh: bool,
    journal: Path | None,
    dry_run: bool,
) -> None:
    """Build the pages and recaps of ACADEMY that changed: sealed as soon as there are members."""
    with leaving_on_errors():
        from reportgen.delivery.journal import journal_of
        from reportgen.delivery.status import mailed_so_far
        from reportgen.publishing.foresee import would_publish
        from reportgen.publishing.options import PublishOptions
        from reportgen.publishing.publish import Reporting
        from reportgen.publishing.publish import publish as publish_academy
        from reportgen.sealing.privacy import keyring_where_sealed

        def keyring(home: "Home") -> "Keyring | None":
            return keyring_where_sealed(home, instructors_word)

        def tell(line: str) -> None:
            click.echo(line, err=True)

        options = PublishOptions(student, jobs, cluster, afresh)
        if dry_run:
            _tell_of(would_publish(academy, to, options, keyring=keyring))
            return
        with _lessons_done() as show:
            done = publish_academy(
                academy,
                to,
                options,
                keyring=keyring,
                mailed=mailed_so_far(journal or journal_of(academy), tell),
                reporting=Reporting(tell, show),
            )
        if done.without:
            click.echo(f"No passphrase, so no pages: {', '.join(done.without)}.", err=True)
        blocked = f", {len(done.blocked)} left as they were" if done.blocked else ""
        kept = f", {len(done.kept)} unchanged" if student is None else ""
        gone = f", {done.gone} taken away" if done.gone else ""
        click.echo(f"{counted(done.made, 'student')} made{kept}{blocked}{gone}: {to}")
        if done.problems:
            leave(SOME_PROBLEMS, f"{counted(done.problems, 'problem')}: see above, or {to / 'desk' / 'index.html'}.")


def _tell_of(foreseen: "Foreseen") -> None:
    """Print what a publish would do; leaves where sheets have problems."""
    for line in (*foreseen.down, *map(str, foreseen.problems)):
        click.echo(line, err=True)
    for name in foreseen.made:
        click.echo(f"would be made: {name}")
    for name in foreseen.without:
        click.echo(f"no passphrase, so no pages: {name}")
    click.echo(f"{counted(foreseen.made, 'student')} to make, {len(foreseen.kept)} unchanged. Nothing was written.")
    if foreseen.problems:
        leave(SOME_PROBLEMS, f"{counted(foreseen.problems, 'problem')}.")


@contextmanager
def _lessons_done() -> Iterator[Callable[[int, int], None]]:
    """A bar of the lessons done, their rate and the time left, where somebody sits at a terminal: give it how many are
    done, and of how many."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield lambda made, of: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    rate = TextColumn("{task.fields[rate]}")
    columns = (TextColumn("Lessons"), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("Lessons", total=None, rate="")

        def show(made: int, of: int) -> None:
            bar.update(task, completed=made, total=of)
            bar.update(task, rate=f"{speed:.1f} a second" if (speed := bar.tasks[0].speed) else "")

        yield show
