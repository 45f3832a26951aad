"""Where published sources differ, and which one the plan follows."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_safe


@dataclass(frozen=True, slots=True)
class Difference:
    """One question that sources answer differently."""

    question: str
    answers: tuple[str, ...]
    followed: str


DIFFERENCES = (
    Difference(
        gettext_noop("How often to water a newly planted tree"),
        (
            gettext_noop(
                "Florida (UF/IFAS): every day for two weeks, every other day for two "
                "months, then weekly; 2 to 3 gallons for each inch of trunk; three to four "
                "months for each inch until it is established."
            ),
            gettext_noop(
                "Minnesota (UMN Extension): every day for two weeks, every two to three "
                "days to the twelfth week, then weekly; 1 to 1.5 gallons for each inch; "
                "a year and a half for each inch."
            ),
        ),
        gettext_noop(
            "Neither by the calendar: the water in the root ball is reckoned day by day. "
            "In Florida's climate Florida's days come out, in Minnesota's climate "
            "Minnesota's."
        ),
    ),
    Difference(
        gettext_noop("Whether rain is counted before or after the day's use"),
        (
            gettext_noop("FAO-56, equation 88, takes the day's use off first."),
            gettext_noop(
                "FAO-56, the table of example 38, lets the water arrive first."
            ),
        ),
        gettext_noop(
            "Water arrives first. The two differ only on days on which the soil overflows."
        ),
    ),
    Difference(
        gettext_noop("How much a humid or windy coast evaporates"),
        (
            gettext_noop(
                "Penman-Monteith (FAO-56, equation 6) needs humidity, wind and sunshine."
            ),
            gettext_noop(
                "Hargreaves (FAO-56, equation 52) needs temperatures alone, and runs about "
                "a quarter low on humid or windy coasts."
            ),
        ),
        gettext_noop(
            "Penman-Monteith wherever the weather has what it needs; otherwise Hargreaves, "
            "which the task then says."
        ),
    ),
    Difference(
        gettext_noop("How deep the roots reach"),
        (
            gettext_noop(
                "FAO-56, table 22, gives a smaller and a larger depth for each crop."
            ),
        ),
        gettext_noop(
            "The smaller one, which the table's own note asks for when watering is planned."
        ),
    ),
    Difference(
        gettext_noop("Whether to feed in the year of planting"),
        (
            gettext_noop("Arizona: not at all."),
            gettext_noop(
                "Texas: three times, but only once six inches have grown. Pennsylvania: "
                "once, shortly after planting, not in the hole. Florida, for citrus: six "
                "times."
            ),
        ),
        gettext_noop(
            "Evergreens, citrus among them, from three weeks after planting, as in Florida; "
            "trees that shed their leaves only once six inches have grown, as in Texas, for "
            "until then no roots take it up. Nothing goes into the planting hole."
        ),
    ),
    Difference(
        gettext_noop("Whether to feed late in the year"),
        (
            gettext_noop(
                "Ventura, California: half of the year's feed in September and October."
            ),
            gettext_noop(
                "Pennsylvania: none after 15 July. Louisiana: none in late summer."
            ),
        ),
        gettext_noop(
            "Where winters freeze: the earlier of the kind's own last day and eight weeks "
            "before the first frost, so that growth hardens; 15 July where the season is "
            "short, for trees that shed their leaves, and where the first frost is not "
            "known. Where it never freezes, to the end of October, after the harvest too."
        ),
    ),
    Difference(
        gettext_noop("How much nitrogen a full-grown citrus gets in a year"),
        (
            gettext_noop("California: 1.0 lb."),
            gettext_noop("Florida: 1.1 to 1.4 lb. Arizona: about 1.5 lb."),
        ),
        gettext_noop(
            "Florida's figure on sandy soils, four fifths of it on heavier ones, which hold "
            "more; scaled to the crown the tree holds now. The published range stands "
            "beside it."
        ),
    ),
    Difference(
        gettext_noop("Whether to mulch citrus"),
        (
            gettext_noop(
                "Florida-Friendly Landscaping: not at all, for fear of foot rot."
            ),
            gettext_noop(
                "California: two to three inches under the crown, off the trunk."
            ),
        ),
        gettext_noop(
            "Three inches, no more, and a foot of bare ground round the trunk: that keeps "
            "the roots cool and the bark dry."
        ),
    ),
    Difference(
        gettext_noop("How far mulch stays from a trunk"),
        (
            gettext_noop("Two inches or more."),
            gettext_noop("Twelve to eighteen inches."),
        ),
        gettext_noop(
            "Six inches, between the two; twelve for citrus, which foot rot kills."
        ),
    ),
    Difference(
        gettext_noop("Whether mulch stays before a frost"),
        (
            gettext_noop(
                "Louisiana: pull it back, so that bare, moist soil gives off warmth."
            ),
            gettext_noop("Others: leave it, so that roots stay warm."),
        ),
        gettext_noop(
            "Pulled back from young citrus alone, before clear, still nights, when the "
            "ground's warmth is what saves them; left on all else."
        ),
    ),
    Difference(
        gettext_noop("Whether to clean tools between cuts"),
        (
            gettext_noop("Illinois: not needed while the tree is dormant."),
            gettext_noop("California: at each cut into a diseased branch."),
        ),
        gettext_noop(
            "Between trees, all year; after each cut where fire blight is cut out, which "
            "the blade would carry on."
        ),
    ),
    Difference(
        gettext_noop("How much larger the next pot may be"),
        (
            gettext_noop("At most two inches wider."),
            gettext_noop("Up to three times the volume."),
        ),
        gettext_noop(
            "Two inches for citrus and avocado, which rot in wet mix that no root reaches; "
            "three for all others; never more than three times the volume."
        ),
    ),
    Difference(
        gettext_noop("How often a grown tree in a pot is repotted"),
        (
            gettext_noop("Every two to three years (extension services)."),
            gettext_noop("Nevada: three to five."),
        ),
        gettext_noop(
            "Every three years, which both allow; every two while the pot is smaller than "
            "the kind needs when grown."
        ),
    ),
    Difference(
        gettext_noop("How much sulfur acid-loving bushes get before planting"),
        (
            gettext_noop(
                "Tennessee: two pounds to 1000 square feet for each tenth of pH on silt "
                "loam, a third more on clay, a third less on sand."
            ),
            gettext_noop(
                "Extension Foundation: one pound to 100 square feet for a whole unit of pH "
                "on sand, two on all heavier soils."
            ),
        ),
        gettext_noop(
            "The smaller of the two for the soil: what was given cannot be taken back."
        ),
    ),
    Difference(
        gettext_noop("What goes back into the planting hole"),
        (
            gettext_noop("Colorado and Florida: the soil that came out, nothing else."),
            gettext_noop(
                "Another school digs deeper and mixes in compost; for blueberries all agree "
                "on peat or bark."
            ),
        ),
        gettext_noop("The soil that came out, except for blueberries."),
    ),
    Difference(
        gettext_noop("How far apart peaches are left"),
        (gettext_noop("Three to five inches."), gettext_noop("Six to eight inches.")),
        gettext_noop(
            "Six inches, between the two: what is left too close stays small."
        ),
    ),
    Difference(
        gettext_noop("When a tree first bears"),
        (
            gettext_noop("Oregon: apples after two to ten years."),
            gettext_noop("Arizona: two to three years dwarf, six to ten standard."),
        ),
        gettext_noop(
            "The species table's one figure, whatever the rootstock, which few people "
            "know; a crop that comes sooner is logged all the same."
        ),
    ),
    Difference(
        gettext_noop("How winter chill is counted"),
        (
            gettext_noop("Hours below 7.2 °C, or from 0 to 7.2 °C."),
            gettext_noop(
                "Portions, in which warmth can undo what the cold began; and two ways to "
                "draw a night between its high and its low."
            ),
        ),
        gettext_noop("Both, as ranges: where the counts lie apart, so does the truth."),
    ),
    Difference(
        gettext_noop("What counts as a freeze of 28 °F"),
        (
            gettext_noop("-2.22 °C, exactly."),
            gettext_noop("-2.2 °C, because stations round to a tenth of a degree."),
        ),
        gettext_noop("-2.2 °C counts: the exact figure would miss real freezes."),
    ),
)


def _translated(difference: Difference) -> Difference:
    return Difference(
        gettext(difference.question),
        tuple(map(gettext, difference.answers)),
        gettext(difference.followed),
    )


@require_safe
@login_required
def differing_sources(request: HttpRequest) -> HttpResponse:
    """Show what sources disagree on and what the plan does."""
    context = {"differences": [_translated(each) for each in DIFFERENCES]}
    return render(request, "care/differing_sources.html", context)
