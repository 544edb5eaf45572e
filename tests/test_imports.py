"""An import goes down only, each library is imported in its one room, and nothing heavy loads before it is needed."""

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

import reportgen
from tests.each import for_each

PACKAGE = Path(reportgen.__file__).parent
ACADEMY = PACKAGE.parent / "examples" / "academy"

FLOORS = {
    "__main__": 17, "cli": 16, "commands": 15, "terminal": 15, "history": 15, "desk": 14,
    "preview": 13, "authoring": 13, "personal_data": 13, "publishing": 12, "delivery": 12,
    "pipeline": 10, "failures": 10, "sealing": 10, "pages": 9, "drawing": 8, "saying": 7, "planning": 6, "judging": 5,
    "measuring": 4, "films": 3, "sheets": 2, "posing": 2, "records": 1,
    "languages": 0, "errors": 0, "patience": 0, "rights": 0,
}  # fmt: skip
"""A room may know itself and what stands lower; terminal and history stand beside commands, errors and
rights below all."""

ROOMS_OF = {
    "babel": {"languages"},
    "click": {"cli", "commands"},
    "rich": {"commands/publishing.py", "terminal", "history"},
    "yaml": {"sheets"},
    "ruamel": {"sheets/editing.py"},
    "starlette": {"desk"},
    "uvicorn": {"desk/running.py"},
    "matplotlib": {"drawing"},
    "numpy": {"films", "measuring", "judging"},
    "scipy": {"measuring", "judging"},
    "PIL": {"sheets/picture_files.py", "films/crops.py", "films/packing.py", "films/stills.py", "drawing"},
    "av": {"films/reading.py", "films/sound.py"},
    "pi_heif": {"films/heic.py"},
    "ai_edge_litert": {"films/pose.py"},
    "jinja2": {"pages"},
    "markdown_it": {"pages"},
    "markupsafe": {"pages"},
    "weasyprint": {"pages/engine.py"},
    "tinycss2": {"sheets/style_checks.py"},
    "segno": {"pages/member_letter.py"},
    "distributed": {"publishing/cluster.py"},
    "cryptography": {"sealing/seal.py", "sealing/keyring.py"},
    "pikepdf": {"sealing/locked.py"},
    "filelock": {"publishing/lock.py"},
    "icalendar": {"pages/calendar.py"},
    "font_source_sans_pro": {"drawing/letters.py"},
    "uharfbuzz": {"drawing/letters.py"},
    "pydantic": {"records", "sheets", "saying/translated.py", "desk"},
    "pydantic_core": {"sheets"},
}

FILES = sorted(PACKAGE.rglob("*.py"))


def of_each(files):
    return for_each("file", [(str(file.relative_to(PACKAGE)), file) for file in files])


@cache
def modules_of(file):
    """The module that each import of a file names, deferred and type-checking ones included."""
    return tuple(_modules_of(file))


def _modules_of(file):
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file} has a relative import"
            yield node.module
            if node.module == "reportgen":
                yield from (f"reportgen.{alias.name}" for alias in node.names)


def room_of(file):
    return file.relative_to(PACKAGE).parts[0].removesuffix(".py")


def rooms_known_by(file):
    """The rooms of the package that a file imports from; names like __version__ are no rooms."""
    named = [module.split(".") for module in modules_of(file) if module.split(".")[0] == "reportgen"]
    return {parts[1] for parts in named if len(parts) > 1 and not parts[1].startswith("__")}


def test_every_room_has_a_floor():
    rooms = {room_of(file) for file in PACKAGE.rglob("*.py")} - {"__init__"}
    assert rooms <= set(FLOORS)


@of_each([file for file in FILES if room_of(file) != "__init__"])
def test_an_import_goes_down_only(file):
    room = room_of(file)
    assert {known for known in rooms_known_by(file) if FLOORS[known] > FLOORS[room]} == set()


@pytest.mark.parametrize("room", ["films", "measuring", "judging", "planning", "sheets"])
def test_who_measures_judges_and_plans_knows_no_language(room):
    known = {known for file in (PACKAGE / room).rglob("*.py") for known in rooms_known_by(file)}
    assert not known & ({"saying", "languages"} if room != "sheets" else {"saying"})


def test_rooms_on_one_floor_do_not_know_each_other_both_ways():
    known = {}
    for file in PACKAGE.rglob("*.py"):
        known.setdefault(room_of(file), set()).update(rooms_known_by(file))
    both = [(a, b) for a in known for b in known[a] if a != b and a in known.get(b, ())]
    assert both == []


@of_each(FILES)
def test_each_library_is_imported_in_its_own_room_only(file):
    place = str(file.relative_to(PACKAGE)).replace("\\", "/")
    libraries = {module.split(".")[0] for module in modules_of(file)} - sys.stdlib_module_names - {"reportgen"}
    strange = {lib for lib in libraries if not {place, room_of(file)} & ROOMS_OF.get(lib, set())}
    assert strange == set()


def loaded_after(code, libraries):
    """Which of the libraries a fresh interpreter has loaded after running the code."""
    watch = f"import sys\n{code}\nprint(*sorted(set({sorted(libraries)!r}) & set(sys.modules)), file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", watch], capture_output=True, text=True, check=True, cwd=PACKAGE.parent)
    return done.stdout, done.stderr.splitlines()[-1].split()


def test_the_command_line_starts_without_anything_heavy():
    heavy = {"numpy", "matplotlib", "weasyprint", "scipy", "pydantic", "yaml", "jinja2", "PIL", "rich"}
    assert loaded_after("import reportgen.cli", heavy) == ("", [])


def test_checking_an_academy_draws_prints_and_computes_nothing():
    code = f"from reportgen.cli import main\nmain(['check', {str(ACADEMY)!r}], standalone_mode=False)"
    heavy = {"matplotlib", "weasyprint", "scipy", "jinja2", "markdown_it", "cryptography", "PIL.AvifImagePlugin"}
    said, loaded = loaded_after(code, heavy)
    assert said.startswith("No problems")
    assert loaded == []


def test_drawing_pages_loads_neither_the_painter_of_pixels_nor_the_layout_engine_nor_the_net():
    heavy = {"numpy", "matplotlib", "weasyprint", "scipy", "fontTools", "http.client", "ssl"}
    assert loaded_after("import reportgen.pages.student_site", heavy) == ("", [])


def test_films_load_their_libraries_only_when_a_film_is_read():
    code = "import reportgen.films.swings, reportgen.films.stills, reportgen.films.proposals"
    assert loaded_after(code, {"av", "pi_heif", "ai_edge_litert", "PIL", "scipy"}) == ("", [])


def test_a_publish_without_a_change_loads_nothing_that_makes_or_seals_pages():
    heavy = {"numpy", "matplotlib", "weasyprint", "jinja2", "markdown_it", "uharfbuzz", "PIL", "cryptography"}
    assert loaded_after("import reportgen.publishing.publish", heavy) == ("", [])
