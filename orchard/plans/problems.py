"""What cannot stand on a plan, told in the reader's units."""

from orchard.plans.lengths import length_words
from orchard.units import UnitSystem


class PlanError(ValueError):
    """Something that cannot be; a page says :meth:`words` where it was typed.

    Parameters
    ----------
    template : str
        The sentence; ``{names}`` in it stand for ``values``.
    about : str, optional
        Which typed thing it is about, such as ``outside``.
    **values : str, int or float
        Texts and counts as they are; a float is a length [m].
    """

    def __init__(
        self, template: str, *, about: str = "", **values: str | int | float
    ) -> None:
        super().__init__(template)
        self.template, self.about, self.values = template, about, values

    def __str__(self) -> str:
        return self.words(UnitSystem.METRIC)

    def words(self, units: UnitSystem) -> str:
        """Return the sentence with its lengths in the reader's units."""
        shown = {
            name: length_words(value, units) if isinstance(value, float) else value
            for name, value in self.values.items()
        }
        return self.template.format(**shown)
