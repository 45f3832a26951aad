"""A pasted list of trees and the block they stand in."""

from django import forms
from django.utils.translation import gettext_lazy

from orchard.forms.tree_list import MAX_LETTERS


class TreesPasteForm(forms.Form):
    """The list as text; its lines are read by :mod:`orchard.forms.tree_list`."""

    pasted = forms.CharField(
        label=gettext_lazy("One tree a line"),
        max_length=MAX_LETTERS,
        strip=False,  # a stripped line would shift the numbers of all others
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false"}),
        help_text=gettext_lazy(
            "Name, species, ground or pot with its size, planted when."
        ),
        error_messages={"required": gettext_lazy("Paste or type at least one line.")},
    )
    block_name = forms.CharField(
        label=gettext_lazy("Block they all stand in"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("Trees walked together: a row, a bed, the patio."),
        widget=forms.TextInput(attrs={"list": "blocks", "autocomplete": "off"}),
    )
