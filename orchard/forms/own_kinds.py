"""What an orchard knows better than the catalogue: a figure, a kind, a cultivar."""

from collections.abc import Callable

from django import forms
from django.utils.translation import gettext, gettext_lazy, gettext_noop

from orchard.catalogue.cultivars import CULTIVAR_FIGURES, CULTIVAR_ORDERED, FLOWER_TYPES
from orchard.catalogue.figure_labels import label_of
from orchard.catalogue.figure_words import Reader
from orchard.catalogue.names import cultivar_names, fold_cultivar
from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.catalogue.overlay import new_cultivar
from orchard.catalogue.rows import CatalogueError
from orchard.catalogue.search import OWN_KEY
from orchard.catalogue.species import ORDERED
from orchard.forms.figure_fields import figure_field, stored_text
from orchard.forms.kind_names import read_kind
from orchard.sources.retold import retold

QUOTE_MARKS = " '\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}"
SOURCE_LENGTH, NAME_LENGTH, BOTANICAL_LENGTH = 200, 60, 80
#: What a new cultivar is asked for; words about them can be added later.
ASKED = tuple(
    name for name in CULTIVAR_FIGURES if name not in {"bloom_note", "partner_note"}
)
#: What the tables' checks may say of a figure that a person typed.
REFUSALS = (
    gettext_noop("{value} is outside {low} to {high}"),
    gettext_noop("{value} is not a whole number"),
    gettext_noop("{value} is not a hardiness zone, 1 to 13b"),
    gettext_noop("{value} is not a type of this species"),
    gettext_noop("needs months 1 to 12, each once, split by ;"),
    gettext_noop("needs names, each once, split by ;"),
    gettext_noop("needs a first and a last month, or neither"),
    gettext_noop("{value} is no partner of itself"),
    gettext_noop("names a partner as well"),
)
_PAIRS = (*ORDERED, *CULTIVAR_ORDERED, ("usda_zone_min", "usda_zone_max"))


def refusal_words(error: CatalogueError, figure: str) -> str:
    """Return why the catalogue's checks refuse a figure, in a grower's words."""
    pairs = [pair for pair in _PAIRS if pair[0] == error.column]
    if pairs and "is above" in error.message:
        lower, upper = pairs[0]
        if figure == lower:
            words = gettext("It must not be above “{other}”. Look at both.")
            return words.format(other=label_of(upper))
        words = gettext("It must not be below “{other}”. Look at both.")
        return words.format(other=label_of(lower))
    words = retold(error.message, REFUSALS)
    return f"{words[0].upper()}{words[1:]}."


def _source_field() -> forms.CharField:
    return forms.CharField(
        label=gettext_lazy("Where it comes from"),
        max_length=SOURCE_LENGTH,
        help_text=gettext_lazy(
            "A book, a label, a nursery, or what you saw here, and when."
        ),
        error_messages={
            "required": gettext_lazy("Say where it comes from, if only “seen here”.")
        },
    )


