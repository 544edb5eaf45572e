"""Tables as devices, spreadsheets and hands write them: each is read rightly, or refused at its line and column."""

from itertools import product

import pytest

from tests.sheets.shot_files import NUMBER, ROWS, SHOTS, changed, faults, shots, table

READ_RIGHTLY = {
    **{
        f"separator {separator!r} with decimals {decimal!r}": table(separator=separator, decimal=decimal)
        for separator, decimal in product(";,\t|", ".,")
    },
    **{f"coded as {coding}": table().encode(coding) for coding in ("utf-8", "utf-8-sig", "utf-16", "cp1252")},
    **{f"line ends {end!r}": table().replace("\n", end).encode() for end in ("\r\n", "\r")},
    "lines above the heading": table(above=["Bay 2; afternoon", "", "Session 9"]),
    "units below the heading": table().replace("Turns\n", "Turns\n;[deg];[m];[rpm]\n"),
    "units below the heading as signs": table().replace("Turns\n", "Turns\n;°;m;1/min\n"),
    "empty lines between": table().replace("\n7-iron;-0.4", "\n\n;;;\n7-iron;-0.4"),
    "no line end at the end": table().rstrip("\n"),
    "separators at the ends of lines": table().replace("\n", ";;\n"),
    "all cells in quotation marks": "\n".join('"' + line.replace(";", '";"') + '"' for line in table().splitlines()),
    "blanks around cells": table().replace(";", " ;  "),
    "the columns in another order": "\n".join(";".join(line.split(";")[::-1]) for line in table().splitlines()),
    "a column that nobody asks for": "\n".join(f"{n};{line}" for n, line in enumerate(table().splitlines())),
    "the heading again in the middle": table().replace("\n7-iron;-0.4", "\nStick;Start line;Flew;Turns\n7-iron;-0.4"),
    "a remark on a line of its own": table().replace("\n7-iron;-0.4", "\nnew ball\n7-iron;-0.4"),
    "a plus sign": changed(1, 1, "+2.1"),
    "a true minus sign": changed(2, 1, "−0.4"),
    "a dash for a minus": changed(2, 1, "–0.4"),
    "a blank behind the sign": changed(2, 1, "- 0.4"),
    "no zero before the point": changed(2, 1, "-.4"),
    "the unit in a cell": changed(1, 2, "138.5 m"),
    "a sign of degrees": changed(1, 1, "2.1°"),
    "the unit written out": changed(1, 2, "138.5 metres"),
    "thousands in groups of a blank": changed(1, 3, "6 120"),
    "thousands in groups of a narrow blank": changed(1, 3, "6\u202f120"),
    "thousands in groups of an apostrophe": changed(1, 3, "6'120"),
    "thousands by a comma, beside decimal points": changed(1, 3, "6,120"),
    "thousands by a point, beside decimal commas": table(decimal=",").replace("6120", "6.120"),
    "thousands and decimals": changed(1, 3, "6,120.0"),
    "more decimals than needed": changed(1, 1, "2.10000"),
    "a club in words": changed(1, 0, "7 Iron"),
    "a club in short": changed(1, 0, "7i"),
    "a labelled mean below": table(below=["Average;1.67;136.3;6185"]),
    "a labelled mean and spread below": table(below=["Mittelwert:;1.67;136.3;6185", "Std. Dev.;1.89;6.05;244"]),
    "a mean without a label below": table(below=[";1.67;136.3;6185"]),
    "a mean and a spread without labels below": table(below=[";1.67;136.3;6185", ";1.89;6.05;244"]),
}
"""Each holds the three shots of `SHOTS`, and nothing else."""

