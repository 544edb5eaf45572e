"""The commands: parse, call, print. Nothing is computed here, and nothing heavy is imported before it is needed."""

import gc
import os
import shlex
import sys
from collections.abc import Iterator, Sized
from contextlib import contextmanager
from datetime import date, datetime
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from reportgen import __version__

if TYPE_CHECKING:
    from reportgen.delivery.journal import Entry
    from reportgen.publishing.keyring import Keyring
    from reportgen.records.academy import Academy
    from reportgen.records.report import LessonReport
    from reportgen.sheets.academy_folder import AcademyFolder

# To look for plugins of the record library among all installed packages takes as long as to read twenty sheets.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

SOME_PROBLEMS = 1
COULD_NOT_RUN = 2

_FOLDER = click.Path(path_type=Path)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__)
def main() -> None:
    """Lesson reports for golf instructors: a sheet per lesson in, judged reports and PDF recaps out.

    Exit codes: 0 all is well, 1 some sheets have problems, 2 the command could not run.
    """
    gc.set_threshold(100_000, 20, 20)  # what a command reads and makes lives to its end: to look for garbage is in vain
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a sign shows its number instead
            stream.reconfigure(errors="backslashreplace")


@main.command()
@click.argument("to", type=_FOLDER, metavar="DIR")
def start(to: Path) -> None:
    """Write a small academy into DIR to begin with: one invented student, and remarks that teach every file."""
    from reportgen.publishing.start import KINDS, start_academy
    from reportgen.terminal import schema_text

    with _told():
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
@click.argument("academy", type=_FOLDER)
@click.option("--port", type=click.IntRange(0, 65535), default=8710, show_default=True, help="0 takes a free one.")
@click.option("--student", metavar="ID", help="Look at this student alone.")
def watch(academy: Path, port: int, student: str | None) -> None:
    """Show the pages of ACADEMY in your browser while you write its sheets; on this computer alone. Ctrl-C ends."""
    from reportgen.publishing.watch_server import watch_academy

    with _told():
        if student is not None:
            _known_student(_load(academy, student), student)
        watch_academy(academy, port, student, click.echo)


@main.command()
@click.argument("academy", type=_FOLDER)
def check(academy: Path) -> None:
    """List every problem of the sheets in ACADEMY, with its place and its mend.

    Warnings stand beside the problems; they change no exit code.
    """
    from reportgen.publishing.privacy import privacy_warnings

    with _told():
        folder = _load(academy)
        _print_problems(folder)
        for warning in privacy_warnings(folder):
            click.echo(f"warning: {warning}", err=True)
        lessons = [lesson for s in folder.students.values() for lesson in s.lessons]
        if not folder.problems:
            click.echo(f"No problems: {_count(folder.students, 'student')}, {_count(lessons, 'lesson')}.")
        else:
            _leave(SOME_PROBLEMS, f"{_count(folder.problems, 'problem')}.")


