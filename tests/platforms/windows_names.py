"""Names of files that Windows refuses, as Microsoft's "Naming Files, Paths, and Namespaces" lists them."""

DEVICES = ("con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)))
SIGNS = '<>:"\\|?*'


def is_refused(name: str) -> bool:
    """Whether no file can have this name."""
    device = name.partition(".")[0].rstrip().lower() in DEVICES
    return device or name != name.rstrip(". ") or any(sign in SIGNS or ord(sign) < 32 for sign in name)
