"""What a person says of a cultivar grafted onto a tree."""

from datetime import date

from django import forms
from django.utils.translation import gettext, gettext_lazy

from care.forms.past_days import PastDayField
from care.forms.work import NOTE_LENGTH
from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.forms.kind_names import read_kind
from orchard.languages import day_of_year
from orchard.models import Graft, Tree

DAYS_BACK = 3652  # grafts are often told of years later
UNTOLD = gettext_lazy(
    "Grafts take among their like. Tick the box below if you know that it does."
)


class GraftForm(forms.Form):
    """Which cultivar, of which kind, since when."""

    cultivar = forms.CharField(
        label=gettext_lazy("Cultivar grafted on"),
        max_length=60,
        widget=forms.TextInput(attrs={"list": "cultivars", "autocomplete": "off"}),
        error_messages={"required": gettext_lazy("Which cultivar is it?")},
    )
    species = forms.CharField(
        label=gettext_lazy("Of the kind"),
        max_length=80,
        required=False,
        widget=forms.TextInput(attrs={"list": "kinds", "autocomplete": "off"}),
        help_text=gettext_lazy("Left empty: the tree's own kind."),
    )
    is_sure = forms.BooleanField(
        label=gettext_lazy("It is another kind, and I know that it takes on this tree"),
        required=False,
    )

    def __init__(
        self,
        data: object = None,
        *,
        tree: Tree,
        catalogue: OrchardCatalogue,
        today: date,
    ) -> None:
        super().__init__(data, auto_id="graft_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.tree, self.catalogue = tree, catalogue
        self.fields["on"] = PastDayField(
            today=today, label=gettext("Grafted on"), days_back=DAYS_BACK
        )
        self.fields["note"] = forms.CharField(
            required=False, max_length=NOTE_LENGTH, label=gettext("Note")
        )

    def clean_species(self) -> str:
        """Return the kind's key, the tree's own where nothing was said."""
        text = str(self.cleaned_data["species"])
        if not text.strip():
            return self.tree.species_key
        return read_kind(text, self.catalogue.names)

    def clean(self) -> dict[str, object]:
        """Another kind needs somebody who knows; the tree's own cultivar is no graft."""
        cleaned = super().clean() or {}
        key = str(cleaned.get("species") or "")
        if key and key != self.tree.species_key and not cleaned.get("is_sure"):
            self.add_error("species", f"{self._kin_words(key)} {UNTOLD}")
        cultivar = str(cleaned.get("cultivar") or "").casefold()
        is_own_kind = key == self.tree.species_key
        if cultivar and is_own_kind and cultivar == self.tree.cultivar.casefold():
            self.add_error("cultivar", gettext("That is the tree's own cultivar."))
        return cleaned

    def _kin_words(self, key: str) -> str:
        stock, scion = self._genus(self.tree.species_key), self._genus(key)
        if stock and stock == scion:
            return gettext("That is another kind of the same genus: some of them take.")
        return gettext(
            "That is a kind of another genus: few of them take, as pear does on quince."
        )

    def _genus(self, key: str) -> str:
        species = self.catalogue.species.get(key)
        return species.botanical_name.split()[0] if species else ""


class GraftEndForm(forms.Form):
    """That a graft is no longer there, and since when."""

    def __init__(self, data: object = None, *, graft: Graft, today: date) -> None:
        super().__init__(data, auto_id=f"graft{graft.pk}_%s")  # type: ignore[arg-type]  # a QueryDict or None
        self.graft = graft
        self.fields["on"] = PastDayField(
            today=today, label=gettext("Gone since"), days_back=DAYS_BACK
        )

    def clean_on(self) -> date:
        """Refuse a day before it was grafted."""
        on: date = self.cleaned_data["on"]
        if on < self.graft.grafted_on:
            message = gettext("It was grafted on {grafted_on} only.").format(
                grafted_on=day_of_year(self.graft.grafted_on)
            )
            raise forms.ValidationError(message, code="early")
        return on
