"""Files as they come from other programs: encodings, line ends, sizes, pictures, links."""

import os
import struct
import zlib

import pytest
from PIL import ExifTags, Image, ImageFile

from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.drill_files import read_drill
from reportgen.sheets.shipped import shipped
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy, with_picture, write

pytestmark = pytest.mark.usefixtures("library_read_once")
STILL = LESSON + "stills:\n  - {file: ../stills/impact.png, view: face-on, checkpoint: impact}\n"


def told(root):
    return [str(problem) for problem in load_academy(root).problems]


def told_of_lesson(root, content):
    """What is told when the lesson sheet holds these bytes, without its path."""
    lines = told(make_academy(root, {LESSON_FILE: content}))
    assert all(line.startswith(f"{LESSON_FILE}:") for line in lines)
    return [line.removeprefix(f"{LESSON_FILE}:") for line in lines]


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        (
            (LESSON + "focus: Hüfte\n").encode("latin-1"),
            "4:9: the byte 0xfc is not UTF-8. Save the file as UTF-8.",
        ),
        (LESSON.encode("utf-16"), "1:1: the file is saved as UTF-16. Save it as UTF-8."),
        (LESSON.encode("utf-16-le"), "1:1: the file is saved as UTF-16. Save it as UTF-8."),
        (b"", "1:1: the file is empty. Write the sheet, or delete the file."),
        (b" \n\n", "1:1: the file is empty. Write the sheet, or delete the file."),
        (
            LESSON + "focus: ähnlich \x07 hips\n",
            "4:16: the sign U+0007 cannot stand in YAML. Delete it and type the line again.",
        ),
        (
            LESSON + "notes: |\n" + "  More and more.\n" * 70_000,
            "1:1: the file is larger than 1 MiB. A sheet holds a lesson: take out what is not part of it.",
        ),
    ],
    ids=["latin-1", "UTF-16", "UTF-16 without a mark", "empty", "blank", "a bell", "over 1 MiB"],
)
def test_a_file_that_is_no_text_of_a_sheet(content, problem, tmp_path):
    assert told_of_lesson(tmp_path, content) == [problem]


def test_a_file_of_exactly_1_mib_is_read(tmp_path):
    sheet = LESSON + "# "
    assert told_of_lesson(tmp_path, sheet + "x" * ((1 << 20) - len(sheet))) == []


@pytest.mark.parametrize("line_end", ["\r\n", "\r"])
def test_line_ends_of_other_systems_keep_the_places(line_end, tmp_path):
    sheet = LESSON + "notes: |\n  One.\n  Two.\nfokus: hips\n"
    assert told_of_lesson(tmp_path, sheet.replace("\n", line_end)) == [
        "7:1: the key 'fokus' is not known here. Did you mean focus?"
    ]


def test_a_drill_with_line_ends_of_windows_is_read(tmp_path):
    file = shipped("content") / "drills" / "free-lead-heel.md"
    there = write(tmp_path, file.name, file.read_text(encoding="utf-8").replace("\n", "\r\n"))
    sheet, problems = read_drill(there, "drills/free-lead-heel.md")
    assert problems == []
    assert sheet.record == read_drill(file, "drills/free-lead-heel.md")[0].record


def test_a_file_without_a_final_line_end_is_read_to_its_end(tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: LESSON + "focus: hips"})
    assert load_academy(root).students["mara-l"].lessons[0].lesson.focus == "hips"


def test_places_count_letters_not_bytes(tmp_path):
    sheet = LESSON + "practice_log: [{note: Hüfte 🏌 gut, date: 2026-03-01, minuts: 20}]\n"
    assert told_of_lesson(tmp_path, sheet) == ["4:54: the key 'minuts' is not known here. Did you mean minutes?"]


def test_a_key_of_a_thousand_letters_is_not_repeated_whole(tmp_path):
    (line,) = told_of_lesson(tmp_path, LESSON + "y" * 1000 + ": 1\n")
    assert "y" * 59 + "…" in line
    assert "y" * 60 not in line


def test_a_problem_is_one_line_even_where_a_name_holds_a_line_end(tmp_path):
    (line,) = told_of_lesson(tmp_path, LESSON + '"fo\\nkus": hips\n')
    assert "\n" not in line


