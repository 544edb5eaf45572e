"""What stands in the README of an export: what each thing is, in the language that is being spoken."""

from collections.abc import Collection
from textwrap import wrap

from reportgen.languages.speaking import say
from reportgen.personal_data.others import SOMEBODY
from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import StudentFolder

_COLUMNS = 76


def readme(theirs: StudentFolder, academy: Academy | None, made: Collection[str], judged: bool, is_member: bool) -> str:
    """The README; `made` are the names of what is in the archive besides the folder."""
    name = theirs.student.name if theirs.student else theirs.id
    held_by = academy.name if academy else say("your instructor")
    parts = [
        say("This is what {academy} holds about {name}.", academy=held_by, name=name),
        "folder/\n"
        + _text(
            say(
                "Your folder as it is: a file about you, a sheet for each lesson, pictures and tables. Where a sheet "
                "names another student, {word} stands here instead.",
                word=SOMEBODY,
            )
        ),
    ]
    told = {
        "values.csv": say("Every value that was measured, one a line, for a spreadsheet."),
        "lessons/": say("Each lesson as it was judged, for other programs (JSON)."),
        "recaps/": say("The recap of each lesson, without pictures of anyone else."),
        "rounds/": say("Marks that were set on your pictures a second time, to learn how sure marks are."),
        "films/": say("Films of your swings that are not put away yet. They go when their lesson is ready."),
        "mails.csv": say("Your mails: about which lesson, since when, to which address, and whether they went."),
        "mails/": say("The texts of your mails that are kept in a folder. Their recaps are in recaps/."),
    }
    parts += [f"{what}\n{_text(says)}" for what, says in told.items() if any(n.startswith(what) for n in made)]
    if not judged:
        parts.append(_text(say("There are no judged lessons here: there are none yet, or the sheets have problems.")))
    parts.append(say("You have a passphrase for your pages.") if is_member else say("You have no passphrase."))
    parts.append(_text(say("Your pages are made from these files. If something is wrong or should go, ask us.")))
    return "\n\n".join(parts) + "\n"


def _text(says: str) -> str:
    return "\n".join(wrap(says, _COLUMNS))