@main.command()
@click.argument("academy", type=_FOLDER)
@click.option("--to", "to", type=_FOLDER, required=True, help="The folder to publish into.")
@click.option("--student", metavar="ID", help="Make this student's pages again, and no others.")
@click.option(
    "--jobs", type=click.IntRange(1, 64), default=1, show_default=True, help="Work on so many students at once."
)
@click.option("--cluster", metavar="ADDRESS", help="Work on the Dask cluster whose scheduler is at ADDRESS.")
@click.option("--afresh", is_flag=True, help="Make everything again, changed or not.")
def publish(academy: Path, to: Path, student: str | None, jobs: int, cluster: str | None, afresh: bool) -> None:
    """Build the pages and recaps of ACADEMY that changed: sealed as soon as there are members."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from reportgen.publishing.publish import publish as publish_academy

    with _told():
        rate = TextColumn("{task.fields[rate]}")
        columns = (TextColumn("Lessons"), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
        console = Console(stderr=True)
        with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
            task = bar.add_task("Lessons", total=None, rate="")

            def show(made: int, of: int) -> None:
                bar.update(task, completed=made, total=of)
                bar.update(task, rate=f"{speed:.1f} a second" if (speed := bar.tasks[0].speed) else "")

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
            )
        if done.without:
            click.echo(f"No passphrase, so no pages: {', '.join(done.without)}.", err=True)
        blocked = f", {len(done.blocked)} left as they were" if done.blocked else ""
        kept = f", {len(done.kept)} unchanged" if student is None else ""
        click.echo(f"{_count(done.made, 'student')} made{kept}{blocked}: {to}")
        if done.problems:
            _leave(SOME_PROBLEMS, f"{_count(done.problems, 'problem')}: see above, or {to / 'desk' / 'index.html'}.")


def _print_report_schema(context: click.Context, _: click.Parameter, wanted: bool) -> None:
    from reportgen.terminal import schema_text

    if wanted and not context.resilient_parsing:
        click.echo(schema_text("report"))
        context.exit()


@main.command()
@click.argument("academy", type=_FOLDER)
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

    with _told():
        reports = _reports(_load(academy, student), student)
        if as_csv:
            click.echo(history_csv(reports), nl=False)
        elif all_lessons and as_json:
            click.echo(history_json(reports))
        elif all_lessons:
            all_findings_table(reports)
        elif as_json:
            click.echo(_one(reports, student, lesson).model_dump_json(by_alias=True, indent=2))
        else:
            findings_table(_one(reports, student, lesson))


@main.command()
@click.argument("academy", type=_FOLDER)
@click.argument("student")
@click.argument("lesson", required=False, metavar="[DATE]")
@click.option("--to", "to", type=_FOLDER, help="The PDF to write; recap-STUDENT-DATE.pdf here by default.")
def recap(academy: Path, student: str, lesson: str | None, to: Path | None) -> None:
    """Write the recap PDF of one lesson: the latest, or that of DATE."""
    from reportgen.publishing.single import write_recap

    with _told():
        folder = _load(academy, student)
        report = _one(_reports(folder, student), student, lesson)
        click.echo(write_recap(report, folder, to or Path(f"recap-{student}-{report.lesson}.pdf")))


@main.command()
@click.argument("academy", type=_FOLDER)
@click.option("--to", "to", type=_FOLDER, required=True, help="The folder that the academy is published into.")
def season(academy: Path, to: Path) -> None:
    """Write the desk's page about ACADEMY as a whole: common faults, drills, who has not moved."""
    from reportgen.publishing.season import write_season

    with _told():
        click.echo(write_season(_load(academy), to))


@main.command()
@click.argument("academy", type=_FOLDER)
@click.argument("student")
@click.argument("day", required=False, metavar="[DATE]", type=click.DateTime(["%Y-%m-%d"]))
def begin(academy: Path, student: str, day: object | None) -> None:
    """Begin a new lesson sheet for STUDENT, pre-filled from the last one; DATE is today by default."""
    from reportgen.publishing.begin import begin_sheet
    from reportgen.publishing.dates import build_day

    with _told():
        folder = _load(academy, student)
        _known_student(folder, student)
        if folder.academy is None:
            _print_problems(folder)
            _leave(COULD_NOT_RUN, "academy.yaml has problems.")
        on = date.fromisoformat(str(day)[:10]) if day is not None else build_day(folder.academy)
        click.echo(begin_sheet(folder, student, on))


@main.command()
@click.argument("stills", type=_FOLDER, nargs=-1, metavar="[STILL]...")
@click.option("--video", type=_FOLDER, help="A video to take stills from.")
@click.option("--to", "to", type=_FOLDER, default=Path("mark.html"), show_default=True, help="The page to write.")
def mark(stills: tuple[Path, ...], video: Path | None, to: Path) -> None:
    """Write a page on which to set marks on stills, or to take stills from a video; open it in a browser."""
    from reportgen.publishing.marking_page import write_marking_page

    with _told():
        click.echo(write_marking_page(stills, video, to))


