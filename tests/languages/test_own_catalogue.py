"""A catalogue of the academy's own: whatever is wrong in it is told at its line, before a sentence is said by it."""

import time
from pathlib import Path

import pytest

from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.loading import load
from tests.languages.collect import written
from tests.languages.conftest import add_to, pseudo, speak
from tests.publishing.small import PETRA, reportgen, small_academy
from tests.sheets.academies import STUDENT, STUDENT_FILE, make_academy, write

HEAD = """\
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"

"""
SAID = 'msgid "It was {value} on {day}."\nmsgstr "Es war {value} am {day}."\n'
COUNTED = (
    'msgid "{count} swing"\nmsgid_plural "{count} swings"\nmsgstr[0] "ein Schwung"\nmsgstr[1] "{count} Schwünge"\n'
)
OF_A_PAGE = '#: themes/letter/home.html\nmsgid "%(name)s is <b>due</b>"\nmsgstr "%(name)s ist <b>dran</b>"\n'
CANNOT = "this is no catalogue of messages"


def own(root, catalogue, code="de"):
    raw = catalogue if isinstance(catalogue, bytes) else catalogue.encode()
    make_academy(root, {f"languages/{code}.po": raw})
    add_to(root / "academy.yaml", f"language: {code}")
    return root


def told(root):
    return [str(problem) for problem in load_academy(root).problems]


def test_a_sound_one_has_no_problem(tmp_path):
    assert told(own(tmp_path, HEAD + SAID + "\n" + COUNTED + "\n" + OF_A_PAGE)) == []


def test_what_an_editor_compiled_beside_it_is_not_read(tmp_path):
    root = own(tmp_path, HEAD + SAID)
    (root / "languages" / "de.mo").write_bytes(b"no messages")
    assert told(root) == []


@pytest.mark.parametrize(
    ("catalogue", "line", "wrong"),
    [
        (HEAD + SAID.replace("war {value}", "war {valeu}"), 6, "the translation has {valeu}, and its message has not"),
        (HEAD + SAID.replace("war {value}", "war"), 6, "the translation lacks {value}, which its message has"),
        (HEAD + SAID.replace("war {value}", "war {value"), 6, "the translation has {, and its message has not"),
        (HEAD + SAID.replace("war {value}", "war {value.__class__}"), 6,
         "the translation has {value.__class__}, and its message has not"),
        (HEAD + SAID.replace("war {value}", "war {value:999999999}"), 6,
         "the translation has {value:999999999}, and its message has not"),
        (HEAD + SAID.replace("war {value}", "war {}"), 6, "the translation has {}, and its message has not"),
        (HEAD + OF_A_PAGE.replace("%(name)s ist", "%(nam)s ist"), 7,
         "the translation has %(nam)s, and its message has not"),
        (HEAD + OF_A_PAGE.replace("ist", "ist zu 100 %"), 7, "the translation has %, and its message has not"),
        (HEAD + OF_A_PAGE.replace("<b>dran</b>", "<script>dran</script>"), 7,
         "the translation of '%(name)s is <b>due</b>' is wrong: it has <s, which its message"),
        (HEAD + COUNTED.replace('msgstr[1] "{count} Schwünge"\n', ""), 6,
         "a message has not all of its 2 plural forms"),
        (HEAD + COUNTED.replace("[1] \"{count}", "[1] \"{counts}"), 6,
         "the translation has {counts}, and its message has not"),
        (HEAD + COUNTED + 'msgstr[2] "zu viel"\n', 11, CANNOT),
        (HEAD.replace("(n != 1)", "n/0"), 4, "the plural rule fails (integer division or modulo by zero)"),
        (HEAD.replace("(n != 1)", "n%(n-900)"), 4, "the plural rule fails (integer modulo by zero)"),
        (HEAD.replace("(n != 1)", "import os"), 4, "the plural rule fails (invalid token in plural form: import)"),
        (HEAD.replace("(n != 1)", "(" * 300 + "n" + ")" * 300), 4, "the plural rule fails"),
        (HEAD.replace("(n != 1)", "n"), 4, "the plural rule asks for form 1000000, and there are 2"),
        (HEAD.replace("nplurals=2", "nplurals=1"), 4, "the plural rule asks for form 1, and there are 1"),
        (HEAD.replace("nplurals=2", "nplurals=999999999"), 4,
         "the number of plural forms (nplurals) cannot be right"),
        (HEAD.replace("nplurals=2", "nplurals=x"), 4, "the number of plural forms (nplurals) cannot be right"),
        (HEAD.replace("utf-8", "utf-99"), 3, "the charset utf-99 is not known"),
        (HEAD.replace("utf-8", "rot13"), 3, "the charset rot13 is not known"),
        ((HEAD + COUNTED).encode("latin-1"), 9, "the byte 0xfc is not utf-8"),
        (HEAD + 'msgid "a"\n', 7, CANNOT),
        (HEAD + 'msgstr[x] "b"\n', 6, CANNOT),
        ('"b"\n', 1, CANNOT),
        (HEAD + "<<<<<<< mine\n", 6, CANNOT),
        (b"\x00\xff" * 20, 1, "the byte 0xff is not utf-8"),
    ],
    ids=lambda value: str(value)[-60:],
)  # fmt: skip
def test_what_is_wrong_is_told_at_its_line(catalogue, line, wrong, tmp_path):
    (first, *_) = told(own(tmp_path, catalogue))
    assert first.startswith(f"languages/de.po:{line}:1: {wrong}")
    assert first.isprintable()


