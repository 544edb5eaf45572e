"""What is observed at setup: told in its own words, beside the last time, and never judged."""

import pytest

from reportgen.pipeline import load
from tests.judging.academies import judged, sheet, tell_folder, write_academy


def rows(*texts, club="7-iron"):
    return sheet("", f"club: {club}", "setup:", *(f"  - {{{text}}}" for text in texts))


def lessons(root, texts, student="born: 1986-05-01"):
    return judged(root, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(texts)}, student)


def last(root, *texts):
    (found,) = lessons(root, texts)[-1].setup
    return found


def test_a_word_is_told_with_what_it_means(tmp_path):
    found = last(tmp_path, rows("what: grip, word: weak"))
    assert (found.name, found.says, found.last) == ("Grip", "weak", None)
    assert found.means.startswith("Your hands are turned towards the lead side.")


@pytest.mark.parametrize(
    ("number", "says"),
    [
        ("what: aim, value: 4, unit: deg", "4° to the trail side"),
        ("what: aim, value: -3, unit: deg", "3° to the lead side"),
        ("what: aim, value: 0, unit: deg", "0°"),
        ("what: ball-place, value: 12, unit: cm", "12\u00a0cm behind the lead heel"),
        ("what: ball-place, value: -0.02, unit: m", "2\u00a0cm ahead of the lead heel"),
    ],
)
def test_a_number_is_told_with_the_side_it_is_on(tmp_path, number, says):
    assert last(tmp_path, rows(number)).says == says


def test_a_left_handed_player_is_told_the_same(tmp_path):
    right, left = write_academy(tmp_path / "r", {"2026-03-05": rows("what: aim, value: 4, unit: deg")}), tmp_path / "l"
    write_academy(left, {"2026-03-05": rows("what: aim, value: 4, unit: deg")})
    file = left / "students" / "ines-invented" / "student.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("plays: right", "plays: left"), encoding="utf-8")
    assert tell_folder(load(right))[0].setup == tell_folder(load(left))[0].setup


def test_a_reader_of_imperial_units_reads_of_inches(tmp_path):
    (lesson,) = lessons(tmp_path, [rows("what: ball-place, value: 12, unit: cm")], "born: 1986-05-01\nunits: imperial")
    assert lesson.setup[0].says == "4.7\u00a0in behind the lead heel"


def test_what_was_seen_last_time_stands_beside_it(tmp_path):
    found = last(tmp_path, rows("what: grip, word: strong"), rows("what: grip, word: neutral"))
    assert found.last == "last time, on 5 March: strong"


def test_the_last_time_is_the_latest_lesson_in_which_it_was_looked_at(tmp_path):
    texts = [rows("what: grip, word: strong"), rows("what: grip, word: weak"), rows("what: aim, word: open")]
    found = last(tmp_path, *texts, rows("what: grip, word: neutral"))
    assert found.last == "last time, on 12 March: weak"


@pytest.mark.parametrize(
    "other",
    [
        rows("what: grip, word: strong", club="driver"),
        rows("what: grip, word: strong, club: driver"),
        rows("what: aim, word: open"),
    ],
    ids=["a lesson with another club", "seen with another club", "something else"],
)
def test_another_club_is_no_last_time(tmp_path, other):
    assert last(tmp_path, other, rows("what: grip, word: neutral")).last is None


def test_the_club_is_named_where_it_is_not_the_lessons(tmp_path):
    assert last(tmp_path, rows("what: grip, word: weak, club: driver")).name == "Grip, driver"


def test_the_glance_shows_at_setup_what_was_observed(tmp_path):
    (lesson,) = lessons(tmp_path, [rows("what: grip, word: weak", "what: aim, value: 4, unit: deg")])
    setup, takeaway = lesson.glance[:2]
    assert (setup.moment, setup.verdict, setup.says) == ("setup", None, "observed")
    assert setup.seen == ("Grip: weak", "Aim: 4° to the trail side")
    assert (takeaway.says, takeaway.seen) == ("not measured", ())


def test_one_line_says_it_all(tmp_path):
    texts = [rows("what: grip, word: strong"), rows("what: grip, word: neutral", "what: aim, word: square")]
    assert lessons(tmp_path, texts)[-1].setup_line == (
        "At set-up: grip neutral (last time, on 5 March: strong); aim square."
    )


def test_an_academy_adds_its_own_words(tmp_path):
    own = tmp_path / "setup"
    own.mkdir()
    (own / "shoulders.yaml").write_text(
        "id: shoulders\nname: Shoulders\nexplain: The line of the shoulders.\nsource: our own lessons\n"
        "words: [{id: open, says: a bit open, means: They point to the lead side.}]\n",
        encoding="utf-8",
    )
    found = last(tmp_path, rows("what: shoulders, word: open"))
    assert (found.name, found.says, found.means) == ("Shoulders", "a bit open", "They point to the lead side.")
