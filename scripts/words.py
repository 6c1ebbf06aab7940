"""Collects the texts for people and brings the catalogues of the other languages up to date.

`make words` runs it after texts were changed. A text that is new in a catalogue is left empty for
the translator; the tests fail until it is filled in.
"""

import argparse
import sys
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from fastness.language import DOMAIN, ENGLISH, FOLDER, LANGUAGES

SOURCE = FOLDER.parent
# The methods of `fastness.language.Language` and the marks for tables: which argument is what.
KEYWORDS = {
    "say": None,
    "say_many": (1, 2),
    "say_as": ((1, "c"), 2),
    "marked": None,
    "marked_as": ((1, "c"), 2),
}
HEADER = """\
# The texts of fastness for people. English is the source; `make words` collects them.
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: {plural_forms}\\n"

"""
# Babel dates what it writes, so that every run would change the compiled catalogue.
UNDATED = datetime(2000, 1, 1, tzinfo=UTC)


def collected() -> Catalog:
    """The texts of the source, each with the files that say it."""
    texts = Catalog(charset="utf-8")
    found = extract_from_dir(str(SOURCE), keywords=KEYWORDS, comment_tags=())
    for file, line, message, _, context in sorted(found, key=lambda one: (one[0], one[1])):
        where = f"src/fastness/{Path(file).as_posix()}"
        texts.add(message, locations=[(where, line)], context=context)
    return texts


def catalogue_file(code: str) -> Path:
    """Where the catalogue of a language stands."""
    return FOLDER / code / "LC_MESSAGES" / f"{DOMAIN}.po"


def catalogue(code: str) -> Catalog:
    """The catalogue of a language as it stands."""
    with catalogue_file(code).open("rb") as file:
        return read_po(file, locale=code, domain=DOMAIN)


def update(code: str) -> int:
    """Brings one catalogue up to date and compiles it; returns how many texts wait."""
    texts = catalogue(code)
    texts.update(collected(), no_fuzzy_matching=True)
    texts.obsolete.clear()
    path = catalogue_file(code)
    texts.creation_date = texts.revision_date = UNDATED
    with path.open("wb") as file:
        file.write(HEADER.format(plural_forms=texts.plural_forms).encode())
        write_po(file, texts, width=100, omit_header=True, include_lineno=False, sort_by_file=True)
    with path.with_suffix(".mo").open("wb") as file:
        write_mo(file, texts)
    return sum(not message.string or not all(message.string) for message in texts if message.id)


def main() -> None:
    """Brings all catalogues up to date."""
    argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None).parse_args()
    for code in LANGUAGES:
        if code != ENGLISH.code:
            print(f"{catalogue_file(code)}: {update(code)} texts to translate", file=sys.stderr)


if __name__ == "__main__":
    main()
