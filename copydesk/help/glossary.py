"""The words of the trade, looked up in the glossary."""

from __future__ import annotations

from functools import cache

from copydesk.help.topics import read_topic


@cache
def glossary() -> dict[str, str]:
    """Every word with its meaning and source."""
    found: dict[str, str] = {}
    for part in read_topic("glossary").split("\n## ")[1:]:
        word, _, meaning = part.partition("\n")
        found[word.strip()] = " ".join(meaning.split())
    return found


def find_words(wanted: str) -> list[tuple[str, str]]:
    """Words that fit what is looked for: the word itself, then those that contain it, then those explained by it."""
    sought = wanted.casefold().strip()
    ranked = [
        (0 if word.casefold() == sought else 1 if sought in word.casefold() else 2, word, meaning)
        for word, meaning in glossary().items()
        if sought in word.casefold() or sought in meaning.casefold()
    ]
    return [(word, meaning) for _, word, meaning in sorted(ranked)]


def meaning_and_source(explained: str) -> tuple[str, str]:
    """A glossary's text parted into the meaning and the sources behind it in brackets."""
    meaning, _, source = explained.rpartition(" [")
    return (meaning, source.removesuffix("]")) if meaning else (explained, "")


@cache
def _titles() -> dict[str, str]:
    """The full titles of the sources, by their short names."""
    joined = read_topic("sources").replace("\n  ", " ")
    found = (line[4:].partition("**: ") for line in joined.splitlines() if line.startswith("- **"))
    return {name: title.replace("*", "") for name, _, title in found}


def titles_of(source: str) -> list[str]:
    """The full titles of what stands in a word's brackets; plain remarks such as "our own use" have none."""
    return [title for name, title in _titles().items() if any(each.startswith(name) for each in source.split("; "))]
