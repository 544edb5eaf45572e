"""The sound of the strike: found to half a millisecond where it is clear, and not made up where it is not."""

import wave
from pathlib import Path

import numpy as np
import pytest

from reportgen.films.sound import strikes_heard
from tests.films.made import Made, make, run

RATE = 48_000
MADE = Made(rate=60, pictures=120)


def film(folder: Path, clicks: dict[float, float], hum: float = 0.02, hiss: float = 0.001) -> Path:
    """A film of two seconds with `clicks` (when: how loud) of 3 ms over a hum and a hiss, as AAC."""
    rng = np.random.default_rng(7)
    clock = np.arange(2 * RATE) / RATE
    sound = hum * np.sin(2 * np.pi * 180 * clock) + hiss * rng.standard_normal(clock.size)
    for when, loud in clicks.items():
        start = round(when * RATE)
        ring = np.arange(round(0.003 * RATE)) / RATE
        sound[start : start + ring.size] += loud * np.exp(-ring / 0.0008) * rng.uniform(-1, 1, ring.size)
    with wave.open(str(folder / "sound.wav"), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes((sound.clip(-1, 1) * 32767).astype("<i2").tobytes())
    silent = make(folder / "silent.mp4", MADE)
    inputs = ("-i", str(silent), "-i", str(folder / "sound.wav"))
    run(*inputs, "-c:v", "copy", "-c:a", "aac", "-b:a", "128k", str(folder / "film.mp4"))
    return folder / "film.mp4"


@pytest.mark.parametrize("when", [0.5, 1.2345, 1.7771])
def test_a_strike_is_heard_to_half_a_millisecond(when: float, tmp_path: Path) -> None:
    (heard,) = strikes_heard(film(tmp_path, {when: 0.7}), distance_m=0)
    assert heard == pytest.approx(when, abs=0.0005)


def test_sound_takes_2_9_milliseconds_a_metre(tmp_path: Path) -> None:
    made = film(tmp_path, {1.0: 0.7})
    (near,), (far,) = strikes_heard(made, distance_m=0), strikes_heard(made, distance_m=10)
    assert near - far == pytest.approx(0.029)


def test_in_stretched_slow_motion_the_way_of_the_sound_stays(tmp_path: Path) -> None:
    made = film(tmp_path, {1.6: 0.7})
    (heard,) = strikes_heard(made, distance_m=4, stretched=4)
    assert heard == pytest.approx(1.6 / 4 - 0.0116, abs=0.0005)


def test_a_deep_thump_is_no_strike(tmp_path: Path) -> None:
    assert strikes_heard(film(tmp_path, {}, hum=0.6, hiss=0.003)) == ()


def test_the_strikes_of_neighbours_are_told_too_the_loudest_first(tmp_path: Path) -> None:
    heard = strikes_heard(film(tmp_path, {0.4: 0.5, 1.3: 0.8}), distance_m=0)
    assert heard == pytest.approx((1.3, 0.4), abs=0.0005)


def test_a_film_without_sound_tells_none(tmp_path: Path) -> None:
    assert strikes_heard(make(tmp_path / "film.mp4", MADE)) == ()


def test_a_film_of_silence_tells_none(tmp_path: Path) -> None:
    assert strikes_heard(film(tmp_path, {}, hum=0, hiss=0)) == ()
