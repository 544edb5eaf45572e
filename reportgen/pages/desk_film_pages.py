"""The page of the live desk about the moments of films."""

from collections.abc import Mapping
from typing import Any, get_args

from reportgen.pages.theme import shipped_templates
from reportgen.records.words import CHECKPOINTS, View
from reportgen.saying.wording import moment_name, view_name


def moments_page(given: Mapping[str, Any], base: str, nonce: str) -> bytes:
    """The films of a swing, with the moments that are proposed in each."""
    values = {"given": given, "base": base, "nonce": nonce}
    values |= {"moments": {checkpoint: moment_name(checkpoint) for checkpoint in CHECKPOINTS}}
    values |= {"views": {view: view_name(view) for view in get_args(View)}}
    return shipped_templates().get_template("desk-moments.html").render(**values).encode()
