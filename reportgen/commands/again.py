"""The command for a second look at stills that are marked already."""

from pathlib import Path

import click

from reportgen.commands.shared import FOLDER, SOME_PROBLEMS, leave, leaving_on_errors, loaded, print_problems


@click.command()
@click.argument("academy", type=FOLDER)
@click.option("--by", metavar="NAME", help="Who marks this time, where it is not the instructor.")
@click.option("--to", "to", type=FOLDER, default=Path("again.html"), show_default=True, help="The page to write.")
@click.option(
    "--language", metavar="CODE", default="en", show_default=True, help="The page's language, as de for German."
)
@click.option("--read", "marked", type=FOLDER, metavar="FILE", help="Keep what the page handed over; write no page.")
@click.option("--figures", is_flag=True, help="Print what all second looks tell; write no page.")
def again(academy: Path, by: str | None, to: Path, language: str, marked: Path | None, figures: bool) -> None:
    """Mark twelve stills of ACADEMY a second time, unseen, and learn how sure your marks are.

    It writes a page as mark does. The file that you save there is read with --read, and kept in ACADEMY/rounds.
    """
    from reportgen.authoring.again import keep_round, write_second_look
    from reportgen.authoring.own_figures import own_figures

    if marked is not None and figures:
        raise click.UsageError("Give --read or --figures: --read prints the figures too.")
    with leaving_on_errors():
        folder = loaded(academy)
        print_problems(folder)
        if marked is not None:
            place, left_out = keep_round(folder, marked)
            click.echo(place)
            if left_out:
                click.echo(f"Left out: {left_out} of its pictures, which no sheet has any more.", err=True)
        if marked is None and not figures:
            click.echo(write_second_look(folder, by, to, language))
        else:
            for line in own_figures(loaded(academy)):
                click.echo(line)
        if folder.problems:
            leave(SOME_PROBLEMS, "Stills of students with problems are not offered.")
