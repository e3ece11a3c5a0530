"""A drawing as an SVG file at full size: one unit is one millimetre."""

from __future__ import annotations

from copydesk.book.common.sanitize import sanitize
from copydesk.papers.drawing.shapes import LOOKS, Box, Drawing, DrawnLine, Mark, Pen, Ring, Words

_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})


def svg_of(drawing: Drawing) -> str:
    """The drawing as SVG 1.1 text, its size in mm; every mark carries its pen's name as its class."""
    width, height = _number(drawing.width), _number(drawing.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="Verdana, DejaVu Sans, sans-serif">',
        f"<title>{_text(drawing.title)}</title>",
        f'<rect class="paper" width="{width}" height="{height}" fill="#ffffff"/>',
        *map(_element, drawing.marks),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _element(mark: Mark) -> str:
    if isinstance(mark, DrawnLine):
        ends = _attributes(x1=mark.x1, y1=mark.y1, x2=mark.x2, y2=mark.y2)
        return f"<line{ends}{_look(mark.pen)}/>"
    if isinstance(mark, Box):
        sides = _attributes(x=mark.left, y=mark.top, width=mark.width, height=mark.height)
        return f"<rect{sides}{_look(mark.pen)}/>"
    if isinstance(mark, Ring):
        return f"<circle{_attributes(cx=mark.x, cy=mark.y, r=mark.radius)}{_look(mark.pen)}/>"
    return _words(mark)


def _words(mark: Words) -> str:
    place = _attributes(x=mark.x, y=mark.y)
    turn = f' transform="rotate(-90 {_number(mark.x)} {_number(mark.y)})"' if mark.upward else ""
    wide = f' textLength="{_number(mark.wide)}" lengthAdjust="spacingAndGlyphs"' if mark.wide else ""
    weight = ' font-weight="bold"' if mark.strong else ""
    look = f'font-size="{_number(mark.size)}" text-anchor="{mark.align}" fill="{mark.colour}"'
    return f"<text{place} {look}{weight}{wide}{turn}>{_text(mark.text)}</text>"


def _look(pen: Pen) -> str:
    look = LOOKS[pen]
    dashes = f' stroke-dasharray="{" ".join(map(_number, look.dashes))}"' if look.dashes else ""
    return (
        f' class="{pen}" fill="{look.fill or "none"}" stroke="{look.colour}" '
        f'stroke-width="{_number(look.width)}"{dashes}'
    )


def _attributes(**values: float) -> str:
    return "".join(f' {name}="{_number(value)}"' for name, value in values.items())


def _number(value: float) -> str:
    """To a ten-thousandth of a millimetre, and no zeros for show."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(text: str) -> str:
    return sanitize(text).translate(_ESCAPES)
