"""What was published earlier, open or under other keys: nothing stays that anybody else can read."""

from collections.abc import Mapping
from pathlib import Path

from reportgen.publishing.replacing import remove, replace_folder, write_tree
from reportgen.publishing.shared_parts import areas_in
from reportgen.rights import PUBLISHED_FILE, write_atomically
from reportgen.sealing.privacy import KEYS, is_sealed
from reportgen.sealing.sealed_site import Seal, is_sealed_by, sealed_files


def seal_areas(upload: Path, seals: Mapping[str, Seal], work: Path) -> None:
    """Bring every student's area in `upload` under its seal; `seals` by the student's id, `work` a folder beside.

    The last good pages of a student whose sheets are broken are sealed as they stand. An area of nobody, or one sealed
    under an earlier key, is taken away. Raises OSError.
    """
    owners = {seal.key.area: name for name, seal in seals.items()}
    for area in areas_in(upload):
        name = owners.get(f"s/{area.name}", "")
        seal = seals.get(name)
        if seal is None or (is_sealed(area) and not is_sealed_by(area, seal.key)):
            remove(area, work / "old" / area.name)
        elif not is_sealed(area):
            files = {f.relative_to(area).as_posix(): f.read_bytes() for f in area.rglob("*") if f.is_file()}
            write_tree(work / "new" / name, sealed_files(files, seal))
            replace_folder(work / "new" / name, area, work / "old" / name)
        else:
            _bring_up_to_date(area / KEYS, seal.keys)
            _bring_up_to_date(area / "index.html", seal.shell)


def _bring_up_to_date(file: Path, data: bytes) -> None:
    """In pages that are kept too, the wrapped keys and the page that opens them are those of today."""
    if not file.is_file() or file.read_bytes() != data:
        write_atomically(file, data, PUBLISHED_FILE)