REFUSED = {
    "words": (changed(2, 2, "far"), f"3:13: 'far' is no number. {NUMBER}"),
    "two points": (changed(2, 2, "14.1.0"), f"3:13: '14.1.0' is no number. {NUMBER}"),
    "two signs": (changed(2, 1, "--0.4"), f"3:8: '--0.4' is no number. {NUMBER}"),
    "an exponent": (changed(2, 3, "6e3"), f"3:19: '6e3' is no number. {NUMBER}"),
    "infinity": (changed(2, 3, "inf9"), f"3:19: 'inf9' is no number. {NUMBER}"),
    "a formula": (changed(2, 3, "=5980"), f"3:19: '=5980' is no number. {NUMBER}"),
    "a fraction": (changed(2, 2, "1/2"), f"3:13: '1/2' is no number. {NUMBER}"),
    "a day": (changed(2, 2, "05/03/26"), f"3:13: '05/03/26' is no number. {NUMBER}"),
    "a number in brackets": (changed(2, 1, "(0.4)"), f"3:8: '(0.4)' is no number. {NUMBER}"),
    "groups of two": (changed(2, 3, "59 80"), f"3:19: '59 80' is no number. {NUMBER}"),
    "an endless number": (changed(2, 3, "9" * 400), f"3:19: '{'9' * 59}…' is no number. {NUMBER}"),
    "a serial day of a spreadsheet": (
        changed(2, 2, "45827.474"),
        "3:13: '45827.474' cannot be right for carry. Look at the number and its unit (0 to 400 m); "
        "leave the cell empty where the device missed it.",
    ),
    "an angle beyond a quarter turn": (
        changed(2, 1, "181"),
        "3:8: '181' cannot be right for start-direction. Look at the number and its unit (-90 to 90 deg); "
        "leave the cell empty where the device missed it.",
    ),
    "the unit of another map": (
        changed(2, 2, "154 yd"),
        "3:13: '154 yd' is in yd, and the map says that the column is in m. Correct unit: in columns, or the cell.",
    ),
    "a unit that is none": (changed(2, 2, "154 elbows"), f"3:13: '154 elbows' is no number. {NUMBER}"),
    "another unit below the heading": (
        table().replace("Turns\n", "Turns\n;[deg];[yd];[rpm]\n"),
        "2:8: the line below the heading says yd, and the map says that carry is in m. Correct unit: in columns.",
    ),
    "a letter that the map does not tell of": (
        changed(2, 1, "0.4L"),
        "3:8: '0.4L' has a letter for its side, and the map does not say so. "
        "Write plus: letters R and L for start-direction, or take the letter out.",
    ),
    "a comma that can be both": (
        table([("7-iron", "2", "138", "6,120")]),
        "2:14: '6,120' can be read in two ways, and no other cell of the table tells which. Write 6120 or 6.1200.",
    ),
    "a point that can be both": (
        table([("7-iron", "2", "138", "6.120")]),
        "2:14: '6.120' can be read in two ways, and no other cell of the table tells which. Write 6120 or 6.1200.",
    ),
    "decimal commas that split a line": (
        table(separator=",").replace("-0.4", "-0,4"),
        "3:19: a line has more cells than the heading (7-iron | -0 | 4 | 141.0 | 5980). "
        "Decimal commas may have split it: export with semicolons or decimal points.",
    ),
    "a club that nobody knows": (
        changed(2, 0, "E7"),
        "3:1: the club 'E7' is not known. Say what it is (as 7-iron): means: {E7: ...} in the map for club.",
    ),
    "two columns of one name": (
        table().replace("Turns", "Flew"),
        "1:23: 2 columns are called 'Flew'. Rename all but one of them, or take them out.",
    ),
    "ten thousand rows": (
        table([(club, f"{n / 1000:.4f}", carry, spin) for n in range(10_000) for club, _, carry, spin in ROWS[:1]]),
        "1002:1: the table holds more than 1000 shots. Export the shots of this lesson alone.",
    ),
}
"""Each is refused at one place: line and column in the table, what is wrong, how to mend it."""


@pytest.mark.parametrize("text", READ_RIGHTLY.values(), ids=READ_RIGHTLY)
def test_a_table_is_read_rightly(text):
    assert shots(text) == SHOTS


@pytest.mark.parametrize(("text", "fault"), REFUSED.values(), ids=REFUSED)
def test_a_table_is_refused_at_its_place(text, fault):
    assert faults(text) == [fault]


def test_there_are_sixty_tables():
    assert len(READ_RIGHTLY) + len(REFUSED) >= 60
