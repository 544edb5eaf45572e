import pytest

from reportgen.sheets import academy_folder
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped


@pytest.fixture(scope="session")
def shipped_library(tmp_path_factory):
    return load_library(shipped("content"), tmp_path_factory.mktemp("nothing-of-its-own"))


@pytest.fixture
def library_read_once(shipped_library, monkeypatch):
    """For tests that load many academies without a library of their own: reading the shipped one takes 0.2 s each."""

    def read_once(content, own):
        assert not any((own / kind).exists() for kind in ("metrics", "bands", "drills", "safety"))
        library, problems = shipped_library
        return library, list(problems)

    monkeypatch.setattr(academy_folder, "load_library", read_once)
