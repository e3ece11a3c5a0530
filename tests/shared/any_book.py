"""Any book at all, as a strategy."""

from datetime import date

from hypothesis import strategies as st

from copydesk.book.flow import ExemplarLoan, Flow
from copydesk.book.plan import (
    Anchor,
    Book,
    Change,
    Columns,
    Flaw,
    Flyleaves,
    GatheringPlan,
    Hand,
    LeafException,
    Margins,
    PageSize,
    PassPlan,
    Ruling,
    RunningTitles,
    Script,
    Signing,
    SkinPlan,
    SpacePlan,
    Workshop,
)

LINES = st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=60).map(lambda text: " ".join(text.split()))


NOTES = st.text(st.characters(exclude_categories=["Cs"], exclude_characters=()), max_size=40).map(
    lambda text: "".join(mark for mark in text if mark.isprintable() or mark == "\n").strip()
)


SLIPPERY = st.sampled_from(["NO", "yes", "null", "~", "1e3", "010", "12:30", "1r", "- a", "a: b", "a #b", "{"])


GATHERINGS = st.sampled_from([(), (1, 2, 4)])


DUE = st.none() | st.dates(date(1900, 1, 1), date(2999, 1, 1))


EXCEPTIONS = st.sampled_from([(), (LeafException(5, "added after"), LeafException(5, "wanting", "hair"))])


TEXTS = LINES | SLIPPERY


FIGURES = st.floats(0.001, 40).map(lambda figure: round(figure, 5))


HEIGHTS = st.floats(200, 250).map(lambda height: round(height, 5))


NAMES = st.sampled_from(["A", "B", "Ines", "é", "2", "no", "x-y_z"])


PASSES = [
    (),
    (PassPlan("text"),),
    (PassPlan("text", "oak-gall ink"), PassPlan("rubrics"), PassPlan("penwork", "", "", 2.5, "after")),
    (PassPlan("text"), PassPlan("titles")),
]


@st.composite
def books(draw):
    hands = draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    passes = draw(st.sampled_from(PASSES))
    titled = any(each.name == "titles" for each in passes)
    ids = draw(st.lists(st.from_regex("[a-z]{1,8}", fullmatch=True), max_size=4, unique=True))
    return Book(
        title=draw(TEXTS.filter(bool)),
        page=PageSize(
            170.0,
            draw(HEIGHTS),
            Margins(0.0, draw(FIGURES), draw(FIGURES), 48.0),
        ),
        hands=tuple(
            Hand(hand, draw(TEXTS), draw(st.none() | st.floats(1, 99)), gatherings=draw(GATHERINGS)) for hand in hands
        ),
        exemplar=ExemplarLoan("exemplar.txt", draw(TEXTS), draw(DUE)),
        flow=Flow("page", draw(st.dictionaries(st.integers(1, 99), st.sampled_from(["recto", "run on"]), max_size=3))),
        columns=Columns(draw(st.integers(1, 2)), round(draw(FIGURES) / 10, 6)),
        ruling=Ruling(draw(st.integers(12, 40)), None, draw(st.sampled_from(["above", "below"]))),
        script=Script(draw(TEXTS), draw(FIGURES), interline=draw(FIGURES)),
        language=draw(st.sampled_from(["en", "no", "la"])),
        gatherings=draw(
            st.builds(
                GatheringPlan,
                st.integers(1, 9),
                outside=st.sampled_from(["hair", "flesh"]),
                exceptions=EXCEPTIONS,
            )
            | st.just(GatheringPlan(None, formula="1-3^8 4^6 (wants 6)"))
        ),
        skins=draw(st.none() | st.builds(SkinPlan, FIGURES, FIGURES, days=st.dictionaries(NAMES, FIGURES, max_size=2))),
        spaces=tuple(
            SpacePlan(
                each,
                draw(st.sampled_from(["miniature", "decorated initial"])),
                draw(
                    st.sampled_from(
                        [Anchor(2), Anchor(2, 1), Anchor(word=0), *([Anchor(page="1r", line=2)] * (not at))]
                    )
                ),
                draw(st.integers(1, 11)),
                subject=draw(TEXTS),
                instruction=draw(NOTES),
                materials=tuple(draw(st.lists(TEXTS.filter(bool), max_size=3))),
                stages=draw(st.sampled_from([None, (), ("drawn", "gilded")])),
            )
            for at, each in enumerate(ids)
        ),
        passes=passes,
        titles=RunningTitles({2: "A: title"}, "opening", "roman", 0.0) if titled else RunningTitles(),
        flyleaves=Flyleaves(draw(st.integers(0, 9)), 1, draw(st.booleans())),
        flaws=(Flaw(3, *draw(st.tuples(FIGURES, FIGURES, FIGURES, FIGURES))),),
        changes=(Change(4, 9, draw(TEXTS), draw(TEXTS)),),
        signing=Signing(draw(st.sampled_from(["leaves", "none"])), draw(st.integers(0, 9))),
        workshop=Workshop(draw(st.sampled_from([(0, 6), (3,)])), (date(2026, 12, 25),), draw(FIGURES)),
        allow=draw(
            st.sampled_from(
                [
                    {},
                    {
                        "u/v": False,
                        "letters": {"þ": "th"},
                        "spellings": [["yes", "true"]],
                        "abbreviations": {"pb": ["presbyter", "presb"]},
                    },
                ]
            )
        ),
        unit=draw(st.sampled_from(["mm", "in"])),
    )
