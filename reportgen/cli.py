"""The commands: parse, call, print. Nothing is computed here, and nothing heavy is imported before it is needed."""

import atexit
import gc
import os
import sys
from dataclasses import replace
from datetime import date
from io import TextIOWrapper
from pathlib import Path

import click

from reportgen import __version__
from reportgen.commands.again import again
from reportgen.commands.going import export, forget
from reportgen.commands.judged import findings, recap, schema
from reportgen.commands.members import members
from reportgen.commands.publishing import publish
from reportgen.commands.sending import send
from reportgen.commands.shared import (
    COULD_NOT_RUN,
    FOLDER,
    SOME_PROBLEMS,
    as_typed,
    counted,
    known_student,
    leave,
    leave_without_a_clock,
    leaving_on_errors,
    loaded,
    print_problems,
)

# To look for plugins of the record library among all installed packages takes as long as to read twenty sheets.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
# Arrays here have a few rows. To start a thread for each processor costs the numeric library more than it ever saves.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Empty is as good as not set; a library that reads it while it is loaded would take it as a number.
if os.environ.get("SOURCE_DATE_EPOCH") == "":
    del os.environ["SOURCE_DATE_EPOCH"]


class _Commands(click.Group):
    """The commands, and what has taken the place of those that have gone."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] in ("watch", "mark"):
            ctx.fail(f"Pages to look at and marks to set are at the desk. Instead of {args[0]}, run: reportgen desk")
        return super().resolve_command(ctx, args)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
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
    leave_without_a_clock()


@main.command()
@click.argument("to", type=FOLDER, metavar="DIR")
def start(to: Path) -> None:
    """Write a small academy into DIR to begin with: one invented student, and remarks that teach every file."""
    from reportgen.authoring.start import KINDS, site_beside, start_academy
    from reportgen.terminal import schema_text

    with leaving_on_errors():
        start_academy(to, {kind: schema_text(kind) for kind in KINDS})
        site = site_beside(to)
        here, there = as_typed(to), as_typed(site)
        click.echo(f"{to} is an academy with one invented student and two lessons. Next:")
        click.echo(f"  reportgen desk {here}")
        click.echo("      opens the desk: her lessons to write, with her page beside them, made again while you write")
        click.echo(f"  reportgen publish {here} --to {there}")
        click.echo(f"      makes the whole site; then open {as_typed(site / 'desk' / 'index.html')}")


@main.command()
@click.argument("academy", type=FOLDER, default=Path())
@click.option("--to", "to", type=FOLDER, help="The folder to publish into; ACADEMY-site by default.")
@click.option("--port", type=click.IntRange(0, 65535), default=8710, show_default=True, help="0 takes a free one.")
@click.option("--browser/--no-browser", default=True, help="Open it in your browser, or print its address alone.")
def desk(academy: Path, to: Path | None, port: int, browser: bool) -> None:
    """Open the desk of ACADEMY in your browser: write lessons, publish, send; on this computer alone. Ctrl-C ends.

    Where there is no academy, the desk begins one.
    """
    from reportgen.authoring.start import KINDS
    from reportgen.desk.running import open_desk
    from reportgen.terminal import schema_text

    def schemas() -> dict[str, str]:
        return {kind: schema_text(kind) for kind in KINDS}

    with leaving_on_errors():
        open_desk(academy, port, click.echo, to=to, schemas=schemas, browser=browser)


@main.command()
@click.argument("academy", type=FOLDER)
def check(academy: Path) -> None:
    """List every problem of the sheets in ACADEMY, with its place and its mend.

    Warnings stand beside the problems; they change no exit code.
    """
    from reportgen.measuring.moment_warnings import moment_warnings
    from reportgen.publishing.dates import date_warnings
    from reportgen.sealing.privacy import contradiction, privacy_warnings
    from reportgen.sheets.drafts import draft_warnings
    from reportgen.sheets.drill_warnings import drill_warnings
    from reportgen.sheets.inbox import inbox_warnings
    from reportgen.sheets.mark_problems import mark_warnings
    from reportgen.sheets.return_warnings import return_warnings
    from reportgen.sheets.rounds import read_rounds
    from reportgen.sheets.student_files import link_warnings

    with leaving_on_errors():
        folder = loaded(academy)
        if (against := contradiction(folder.academy, folder.root)) is not None:
            folder = replace(folder, shared_problems=(*folder.shared_problems, against))
        folder = replace(folder, shared_problems=(*folder.shared_problems, *read_rounds(folder).problems))
        print_problems(folder)
        drafts = draft_warnings(draft for student in folder.students.values() for draft in student.drafts)
        of_sheets = (*mark_warnings(folder), *moment_warnings(folder), *drill_warnings(folder), *drafts)
        of_sheets = (*of_sheets, *return_warnings(folder), *inbox_warnings(folder.academy, academy))
        for warning in (*privacy_warnings(folder), *date_warnings(folder), *of_sheets, *link_warnings(academy)):
            click.echo(f"warning: {warning}", err=True)
        lessons = [lesson for s in folder.students.values() for lesson in s.lessons]
        if not folder.problems:
            click.echo(f"No problems: {counted(folder.students, 'student')}, {counted(lessons, 'lesson')}.")
        else:
            leave(SOME_PROBLEMS, f"{counted(folder.problems, 'problem')}.")


@main.command()
@click.argument("academy", type=FOLDER)
@click.option("--to", "to", type=FOLDER, required=True, help="The folder that the academy is published into.")
def season(academy: Path, to: Path) -> None:
    """Write the desk's page about ACADEMY as a whole: common faults, drills, who has not moved."""
    from reportgen.publishing.season import write_season

    with leaving_on_errors():
        click.echo(write_season(loaded(academy), to))


@main.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("day", required=False, metavar="[DATE]", type=click.DateTime(["%Y-%m-%d"]))
def begin(academy: Path, student: str, day: object | None) -> None:
    """Begin a new lesson sheet for STUDENT, pre-filled from the last one; DATE is today by default."""
    from reportgen.authoring.begin import begin_sheet
    from reportgen.sheets.today import build_day

    with leaving_on_errors():
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


main.add_command(again)
main.add_command(members)
main.add_command(export)
main.add_command(findings)
main.add_command(forget)
main.add_command(publish)
main.add_command(recap)
main.add_command(schema)
main.add_command(send)
