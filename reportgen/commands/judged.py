"""The commands that show what was judged: in the terminal, as a recap, and as the schema of its JSON."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen.commands.shared import COULD_NOT_RUN, FOLDER, leave, leaving_on_errors, loaded, one_of, reports_or_leave

if TYPE_CHECKING:
    from reportgen.saying.readers import Reader
    from reportgen.sheets.academy_folder import AcademyFolder


def _print_report_schema(context: click.Context, _: click.Parameter, wanted: bool) -> None:
    from reportgen.terminal import schema_text

    if wanted and not context.resilient_parsing:
        click.echo(schema_text("report"))
        context.exit()


@click.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("lesson", required=False, metavar="[DATE]")
@click.option("--json", "as_json", is_flag=True, help="Print the judged lesson as JSON: facts, without sentences.")
@click.option("--language", metavar="CODE", help="With --json: print what a reader of that language is told.")
@click.option(
    "--json-schema",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_report_schema,
    help="Print the JSON Schema of --json, and nothing else; `schema told` has that of --language.",
)
@click.option("--all", "all_lessons", is_flag=True, help="All lessons of the student, not one.")
@click.option("--csv", "as_csv", is_flag=True, help="Print all lessons as CSV, a row for each value.")
def findings(
    academy: Path,
    student: str,
    lesson: str | None,
    as_json: bool,
    language: str | None,
    all_lessons: bool,
    as_csv: bool,
) -> None:
    """Show the judged lesson of STUDENT in the terminal: the latest, or that of DATE."""
    from reportgen.history import all_findings_table, history_csv, history_json
    from reportgen.saying.telling import tell, tell_all
    from reportgen.terminal import findings_table

    if language is not None and (not as_json or all_lessons or as_csv):
        raise click.UsageError("--language goes with --json, and with one lesson.")
    with leaving_on_errors():
        folder = loaded(academy, student)
        reports = reports_or_leave(folder, student)
        in_english = _reader(folder, student, "en")
        if as_csv:
            # as text, its line ends would be written twice on Windows
            click.echo(history_csv(tell_all(reports, folder.library, in_english)).encode(), nl=False)
        elif all_lessons and as_json:
            click.echo(history_json(tell_all(reports, folder.library, in_english)))
        elif all_lessons:
            all_findings_table(tell_all(reports, folder.library, in_english))
        elif as_json:
            report = one_of(reports, student, lesson)
            shown = report if language is None else tell(report, folder.library, _reader(folder, student, language))
            click.echo(shown.model_dump_json(by_alias=True, indent=2))
        else:
            findings_table(tell(one_of(reports, student, lesson), folder.library, in_english))


def _reader(folder: "AcademyFolder", student: str, language: str) -> "Reader":
    """A reader of a language, in the student's units, or, in the terminal's English, in those of the academy."""
    from reportgen.saying.readers import Reader, language_called, reader_of
    from reportgen.sheets.academy_folder import sound

    home = sound(folder)
    try:
        speaks = language_called(language, home.root)
    except LookupError:
        leave(COULD_NOT_RUN, f"There is no catalogue of the language {language}.")
    units = reader_of(folder.students[student].student, home).units
    return Reader(speaks, home.academy.units if language == "en" else units)


@click.command()
@click.argument("academy", type=FOLDER)
@click.argument("student")
@click.argument("lesson", required=False, metavar="[DATE]")
@click.option("--to", "to", type=FOLDER, help="The PDF to write; recap-STUDENT-DATE.pdf here by default.")
def recap(academy: Path, student: str, lesson: str | None, to: Path | None) -> None:
    """Write the recap PDF of one lesson: the latest, or that of DATE."""
    from reportgen.publishing.single import write_recap

    with leaving_on_errors():
        folder = loaded(academy, student)
        report = one_of(reports_or_leave(folder, student), student, lesson)
        click.echo(write_recap(report, folder, to or Path(f"recap-{student}-{report.lesson}.pdf")))


@click.command()
@click.argument(
    "kind",
    type=click.Choice(
        [
            "academy",
            "student",
            "lesson",
            "metric",
            "bands",
            "drill",
            "safety",
            "counts",
            "causes",
            "setup",
            "report",
            "told",
        ]
    ),
)
def schema(kind: str) -> None:
    """Print the JSON Schema of a KIND: of a file, of the judged lesson (report), of what a reader is told (told)."""
    from reportgen.terminal import schema_text

    click.echo(schema_text(kind))