class FigureForm(forms.Form):
    """One own figure and its source.

    ``check`` raises a :class:`CatalogueError` for a text the table would not take.
    """

    def __init__(
        self,
        *args: object,
        figure: str,
        reader: Reader,
        species_key: str,
        check: Callable[[str, str], object],
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own
        self.figure, self.reader, self.check = figure, reader, check
        self.fields["value"] = figure_field(
            figure, label_of(figure), reader, species_key=species_key, required=True
        )
        self.fields["source"] = _source_field()

    def clean(self) -> dict[str, object]:
        """Hold the figure to the table's own checks, beside the others."""
        cleaned = super().clean() or {}
        if "value" in cleaned:
            text = stored_text(self.figure, cleaned["value"], self.reader)
            cleaned["value"] = text
            try:
                self.check(text, str(cleaned.get("source", "")))
            except CatalogueError as error:
                self.add_error("value", refusal_words(error, self.figure))
        return cleaned


class KindForm(forms.Form):
    """A kind the catalogue does not have."""

    common_name = forms.CharField(
        label=gettext_lazy("What you call it"),
        max_length=NAME_LENGTH,
        help_text=gettext_lazy("Such as Medlar."),
    )
    botanical_name = forms.CharField(
        label=gettext_lazy("Its botanical name"),
        max_length=BOTANICAL_LENGTH,
        help_text=gettext_lazy("Such as Mespilus germanica."),
    )
    like = forms.CharField(
        label=gettext_lazy("Like which kind?"),
        help_text=gettext_lazy(
            "All its figures begin as that kind's, and say so. Then correct them."
        ),
    )
    source = _source_field()

    def __init__(
        self, *args: object, catalogue: OrchardCatalogue, **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own
        self.catalogue = catalogue
        self.fields["like"].widget.attrs |= {"list": "kinds", "autocomplete": "off"}

    def clean_common_name(self) -> str:
        """Refuse the name of another kind."""
        return self._free(str(self.cleaned_data["common_name"]))

    def clean_botanical_name(self) -> str:
        """Refuse the botanical name of another kind."""
        return self._free(str(self.cleaned_data["botanical_name"]))

    def clean_like(self) -> str:
        """Return the key of the kind it is like, which must be the catalogue's."""
        key = read_kind(str(self.cleaned_data["like"]), self.catalogue.names)
        if key.startswith(OWN_KEY):
            message = gettext(
                "Choose a kind that came with the program, not one of your own."
            )
            raise forms.ValidationError(message, code="own")
        return key

    def _free(self, name: str) -> str:
        name = name.strip()
        taken = self.catalogue.names.named(name)
        if taken is not None:
            message = gettext("“{name}” is here already: {kind}.").format(
                name=name, kind=taken.shown_name
            )
            raise forms.ValidationError(message, code="taken")
        return name


class CultivarForm(forms.Form):
    """A cultivar the catalogue does not have; only its name and source are needed."""

    name = forms.CharField(label=gettext_lazy("Its name"), max_length=NAME_LENGTH)
    source = _source_field()

    def __init__(
        self,
        *args: object,
        species_key: str,
        catalogue: OrchardCatalogue,
        reader: Reader,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own
        self.species_key, self.catalogue, self.reader = species_key, catalogue, reader
        for figure in ASKED:
            if figure != "flower_type" or species_key in FLOWER_TYPES:
                self.fields[figure] = figure_field(
                    figure,
                    label_of(figure),
                    reader,
                    species_key=species_key,
                    required=False,
                )

    def clean_name(self) -> str:
        """Refuse a name that is known already, or none at all."""
        name = str(self.cleaned_data["name"]).strip().strip(QUOTE_MARKS)
        if not fold_cultivar(name):
            message = gettext("Write a name with letters.")
            raise forms.ValidationError(message, code="invalid")
        found = self.catalogue.cultivar(self.species_key, name)
        found = found or next(
            (
                each
                for each in self.catalogue.cultivars_of(self.species_key)
                if set(cultivar_names(name)) & set(cultivar_names(each.name))
            ),
            None,
        )
        if found is not None:
            message = gettext(
                "{name} is known already. Change its figures instead."
            ).format(name=found.name)
            raise forms.ValidationError(message, code="taken")
        return name

    @property
    def values(self) -> dict[str, str]:
        """What was said of it, as texts of the table."""
        texts = {
            name: stored_text(name, self.cleaned_data.get(name), self.reader)
            for name in self.fields
            if name in ASKED
        }
        return {name: text for name, text in texts.items() if text}

    def clean(self) -> dict[str, object]:
        """Hold all of it to the table's own checks."""
        cleaned = super().clean() or {}
        if self.errors:
            return cleaned
        try:
            new_cultivar(
                "own",
                self.species_key,
                str(cleaned["name"]),
                values=self.values,
                source=str(cleaned["source"]),
            )
        except CatalogueError as error:
            known = error.column if error.column in self.fields else None
            self.add_error(known, refusal_words(error, error.column))
        return cleaned
