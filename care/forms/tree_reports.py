"""What a passer-by tells of a tree."""

from django import forms

MOST_LETTERS = 500


class TreeReportForm(forms.Form):
    """One field: what was seen. No name, no address is asked for."""

    seen = forms.CharField(
        label="What did you see?",
        help_text="Such as: a branch hangs over the path, the leaves wilt, the tap runs.",
        max_length=MOST_LETTERS,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={
            "required": "Write what you saw.",
            "max_length": f"Write it in at most {MOST_LETTERS} letters.",
        },
    )

    def clean_seen(self) -> str:
        """Return it as one paragraph, without what is no letter or sign."""
        words = " ".join(str(self.cleaned_data["seen"]).split())
        return "".join(letter for letter in words if letter.isprintable())
