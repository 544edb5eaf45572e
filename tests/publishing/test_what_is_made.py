"""What a publish makes, keeps and takes away."""

import re
import shutil

from tests.publishing.conftest import Small
from tests.publishing.small import (
    BETTINA,
    PETRA,
    area_of,
    areas,
    break_sheet,
    change_sheet,
    contents,
    reportgen,
    sheets,
    times,
)


def test_a_broken_sheet_holds_up_only_its_student(small: Small) -> None:
    petra, bettina = area_of(small.site, "Petra"), area_of(small.site, "Bettina")
    good, written = contents(petra), times(petra)
    sheet = break_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)

    result = reportgen("publish", small.academy, "--to", small.site)

    assert result.exit_code == 1
    assert result.stdout == f"1 student made, 0 unchanged, 1 left as they were: {small.site}\n"
    assert (contents(petra), times(petra)) == (good, written)
    assert "A new focus" in (bettina / "index.html").read_text(encoding="utf-8")
    problem, summary = result.stderr.splitlines()
    assert problem.startswith(f"{sheet.relative_to(small.academy).as_posix()}:3:7: ")
    assert summary.startswith("1 problem: ")


def test_the_desk_shows_the_problem_and_leads_to_the_last_good_pages(small: Small) -> None:
    sheet = break_sheet(small.academy, PETRA)
    reportgen("publish", small.academy, "--to", small.site)
    desk = (small.site / "desk" / "index.html").read_text(encoding="utf-8")
    assert f"{sheet.relative_to(small.academy).as_posix()}:3:7" in desk
    assert f"../upload/s/{area_of(small.site, 'Petra').name}/index.html" in desk


def test_a_mended_sheet_publishes_again(small: Small) -> None:
    before = contents(small.site)
    whole = sheets(small.academy, PETRA)[-1].read_bytes()
    break_sheet(small.academy, PETRA)
    reportgen("publish", small.academy, "--to", small.site)
    sheets(small.academy, PETRA)[-1].write_bytes(whole)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert contents(small.site) == before


def test_one_student_alone(small: Small) -> None:
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    before = contents(area_of(small.site, "Bettina"))
    result = reportgen("publish", small.academy, "--to", small.site, "--student", PETRA)
    assert (result.exit_code, result.stdout) == (0, f"1 student made: {small.site}\n")
    assert "A new focus" in (area_of(small.site, "Petra") / "index.html").read_text(encoding="utf-8")
    assert contents(area_of(small.site, "Bettina")) == before


def test_one_student_alone_leaves_the_others_to_the_next_publish(small: Small) -> None:
    change_sheet(small.academy, BETTINA)
    reportgen("publish", small.academy, "--to", small.site, "--student", PETRA, "--afresh")
    result = reportgen("publish", small.academy, "--to", small.site)
    assert result.stdout == f"1 student made, 1 unchanged: {small.site}\n"


def test_one_student_alone_in_a_new_place_has_style_and_desk(small: Small) -> None:
    new = small.site.parent / "new"
    reportgen("publish", small.academy, "--to", new, "--student", PETRA)
    assert [area.name for area in areas(new)] == [area_of(small.site, "Petra").name]
    assert (new / "upload" / "assets" / "style.css").is_file()
    assert (new / "desk" / "index.html").is_file()


def test_the_pages_of_a_removed_sheet_go(small: Small) -> None:
    gone = sheets(small.academy, BETTINA)[0]
    area = area_of(small.site, "Bettina")
    assert (area / gone.stem).is_dir()
    gone.unlink()
    reportgen("publish", small.academy, "--to", small.site)
    assert not (area / gone.stem).exists()
    assert gone.stem not in (area / "index.html").read_text(encoding="utf-8")


def test_a_student_whose_last_sheet_is_removed_has_no_pages(small: Small) -> None:
    area = area_of(small.site, "Petra")
    for sheet in sheets(small.academy, PETRA):
        sheet.unlink()
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert not area.exists()
    assert area.name not in (small.site / "desk" / "index.html").read_text(encoding="utf-8")


def test_the_area_of_a_removed_student_goes(small: Small) -> None:
    area, other = area_of(small.site, "Petra"), area_of(small.site, "Bettina")
    shutil.rmtree(small.academy / "students" / PETRA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert not area.exists()
    assert other.is_dir()


def test_an_area_that_somebody_deleted_is_made_again(small: Small) -> None:
    before = contents(small.site)
    shutil.rmtree(area_of(small.site, "Petra"))
    reportgen("publish", small.academy, "--to", small.site)
    assert contents(small.site) == before


def test_a_drill_of_the_academys_own_makes_every_page_again(small: Small) -> None:
    from reportgen.sheets.shipped import shipped

    (small.academy / "drills").mkdir()
    shipped_drill = shipped("content") / "drills" / "pendulum-swings.md"
    own = shipped_drill.read_text(encoding="utf-8").replace("title: ", "title: Our ", 1)
    (small.academy / "drills" / "pendulum-swings.md").write_text(own, encoding="utf-8")
    result = reportgen("publish", small.academy, "--to", small.site)
    assert result.stdout == f"2 students made, 0 unchanged: {small.site}\n"
    assert "Our Pendulum swings" in (small.site / "upload" / "library" / "index.html").read_text(encoding="utf-8")


def test_another_secret_moves_every_student(small: Small) -> None:
    before = {area.name for area in areas(small.site)}
    academy = small.academy / "academy.yaml"
    academy.write_text(academy.read_text(encoding="utf-8").replace("nine slow herons", "four slow herons"), "utf-8")
    reportgen("publish", small.academy, "--to", small.site)
    after = {area.name for area in areas(small.site)}
    assert len(after) == 2
    assert not before & after


def test_a_broken_academy_file_touches_nothing(small: Small) -> None:
    academy = small.academy / "academy.yaml"
    academy.write_text(academy.read_text(encoding="utf-8").replace("paper: A4", "paper: A3"), encoding="utf-8")
    before = (contents(small.site), times(small.site))
    result = reportgen("publish", small.academy, "--to", small.site)
    assert (result.exit_code, result.stdout) == (2, "")
    problem, why = result.stderr.splitlines()
    assert problem.startswith("academy.yaml:")
    assert why == "There are problems that touch every student. Mend them first."
    assert (contents(small.site), times(small.site)) == before


def test_the_academy_is_left_as_it_is(small: Small) -> None:
    before = (contents(small.academy), times(small.academy))
    break_nothing = ("publish", small.academy, "--to", small.site, "--afresh")
    for command in (break_nothing, ("check", small.academy), ("findings", small.academy, PETRA)):
        assert reportgen(*command).exit_code == 0
    assert reportgen("recap", small.academy, PETRA, "--to", small.site.parent / "a.pdf").exit_code == 0
    assert (contents(small.academy), times(small.academy)) == before


def test_a_student_who_leaves_is_said_to_be_taken_away(small: Small) -> None:
    shutil.rmtree(small.academy / "students" / PETRA)
    (small.academy / "students" / "Old stuff").mkdir()
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.stdout == f"0 students made, 1 unchanged, 1 taken away: {small.site}\n"


def test_who_gets_another_address_is_not_said_to_be_taken_away(small: Small) -> None:
    academy = small.academy / "academy.yaml"
    text = academy.read_text(encoding="utf-8")
    academy.write_text(re.sub(r"secret: .*", "secret: another-secret-of-at-least-32-letters", text), encoding="utf-8")
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.stdout == f"2 students made, 0 unchanged: {small.site}\n"
