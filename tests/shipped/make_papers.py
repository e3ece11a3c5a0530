"""Makes the README's gallery of papers from the shipped book; papers in PDF are drawn as PNG by poppler's pdftocairo.

Run: python tests/shipped/make_papers.py
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HOME = Path(__file__).parents[2]
SHIPPED = HOME / "projects" / "twelve-waters"
INTO = HOME / ".pictures" / "papers"

DRAWN: dict[str, tuple[str, ...]] = {"ruling": ("--page", "13r"), "cutting": (), "pace": ()}
PRINTED: dict[str, tuple[str, ...]] = {"sheets": (), "spaces": (), "handover": ("--page", "12v"), "binder": ()}


def printed(name: str, form: str, more: tuple[str, ...], path: Path) -> None:
    """Print one paper into a file."""
    command = [sys.executable, "-m", "copydesk", "print", str(SHIPPED), name, "--as", form, *more]
    subprocess.run([*command, "-o", str(path), "--force"], check=True, stdout=subprocess.DEVNULL)


def main() -> None:
    """Make the gallery: drawings as they are, of the others the first page."""
    INTO.mkdir(parents=True, exist_ok=True)
    for name, more in DRAWN.items():
        printed(name, "svg", more, INTO / f"{name}.svg")
    with tempfile.TemporaryDirectory() as place:
        for name, more in PRINTED.items():
            pdf = Path(place) / f"{name}.pdf"
            printed(name, "pdf", more, pdf)
            drawing = ["pdftocairo", "-png", "-r", "60", "-f", "1", "-l", "1", "-singlefile"]
            subprocess.run([*drawing, str(pdf), str(INTO / name)], check=True)


if __name__ == "__main__":
    main()
