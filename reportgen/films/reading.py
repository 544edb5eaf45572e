"""A film is decoded once, from its beginning, and its pictures are known by their time stamps.

Where it was read before, what some of its pictures rest on is decoded and no more. Nothing is sought in it: in HEVC
with open groups of pictures a decoder that jumps in gives a wrong picture now and then.
Nothing is believed of what its header counts.
"""

from bisect import bisect_left
from collections.abc import Container, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, cast

import numpy as np
from numpy.typing import NDArray

from reportgen.films.boxes import whole_film
from reportgen.films.needs import FilmError, needed
from reportgen.records.films import FilmFacts

if TYPE_CHECKING:
    from av import Packet, VideoFrame
    from av import VideoCodecContext as CodecContext
    from av.container import InputContainer
    from av.video.stream import VideoStream

CODECS = {"h264": "h264", "hevc": "hevc"}
LONGEST = 1920
"""Pixels of a picture's longer side, at most: a picture of 4K is brought to this while it is read."""
MOST_PIXELS = 16_000_000
"""Of a film's picture: 4K and some more. Of 8K the ten that a decoder holds take a gigabyte."""
SHORTEST = 2
"""Pictures of a film, at least."""
_SAME_S = 2e-5
"""Times that differ by no more are of one picture: those of moments are rounded."""
_CAPTURE_RATES = ("com.android.capture.fps",)
"""Tags that name the rate at which a stretched film was taken."""
_BEGAN = ("com.apple.quicktime.creationdate", "creation_time")
_ABOUT_30 = (20.0, 32.0)
"""Pictures a second of films that can be stretched slow motion."""

Pixels = NDArray[np.uint8]
"""(height, width, 3): red, green, blue, upright."""
Matrix = tuple[int, int, int, int]


class Picture(NamedTuple):
    """The picture of that `number` in its film (the first is 0), taken `time` seconds on the film's own clock: seconds
    of the world, as slow motion that was stretched is put right."""

    number: int
    time: float
    pixels: Pixels


def film_facts(file: Path) -> FilmFacts:
    """What the head of a film says, without decoding a picture. Raises FilmError for what cannot be read as a film,
    MissingFilmLibraryError without the extra `film`, OSError."""
    with opened_film(file) as (container, video):
        context = video.codec_context
        tags = _tags(container, video)
        rate = float(video.average_rate or video.guessed_rate or 0)
        stretched = _stretch_said(tags, rate)
        return FilmFacts(
            codec="hevc" if context.name == "hevc" else "h264",
            bits=context.format.components[0].bits if context.format else 8,
            coded=(context.width, context.height),
            rate=rate,
            sound=bool(container.streams.audio),
            began=_began(tags),
            stretched=stretched,
            may_be_stretched=stretched is None and _ABOUT_30[0] < rate < _ABOUT_30[1],
        )


def pictures(
    file: Path, *, longest: int = LONGEST, stretched: float = 1, only: Container[int] | None = None
) -> Iterator[Picture]:
    """The pictures of a film as they are decoded, upright, none larger than `longest` pixels.

    `stretched` is by how much the film plays slower than the world: 8 where 240 pictures a second were stretched to 30.
    With `only`, other pictures are counted and not given out. Raises FilmError, at the picture where it is met, for
    what cannot be read; MissingFilmLibraryError; OSError.
    """
    number, before, matrix = 0, -float("inf"), None
    with opened_film(file) as (container, video):
        for frame in _decoded(container, video, file):
            if frame.pts is None or frame.is_corrupt:
                continue
            matrix = matrix or _matrix(frame)
            time = float(frame.pts * cast(Fraction, frame.time_base)) / stretched
            if time <= before:  # a second picture of the same time stamp takes no time
                continue
            before = time
            if only is None or number in only:
                yield Picture(number, time, _upright(frame, longest, video, matrix))
            number += 1
    if number < SHORTEST:
        raise FilmError(f"{file.name}: the film has {number or 'no'} pictures. Film again, or send the still alone.")


def pictures_at(
    file: Path, times: Sequence[float], *, longest: int = LONGEST, stretched: float = 1
) -> Iterator[Picture]:
    """The pictures that were taken at `times` (s on the film's own clock, ascending), each numbered by its place there.

    Only what they rest on is decoded: what comes from the last key picture but one before the first of them on, and of
    that no picture that no other rests on. A time at which the film has no picture is left out. Raises what `pictures`
    does.
    """
    begin, matrix = _begin(file, times[0] * stretched), None
    with opened_film(file) as (container, video):
        base, left = cast(Fraction, video.time_base), set(range(len(times)))
        video.codec_context.thread_count = 1  # packet by packet a second thread waits, and costs a tenth more
        for place, packet in enumerate(_packets(container, video, file)):
            if place < begin and packet.pts is not None:
                continue
            asked = packet.pts is not None and _nearest(times, float(packet.pts * base) / stretched) in left
            video.codec_context.skip_frame = "DEFAULT" if asked else "NONREF"
            for frame in _frames(packet, file):
                matrix = matrix or _matrix(frame)
                number = None if frame.pts is None else _nearest(times, float(frame.pts * base) / stretched)
                if number in left and not frame.is_corrupt:
                    left.remove(number)
                    yield Picture(number, times[number], _upright(frame, longest, video, matrix))
            if not left:
                return


def _nearest(times: Sequence[float], time: float) -> int | None:
    """The place of a time among others, which may be rounded."""
    after = bisect_left(times, time - _SAME_S)
    return after if after < len(times) and times[after] <= time + _SAME_S else None