@pytest.mark.parametrize("code", ["xx", "qqq"])
def test_a_language_that_nobody_knows(code, tmp_path):
    assert told(own(tmp_path, HEAD, code)) == [
        f"languages/{code}.po:1:1: nothing is known of a language {code}: neither its dates nor its numbers."
        " Name the file by the ISO 639 code of its language, as in de.po."
    ]


def test_a_link_out_of_the_academy(tmp_path):
    root = own(tmp_path / "academy", HEAD)
    (root / "languages/de.po").unlink()
    (root / "languages/de.po").symlink_to(write(tmp_path, "outside.po", HEAD))
    assert told(root) == ["languages/de.po:1:1: the file is a link out of the academy. Put the file itself there."]


def test_more_than_2_mib(tmp_path):
    assert told(own(tmp_path, HEAD + "# \n" * (1 << 20))) == [
        "languages/de.po:1:1: the file is larger than 2 MiB. Take out what is no message."
    ]


@pytest.mark.parametrize(
    "line", ["#\n", '"a"\n', 'msgid "a"\nmsgstr "b"\n\n', "#, fuzzy\n", "#: a b c d\n", 'msgctxt "a"\n'], ids=str
)
def test_2_mib_take_no_long_time(line, tmp_path):
    root = own(tmp_path, HEAD + 'msgid "a"\nmsgstr "b"\n' + line * ((2 << 20) // len(line) - 100))
    began = time.process_time()
    load_academy(root)
    assert time.process_time() - began < 10


def test_what_is_wrong_in_the_language_of_one_student_is_a_problem_of_that_student_alone(tmp_path):
    root = make_academy(tmp_path, {"languages/de.po": HEAD + SAID.replace("war {value}", "war {valeu}")})
    write(root, STUDENT_FILE, STUDENT + "language: de\n")
    folder = load_academy(root)
    assert folder.shared_problems == ()
    assert len(folder.students["mara-l"].problems) == 1


def test_a_percent_sign_outside_pages_is_a_sign_like_any_other(tmp_path):
    of_a_rule = '#: content/safety\nmsgid "In 90 percent."\nmsgstr "In 90 %."\n'
    assert told(own(tmp_path, HEAD + of_a_rule)) == []


def test_a_whole_catalogue_with_one_slip_stops_nothing_half_made(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA, lessons=1)
    (academy / "languages").mkdir()
    catalogue = written(pseudo("nl", str.upper))
    (academy / "languages" / "nl.po").write_bytes(catalogue.replace(b'msgstr "%(name)s', b'msgstr "%(NAME)s'))
    speak(academy, "nl")
    done = reportgen("publish", academy, "--to", tmp_path / "site")
    assert done.exit_code == 2
    assert "languages/nl.po:" in done.stderr
    (academy / "languages" / "nl.po").write_bytes(catalogue)
    assert load(academy).problems == []