def png(width, height):
    """The beginning of a PNG picture of that size, and its end; no pixels."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    heading = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", heading) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_a_whole_picture_is_no_problem(kind, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", kind)})
    with_picture(root, kind)
    folder = load_academy(root)
    assert folder.problems == []
    assert folder.students["mara-l"].lessons[0].attached.sizes == {f"../stills/impact.{kind}": (60, 40)}


@pytest.mark.parametrize(
    ("called", "mend"),
    [
        ("Impact.PNG", "There is Impact.PNG: large and small letters count."),
        ("impacts.png", "Did you mean impacts.png?"),
        ("Foto_0031.png", "Look at its name, or take the line out."),
    ],
)
def test_a_picture_that_is_called_otherwise(called, mend, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL})
    with_picture(root, name=called)
    assert told(root) == [f"{LESSON_FILE}:5:12: the picture is not there. {mend}"]


def turned_picture(root, note):
    """A JPEG of 60 × 40 pixels with a note of how it is to be turned."""
    file = with_picture(root, "jpg")
    with Image.open(file) as picture:
        exif = Image.Exif()
        exif[ExifTags.Base.Orientation] = note
        picture.save(file, "JPEG", exif=exif)
    return file


@pytest.mark.parametrize(("note", "size"), [(1, (60, 40)), (6, (40, 60)), (0, (60, 40)), (99, (60, 40))])
def test_a_picture_has_the_size_that_its_note_of_orientation_gives_it(note, size, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", "jpg")})
    turned_picture(root, note)
    folder = load_academy(root)
    assert folder.problems == []
    assert folder.students["mara-l"].lessons[0].attached.sizes == {"../stills/impact.jpg": size}


def test_a_note_of_orientation_that_is_no_number_counts_as_none(tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", "jpg")})
    file = turned_picture(root, 6)
    tagged_as_number, tagged_as_text = b"\x01\x12\x00\x03", b"\x01\x12\x00\x02"
    raw = file.read_bytes()
    assert tagged_as_number in raw
    file.write_bytes(raw.replace(tagged_as_number, tagged_as_text))
    folder = load_academy(root)
    assert folder.problems == []
    assert folder.students["mara-l"].lessons[0].attached.sizes == {"../stills/impact.jpg": (60, 40)}


@pytest.mark.parametrize("kept", [0.4, 0.6, 0.95])
@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_a_picture_cut_short(kind, kept, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", kind)})
    file = with_picture(root, kind)
    whole = file.read_bytes()
    file.write_bytes(whole[: int(len(whole) * kept)])
    assert told(root) == [f"{LESSON_FILE}:5:12: the picture is broken or cut short. Save it again."]


def test_a_picture_cut_short_is_told_where_the_printing_of_pdf_lets_it_pass(tmp_path, monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", "jpg")})
    file = with_picture(root, "jpg")
    file.write_bytes(file.read_bytes()[:-200])
    assert told(root) == [f"{LESSON_FILE}:5:12: the picture is broken or cut short. Save it again."]
    assert ImageFile.LOAD_TRUNCATED_IMAGES


@pytest.mark.parametrize(
    ("size", "wrong"),
    [
        ((5_000, 5_001), "5000 × 5001 pixels, more than 25 million for a PNG. Save it smaller."),
        ((60_000, 60_000), "far too many pixels. Save it smaller."),
        ((1, 60_000), "1 × 60000 pixels, so it shows no player. Cut it to the player."),
        ((60_000, 1), "60000 × 1 pixels, so it shows no player. Cut it to the player."),
        ((20_001, 1_100), "20001 × 1100 pixels, so it shows no player. Cut it to the player."),
        ((2_100, 100), "2100 × 100 pixels, so it shows no player. Cut it to the player."),
    ],
    ids=str,
)
def test_a_picture_out_of_all_proportion(size, wrong, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL, "students/mara-l/stills/impact.png": png(*size)})
    assert told(root) == [f"{LESSON_FILE}:5:12: the picture has {wrong}"]


@pytest.mark.parametrize(
    ("size", "how", "wrong"),
    [
        ((8_000, 6_251), {}, "8000 × 6251 pixels, more than 50 million for a JPEG. Save it smaller."),
        (
            (5_000, 5_001),
            {"progressive": True},
            "5000 × 5001 pixels, more than 25 million for a JPEG saved in steps. Save it smaller.",
        ),
    ],
    ids=["plain", "in steps"],
)
def test_a_photograph_of_too_many_pixels(size, how, wrong, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL.replace("png", "jpg")})
    file = with_picture(root, "jpg")
    Image.new("L", size).save(file, "JPEG", **how)
    assert told(root) == [f"{LESSON_FILE}:5:12: the picture has {wrong}"]


def test_a_picture_of_more_than_64_mib_is_not_read(tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL})
    file = with_picture(root)
    os.truncate(file, 65 << 20)
    assert told(root) == [f"{LESSON_FILE}:5:12: the file is larger than 64 MiB. Save the picture smaller."]


@pytest.mark.parametrize("content", [b"", b"GIF89a" + bytes(40), b"<svg xmlns='http://www.w3.org/2000/svg'/>"])
def test_a_file_that_is_no_picture(content, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL, "students/mara-l/stills/impact.png": content})
    assert told(root) == [f"{LESSON_FILE}:5:12: the file is not a PNG or JPEG picture. Save it as PNG or JPEG."]


def test_a_link_to_a_picture_outside_the_academy(tmp_path):
    outside = with_picture(tmp_path / "elsewhere")
    root = make_academy(tmp_path / "academy", {LESSON_FILE: STILL})
    link = root / "students/mara-l/stills/impact.png"
    link.parent.mkdir()
    link.symlink_to(outside)
    assert told(root) == [f"{LESSON_FILE}:5:12: the file lies outside the academy. Put it into the student's folder."]


def test_a_link_inside_the_academy_is_followed(tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: STILL})
    file = with_picture(root, name="first.png")
    (file.parent / "impact.png").symlink_to(file)
    assert told(root) == []


def test_a_lesson_sheet_that_is_a_link_out_of_the_folder(tmp_path):
    outside = write(tmp_path, "elsewhere/2026-03-05.yaml", LESSON)
    root = make_academy(tmp_path / "academy")
    (root / LESSON_FILE).unlink()
    (root / LESSON_FILE).symlink_to(outside)
    assert told(root) == [
        f"{LESSON_FILE}:1:1: the sheet is a link out of the student's folder. Put the sheet itself there."
    ]


@pytest.mark.parametrize("target", ["2026-03-05.yaml", "nowhere.yaml"])
def test_a_link_that_leads_nowhere(target, tmp_path):
    root = make_academy(tmp_path)
    (root / LESSON_FILE).unlink()
    (root / LESSON_FILE).symlink_to(target)
    (line,) = told(root)
    assert line.startswith(f"{LESSON_FILE}:1:1: ")
