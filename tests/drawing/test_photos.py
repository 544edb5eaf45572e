"""Pictures as they are published: upright, without a note of where and by whom, cut to the player at one scale."""

from io import BytesIO

import numpy as np
import pytest
from PIL import ExifTags, Image, PngImagePlugin

from reportgen.drawing.photos import LONGEST_SIDE, PX_PER_M, in_both, photo, reach_of
from tests.drawing.stills import make_still, make_stroke

RED, GREY = (200, 30, 30), (120, 120, 120)


def opened(one):
    return Image.open(BytesIO(one.data))


def pixels(one):
    return np.asarray(opened(one).convert("RGB")).astype(int)


def centre_of_red(picture):
    ys, xs = np.nonzero((picture[..., 0] > 150) & (picture[..., 1] < 90))
    return float(xs.mean()), float(ys.mean())


def red_at(size, place, half=6):
    """A grey picture with a red square about one place."""
    picture = Image.new("RGB", size, GREY)
    picture.paste(RED, tuple(int(v) for v in (place[0] - half, place[1] - half, place[0] + half, place[1] + half)))
    return picture


LIE = {
    1: [], 2: ["FLIP_LEFT_RIGHT"], 3: ["ROTATE_180"], 4: ["FLIP_TOP_BOTTOM"],
    5: ["FLIP_LEFT_RIGHT", "ROTATE_90"], 6: ["ROTATE_90"], 7: ["FLIP_LEFT_RIGHT", "ROTATE_270"], 8: ["ROTATE_270"],
}  # fmt: skip
"""What a camera has done to an upright picture for it to lie so (EXIF 2.3: which side its first row and column are)."""


@pytest.mark.parametrize("lies", sorted(LIE))
def test_a_lying_picture_is_turned_before_marks_apply(lies, tmp_path):
    upright = red_at((300, 500), (60, 420))
    lying = upright
    for step in LIE[lies]:
        lying = lying.transpose(Image.Transpose[step])
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = lies
    lying.save(tmp_path / "a.jpg", quality=95, exif=exif)
    assert centre_of_red(pixels(photo(tmp_path / "a.jpg", make_still((300, 500))))) == pytest.approx(
        (59.5, 419.5), abs=1
    )

    mark = make_stroke((60.0, 420.0), kind="place")
    shown = pixels(photo(tmp_path / "a.jpg", make_still((300, 500), strokes=(mark,))))
    assert shown[420, 60] == pytest.approx((0x22, 0x30, 0x2F), abs=12)


def noted(folder, kind):
    """A picture with every note that a camera or an editing program leaves in a file."""
    file = folder / f"noted.{kind}"
    picture = Image.effect_noise((80, 60), 60).convert("RGB")
    exif = Image.Exif()
    exif[ExifTags.Base.Artist] = "Telltale"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (38.0, 42.0, 1.0)
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = "2026:03:05 10:11:12"
    if kind == "jpg":
        picture.save(file, exif=exif, comment=b"Telltale", icc_profile=b"Telltale", xmp=b"Telltale", dpi=(72, 72))
    else:
        words = PngImagePlugin.PngInfo()
        words.add_text("Author", "Telltale")
        words.add_itxt("XML:com.adobe.xmp", "Telltale")
        picture.quantize(16).save(file, exif=exif, pnginfo=words, icc_profile=b"Telltale", dpi=(72, 72))
    return file


@pytest.mark.parametrize("kind", ["jpg", "png"])
def test_nothing_is_left_of_the_notes_in_a_file(kind, tmp_path):
    file = noted(tmp_path, kind)
    assert file.read_bytes().count(b"Telltale") >= 3
    shown = photo(file, make_still((80, 60)))
    assert shown.file.endswith(kind)
    for told in (b"Telltale", b"Exif", b"2026:03:05", b"GPS", b"ICC"):
        assert told not in shown.data
    assert not opened(shown).getexif()
    assert set(opened(shown).info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "I;16"])
def test_every_kind_of_png_can_be_shown(mode, tmp_path):
    Image.new(mode, (40, 30)).save(tmp_path / "a.png")
    assert pixels(photo(tmp_path / "a.png", make_still((40, 30)))).shape == (30, 40, 3)


