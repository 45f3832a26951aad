"""What is asked of a shift and of one that repeats."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from care.forms.shift_when import WhenFields
from care.models import Shift
from orchard.forms.fields import NumberField
from orchard.models import SKILL_LENGTH, Block, Site, Skill, skill_named, skill_words

MOST_PEOPLE = 30
LEAST_MINUTES, MOST_MINUTES = 15, 720


class CountField(NumberField):
    """A whole number; people cannot be halved."""

    def run_validators(self, value: object) -> None:
        """Check the bounds, and that it is whole."""
        if isinstance(value, float) and not value.is_integer():
            message = gettext("Write a whole number.")
            raise ValidationError(message, code="whole")
        super().run_validators(value)


class ShiftFields(forms.Form):
    """What a shift and a series are both asked."""

    name = forms.CharField(
        label=gettext_lazy("What is it called"),
        max_length=60,
        help_text=gettext_lazy("As people will look for it: Pruning in the long row."),
        error_messages={"required": gettext_lazy("Give it a name.")},
    )
    minutes = NumberField(
        label=gettext_lazy("How long"),
        unit=gettext_lazy("minutes"),
        low=LEAST_MINUTES,
        high=MOST_MINUTES,
    )
    people = CountField(
        label=gettext_lazy("How many people it needs"),
        low=1,
        high=MOST_PEOPLE,
        help_text=gettext_lazy("Without learners. For more than 30 make two shifts."),
    )
    block = forms.ChoiceField(label=gettext_lazy("Where"), required=False)
    kinds = forms.MultipleChoiceField(
        label=gettext_lazy("Only this work"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("Tick none for all work that is due there then."),
    )
    ladder = CountField(
        label=gettext_lazy("Of them, how many who may use a ladder"),
        low=0,
        high=MOST_PEOPLE,
        required=False,
    )
    saw = CountField(
        label=gettext_lazy("Who may use a saw"), low=0, high=MOST_PEOPLE, required=False
    )
    spray = CountField(
        label=gettext_lazy("Who may spray"), low=0, high=MOST_PEOPLE, required=False
    )
    first_aid = CountField(
        label=gettext_lazy("Who know first aid"),
        low=0,
        high=MOST_PEOPLE,
        required=False,
    )
    other_skills = forms.CharField(
        label=gettext_lazy("Who know something else"),
        required=False,
        max_length=200,
        help_text=gettext_lazy("One person each, with commas: grafting, tractor."),
    )
    is_critical = forms.BooleanField(
        label=gettext_lazy("Trees suffer if nobody comes: fill it first"),
        required=False,
    )

    def __init__(
        self,
        *args: object,
        site: Site,
        blocks: Sequence[Block],
        kinds: Mapping[str, str],
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self.site = site
        self.blocks = {str(block.pk): block for block in blocks}
        _offer(
            self.fields["block"],
            [
                ("", gettext("The whole place")),
                *((k, b.name) for k, b in self.blocks.items()),
            ],
        )
        _offer(self.fields["kinds"], kinds.items())

    def clean_name(self) -> str:
        """Return the name without stray blanks."""
        return " ".join(str(self.cleaned_data["name"]).split())

    def clean_other_skills(self) -> list[str]:
        """Return each skill that was typed, as it is kept."""
        typed = str(self.cleaned_data["other_skills"]).split(",")
        skills = [skill for text in typed if (skill := skill_named(text))]
        too_long = [skill for skill in skills if len(skill) > SKILL_LENGTH]
        if too_long:
            message = gettext("“{skill}” is too long: {most} letters at most.").format(
                skill=too_long[0], most=SKILL_LENGTH
            )
            raise ValidationError(message, code="long")
        return skills

    def clean(self) -> dict[str, object]:
        """Check that no more skilled people are wanted than people."""
        cleaned = super().clean() or {}
        asked = sum(bool(skill) for skill in self._skills(cleaned))
        people = cleaned.get("people")
        if isinstance(people, float) and asked > people:
            message = gettext(
                "Of {people} you want {asked} with a skill. Each skill is another "
                "person: need more people, or fewer skills."
            ).format(people=f"{people:.0f}", asked=asked)
            self.add_error("people", message)
        return cleaned

    def skills(self) -> list[str]:
        """Return what each place asks for, an empty text for nothing."""
        named = self._skills(self.cleaned_data)
        people = int(self.cleaned_data["people"])
        return named + [""] * (people - len(named))

    def _skills(self, cleaned: Mapping[str, object]) -> list[str]:
        named = []
        for skill in Skill:
            number = cleaned.get(skill.value)
            named += [skill.value] * int(number if isinstance(number, float) else 0)
        typed = cleaned.get("other_skills")
        return named + (typed if isinstance(typed, list) else [])

    def common_values(self) -> dict[str, object]:
        """Return the model's fields that a shift and a series share."""
        data = self.cleaned_data
        return {
            "name": data["name"],
            "minutes": round(data["minutes"]),
            "block": self.blocks.get(data["block"]),
            "kinds": data["kinds"],
            "is_critical": data["is_critical"],
        }


def skill_initial(skills: Iterable[str]) -> dict[str, object]:
    """Return what the boxes show for the skills of a shift's places."""
    asked = [skill for skill in skills if skill]
    known = {skill.value: asked.count(skill.value) or None for skill in Skill}
    others = [skill_words(skill) for skill in asked if skill not in known]
    return {**known, "other_skills": ", ".join(others)}


def _offer(field: forms.Field, choices: Iterable[tuple[str, str]]) -> None:
    if isinstance(field, forms.ChoiceField):
        field.choices = list(choices)


class ShiftForm(WhenFields, ShiftFields):
    """One shift: made, or changed; then its day and hour stay and are moved instead."""

    note = forms.CharField(
        label=gettext_lazy("What people should know"),
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("Where to meet, what to wear, what to bring."),
    )
    is_hazardous = forms.BooleanField(
        label=gettext_lazy("A ladder, a saw or a spray is part of it: nobody under 18"),
        required=False,
        help_text=gettext_lazy("Tasks that need one say so themselves."),
    )

    def __init__(
        self,
        *args: object,
        site: Site,
        blocks: Sequence[Block],
        kinds: Mapping[str, str],
        moment: datetime,
        others: Collection[Shift] = (),
        is_new: bool = True,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, site=site, blocks=blocks, kinds=kinds, **kwargs)
        self.moment, self.others = moment, others
        if not is_new:
            for name in ("day", "starts_at", "is_overlap_fine"):
                del self.fields[name]

    def clean(self) -> dict[str, object]:
        """Check the day and hour, and what else is then and there."""
        cleaned = super().clean()
        self.look_at_time(cleaned, self.moment)
        if "day" in self.fields and not self.errors:
            planned = Shift(**self._when(), **self._where())
            self.look_at_others(
                planned, self.others, is_fine=bool(cleaned.get("is_overlap_fine"))
            )
        return cleaned

    def _when(self) -> dict[str, object]:
        data = self.cleaned_data
        return {"day": data["day"], "starts_at": data["starts_at"]}

    def _where(self) -> dict[str, object]:
        data = self.cleaned_data
        block = self.blocks.get(data["block"])
        return {"minutes": round(data["minutes"]), "block": block}

    def values(self) -> dict[str, object]:
        """Return the model's fields; day and hour only of a new one."""
        data = self.cleaned_data
        own = {"note": data["note"].strip(), "is_hazardous": data["is_hazardous"]}
        when = self._when() if "day" in self.fields else {}
        return {**self.common_values(), **own, **when}
