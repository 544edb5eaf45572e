"""How many films are read at once: as many as 700 MB have room for."""

from reportgen.desk.film_reading import MOST_MEGABYTES, has_room
from reportgen.films.reader import megabytes
from reportgen.films.reading import MOST_PIXELS
from reportgen.records.films import FilmFacts


def film(width: int, height: int, bits: int) -> int:
    said = {"codec": "hevc", "bits": bits, "coded": (width, height), "rate": 120, "sound": False}
    return megabytes(FilmFacts.model_validate(said | {"began": None, "stretched": 1, "may_be_stretched": False}))


HD, UHD = film(1920, 1080, 10), film(3840, 2160, 10)


def test_two_films_of_a_swing_are_read_at_once_and_a_third_waits() -> None:
    assert has_room([], HD)
    assert has_room([HD], HD)
    assert not has_room([HD, HD], HD)


def test_a_second_film_of_4k_waits_for_the_first_and_a_smaller_one_does_not() -> None:
    assert not has_room([UHD], UHD)
    assert has_room([UHD], HD)


def test_no_film_that_is_read_at_all_is_too_large_for_a_turn() -> None:
    width, height = 5000, 3200
    assert width * height == MOST_PIXELS
    assert film(width, height, 10) <= MOST_MEGABYTES
