"""What a passer-by tells of a tree."""

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy

MOST_LETTERS = 500


class TreeReportForm(forms.Form):
    """One field: what was seen. No name, no address is asked for."""

    seen = forms.CharField(
        label=gettext_lazy("What did you see?"),
        help_text=gettext_lazy(
            "Such as: a branch hangs over the path, the leaves wilt, the tap runs."
        ),
        max_length=MOST_LETTERS,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={
            "required": gettext_lazy("Write what you saw."),
            "max_length": format_lazy(
                gettext_lazy("Write it in at most {most} letters."), most=MOST_LETTERS
            ),
        },
    )

    def clean_seen(self) -> str:
        """Return it as one paragraph, without what is no letter or sign."""
        words = " ".join(str(self.cleaned_data["seen"]).split())
        return "".join(letter for letter in words if letter.isprintable())
