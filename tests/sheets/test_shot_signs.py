"""The sign of a column is said once, and + is the trail side after reading, whatever the hand and the device."""

import pytest

from reportgen.records.shot_table import WORDS
from reportgen.records.tables import ColumnOf
from reportgen.sheets.shot_columns import SIDES
from tests.sheets.shot_files import COLUMNS, NUMBER, faults, read

LATERAL = [word for word, one in WORDS.items() if one.side == "target"]
UPRIGHT = [word for word, one in WORDS.items() if one.side is None]


def one_column(word, cell, plays, plus=None):
    """What a table of one cell says, the column being of that word."""
    columns = {word: ColumnOf(column="A", unit=WORDS[word].unit, plus=plus)}
    made, wrong = read(f"A;B\n{cell};\n", plays, columns)
    assert wrong == []
    return made.shots[0].number(word)


def start(cell, plays, plus):
    return one_column("start-direction", cell, plays, plus)


@pytest.mark.parametrize(
    ("plus", "right_handed", "left_handed"),
    [
        ("right of target", 2.0, -2.0),
        ("left of target", -2.0, 2.0),
        ("trail side", 2.0, 2.0),
        ("lead side", -2.0, -2.0),
    ],
)
def test_a_side_of_the_target_turns_with_the_hand_and_a_side_of_the_player_does_not(plus, right_handed, left_handed):
    assert (start("2", "right", plus), start("2", "left", plus)) == (right_handed, left_handed)


@pytest.mark.parametrize("word", LATERAL)
def test_every_lateral_column_of_a_left_handed_player_turns(word):
    assert one_column(word, "3", "left", "right of target") == -3.0
    assert one_column(word, "3", "right", "right of target") == 3.0


@pytest.mark.parametrize("word", UPRIGHT)
def test_no_other_column_turns(word):
    assert one_column(word, "3", "left") == one_column(word, "3", "right") == 3.0


@pytest.mark.parametrize(("plus", "across"), [("toward the toe", 3.0), ("toward the heel", -3.0)])
@pytest.mark.parametrize("plays", ["right", "left"])
def test_toe_and_heel_do_not_turn(plus, across, plays):
    assert one_column("strike-across", "3", plays, plus) == across


@pytest.mark.parametrize("cell", ["2.1R", "2.1 R", "R2.1", "R 2.1", "2.1r", "2.1° R", "2.1 deg R", "2,1R"])
def test_a_letter_tells_the_side(cell):
    assert start(cell, "right", "letters R and L") == 2.1
    assert start(cell, "left", "letters R and L") == -2.1
    assert start(cell.replace("R", "L").replace("r", "l"), "right", "letters R and L") == -2.1


def test_a_letter_behind_what_has_no_side_is_no_number():
    assert faults("Start line;Flew\n2.1;140R\n") == [f"2:5: '140R' is no number. {NUMBER}"]


@pytest.mark.parametrize("cell", ["0", "0.0", "0R", "0.0L"])
def test_nought_needs_no_letter(cell):
    assert start(cell, "right", "letters R and L") == 0


@pytest.mark.parametrize(
    ("cell", "fault"),
    [
        ("2.1", "'2.1' has no letter for its side, and the map says that a letter tells it. "
         "Write R or L behind it, or correct plus: of start-direction."),
        ("-2.1R", "'-2.1R' has a sign and a letter for its side. Keep one of the two."),
        ("2.1RL", "'2.1RL' is no number. Write the number, or leave the cell empty."),
        ("2.1X", "'2.1X' is no number. Write the number, or leave the cell empty."),
    ],
)  # fmt: skip
def test_a_cell_whose_letter_does_not_tell_the_side_is_refused(cell, fault):
    columns = COLUMNS | {"start-direction": ColumnOf(column="Start line", unit="deg", plus="letters R and L")}
    assert faults(f"Start line;Flew\n{cell};140\n", columns=columns) == [f"2:1: {fault}"]


def test_a_table_of_a_left_handed_player_mirrored_gives_the_same_shots():
    columns = {
        word: ColumnOf(column=word, unit=one.unit, plus=SIDES[one.side][0] if one.side else None)
        for word, one in WORDS.items()
    }
    numbers = [{word: 2.5 + shot + 0.1 * at for at, word in enumerate(WORDS)} for shot in range(4)]

    def text(mirrored):
        rows = [
            ";".join(f"{-value if mirrored and word in LATERAL else value:.2f}" for word, value in shot.items())
            for shot in numbers
        ]
        return "\n".join([";".join(WORDS), *rows])

    right, left = read(text(mirrored=False), "right", columns), read(text(mirrored=True), "left", columns)
    assert right == left
    assert right[0].shots[0].side == pytest.approx(numbers[0]["side"])
