"""The layout engine without its long ways: no process is started to find its libraries, and fonts are cut as before."""

import subprocess
import sys

import pytest

from reportgen.pages import engine
from reportgen.pages.printing import Stylesheet, ToPrint, print_here


def test_loading_the_engine_starts_no_process() -> None:
    code = (
        "import sys\n"
        "def refuse(event, arguments):\n"
        "    if event in ('subprocess.Popen', 'os.posix_spawn', 'os.fork'):\n"
        "        raise SystemExit(f'{event} {arguments}')\n"
        "sys.addaudithook(refuse)\n"
        "import ctypes.util\n"
        "before = ctypes.util.find_library\n"
        "import reportgen.pages.engine\n"
        "assert ctypes.util.find_library is before\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("values", [[], [7], [3, 5, 8], list(range(1935))])
def test_an_array_of_open_length_is_the_array_that_was_asked_for(values: list[int]) -> None:
    kind = f"hb_codepoint_t[{len(values)}]"
    ours, theirs = engine.ffi.new(kind, values), engine._new(kind, values)
    assert list(ours) == list(theirs) == values
    assert engine.ffi.sizeof(ours) == engine.ffi.sizeof(theirs)


def test_an_array_with_room_for_more_keeps_its_length() -> None:
    assert len(engine.ffi.new("hb_codepoint_t[5]", [1, 2])) == 5


def test_a_pdf_has_the_same_bytes_either_way(monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = ToPrint(
        '<!doctype html><html lang="en"><title>Letters</title><p>Of <b>two</b> <i>kinds</i>, 12°</p>',
        Stylesheet("recap.css", "p { font-family: serif }", "A4"),
    )
    ours = print_here(wanted)()
    monkeypatch.setattr(engine.ffi, "new", engine._new)
    assert print_here(wanted)() == ours


def test_loading_the_engine_loads_nothing_that_cuts_faces() -> None:
    code = (
        "import sys\nimport reportgen.pages.engine\nprint([m for m in sys.modules if m.startswith('fontTools.')])\n"
        "from fontTools import subset\nfrom fontTools.varLib.instancer import instantiateVariableFont\n"
        "assert subset.Subsetter.subset and instantiateVariableFont.__module__ == 'fontTools.varLib.instancer'"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "fontTools.ttLib" in done.stdout
    assert "fontTools.subset" not in done.stdout
    assert "fontTools.varLib" not in done.stdout


def test_without_the_c_library_faces_are_cut_all_the_same() -> None:
    code = (
        "import io, warnings\nimport pikepdf\nwarnings.simplefilter('ignore')\n"
        "import reportgen.pages.engine as engine\n"
        "from weasyprint.pdf import fonts\n"
        "fonts.harfbuzz_subset = None\n"
        "made = engine.HTML(string='<p>Cut').write_pdf()\n"
        "with pikepdf.open(io.BytesIO(made)) as pdf:\n"
        "    print(max(len(o.read_bytes()) for o in pdf.objects if isinstance(o, pikepdf.Stream)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) < 50_000
