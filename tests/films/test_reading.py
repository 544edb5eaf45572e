"""Sixty films made by rule, each read rightly, picture by picture and time by time, or refused in words."""

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from reportgen.films.needs import FilmError
from reportgen.films.reading import film_facts, pictures, pictures_at
from tests.films.made import Made, make, number_in, run

GOOD = {
    **{
        f"{codec[3:]}-{depth}-bit-{rate:g}-a-second": Made(f"{codec}", depth, rate)
        for codec in ("libx264", "libx265") for depth in (8, 10) for rate in (24, 29.97, 60, 120, 240)
    },
    **{
        f"{codec[3:]}-turned-{turned}": Made(codec, rate=60, turned=turned)
        for codec in ("libx264", "libx265") for turned in (90, 180, 270)
    },
    **{
        f"{codec[3:]}-{depth}-bit-uneven-{rate:g}": Made(codec, depth, rate, uneven=True)
        for codec in ("libx264", "libx265") for depth in (8, 10) for rate in (30, 240)
    },
    **{f"265-{pictures}-pictures": Made("libx265", pictures=pictures) for pictures in (2, 3, 9, 100)},
    "264-mirrored": Made(mirrored=True),
    "264-mirrored-and-turned": Made(turned=90, mirrored=True),
    "264-with-sound": Made(sound=True, rate=60),
    "265-with-sound-turned": Made("libx265", 10, 120, 270, sound=True),
}  # fmt: skip
OPTIONS = {
    "264-head-first": ("-movflags", "+faststart"),
    "264-in-pieces": ("-bf", "0", "-movflags", "frag_keyframe+empty_moov"),
    "264-old-mov": ("-f", "mov"),
}


def read(file: Path, **how: float) -> tuple[list[int], list[float]]:
    """The numbers that the pictures show, and their times."""
    given = list(pictures(file, **how))
    assert [one.number for one in given] == list(range(len(given)))
    return [number_in(one.pixels) for one in given], [one.time for one in given]