def test_what_a_picture_lets_through_is_paper(tmp_path):
    Image.new("RGBA", (40, 30), (0, 0, 0, 0)).save(tmp_path / "a.png")
    Image.new("RGB", (40, 30), RED).save(tmp_path / "b.png", transparency=RED)
    for name in ("a.png", "b.png"):
        assert pixels(photo(tmp_path / name, make_still((40, 30))))[15, 20].tolist() == [0xFF, 0xFD, 0xF8]


def scaled(folder, name, size, hips, px_per_m):
    """A picture with the middle of the hips in red, and its shot."""
    red_at(size, hips).save(folder / name)
    return folder / name, make_still(size, px_per_m=px_per_m, centre=hips)


def test_two_pictures_of_a_pair_have_one_scale_and_the_hips_in_one_place(tmp_path):
    """One player, filmed twice: near and far, once in the middle and once at the left edge, with little room below."""
    near_file, near = scaled(tmp_path, "near.png", (960, 1400), (480.0, 800.0), 500.0)
    far_file, far = scaled(tmp_path, "far.png", (700, 620), (110.0, 330.0), 260.0)
    reach = in_both(near, far)
    one, other = photo(near_file, near, reach), photo(far_file, far, reach)
    assert (one.width, one.height) == (other.width, other.height)
    assert centre_of_red(pixels(one)) == pytest.approx(centre_of_red(pixels(other)), abs=1.5)
    for shown, half, shot in ((one, 6, near), (other, 6, far)):
        _, xs = np.nonzero((pixels(shown)[..., 0] > 150) & (pixels(shown)[..., 1] < 90))
        assert xs.max() - xs.min() + 1 == pytest.approx(2 * half / shot.px_per_m * PX_PER_M, abs=2)


def test_a_picture_with_a_scale_is_cut_to_the_player(tmp_path):
    file, shot = scaled(tmp_path, "wide.png", (4000, 2000), (2000.0, 1000.0), 500.0)
    shown = photo(file, shot)
    assert (shown.width, shown.height) == (round(1.64 * PX_PER_M), round(2.22 * PX_PER_M))


def test_what_a_pair_shows_is_what_both_show():
    near = make_still((960, 1400), px_per_m=500.0, centre=(480.0, 800.0))
    far = make_still((700, 620), px_per_m=260.0, centre=(110.0, 330.0))
    assert in_both(near, far) == pytest.approx((110 / 260, 0.98, 0.82, 290 / 260))
    assert in_both(near, near) == reach_of(near)


@pytest.mark.parametrize("changed", [{"px_per_m": None}, {"centre": None}])
def test_without_scale_or_hips_nothing_is_cut(changed, tmp_path):
    red_at((960, 1400), (480, 800)).save(tmp_path / "a.png")
    shot = make_still((960, 1400), **{"px_per_m": 500.0, "centre": (480.0, 800.0), **changed})
    assert in_both(shot, make_still((960, 1400), px_per_m=500.0, centre=(480.0, 800.0))) is None
    shown = photo(tmp_path / "a.png", shot)
    assert (shown.width, shown.height) == (round(960 * LONGEST_SIDE / 1400), LONGEST_SIDE)


def test_a_small_picture_is_not_made_larger(tmp_path):
    Image.new("RGB", (300, 200)).save(tmp_path / "a.png")
    assert (photo(tmp_path / "a.png", make_still((300, 200))).width) == 300


@pytest.mark.parametrize("px_per_m", [0.5, 1e6])
def test_a_scale_out_of_all_reason_makes_no_endless_picture(px_per_m, tmp_path):
    file, shot = scaled(tmp_path, "a.png", (960, 1400), (480.0, 800.0), px_per_m)
    assert max(photo(file, shot).width, photo(file, shot).height) <= LONGEST_SIDE


def test_the_name_of_a_picture_comes_from_what_it_shows(tmp_path):
    for name in ("ines-at-home.png", "b.png"):
        red_at((90, 90), (40, 40)).save(tmp_path / name)
    red_at((90, 90), (50, 40)).save(tmp_path / "c.png")
    shown = [photo(tmp_path / name, make_still((90, 90))) for name in ("ines-at-home.png", "b.png", "c.png")]
    assert shown[0] == shown[1] != shown[2]
    assert shown[1].file != shown[2].file
