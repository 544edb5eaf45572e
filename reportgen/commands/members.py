"""The commands about those who may read the sealed pages."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from reportgen.commands.shared import (
    COULD_NOT_RUN,
    FOLDER,
    SOME_PROBLEMS,
    counted,
    instructors_word,
    leave,
    leaving_on_errors,
    loaded,
)

if TYPE_CHECKING:
    from reportgen.sheets.academy_folder import AcademyFolder


@click.group()
def members() -> None:
    """Passphrases for those who may read the sealed pages.

    They are kept in a keyring beside ACADEMY that only your own passphrase opens: asked for, or taken from
    REPORTGEN_PASSPHRASE, or from the file that REPORTGEN_PASSPHRASE_FILE names.
    """


@members.command("add")
@click.argument("academy", type=FOLDER)
@click.argument("names", nargs=-1, metavar="[ID]...")
@click.option("--all", "everybody", is_flag=True, help="All students who have no passphrase yet.")
@click.option("--anew", is_flag=True, help="A new passphrase for members whose old one is lost or known to others.")
@click.option("--library-only", is_flag=True, help="For somebody who is no student: the drill library alone.")
def members_add(academy: Path, names: tuple[str, ...], everybody: bool, anew: bool, library_only: bool) -> None:
    """Make a passphrase for each ID. The letter brings it to them; the next publish lets them in."""
    from reportgen.sealing.members import add_members, members_of
    from reportgen.sealing.privacy import keyring_of

    with leaving_on_errors():
        folder = loaded(academy)
        if everybody:
            names = tuple(sorted({*names, *folder.students} - {one.name for one in members_of(folder)}))
        if not names:
            leave(COULD_NOT_RUN, "Nobody to add. Give the id of a student, or --all for those without a passphrase.")
        new = not keyring_of(folder.root).exists()
        add_members(folder, names, lambda: instructors_word(new), anew=anew, library_only=library_only)
        click.echo(f"{counted(names, 'member')} added: {', '.join(names)}. The next publish lets them in.")
        if folder.academy is not None and folder.academy.private is None:
            click.echo("Write private: sealed into academy.yaml: wherever the folder goes, it then says so itself.")


@members.command("remove")
@click.argument("academy", type=FOLDER)
@click.argument("names", nargs=-1, required=True, metavar="ID...")
def members_remove(academy: Path, names: tuple[str, ...]) -> None:
    """Take each ID out: their passphrase opens nothing that is published from now on."""
    from reportgen.sealing.members import remove_members

    with leaving_on_errors():
        folder = loaded(academy)
        remove_members(folder, names, instructors_word)
        click.echo(f"{counted(names, 'member')} removed: {', '.join(names)}. Publish and upload, and they are out.")
        _tell_of_open_pages(folder)


@members.command("list")
@click.argument("academy", type=FOLDER)
def members_list(academy: Path) -> None:
    """List the members; no passphrase is needed."""
    from reportgen.sealing.members import members_of

    with leaving_on_errors():
        folder = loaded(academy)
        for one in members_of(folder):
            click.echo(f"{one.name}: {'own pages and library' if one.own_pages else 'library'}")
        _tell_of_open_pages(folder)


@members.command("letter")
@click.argument("academy", type=FOLDER)
@click.argument("name", metavar="ID")
@click.option("--to", "to", type=FOLDER, help="The PDF to write; letter-ID.pdf here by default.")
def members_letter(academy: Path, name: str, to: Path | None) -> None:
    """Write the letter that brings ID address and passphrase, to print or hand over."""
    from reportgen.sealing.members import write_letter

    with leaving_on_errors():
        click.echo(write_letter(loaded(academy), name, instructors_word, to or Path(f"letter-{name}.pdf")))


def _tell_of_open_pages(folder: "AcademyFolder") -> None:
    from reportgen.sealing.privacy import contradiction

    if (against := contradiction(folder.academy, folder.root)) is not None:
        leave(SOME_PROBLEMS, str(against))
