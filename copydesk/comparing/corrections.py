"""How a fault is corrected: the remedies of the trade, how each is done, and its cautions.

Sources: dots under the wrong word and the supplied word above the word it precedes or in the margin with its
mark: W. M. Lindsay, *Latin Textual Emendation* (1896) IV 1; the omitted line in the top or bottom margin with a
mark: Lindsay II 6; scraping and the skin's surface after it: K. Rudy, *Piety in Pieces* (2016), on correction;
the right letter above the wrong, a stroke through: E. A. Lowe and E. K. Rand, *A Sixth-Century Fragment of the
Letters of Pliny the Younger* (1922); the cancelled leaf and its stub: R. Hanna, *Catalogue of the Western
Medieval Manuscripts of St John's College, Oxford* (2002), MS 98. The cautions are common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.materials.cautions import caution_paragraph, cautions_for


@dataclass(frozen=True, slots=True)
class Correction:
    """One way of putting a fault right: its name, how it is done, and ``act``, what a knife does to the leaf in it."""

    name: str
    how: str
    act: str = ""

    @property
    def caution(self) -> str:
        """The caution in one paragraph, where it can hurt; else empty."""
        return caution_paragraph(cautions_for(acts=[self.act])) if self.act else ""


SCRAPED, EXPUNGED, STRUCK, INTERLINED = "scraped", "expunged", "struck", "interlined"
IN_MARGIN, FROM_HERE, LEAF_CANCELLED = "in the margin", "written again from here", "leaf cancelled"

REMEDIES: tuple[Correction, ...] = (
    Correction(
        SCRAPED,
        "The ink is scraped off when it is quite dry, the spot is burnished smooth, and the right words are "
        "written over it; the surface is weaker there and may take ink like velvet.",
        "scraped",
    ),
    Correction(EXPUNGED, "Dots are set under the wrong letters or words; nothing is taken off the skin."),
    Correction(STRUCK, "A thin stroke is drawn through the wrong words, in ink or, by the rubricator, in red."),
    Correction(INTERLINED, "What is missing is written small between the lines, above the word it comes before."),
    Correction(
        IN_MARGIN,
        "What is missing is written in the margin, with the same mark there and at its place in the line; a whole "
        "line goes to the top or bottom margin.",
    ),
    Correction(
        FROM_HERE,
        "From the fault on, line after line is scraped, burnished and written again with other line ends, until the "
        "words fall as they did before.",
        "scraped",
    ),
    Correction(
        LEAF_CANCELLED,
        "The leaf is cut out and its stub left for the sewing; its text is written again on another leaf. The "
        "conjugate leaf then stands alone.",
        "cancelled",
    ),
)
"""Every remedy, the commonest first."""


def remedy(name: str) -> Correction:
    """The remedy of a name, in capitals or not.

    Raises:
        UnknownNameError: where there is none of that name; the sentence lists them.
    """
    wanted = " ".join(name.casefold().replace("-", " ").split())
    for found in REMEDIES:
        if found.name == wanted:
            return found
    known = ", ".join(each.name for each in REMEDIES)
    raise UnknownNameError(f"{name!r} is not a remedy; write one of {known}")
