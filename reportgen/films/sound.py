"""When the strike is heard: a click of high frequencies, found to half a millisecond."""

from pathlib import Path

import numpy as np

from reportgen.films.crops import Array
from reportgen.films.needs import FilmError
from reportgen.films.reading import opened_film

AIR_S_PER_M = 0.0029
"""Seconds that sound takes for each metre (343 m/s in air of 20 °C)."""
_WINDOW_S = 0.002
"""An onset is where what follows in so much time is louder than what went before by the most: a coder of sound smears
some of a click to before it, so that the first loud sample tells less."""
_CLEAR = 50
"""How many times louder than what is usual in the film a strike is, in energy of high frequencies."""
_RIVAL = 0.25
"""Another onset of at least this part of the loudest could be the strike as well: somebody else's ball, a practice
swing that met the mat."""
_APART_S, _MOST = 0.2, 5
_LONGEST_S = 600.0


def strikes_heard(file: Path, distance_m: float = 4.0, stretched: float = 1) -> tuple[float, ...]:
    """The times (s, on the clock of the film's pictures) at which a strike may have been heard, the loudest first, less
    the way of the sound to a camera `distance_m` away; none where the film has no sound or nothing stands out.

    `stretched` as for `pictures`. Raises FilmError, MissingFilmLibraryError, OSError.
    """
    samples, rate, began = _sound(file)
    if samples.size < rate * 4 * _WINDOW_S:
        return ()
    energy = np.diff(samples, 2) ** 2  # twice the difference: what is left is of high frequencies
    width = max(1, round(rate * _WINDOW_S))
    summed = np.concatenate(([0.0], np.cumsum(energy)))
    rise = summed[2 * width :] - 2 * summed[width:-width] + summed[: -2 * width]
    usual = float(np.median(summed[width:] - summed[:-width]))
    least = max(_CLEAR * usual, _RIVAL * float(rise.max()), 1e-9)
    found: list[int] = []
    while len(found) < _MOST and rise[at := int(rise.argmax())] > least:
        found.append(at + width + 1)
        apart = round(rate * _APART_S)
        rise[max(0, at - apart) : at + apart] = 0
    return tuple((began + at / rate) / stretched - distance_m * AIR_S_PER_M for at in found)


def _sound(file: Path) -> tuple[Array, int, float]:
    """The samples of the first track of sound, all channels together, how many a second, and when the first is."""
    parts: list[Array] = []
    rate, began = 1, 0.0
    with opened_film(file) as (container, _):
        import av

        if not container.streams.audio or container.streams.audio[0].codec_context is None:
            return np.empty(0), 1, 0.0
        single = av.AudioResampler(format="flt", layout="mono")
        try:
            for frame in container.decode(container.streams.audio[0]):
                if not parts:
                    rate, began = frame.sample_rate, float(frame.time or 0)
                if len(parts) * frame.samples > _LONGEST_S * rate:
                    break
                parts += [np.asarray(one.to_ndarray()[0], dtype=float) for one in single.resample(frame)]
        except av.FFmpegError as error:
            raise FilmError(f"{file.name}: the sound is broken. Copy the film from the phone again.") from error
    return (np.concatenate(parts) if parts else np.empty(0)), rate, began