def _begin(file: Path, second: float) -> int:
    """The place of the packet to decode from for what is shown at that second. It is one key picture further back than
    is needed: what leads over from one to the next rests on both."""
    with opened_film(file) as (container, video):
        base = cast(Fraction, video.time_base)
        keys = [
            place
            for place, packet in enumerate(_packets(container, video, file))
            if packet.is_keyframe and packet.pts is not None and packet.pts * base <= second
        ]
    return keys[-2] if len(keys) > 1 else 0


@contextmanager
def opened_film(file: Path) -> Iterator[tuple["InputContainer", "VideoStream"]]:
    """A film and its pictures' track, for as long as they are read. Raises what `film_facts` does."""
    with needed("Reading films"):
        import av
    whole_film(file)
    # The format is given and the file is ours: whatever its bytes say, no other reader and no address is opened.
    with file.open("rb") as stream:
        try:
            container = cast("InputContainer", av.open(stream, format="mov", metadata_errors="replace"))
        except (av.FFmpegError, ValueError) as error:
            raise _broken(file) from error
        with container:
            yield container, _video_of(container, file)


def _video_of(container: "InputContainer", file: Path) -> "VideoStream":
    shown = [one for one in container.streams.video if not one.disposition & one.disposition.attached_pic]
    if not shown:
        what = "only sound" if container.streams.audio else "no picture"
        raise FilmError(f"{file.name}: there is {what} in it. Send the film itself.")
    video = shown[0]
    context = cast("CodecContext | None", video.codec_context)
    if context is None or context.name not in CODECS:
        name = "unknown" if context is None else context.name
        raise FilmError(
            f"{file.name}: its pictures are packed in a way that is not read ({name}). "
            "Set the camera to H.264 or HEVC, or convert the film to one of them."
        )
    if not 0 < context.width * context.height <= MOST_PIXELS:
        size = f"{context.width} × {context.height}"
        raise FilmError(f"{file.name}: its pictures are too large ({size} pixels). Film in 4K or less.")
    context.thread_type = "AUTO"
    context.thread_count = 2  # each thread keeps pictures of its own: of 4K two are enough
    return video


def _decoded(container: "InputContainer", video: "VideoStream", file: Path) -> "Iterator[VideoFrame]":
    for packet in _packets(container, video, file):
        yield from _frames(packet, file)


def _packets(container: "InputContainer", video: "VideoStream", file: Path) -> "Iterator[Packet[VideoStream]]":
    import av

    try:
        yield from container.demux(video)
    except av.FFmpegError as error:
        raise _broken(file) from error


def _frames(packet: "Packet[VideoStream]", file: Path) -> "list[VideoFrame]":
    import av

    try:
        return packet.decode()
    except av.FFmpegError as error:
        raise _broken(file) from error


def _broken(file: Path) -> FilmError:
    return FilmError(f"{file.name}: the film is broken or cut short. Copy it from the phone again.")


def _upright(frame: "VideoFrame", longest: int, video: "VideoStream", matrix: Matrix) -> Pixels:
    """The picture in colours of a screen, scaled while it is unpacked, square pixels, turned as it was held."""
    aspect = float(video.sample_aspect_ratio or 1)
    width, height = frame.width * aspect, float(frame.height)
    scale = min(1.0, longest / max(width, height))
    size = max(2, round(width * scale)), max(2, round(height * scale))
    pixels = cast(Pixels, frame.to_ndarray(format="rgb24", width=size[0], height=size[1]))
    return _turned(pixels, matrix)


def _matrix(frame: "VideoFrame") -> Matrix:
    """a, b, c, d of the display matrix (ISO/IEC 14496-12, 8.3.2): a point x, y is shown at a·x + c·y, b·x + d·y. It is
    the track's, so one picture tells it; each picture that is asked holds itself in a circle, and its memory waits."""
    from av.sidedata.sidedata import Type

    side = cast(Mapping[Any, Any], frame.side_data).get(Type.DISPLAYMATRIX)
    if side is None:
        return 1, 0, 0, 1
    nine = np.frombuffer(bytes(side), dtype="<i4" if np.little_endian else ">i4", count=9)
    return int(nine[0]), int(nine[1]), int(nine[3]), int(nine[4])


def _turned(pixels: Pixels, matrix: Matrix) -> Pixels:
    a, b, c, d = matrix
    down, right = (d, a)
    if abs(b) > abs(a):
        pixels, down, right = pixels.swapaxes(0, 1), b, c
    if down < 0:
        pixels = pixels[::-1]
    if right < 0:
        pixels = pixels[:, ::-1]
    return np.ascontiguousarray(pixels)


def _tags(container: "InputContainer", video: "VideoStream") -> dict[str, str]:
    return {**video.metadata, **container.metadata}


def _stretch_said(tags: Mapping[str, str], rate: float) -> float | None:
    """By how much a tag says that the film is stretched; None where no tag says anything, or it says nonsense."""
    for name in _CAPTURE_RATES:
        try:
            taken = float(tags[name])
        except (KeyError, ValueError):
            continue
        if rate > 0 and 1 <= taken <= 2000:
            return max(1.0, round(taken / rate, 2))
    return None


def _began(tags: Mapping[str, str]) -> datetime | None:
    for name in _BEGAN:
        try:
            return datetime.fromisoformat(tags[name])
        except (KeyError, ValueError):
            continue
    return None