@pytest.mark.parametrize("name", GOOD)
def test_every_picture_is_read_upright_in_order_with_its_time(name: str, tmp_path: Path) -> None:
    made = GOOD[name]
    numbers, times = read(make(tmp_path / "film.mp4", made))
    assert numbers == list(range(made.pictures))
    assert times == pytest.approx(made.times, abs=2e-5)
    # What is asked for by its time is the same picture, with less of the film decoded.
    some = sorted({made.pictures // 4, made.pictures // 2 + 1, made.pictures - 1} & set(numbers))
    picked = pictures_at(tmp_path / "film.mp4", [times[number] for number in some])
    assert [number_in(one.pixels) for one in picked] == some


@pytest.mark.parametrize("name", OPTIONS)
def test_every_arrangement_of_a_file_is_read(name: str, tmp_path: Path) -> None:
    numbers, times = read(make(tmp_path / "film.mov", Made(), *OPTIONS[name]))
    assert (numbers, times) == (list(range(20)), pytest.approx(Made().times, abs=2e-5))


@pytest.mark.parametrize("name", ["film.MOV", "film.m4v", "film.heic", "film"])
def test_a_film_is_known_by_what_is_in_it_whatever_its_name(name: str, tmp_path: Path) -> None:
    whole = make(tmp_path / "film.mp4", Made())
    numbers, _ = read(whole.rename(tmp_path / name))
    assert numbers == list(range(20))


def test_a_film_that_was_trimmed_begins_where_it_was_trimmed(tmp_path: Path) -> None:
    whole = make(tmp_path / "whole.mp4", Made("libx265", rate=30, pictures=40))
    run("-ss", "0.4", "-i", str(whole), "-c", "copy", str(tmp_path / "trimmed.mp4"))
    numbers, times = read(tmp_path / "trimmed.mp4")
    assert numbers == list(range(numbers[0], 40))
    assert np.diff(times) == pytest.approx(1 / 30, abs=1e-3)


def test_a_count_in_the_head_that_lies_is_not_believed(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made())
    data = bytearray(file.read_bytes())
    at = data.index(b"mdhd") + 4 + 4 + 8 + 4
    data[at : at + 4] = (7).to_bytes(4)  # the track's length: a seventh of a millisecond
    file.write_bytes(bytes(data))
    assert read(file)[0] == list(range(20))


def refused(tmp_path: Path, name: str) -> Path:
    """A file that is no film to be read."""
    file, whole = tmp_path / name, tmp_path / "whole.mp4"
    if name.startswith(("cut", "holed")):
        make(whole, Made(sound=True, pictures=60), *(("-movflags", "+faststart") if "head-first" in name else ()))
        data = whole.read_bytes()
        share = 0.999 if "last-byte" in name else 0.02 if "nearly-all" in name else 0.6
        file.write_bytes(data[: int(len(data) * share)])
    elif name == "sound-alone.mp4":
        run("-f", "lavfi", "-i", "sine=duration=1", "-c:a", "aac", str(file))
    elif name == "one-picture.mp4":
        make(file, Made(pictures=1))
    elif name == "other-codec.mp4":
        run("-f", "lavfi", "-i", "testsrc=size=64x64:duration=1", "-c:v", "mpeg4", str(file))
    elif name == "matroska.mp4":
        run("-f", "lavfi", "-i", "testsrc=size=64x64:duration=1", "-f", "matroska", str(file))
    elif name == "still.mov":
        file.write_bytes((Path(__file__).parent / "turned.heic").read_bytes())
    else:
        file.write_bytes(TEXTS[name])
    return file


TEXTS = {
    "empty.mp4": b"",
    "letter.mov": b"Dear Anna, here is the film of Tuesday.\n",
    "list-of-addresses.mp4": b"#EXTM3U\n#EXTINF:1,\nhttp://127.0.0.1:9/film.ts\n",
    "joined.mp4": b"ffconcat version 1.0\nfile /etc/passwd\n",
    "zeros.mp4": bytes(5000),
    "nothing-but-a-head.mp4": b"\x00\x00\x00\x10ftypisom\x00\x00\x00\x00",
    "a-box-of-nothing.mov": b"\x00\x00\x00\x08moov",
}
WORDS = {
    **dict.fromkeys(
        ["cut.mp4", "cut-head-first.mp4", "cut-last-byte.mp4", "cut-head-first-nearly-all.mp4"], "cut short"
    ),
    "empty.mp4": "empty",
    "letter.mov": "not a MOV or MP4",
    "list-of-addresses.mp4": "not a MOV or MP4",
    "joined.mp4": "not a MOV or MP4",
    "zeros.mp4": "not a MOV or MP4",
    "nothing-but-a-head.mp4": "cut short",
    "a-box-of-nothing.mov": "broken or cut short|no picture",
    "sound-alone.mp4": "only sound",
    "one-picture.mp4": "1 pictures",
    "other-codec.mp4": "H.264 or HEVC",
    "matroska.mp4": "not a MOV or MP4",
    "still.mov": "still picture",
}


@pytest.mark.parametrize("name", WORDS)
def test_what_is_no_whole_film_is_refused_in_words(name: str, tmp_path: Path) -> None:
    file = refused(tmp_path, name)
    with pytest.raises(FilmError, match=WORDS[name]) as refusal:
        list(pictures(file))
    assert str(refusal.value).startswith(f"{name}: ")


def test_sixty_films_are_made() -> None:
    others = 4 + 1 + 1  # names, trimmed, a lying head
    assert len(GOOD) + len(OPTIONS) + len(WORDS) + others >= 60


def test_the_head_tells_codec_depth_rate_and_sound(tmp_path: Path) -> None:
    facts = film_facts(make(tmp_path / "film.mp4", Made("libx265", 10, 240, 90, sound=True)))
    assert (facts.codec, facts.bits, facts.coded, facts.sound) == ("hevc", 10, (96, 128), True)
    assert facts.rate == pytest.approx(240, rel=0.06)
    assert (facts.stretched, facts.may_be_stretched) == (None, False)


def test_a_tag_tells_by_how_much_slow_motion_was_stretched(tmp_path: Path) -> None:
    tag = ("-movflags", "use_metadata_tags", "-metadata", "com.android.capture.fps=240")
    facts = film_facts(make(tmp_path / "film.mp4", Made(pictures=60), *tag))
    assert facts.stretched == pytest.approx(8, rel=0.05)
    assert not facts.may_be_stretched


def test_a_film_of_30_a_second_without_a_tag_may_be_stretched_and_is_read_as_it_is_told(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made())
    assert film_facts(file).may_be_stretched
    assert read(file, stretched=8)[1] == pytest.approx([time / 8 for time in Made().times], abs=1e-5)


def test_pictures_that_are_not_asked_for_are_counted_and_not_given(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made("libx265"))
    assert [(one.number, number_in(one.pixels)) for one in pictures(file, only={3, 17})] == [(3, 3), (17, 17)]


def test_a_picture_comes_before_the_film_is_read_to_its_end(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made(pictures=200), "-movflags", "+faststart")
    data = bytearray(file.read_bytes())
    data[len(data) // 2 :] = bytes(len(data) - len(data) // 2)  # whole by its boxes, broken half-way
    file.write_bytes(bytes(data))
    given = pictures(file)
    assert number_in(next(given).pixels) == 0


def test_a_large_picture_is_brought_to_size_and_keeps_its_shape(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made())
    assert next(pictures(file, longest=64)).pixels.shape == (48, 64, 3)


def test_pixels_that_are_not_square_are_made_square(tmp_path: Path) -> None:
    file = make(tmp_path / "film.mp4", Made(), "-aspect", "8:3")  # twice as wide as it is stored
    assert next(pictures(file)).pixels.shape == (96, 256, 3)


@pytest.mark.skipif(sys.platform != "linux", reason="the memory of a process is told in another way elsewhere")
def test_a_longer_film_takes_no_more_memory_and_large_pictures_are_brought_to_size(tmp_path: Path) -> None:
    file = tmp_path / "film.mp4"
    size = ("-f", "lavfi", "-i", "testsrc=size=1920x1080:rate=60:duration=1", "-pix_fmt", "yuv420p")
    run(*size, "-c:v", "libx264", "-preset", "ultrafast", str(file))
    code = (
        "import sys; from pathlib import Path; from reportgen.films.reading import pictures\n"
        "count = sum(1 for one in pictures(Path(sys.argv[1]), longest=640) if one.pixels.shape == (360, 640, 3))\n"
        "print(count, Path('/proc/self/status').read_text().split('VmHWM:')[1].split()[0])"
    )
    done = subprocess.run([sys.executable, "-c", code, str(file)], capture_output=True, text=True, check=True)
    count, kilobytes = map(int, done.stdout.split())
    assert count == 60
    assert kilobytes < 180_000  # sixty pictures that are held take 186 MB more


@pytest.mark.parametrize("seed", range(12))
def test_a_garbled_film_is_read_or_refused_in_words(seed: int, tmp_path: Path) -> None:
    rng = np.random.default_rng(seed)
    file = make(tmp_path / "film.mp4", Made("libx265", 10, 60, 90))
    data = bytearray(file.read_bytes())
    first = data.index(b"moov") if seed % 2 else 0
    for at in rng.integers(first, len(data), 8):
        data[at] = rng.integers(0, 256)
    file.write_bytes(bytes(data))
    assert outcome(file).startswith(("read", "film.mp4: "))


def outcome(file: Path) -> str:
    """What becomes of a film: "read", or the words that refuse it."""
    try:
        numbers = [one.number for one in pictures(file)]
    except FilmError as refusal:
        return str(refusal)
    return "read" if numbers == list(range(len(numbers))) else "out of order"
