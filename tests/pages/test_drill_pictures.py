"""Figures of drills on the pages of the library and of students, on cards and in the recap."""

import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from reportgen.pages.cards import cards_pdf
from reportgen.pages.drill_library import library_pages
from reportgen.pages.drill_pictures import figure_files, first_figures, shown_figures
from reportgen.pages.student_site import student_site
from reportgen.pipeline import load, reports_of
from reportgen.records.drill_figures import DrillFigure
from reportgen.saying.drill_figures import told_figures
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import SoundAcademy, sound

DEMO = Path(__file__).parents[2] / "examples" / "academy"
DRILL = "seat-on-the-wall"


@pytest.fixture(scope="module")
def folder():
    return load(DEMO, "annika-drosselby")


@pytest.fixture(scope="module")
def home(folder) -> SoundAcademy:
    return sound(folder)


@pytest.fixture(scope="module")
def pages(home: SoundAcademy) -> dict[str, str]:
    return {name: data.decode() for name, data in library_pages(home).items() if name.endswith(".html")}


def test_every_drill_of_the_library_has_its_figures_before_its_words(home: SoundAcademy, pages: dict[str, str]) -> None:
    for drill in home.library.drills.values():
        page = pages[f"{drill.id}.html"]
        assert page.count("<figure") == page.count("<figcaption") == len(drill.figures)
        assert page.index("<figure") < page.index("<h2")


def test_a_figure_says_which_step_it_shows_in_the_words_of_the_drill(pages: dict[str, str]) -> None:
    captions = re.findall(r"<figcaption>(.*?)</figcaption>", pages[f"{DRILL}.html"])
    assert captions[0] == "<b>How it begins</b>"
    assert captions[1] == "<b>Step 1</b> Turn back slowly until you feel your trail hip on the wall."


def test_a_figure_of_a_mistake_is_called_one(pages: dict[str, str]) -> None:
    page = pages["level-belt-start-down.html"]
    assert '<figure class="wrong">' in page
    assert "<b>Not like this</b> Squatting to start." in page
    assert "Dashed ring: what goes wrong." in page


def test_a_figure_has_its_alternative_as_the_title_of_its_drawing(home: SoundAcademy, pages: dict[str, str]) -> None:
    titles = re.findall(r"<svg[^>]*><title>(.*?)</title>", pages[f"{DRILL}.html"])
    assert titles == [told.alt for told in told_figures(home.library.drills[DRILL])]


@pytest.fixture
def with_picture(home: SoundAcademy, tmp_path: Path) -> SoundAcademy:
    """The academy with a picture of its own for one drill, which carries a place in its notes."""
    notes = Image.Exif()
    notes[0x010E] = "Secret garden, 3 Mill Lane"
    Image.effect_noise((1600, 1200), 60).convert("RGB").save(tmp_path / "wall.jpg", exif=notes)
    own = DrillFigure(picture="wall.jpg", alt="The seat touches the wall.")
    drill = home.library.drills[DRILL].model_copy(update={"figures": (own,)})
    library = replace(
        home.library, drills={**home.library.drills, DRILL: drill}, pictures={DRILL: {0: tmp_path / "wall.jpg"}}
    )
    return replace(home, library=library)


def test_a_picture_of_ones_own_is_published_beside_the_page_without_its_notes(with_picture: SoundAcademy) -> None:
    made = library_pages(with_picture)
    page = made[f"{DRILL}.html"].decode()
    (file,) = re.findall(r'<img src="([\w.]+)" alt="The seat touches the wall." width="800" height="600">', page)
    assert made[file].startswith(b"\xff\xd8")
    assert b"Mill Lane" not in made[file]
    assert "Filled limbs" not in page


def test_a_left_handed_student_sees_the_mirror_image(folder, home: SoundAcademy) -> None:
    reports = reports_of(folder.students["annika-drosselby"], home)
    told = tell_all(reports, home.library, reader_of(folder.students["annika-drosselby"].student, home))
    made = {}
    for plays in ("right", "left"):
        turned = [one.model_copy(update={"person": one.person.model_copy(update={"plays": plays})}) for one in told]
        made[plays] = student_site(turned, home, lessons=(), recaps=False)
    drills = [name for name in made["right"] if re.fullmatch(r"drills/(?!index)[\w-]+\.html", name)]
    assert drills
    for name in drills:
        first, second = (re.findall(r"<svg.*?</svg>", made[plays][name].decode()) for plays in ("right", "left"))
        assert len(first) == len(second) > 0
        assert first != second


def test_cards_carry_the_figures_as_lines_and_no_pixels(home: SoundAcademy, tmp_path: Path) -> None:
    drills = [home.library.drills[name] for name in (DRILL, "level-belt-start-down")]
    file = tmp_path / "cards.pdf"
    file.write_bytes(cards_pdf(drills, home, {one.id: shown_figures(one, "right", home.library) for one in drills}))
    with pikepdf.open(file) as pdf:
        assert [list(page.get_images()) for page in pdf.pages] == [[]]
        told = subprocess.run(["pdfinfo", "-struct", str(file)], check=True, capture_output=True, text=True).stdout
    assert told.count("Figure") >= 6


def test_a_card_carries_a_picture_of_ones_own(with_picture: SoundAcademy, tmp_path: Path) -> None:
    drill = with_picture.library.drills[DRILL]
    shown = shown_figures(drill, "right", with_picture.library)
    assert list(figure_files(shown).values()) == [shown[0].data]
    file = tmp_path / "cards.pdf"
    file.write_bytes(cards_pdf([drill], with_picture, {DRILL: shown}))
    with pikepdf.open(file) as pdf:
        assert len(list(pdf.pages[0].get_images())) == 1


def test_the_recap_has_at_most_two_figures_of_a_drill_and_no_mistake(folder, home: SoundAcademy) -> None:
    reports = reports_of(folder.students["annika-drosselby"], home)
    (told,) = tell_all(reports[-1:], home.library, reader_of(folder.students["annika-drosselby"].student, home))
    charts = first_figures(told.drills, "right")
    assert set(charts) == {
        f"drill-{given.drill}-{number}"
        for given in told.drills
        for number in range(min(2, sum(not figure.wrong for figure in given.figures)))
    }
    assert charts
