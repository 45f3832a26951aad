"""What is wrong with what a person brings, in the words of that person."""

from dataclasses import dataclass

from django.utils.translation import gettext


@dataclass(frozen=True, slots=True)
class SourceProblem:
    """One mistake: ``row`` counts lines from 1 as an editor does, 0 is the whole.

    ``column`` is the heading, or empty.
    """

    row: int
    column: str
    message: str

    def __str__(self) -> str:
        where = [gettext("Line {row}").format(row=self.row)] if self.row else []
        if self.column:
            where.append(self.column)
        return f"{', '.join(where)}: {self.message}" if where else self.message


class SourceError(Exception):
    """Weather that cannot be used at all; ``problems`` says what to change."""

    def __init__(self, *problems: SourceProblem) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


def whole_problem(message: str) -> SourceError:
    """Return the error for something wrong with the text or file as a whole."""
    return SourceError(SourceProblem(0, "", message))