@main.command()
@click.argument("academy", type=_FOLDER)
@click.option(
    "--to-outbox", "outbox", type=_FOLDER, help="Write .eml files into this folder; ACADEMY.outbox by default."
)
@click.option("--smtp", is_flag=True, help="Send to the mail server of REPORTGEN_SMTP_HOST or REPORTGEN_SMTP_FILE.")
@click.option("--dry-run", is_flag=True, help="List who would get what, and write nothing.")
@click.option("--student", metavar="ID", help="Only this student.")
@click.option("--since", type=click.DateTime(["%Y-%m-%d"]), help="All lessons from this day on, not the latest alone.")
@click.option("--correction", is_flag=True, help="Send again what changed since it was sent, saying what changed.")
@click.option("--resend", type=int, multiple=True, metavar="MAIL", help="Send this mail again, by its number.")
@click.option("--arrived", type=int, multiple=True, metavar="MAIL", help="This mail, which was in doubt, has arrived.")
@click.option(
    "--read-bounces", "bounces", type=_FOLDER, help="Note what came back to this mbox or folder; send nothing."
)
@click.option("--journal", type=_FOLDER, help="What was sent is noted here; ACADEMY.journal.sqlite by default.")
@click.option("--lock-pdf", is_flag=True, help="Encrypt each recap PDF with its reader's passphrase (AES-256).")
@click.option(
    "--per-minute", type=click.IntRange(1, 6000), default=30, show_default=True, help="Mails at most, by SMTP."
)
def send(
    academy: Path,
    outbox: Path | None,
    smtp: bool,
    dry_run: bool,
    student: str | None,
    since: datetime | None,
    correction: bool,
    resend: tuple[int, ...],
    arrived: tuple[int, ...],
    bounces: Path | None,
    journal: Path | None,
    lock_pdf: bool,
    per_minute: int,
) -> None:
    """Send the recap of each student's latest lesson, once: as files for a mail program, or by SMTP."""
    from reportgen.delivery.bounces import read_bounces
    from reportgen.delivery.choosing import Answers
    from reportgen.delivery.journal import journal_of
    from reportgen.delivery.outbox import outbox_of
    from reportgen.delivery.send import Wanted, send_mails, would_send
    from reportgen.delivery.sending import Pace
    from reportgen.delivery.server import server_from
    from reportgen.publishing.addresses import page_address
    from reportgen.publishing.members import pdf_lock
    from reportgen.publishing.privacy import is_private

    if smtp and outbox is not None:
        raise click.UsageError("Give --smtp or --to-outbox, not both.")
    with _told():
        file = journal or journal_of(academy)
        if bounces is not None:
            for line in read_bounces(file, bounces):
                click.echo(line)
            return
        folder = _load(academy)
        _print_problems(folder)
        if student is not None:
            _known_student(folder, student)
        answers = Answers(frozenset(resend), frozenset(arrived))
        wanted = Wanted(student, since.date() if since else None, correction, answers)
        if dry_run:
            chosen, held = would_send(folder, file, wanted)
            for one in chosen:
                click.echo(f"{one.report.student} {one.report.lesson} to {', '.join(one.to.addresses)}")
        else:
            done = send_mails(
                folder,
                file,
                server_from(os.environ) if smtp else outbox or outbox_of(academy),
                wanted,
                pace=Pace(per_minute),
                page_of=lambda report, of: page_address(report, of, sealed=is_private(of, folder.root)),
                lock=pdf_lock(folder, _passphrase) if lock_pdf else lambda student, pdf: pdf,
                ask=_ask_about,
                tell=click.echo,
            )
            held = done.held
        for left in held:
            click.echo(f"not sent: {left.student} {left.lesson}: {left.says}", err=True)
        if not dry_run:
            click.echo(done.says)
        if folder.problems or held or (not dry_run and not done.well):
            sys.exit(SOME_PROBLEMS)


@main.group()
def members() -> None:
    """Passphrases for those who may read the sealed pages.

    They are kept in a keyring beside ACADEMY that only your own passphrase opens: asked for, or taken from
    REPORTGEN_PASSPHRASE, or from the file that REPORTGEN_PASSPHRASE_FILE names.
    """


@members.command("add")
@click.argument("academy", type=_FOLDER)
@click.argument("names", nargs=-1, metavar="[ID]...")
@click.option("--all", "everybody", is_flag=True, help="All students who have no passphrase yet.")
@click.option("--anew", is_flag=True, help="A new passphrase for members whose old one is lost or known to others.")
@click.option("--library-only", is_flag=True, help="For somebody who is no student: the drill library alone.")
def members_add(academy: Path, names: tuple[str, ...], everybody: bool, anew: bool, library_only: bool) -> None:
    """Make a passphrase for each ID. The letter brings it to them; the next publish lets them in."""
    from reportgen.publishing.members import add_members, members_of
    from reportgen.publishing.privacy import keyring_of

    with _told():
        folder = _load(academy)
        if everybody:
            names = tuple(sorted({*names, *folder.students} - {one.name for one in members_of(folder)}))
        if not names:
            _leave(COULD_NOT_RUN, "Nobody to add. Give the id of a student, or --all for those without a passphrase.")
        new = not keyring_of(folder.root).exists()
        add_members(folder, names, lambda: _passphrase(new), anew=anew, library_only=library_only)
        click.echo(f"{_count(names, 'member')} added: {', '.join(names)}. The next publish lets them in.")


@members.command("remove")
@click.argument("academy", type=_FOLDER)
@click.argument("names", nargs=-1, required=True, metavar="ID...")
def members_remove(academy: Path, names: tuple[str, ...]) -> None:
    """Take each ID out: their passphrase opens nothing that is published from now on."""
    from reportgen.publishing.members import remove_members

    with _told():
        remove_members(_load(academy), names, _passphrase)
        click.echo(f"{_count(names, 'member')} removed: {', '.join(names)}. Publish and upload, and they are out.")


