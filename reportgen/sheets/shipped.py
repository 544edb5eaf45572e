"""Where the library of the trade and the themes stand: inside an installed copy, or beside it in a checkout."""

from pathlib import Path

import reportgen


def shipped(name: str) -> Path:
    """The folder `content` or `themes` that came with the program."""
    package = Path(reportgen.__file__).parent
    installed = package / "shipped" / name
    return installed if installed.is_dir() else package.parent / name
