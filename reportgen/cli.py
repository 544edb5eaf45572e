"""The commands: parse, call, print. Nothing is computed here, and nothing heavy is imported before it is needed."""

import atexit
import gc
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen import __version__
from reportgen.commands.members import members
from reportgen.commands.sending import send
from reportgen.commands.shared import (
    COULD_NOT_RUN,
    FOLDER,
    SOME_PROBLEMS,
    counted,
    instructors_word,
    known_student,
    leave,
    loaded,
    one_of,
    print_problems,
    reports_or_leave,
    told,
)

if TYPE_CHECKING:
    from reportgen.publishing.keyring import Keyring
    from reportgen.records.academy import Academy
    from reportgen.records.mailed import Mailed

# To look for plugins of the record library among all installed packages takes as long as to read twenty sheets.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
# Arrays here have a few rows. To start a thread for each processor costs the numeric library more than it ever saves.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__)
def main() -> None:
    """Lesson reports for golf instructors: a sheet per lesson in, judged reports and PDF recaps out.

    Exit codes: 0 all is well, 1 some sheets have problems, 2 the command could not run.
    """
    gc.set_threshold(1_000_000, 20, 20)  # what a command makes lives to its end: to look for garbage is in vain
    atexit.register(gc.freeze)  # and at the end of all things too, where it takes a quarter of a second
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a sign shows its number instead
            stream.reconfigure(errors="backslashreplace")


@main.command()
@click.argument("to", type=FOLDER, metavar="DIR")
def start(to: Path) -> None:
    """Write a small academy into DIR to begin with: one invented student, and remarks that teach every file."""
    import shlex

    from reportgen.publishing.start import KINDS, start_academy
    from reportgen.terminal import schema_text

    with told():
        start_academy(to, {kind: schema_text(kind) for kind in KINDS})
        here, site = (
            shlex.quote(str(to)),
            shlex.quote(f"{to.resolve()}-site" if to.name in ("", "..") else f"{to}-site"),
        )
        click.echo(f"{to} is an academy with one invented student and two lessons. Next:")
        click.echo(f"  reportgen watch {here}")
        click.echo("      shows her page in your browser, and makes it again whenever you save a sheet")
        click.echo(f"  reportgen publish {here} --to {site}")
        click.echo(f"      makes the whole site; then open {site}/desk/index.html")


@main.command()
@click.argument("academy", type=FOLDER)
@click.option("--port", type=click.IntRange(0, 65535), default=8710, show_default=True, help="0 takes a free one.")
@click.option("--student", metavar="ID", help="Look at this student alone.")
def watch(academy: Path, port: int, student: str | None) -> None:
    """Show the pages of ACADEMY in your browser while you write its sheets; on this computer alone. Ctrl-C ends."""
    from reportgen.publishing.watch_server import watch_academy

    with told():
        if student is not None:
            known_student(loaded(academy, student), student)
        watch_academy(academy, port, student, click.echo)


@main.command()
@click.argument("academy", type=FOLDER)
def check(academy: Path) -> None:
    """List every problem of the sheets in ACADEMY, with its place and its mend.

    Warnings stand beside the problems; they change no exit code.
    """
    from reportgen.publishing.dates import date_warnings
    from reportgen.publishing.privacy import privacy_warnings

    with told():
        folder = loaded(academy)
        print_problems(folder)
        for warning in (*privacy_warnings(folder), *date_warnings(folder)):
            click.echo(f"warning: {warning}", err=True)
        lessons = [lesson for s in folder.students.values() for lesson in s.lessons]
        if not folder.problems:
            click.echo(f"No problems: {counted(folder.students, 'student')}, {counted(lessons, 'lesson')}.")
        else:
            leave(SOME_PROBLEMS, f"{counted(folder.problems, 'problem')}.")


@main.command()
@click.argument("academy", type=FOLDER)
@click.option("--to", "to", type=FOLDER, required=True, help="The folder to publish into.")
@click.option("--student", metavar="ID", help="Make this student's pages again, and no others.")
@click.option(
    "--jobs", type=click.IntRange(1, 64), default=1, show_default=True, help="Work on so many students at once."
)
@click.option("--cluster", metavar="ADDRESS", help="Work on the Dask cluster whose scheduler is at ADDRESS.")
@click.option("--afresh", is_flag=True, help="Make everything again, changed or not.")
@click.option("--journal", type=FOLDER, help="The journal of mails, where it does not stand beside ACADEMY.")
def publish(
    academy: Path, to: Path, student: str | None, jobs: int, cluster: str | None, afresh: bool, journal: Path | None
) -> None:
    """Build the pages and recaps of ACADEMY that changed: sealed as soon as there are members."""
    from reportgen.publishing.press import press_for

    with told():
        with _lessons_done() as show, press_for(academy, to) as press:
            from reportgen.publishing.publish import publish as publish_academy

            done = publish_academy(
                academy,
                to,
                student=student,
                jobs=jobs,
                cluster=cluster,
                afresh=afresh,
                keyring=_keyring,
                progress=show,
                tell=lambda problem: click.echo(str(problem), err=True),
                mailed=_mailed(journal, academy),
                press=press,
            )
        if done.without:
            click.echo(f"No passphrase, so no pages: {', '.join(done.without)}.", err=True)
        blocked = f", {len(done.blocked)} left as they were" if done.blocked else ""
        kept = f", {len(done.kept)} unchanged" if student is None else ""
        gone = f", {done.gone} taken away" if done.gone else ""
        click.echo(f"{counted(done.made, 'student')} made{kept}{blocked}{gone}: {to}")
        if done.problems:
            leave(SOME_PROBLEMS, f"{counted(done.problems, 'problem')}: see above, or {to / 'desk' / 'index.html'}.")


