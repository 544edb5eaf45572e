"""Where the phones stand and how the sticks lie, from above: a drawing of the guide."""

from reportgen.drawing.from_above import foot
from reportgen.drawing.plate import Look, Plate
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import EDGE, HAIR, INK, LINE, MUTED, RULE, SMALL
from reportgen.saying.charts import label_of, of_the_stand

WIDTH, HEIGHT = 440.0, 184.0
FEET = (232.0, 160.0)
"""The middle between the feet, in points; the target is to the right, and the ball below, as in a face-on picture."""
BALL_LINE = 106.0
TOES = 140.0
ACROSS = 274.0
"""Where the stick square to the target line lies, from the left."""
FACE_ON, DOWN_THE_LINE = (232.0, 14.0), (26.0, 136.0)
"""The phones. The drawing is not to scale: they stand further away."""


def stand() -> Drawing:
    """Phones and sticks about a right-handed player, 6 inch wide."""
    return to_drawing(stand_plate(), of_the_stand())


def stand_plate() -> Plate:
    """The plate of `stand`."""
    plate = Plate.blank(WIDTH, HEIGHT)
    _sights(plate)
    _player(plate)
    for ends in ([(196.0, TOES), (286.0, TOES)], [(ACROSS, TOES - 4), (ACROSS, 62.0)]):
        plate.line(ends, INK, 3.4, cap="round")
    plate.label((294, TOES - 3), label_of("stick along the target line"), SMALL, INK, weight="semibold")
    plate.label((ACROSS + 8, 70), label_of("stick square to it"), SMALL, INK, weight="semibold")
    _phones(plate)
    return plate


def _player(plate: Plate) -> None:
    """Feet, ball, and the target line with its arrow."""
    x, y = FEET
    foot(plate, x + 20, y, 18, -1)
    foot(plate, x - 20, y, 4, -1)
    plate.line([(150, BALL_LINE), (WIDTH - 24, BALL_LINE)], MUTED, HAIR)
    plate.arrow_head(WIDTH - 20, BALL_LINE, MUTED, "right")
    plate.label((WIDTH - 20, BALL_LINE - 12), label_of("target"), SMALL, align="right")
    plate.rings([(x + 3, BALL_LINE)], 6, INK, LINE)
    plate.label((x - 4, BALL_LINE + 5), label_of("ball"), SMALL, align="right")


def _sights(plate: Plate) -> None:
    """Where the phones look."""
    for phone, end in ((FACE_ON, (FACE_ON[0], FEET[1])), (DOWN_THE_LINE, (196.0, DOWN_THE_LINE[1]))):
        plate.line([phone, end], RULE, LINE, dashes=(4, 3))


def _phones(plate: Plate) -> None:
    look = Look(fill=EDGE, edge=INK, width=LINE)
    for (x, y), across, up in ((FACE_ON, 12.0, 3.0), (DOWN_THE_LINE, 3.0, 12.0)):
        plate.polygon([(x - across, y - up), (x + across, y - up), (x + across, y + up), (x - across, y + up)], look)
    plate.label((FACE_ON[0] + 18, FACE_ON[1] - 3), label_of("phone, face-on"), SMALL, INK, weight="semibold")
    plate.label((FACE_ON[0] + 7, 38), label_of("4 m or more"), SMALL)
    x, y = DOWN_THE_LINE
    plate.label((x - 10, y + 18), label_of("phone, down-the-line"), SMALL, INK, weight="semibold")
    plate.label((x + 44, y - 12), label_of("4 m or more"), SMALL)
