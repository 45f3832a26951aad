"""What cannot stand on a plan, told in the reader's units."""

from django.utils.translation import gettext

from orchard.plans.lengths import length_words
from orchard.units import UnitSystem


class PlanError(ValueError):
    """Something that cannot be; a page says :meth:`words` where it was typed.

    Parameters
    ----------
    template : str
        The sentence, marked with ``gettext_noop``; ``{names}`` in it stand for
        ``values``.
    about : str, optional
        Which typed thing it is about, such as ``outside``.
    where : str, optional
        What stands before the sentence: a line's number, a tree's name.
    **values : str, int or float
        Texts and counts as they are; a float is a length [m].
    """

    def __init__(
        self,
        template: str,
        *,
        about: str = "",
        where: str = "",
        **values: str | int | float,
    ) -> None:
        super().__init__(template)
        self.template, self.about, self.values = template, about, values
        self.where = where

    def inside(self, where: str) -> "PlanError":
        """Return the same error, told of something in a list or a file."""
        whole = f"{where}: {self.where}" if self.where else where
        return PlanError(self.template, about=self.about, where=whole, **self.values)

    def __str__(self) -> str:
        return self.words(UnitSystem.METRIC)

    def words(self, units: UnitSystem) -> str:
        """Return the sentence with its lengths in the reader's units."""
        shown = {
            name: length_words(value, units) if isinstance(value, float) else value
            for name, value in self.values.items()
        }
        words = gettext(self.template).format(**shown)
        return f"{self.where}: {words}" if self.where else words
