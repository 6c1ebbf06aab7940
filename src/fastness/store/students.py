"""Groups and students, and the names by which they appear in games."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from fastness.errors import StudentError
from fastness.sift import name_forms
from fastness.store.tables import Alias, Group, Lesson, Student

_NEAR = 3
LONGEST_NAME = 200
"""Letters that a name may have."""
ALIKE = 0.75
"""How alike two names must be, from 0 to 1, to ask whether they are one person's."""


def one_form(name: str) -> str:
    """The same text for every spelling of a name: "Weber, Anna" and "anna weber" are one."""
    return " ".join(sorted(min(name_forms(name), default="").split()))


def forms(name: str) -> frozenset[str]:
    """Every form that a name may be looked up by."""
    return frozenset(form for form in name_forms(name) if form)


def is_overlong(name: str) -> bool:
    """Whether a name, or what it is looked up by, has more letters than the store takes."""
    return any(len(one) > LONGEST_NAME for one in (name, *name_forms(name)))


def add_group(session: Session, name: str, club: str = "") -> Group:
    """A new group. Raises StudentError where the club has one of this name."""
    name = _tidy(name, "a group")
    if session.scalar(select(Group).where(Group.name == name, Group.club == club)):
        raise StudentError(f'there is a group "{name}" already')
    group = Group(name=name, club=club)
    session.add(group)
    session.flush()
    return group


def groups(session: Session) -> list[Group]:
    """All groups by name."""
    return list(session.scalars(select(Group).order_by(Group.name)))


def group_named(session: Session, name: str) -> Group:
    """The group of this name, whatever its capitals. Raises StudentError if there is none."""
    every = groups(session)
    for group in every:
        if group.name.casefold() == " ".join(name.split()).casefold():
            return group
    names = [group.name for group in every]
    raise StudentError(_missing("group", name, names), tuple(names))


def group_or_new(session: Session, name: str, club: str) -> Group:
    """The group of exactly this name and club, made where it is not there."""
    group = session.scalar(select(Group).where(Group.name == name, Group.club == club))
    if group is None:
        group = Group(name=name, club=club)
        session.add(group)
        session.flush()
    return group


def lessons(session: Session, group: Group) -> list[Lesson]:
    """What a group was taught, the last lesson first."""
    asked = select(Lesson).where(Lesson.group_id == group.id)
    return list(session.scalars(asked.order_by(Lesson.held.desc(), Lesson.id.desc())))


def add_student(session: Session, name: str, group: Group | None = None) -> Student:
    """A new student, known in games by this name. Raises StudentError where there is one already.

    The name as the teacher writes it is also the first alias.
    """
    name = _tidy(name, "a student")
    known = find_student(session, name)
    if known:
        raise StudentError(f'there is a student "{known.name}" already')
    student = Student(name=name, group=group)
    session.add(student)
    session.flush()
    add_alias(session, student, name)
    return student


def add_alias(session: Session, student: Student, name: str) -> None:
    """Let a name in games mean a student. Raises StudentError where it means another one."""
    for form in sorted(forms(_tidy(name, "a name"))):
        known = session.scalar(select(Alias).where(Alias.form == form))
        if known is None:
            session.add(Alias(student=student, name=name, form=form))
        elif known.student_id != student.id:
            raise StudentError(f'"{name}" is a name of {known.student.name} already')
    session.flush()


def students(session: Session, group: Group | None = None) -> list[Student]:
    """All students by name, or those of a group."""
    asked = select(Student).order_by(Student.name)
    if group is not None:
        asked = asked.where(Student.group_id == group.id)
    return list(session.scalars(asked))


def find_student(session: Session, name: str) -> Student | None:
    """The student whom a name means by one of its forms."""
    found = session.scalars(select(Alias).where(Alias.form.in_(forms(name))))
    return next((alias.student for alias in found), None)


def student_named(session: Session, name: str) -> Student:
    """The student of this name. Raises StudentError, with names like it, if there is none."""
    student = find_student(session, name)
    if student:
        return student
    names = [one.name for one in students(session)]
    raise StudentError(_missing("student", name, near(name, names) or names), tuple(names))


def near(name: str, names: Iterable[str]) -> list[str]:
    """The names so like this one that they may be the same person's, the likest first.

    A single word that is part of a name, or an initial in place of a given name, is alike.
    """
    words = _words(name)
    scored = []
    for other in names:
        likeness = difflib.SequenceMatcher(None, " ".join(words), " ".join(_words(other))).ratio()
        if _shortened(words, _words(other)):
            likeness = max(likeness, 0.9)
        if likeness >= ALIKE:
            scored.append((-likeness, other))
    return [other for _, other in sorted(scored)][:_NEAR]


def _words(name: str) -> list[str]:
    return sorted(name.replace(",", " ").replace(".", " ").casefold().split())


def _shortened(one: list[str], other: list[str]) -> bool:
    """Whether every word of one name is a word of the other, or begins one as an initial."""
    if not one or not other or one == other:
        return False
    fewer, more = (one, other) if len(" ".join(one)) < len(" ".join(other)) else (other, one)
    left = list(more)
    for word in sorted(fewer, key=len, reverse=True):
        match = next((w for w in left if w == word or (len(word) == 1 and w[0] == word)), None)
        if match is None:
            return False
        left.remove(match)
    return any(len(word) > 1 for word in fewer)


def _tidy(name: str, what: str) -> str:
    tidy = " ".join(name.split())
    if not tidy or tidy == "?":
        raise StudentError(f"{what} needs a name")
    if is_overlong(tidy):
        raise StudentError(f"the name of {what} has {len(tidy)} letters, and may have 200")
    return tidy


def _missing(what: str, name: str, names: list[str]) -> str:
    if not names:
        return f'there is no {what} "{name}", nor any other yet'
    return f'there is no {what} "{name}"; there is {"; ".join(names)}'