@contextmanager
def _lessons_done() -> Iterator[Callable[[int, int], None]]:
    """A bar of the lessons done, their rate and the time left, where somebody sits at a terminal: give it how many are
    done, and of how many."""
    if not sys.stderr.isatty():
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


def _mailed(journal: Path | None, academy: Path) -> "Mapping[str, Mailed]":
    """How the mail about each student stands; a journal that cannot be read keeps nobody from publishing."""
    from reportgen.delivery.journal import JournalError, journal_of, read_entries
    from reportgen.delivery.status import delivery_status

    try:
        return delivery_status(read_entries(journal or journal_of(academy)))
    except JournalError as error:
        click.echo(f"The desk says nothing of mail: {error}", err=True)
        return {}


def _print_report_schema(context: click.Context, _: click.Parameter, wanted: bool) -> None:
    from reportgen.terminal import schema_text

    if wanted and not context.resilient_parsing:
        click.echo(schema_text("report"))
        context.exit()


@main.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("lesson", required=False, metavar="[DATE]")
@click.option("--json", "as_json", is_flag=True, help="Print the judged lesson as JSON.")
@click.option(
    "--json-schema",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_report_schema,
    help="Print the JSON Schema of --json, and nothing else.",
)
@click.option("--all", "all_lessons", is_flag=True, help="All lessons of the student, not one.")
@click.option("--csv", "as_csv", is_flag=True, help="Print all lessons as CSV, a row for each value.")
def findings(academy: Path, student: str, lesson: str | None, as_json: bool, all_lessons: bool, as_csv: bool) -> None:
    """Show the judged lesson of STUDENT in the terminal: the latest, or that of DATE."""
    from reportgen.history import all_findings_table, history_csv, history_json
    from reportgen.terminal import findings_table

    with told():
        reports = reports_or_leave(loaded(academy, student), student, in_english=True)
        if as_csv:
            click.echo(history_csv(reports), nl=False)
        elif all_lessons and as_json:
            click.echo(history_json(reports))
        elif all_lessons:
            all_findings_table(reports)
        elif as_json:
            click.echo(one_of(reports, student, lesson).model_dump_json(by_alias=True, indent=2))
        else:
            findings_table(one_of(reports, student, lesson))


@main.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("lesson", required=False, metavar="[DATE]")
@click.option("--to", "to", type=FOLDER, help="The PDF to write; recap-STUDENT-DATE.pdf here by default.")
def recap(academy: Path, student: str, lesson: str | None, to: Path | None) -> None:
    """Write the recap PDF of one lesson: the latest, or that of DATE."""
    from reportgen.publishing.single import write_recap

    with told():
        folder = loaded(academy, student)
        report = one_of(reports_or_leave(folder, student), student, lesson)
        click.echo(write_recap(report, folder, to or Path(f"recap-{student}-{report.lesson}.pdf")))


@main.command()
@click.argument("academy", type=FOLDER)
@click.option("--to", "to", type=FOLDER, required=True, help="The folder that the academy is published into.")
def season(academy: Path, to: Path) -> None:
    """Write the desk's page about ACADEMY as a whole: common faults, drills, who has not moved."""
    from reportgen.publishing.season import write_season

    with told():
        click.echo(write_season(loaded(academy), to))


@main.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("day", required=False, metavar="[DATE]", type=click.DateTime(["%Y-%m-%d"]))
def begin(academy: Path, student: str, day: object | None) -> None:
    """Begin a new lesson sheet for STUDENT, pre-filled from the last one; DATE is today by default."""
    from reportgen.publishing.begin import begin_sheet
    from reportgen.publishing.dates import build_day

    with told():
        folder = loaded(academy, student)
        known_student(folder, student)
        if folder.academy is None:
            print_problems(folder)
            leave(COULD_NOT_RUN, "academy.yaml has problems.")
        on = date.fromisoformat(str(day)[:10]) if day is not None else build_day(folder.academy)
        sheet = begin_sheet(folder, student, on)
        click.echo(sheet)
        if sheet.name != f"{on}.yaml":
            click.echo(f"It is the second of that day: {on}.yaml was there.", err=True)


@main.command()
@click.argument("stills", type=FOLDER, nargs=-1, metavar="[STILL]...")
@click.option("--video", type=FOLDER, help="A video to take stills from.")
@click.option("--to", "to", type=FOLDER, default=Path("mark.html"), show_default=True, help="The page to write.")
@click.option(
    "--language", metavar="CODE", default="en", show_default=True, help="The page's language, as de for German."
)
def mark(stills: tuple[Path, ...], video: Path | None, to: Path, language: str) -> None:
    """Write a page on which to set marks on stills, or to take stills from a video; open it in a browser."""
    from reportgen.publishing.marking_page import write_marking_page

    with told():
        click.echo(write_marking_page(stills, video, to, language))


@main.command()
@click.argument(
    "kind", type=click.Choice(["academy", "student", "lesson", "metric", "bands", "drill", "safety", "report"])
)
def schema(kind: str) -> None:
    """Print the JSON Schema of a KIND of file, for editors."""
    from reportgen.terminal import schema_text

    click.echo(schema_text(kind))


def _keyring(academy: "Academy", root: Path) -> "Keyring | None":
    """The academy's keyring, opened, where its pages are sealed."""
    from reportgen.publishing.privacy import is_private

    if not is_private(academy, root):
        return None
    from reportgen.publishing.members import opened_keyring

    return opened_keyring(root, instructors_word)


main.add_command(members)
main.add_command(send)
