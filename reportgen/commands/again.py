"""The command for what second looks at marked stills tell."""

from pathlib import Path

import click

from reportgen.commands.shared import FOLDER, SOME_PROBLEMS, leave, leaving_on_errors, loaded, print_problems


@click.command()
@click.argument("academy", type=FOLDER)
def again(academy: Path) -> None:
    """Print how sure the marks of ACADEMY are, from the pictures that were marked a second time.

    Mark them at the desk, under "How sure your marks are".
    """
    from reportgen.authoring.own_figures import own_figures

    with leaving_on_errors():
        folder = loaded(academy)
        print_problems(folder)
        for line in own_figures(folder):
            click.echo(line)
        if folder.problems:
            leave(SOME_PROBLEMS, "Stills of students with problems do not count.")
