"""As what a member helps, as a coordinator writes it down."""

from collections.abc import Sequence

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext, gettext_lazy

from orchard.actions.helping import HelperFacts, HelpingError, helping_of, why_no_mentor
from orchard.models import (
    SKILL_LENGTH,
    Helping,
    Membership,
    Skill,
    skill_named,
    skill_words,
)

MOST_SKILLS = 12
MOST_LETTERS = 300


class HelperForm(forms.Form):
    """Skills, learner, under 18, mentors."""

    skills = forms.MultipleChoiceField(
        label=gettext_lazy("Skills"),
        choices=Skill.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text=gettext_lazy(
            "Only what you have seen them do well, or a course they showed you."
        ),
        error_messages={
            "invalid_choice": gettext_lazy("That is no skill of this list.")
        },
    )
    other_skills = forms.CharField(
        label=gettext_lazy("Other skills"),
        required=False,
        max_length=MOST_LETTERS,
        help_text=gettext_lazy(
            "In your own words, with commas between: grafting, trailer."
        ),
    )
    is_under_18 = forms.BooleanField(
        label=gettext_lazy("Under 18"),
        required=False,
        help_text=gettext_lazy(
            "Helps beside two grown-ups, one of them a mentor; never on "
            "ladders, with saws or with sprays. Local law may forbid more."
        ),
    )
    is_learner = forms.BooleanField(
        label=gettext_lazy("Learner"),
        required=False,
        help_text=gettext_lazy(
            "Comes along with a mentor and counts for nobody's place. Whoever "
            "is under 18 always is one."
        ),
    )
    mentors = forms.MultipleChoiceField(
        label=gettext_lazy("Mentors"),
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text=gettext_lazy("Grown-up members who are no learners themselves."),
        error_messages={
            "invalid_choice": gettext_lazy(
                "Somebody you chose cannot be a mentor any more."
            )
        },
    )

    def __init__(
        self,
        data: QueryDict | None = None,
        *,
        member: Membership,
        members: Sequence[Membership],
    ) -> None:
        helping = helping_of(member)
        super().__init__(data, auto_id="helper_%s", initial=_initial(helping))
        self._chosen = set(self.initial["mentors"])
        field = self.fields["mentors"]
        if isinstance(field, forms.MultipleChoiceField):
            field.choices = [
                (str(each.pk), each.person.shown_name)
                for each in members
                if str(each.pk) in self._chosen or not why_no_mentor(each, member.pk)
            ]

    def clean_other_skills(self) -> list[str]:
        """Return the typed skills as they are kept."""
        typed = str(self.cleaned_data["other_skills"]).split(",")
        skills = [name for each in typed if (name := skill_named(each))]
        if long := [each for each in skills if len(each) > SKILL_LENGTH]:
            message = gettext(
                "“{skill}” is too long: a skill has at most {most} letters."
            ).format(skill=long[0], most=SKILL_LENGTH)
            raise ValidationError(message, code="long")
        if len(skills) > MOST_SKILLS:
            message = gettext("Write {most} skills at most.").format(most=MOST_SKILLS)
            raise ValidationError(message, code="many")
        return skills

    def facts(self) -> HelperFacts:
        """Return what a valid form says."""
        data = self.cleaned_data
        return HelperFacts(
            skills=(*data["skills"], *data["other_skills"]),
            is_learner=data["is_learner"],
            is_under_18=data["is_under_18"],
            mentors=frozenset(int(each) for each in data["mentors"]),
        )

    def tell(self, error: HelpingError) -> None:
        """Say at a field why what it holds cannot be."""
        typed = [each for each in self.cleaned_data["other_skills"] if each]
        is_typed = error.field == "skills" and not self.cleaned_data["skills"]
        self.add_error(
            "other_skills" if typed and is_typed else error.field, str(error)
        )


def _initial(helping: Helping) -> dict[str, object]:
    others = [each for each in helping.skills if each not in Skill.values]
    is_kept = helping.pk is not None
    return {
        "skills": [each for each in helping.skills if each in Skill.values],
        "other_skills": ", ".join(skill_words(each) for each in others),
        "is_learner": helping.is_learner,
        "is_under_18": helping.is_under_18,
        "mentors": [str(each.pk) for each in helping.mentors.all()] if is_kept else [],
    }