@members.command("list")
@click.argument("academy", type=_FOLDER)
def members_list(academy: Path) -> None:
    """List the members; no passphrase is needed."""
    from reportgen.publishing.members import members_of

    with _told():
        for one in members_of(_load(academy)):
            click.echo(f"{one.name}: {'own pages and library' if one.own_pages else 'library'}")


@members.command("letter")
@click.argument("academy", type=_FOLDER)
@click.argument("name", metavar="ID")
@click.option("--to", "to", type=_FOLDER, help="The PDF to write; letter-ID.pdf here by default.")
def members_letter(academy: Path, name: str, to: Path | None) -> None:
    """Write the letter that brings ID address and passphrase, to print or hand over."""
    from reportgen.publishing.members import write_letter

    with _told():
        click.echo(write_letter(_load(academy), name, _passphrase, to or Path(f"letter-{name}.pdf")))


@main.command()
@click.argument(
    "kind", type=click.Choice(["academy", "student", "lesson", "metric", "bands", "drill", "safety", "report"])
)
def schema(kind: str) -> None:
    """Print the JSON Schema of a KIND of file, for editors."""
    from reportgen.terminal import schema_text

    click.echo(schema_text(kind))


def _load(academy: Path, only: str | None = None) -> "AcademyFolder":
    from reportgen.measuring.loading import load

    return load(academy, only)


def _ask_about(doubt: "Entry") -> str:
    """A person's word on a mail that may have arrived; none where nobody is there to ask."""
    if not sys.stdin.isatty():
        return "later"
    click.echo(f"Mail {doubt.id}, {doubt.student} {doubt.lesson} to {', '.join(doubt.addresses)}: {doubt.says}.")
    return str(click.prompt("Did it arrive?", type=click.Choice(["arrived", "resend", "later"]), default="later"))


def _keyring(academy: "Academy", root: Path) -> "Keyring | None":
    """The academy's keyring, opened, where its pages are sealed."""
    from reportgen.publishing.privacy import is_private

    if not is_private(academy, root):
        return None
    from reportgen.publishing.members import opened_keyring

    return opened_keyring(root, _passphrase)


def _passphrase(new: bool = False) -> str:
    """The instructor's passphrase."""
    from reportgen.publishing.passphrases import instructors_passphrase

    def ask() -> str:
        return str(click.prompt("Your passphrase", hide_input=True, confirmation_prompt=new, err=True))

    return instructors_passphrase(ask if sys.stdin.isatty() else None)


def _known_student(folder: "AcademyFolder", student: str) -> None:
    from reportgen.sheets.problems import nearest

    if student not in folder.students:
        names = [p.name for p in (folder.root / "students").glob("*") if p.is_dir()]
        _leave(COULD_NOT_RUN, f"There is no student {student}. {nearest(student, names)}")


def _reports(folder: "AcademyFolder", student: str) -> "tuple[LessonReport, ...]":
    """All judged lessons, at least one; leaves with the problems where the sheets have some."""
    from reportgen.pipeline import reports_of

    _known_student(folder, student)
    if folder.problems or folder.academy is None:
        _print_problems(folder)
        _leave(SOME_PROBLEMS, f"{_count(folder.problems, 'problem')}.")
    reports = reports_of(folder.students[student], folder.academy, folder.library, folder.students)
    if not reports:
        _leave(COULD_NOT_RUN, f"{student} has no lesson yet. Begin one: reportgen begin {folder.root} {student}")
    return reports


def _one(reports: "tuple[LessonReport, ...]", student: str, lesson: str | None) -> "LessonReport":
    """The lesson of that name, or the latest."""
    from reportgen.sheets.problems import nearest

    by_name = {report.lesson: report for report in reports}
    if lesson is not None and lesson not in by_name:
        _leave(COULD_NOT_RUN, f"{student} has no lesson {lesson}. {nearest(lesson, by_name)}")
    return by_name[lesson] if lesson is not None else reports[-1]


def _count(things: Sized, name: str) -> str:
    return f"{len(things)} {name}{'' if len(things) == 1 else 's'}"


def _print_problems(folder: "AcademyFolder") -> None:
    for problem in folder.problems:
        click.echo(str(problem), err=True)


@contextmanager
def _told() -> Iterator[None]:
    """Turns what can go wrong in a run into one line on stderr and an exit code."""
    from reportgen.errors import ReportgenError

    try:
        yield
    except ReportgenError as error:
        _leave(COULD_NOT_RUN, str(error))
    except KeyboardInterrupt:
        _leave(130, "Stopped. What was published before is intact.")
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        _leave(COULD_NOT_RUN, f"{where}{error.strerror or error}")


def _leave(code: int, says: str) -> NoReturn:
    click.echo(says, err=True)
    sys.exit(code)
