"""Who looks after a tree or a block: one tap, or an arrangement for somebody else."""

from collections.abc import Sequence

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext, gettext_lazy, gettext_noop

from orchard.models import Block, Membership, Tree

ELSEWHERE = gettext_noop("Elsewhere")
Thing = Tree | Block


def thing_value(thing: Thing) -> str:
    """Return how a form names a tree or block."""
    return f"{'tree' if isinstance(thing, Tree) else 'block'}-{thing.pk}"


class CareForm(forms.Form):
    """A tree or block, and who: oneself where nobody is named."""

    is_backup = forms.BooleanField(label=gettext_lazy("Only stands in"), required=False)

    def __init__(
        self,
        data: QueryDict | None = None,
        *,
        blocks: Sequence[Block],
        trees: Sequence[Tree],
        members: Sequence[Membership],
    ) -> None:
        super().__init__(data, auto_id="care_%s")
        things: list[Thing] = [*blocks, *trees]
        self._things = {thing_value(thing): thing for thing in things}
        self._members = {str(member.pk): member for member in members}
        people = [(key, one.person.shown_name) for key, one in self._members.items()]
        self.fields["thing"] = forms.ChoiceField(
            label=gettext("What"), choices=_choices(blocks, trees)
        )
        self.fields["member"] = forms.ChoiceField(
            label=gettext("Who"), choices=people, required=False
        )
        self.order_fields(["thing", "member", "is_backup"])

    def chosen_thing(self) -> Thing:
        """Return the tree or block of a valid form."""
        return self._things[self.cleaned_data["thing"]]

    def chosen_member(self, oneself: Membership) -> Membership:
        """Return who was named in a valid form, else ``oneself``."""
        return self._members.get(self.cleaned_data["member"], oneself)


def _choices(
    blocks: Sequence[Block], trees: Sequence[Tree]
) -> list[tuple[str, str | list[tuple[str, str]]]]:
    names = {block.pk: block.name for block in blocks}
    groups: dict[str, list[tuple[str, str]]] = {name: [] for name in names.values()}
    for block in blocks:
        groups[block.name].append(
            (thing_value(block), gettext("All of {name}").format(name=block.name))
        )
    for tree in trees:
        group = names.get(tree.block_id or 0) or gettext(ELSEWHERE)
        groups.setdefault(group, []).append((thing_value(tree), tree.name))
    return list(groups.items())
