"""The order of pages that imposition tools print, for the checks against them.

Printed by psbook (PyPI psutils 3.3.11 and Debian psutils 1.17), by pdfimpose 2.10.0 (saddle and hardcover, 2x1) and by
LaTeX pdfpages (``signature=``); they agree with one another. Pages count from 1 through the gathering.
"""

ONE_GATHERING = {
    1: "4 1 2 3",
    2: "8 1 2 7 6 3 4 5",
    3: "12 1 2 11 10 3 4 9 8 5 6 7",
    4: "16 1 2 15 14 3 4 13 12 5 6 11 10 7 8 9",
    5: "20 1 2 19 18 3 4 17 16 5 6 15 14 7 8 13 12 9 10 11",
    6: "24 1 2 23 22 3 4 21 20 5 6 19 18 7 8 17 16 9 10 15 14 11 12 13",
}
"""psbook -q -s 0, one gathering of so many sheets: in pairs, outer side then inner, from the outermost sheet in."""
