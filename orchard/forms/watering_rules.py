"""What the local authority allows of watering, as boxes to fill in."""

from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.actions.watering_rules import RuleValues
from orchard.forms.fields import DayOfYearField, UnitsForm
from orchard.forms.tree_fields import WEEKDAYS
from orchard.models import Site, WateringRule
from orchard.units import UnitSystem

EMPTY_RULES = 1
SOURCE_LENGTH = 120


class WateringRuleForm(UnitsForm):
    """One span of the year in which water is allowed on some weekdays only."""

    starts = DayOfYearField(label=gettext_lazy("From"))
    ends = DayOfYearField(label=gettext_lazy("Until"))
    weekdays = forms.MultipleChoiceField(
        label=gettext_lazy("Watering is allowed on"),
        choices=WEEKDAYS,
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text=gettext_lazy("None ticked: nothing may be watered."),
    )
    spares_hand_watering = forms.BooleanField(
        label=gettext_lazy("Watering by can or with the hose in your hand is free"),
        required=False,
    )
    spares_containers = forms.BooleanField(
        label=gettext_lazy("Pots are free"), required=False
    )
    source = forms.CharField(
        label=gettext_lazy("Who says so"),
        max_length=SOURCE_LENGTH,
        required=False,
        help_text=gettext_lazy(
            "Such as the county's order and its number; tasks name it."
        ),
    )

    def clean(self) -> dict[str, object]:
        """Refuse half a span, and a rule that forbids nothing."""
        cleaned = super().clean()
        says_more = any(
            cleaned.get(name)
            for name in ("weekdays", "spares_hand_watering", "spares_containers")
        )
        has_span = cleaned.get("starts") or cleaned.get("ends")
        for name in ("starts", "ends"):
            is_wanted = (has_span or says_more) and not cleaned.get(name)
            if is_wanted and not self.has_error(name):
                self.add_error(name, gettext("From which day until which? Give both."))
        weekdays = cleaned.get("weekdays")
        if isinstance(weekdays, list) and len(weekdays) == len(WEEKDAYS):
            self.add_error(
                "weekdays", gettext("A rule that allows every day forbids nothing.")
            )
        return cleaned

    def rule(self) -> RuleValues | None:
        """Return the rule, or ``None`` where its days were left empty."""
        data = self.cleaned_data
        if not (data["starts"] and data["ends"]):
            return None
        (start_month, start_day), (end_month, end_day) = data["starts"], data["ends"]
        return RuleValues(
            start_month=start_month,
            start_day=start_day,
            end_month=end_month,
            end_day=end_day,
            weekdays="".join(sorted(data["weekdays"])),
            spares_hand_watering=data["spares_hand_watering"],
            spares_containers=data["spares_containers"],
            source=data["source"],
        )


def watering_rule_forms(
    site: Site, units: UnitSystem, data: object = None
) -> list[WateringRuleForm]:
    """Return a form for each rule there is, and an empty one for another."""
    initials = [_initial(rule) for rule in site.watering_rules.all()]
    return [
        WateringRuleForm(data, units=units, prefix=f"water{number}", initial=initial)
        for number, initial in enumerate([*initials, *({} for _ in range(EMPTY_RULES))])
    ]


def _initial(rule: WateringRule) -> dict[str, object]:
    return {
        "starts": (rule.start_month, rule.start_day),
        "ends": (rule.end_month, rule.end_day),
        "weekdays": list(rule.weekdays),
        "spares_hand_watering": rule.spares_hand_watering,
        "spares_containers": rule.spares_containers,
        "source": rule.source,
    }


def rules_of(given: Sequence[WateringRuleForm]) -> list[RuleValues]:
    """Return the rules that were given."""
    return [rule for form in given if (rule := form.rule())]
