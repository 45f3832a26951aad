"""A plan's file, sent or pasted."""

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.plans.geojson_text import MOST_BYTES, too_large


class PlanImportForm(forms.Form):
    """The file, or its text."""

    file = forms.FileField(
        label=gettext_lazy("A file"),
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(
            attrs={"accept": ".geojson,.json,application/geo+json,application/json"}
        ),
        help_text=gettext_lazy("GeoJSON, up to 1 MB and 5,000 points."),
    )
    text = forms.CharField(
        label=gettext_lazy("Or its text"),
        required=False,
        widget=forms.Textarea(attrs={"rows": 4, "spellcheck": "false"}),
    )
    may_be_outside = forms.BooleanField(
        label=gettext_lazy("Some trees do stand outside the boundary"),
        required=False,
    )

    def clean(self) -> dict[str, object]:
        """Put the file's text in the place of the typed one."""
        cleaned = super().clean() or {}
        file = cleaned.get("file")
        if file is not None:
            if file.size > MOST_BYTES:
                self.add_error("file", str(too_large(file.size)))
                return cleaned
            cleaned["text"] = file.read().decode("utf-8-sig", "replace")
        if not str(cleaned.get("text") or "").strip() and not self.errors:
            self.add_error("file", gettext("Choose a file, or paste its text below."))
        return cleaned
