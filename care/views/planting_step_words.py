"""The steps of a planting sheet in words: what to do, how much, why so."""

from django.utils.translation import gettext, gettext_noop, pgettext

from care.planning.planting_steps import Figure, Step
from orchard.units import UnitSystem, format_quantity

TITLES = {
    "locate": gettext_noop("Ask where pipes and cables lie"),
    "distances": gettext_noop("Measure how far it stands from things"),
    "lead": gettext_noop("Have the soil tested for lead"),
    "plant_quarantine": gettext_noop("Ask whether this kind may be brought here"),
    "invasive": gettext_noop("Look at the list of invasive plants"),
    "soil_test": gettext_noop("Have acidity and nutrients tested"),
    "drainage": gettext_noop("Test how fast the ground drains"),
    "raised_mound": gettext_noop("Build a mound"),
    "drain_holes": gettext_noop("Look that the drain holes are open"),
    "flare_found": gettext_noop("Find the root flare"),
    "fig_deeper": gettext_noop("Plan to set the fig deeper than it stood"),
    "soak_roots": gettext_noop("Soak the bare roots"),
    "circling_roots": gettext_noop("Cut circling roots"),
    "wire_burlap": gettext_noop("Take wire, twine and burlap off"),
    "graft_above": gettext_noop("Keep the graft above the soil"),
    "turf_ring": gettext_noop("Lift the turf in a ring"),
    "hole_depth": gettext_noop("Dig the hole"),
    "permanent_post": gettext_noop("Set the post"),
    "no_gravel": gettext_noop("Leave gravel out"),
    "soilless_mix": gettext_noop("Fill the pot with mix"),
    "acid_mix": gettext_noop("Take an acid mix"),
    "native_backfill": gettext_noop("Fill with the soil that came out"),
    "compost_backfill": gettext_noop("Mix compost into what goes back"),
    "acid_backfill": gettext_noop("Mix peat or pine bark into what goes back"),
    "no_feed_in_hole": gettext_noop("Feed nothing now"),
    "no_feed_month": gettext_noop("Feed nothing for a month"),
    "first_feed": gettext_noop("Give its first feed"),
    "set_height": gettext_noop("Set it above the ground"),
    "pot_height": gettext_noop("Set it just above the mix"),
    "settle_with_water": gettext_noop("Settle it with water"),
    "edging": gettext_noop("Set the edging"),
    "trunk_guard": gettext_noop("Fit a trunk guard"),
    "mulch_ring": gettext_noop("Mulch the ring, not the trunk"),
    "pot_mulch": gettext_noop("Cover the mix with bark"),
    "stake_if_windy": gettext_noop("Stake it, or leave it free"),
    "fruit_off": gettext_noop("Take off blossom and fruit"),
    "head_back": gettext_noop("Cut the top back"),
    "label": gettext_noop("Hang its label"),
    "first_watering": gettext_noop("Water the ball once more"),
}
WHY = {
    "locate": gettext_noop(
        "A spade through a cable can kill, and through a main cuts off a street. Marking is free of charge in most places and takes some working days."
    ),
    "distances": gettext_noop(
        "What is a whip today shades a window, lifts a path or fills a drain when it is grown. Local rules may ask for more."
    ),
    "lead": gettext_noop(
        "Lead stays where paint, fuel and sprays of old days left it; soil on hands and fruit brings it into children."
    ),
    "plant_quarantine": gettext_noop(
        "Plants carry pests that no one sees. Some places forbid moving citrus, walnut or others at all."
    ),
    "invasive": gettext_noop(
        "A kind that birds carry off into the wild may be forbidden where you live."
    ),
    "soil_test": gettext_noop(
        "Sulfur and lime take months to work and cannot be taken back: the time for them is before planting."
    ),
    "drainage": gettext_noop(
        "Roots need air. A hole that holds water for days drowns them, and no watering plan can mend that."
    ),
    "raised_mound": gettext_noop(
        "On a mound the roots stand above the water. Texas A&M gives 15 to 30 cm (6 to 12 in) of height and 2.5 to 3 m (8 to 10 ft) across."
    ),
    "drain_holes": gettext_noop(
        "A pot without a way out for water is a bucket, and its lowest roots rot first."
    ),
    "flare_found": gettext_noop(
        "Many trees come too deep in their pot. Bark that lies in wet soil rots, and roots grow round it and strangle it years later."
    ),
    "fig_deeper": gettext_noop(
        "A fig roots from its buried stem and comes back from there after a freeze. It is the exception; other trees rot so."
    ),
    "soak_roots": gettext_noop("Fine roots die within minutes in sun and wind."),
    "circling_roots": gettext_noop(
        "A root that circles goes on circling, and in ten years strangles the trunk. A cut root branches outwards."
    ),
    "wire_burlap": gettext_noop(
        "Wire outlives the roots that grow through it, and dry burlap wicks water out of the ball."
    ),
    "graft_above": gettext_noop(
        "Below the soil the upper part roots by itself, and a dwarf is a dwarf no longer."
    ),
    "turf_ring": gettext_noop(
        "Grass is the young tree's first rival: it drinks first, and where it is trimmed the bark suffers."
    ),
    "hole_depth": gettext_noop(
        "Roots spread wide, not deep. A ball on loosened soil sinks, and its flare with it. Another school digs deeper; University of Florida trials found no water saved by it."
    ),
    "permanent_post": gettext_noop(
        "Roots of dwarf stocks cannot hold a crown full of fruit. A post driven in later goes through the roots."
    ),
    "no_gravel": gettext_noop(
        "Water stays in the mix above gravel, where the roots are."
    ),
    "soilless_mix": gettext_noop("Garden soil packs down in a pot and holds no air."),
    "acid_mix": gettext_noop(
        "Acid lovers starve beside plenty where the mix is not sour: iron is there and cannot be taken up."
    ),
    "native_backfill": gettext_noop(
        "Two schools. One adds nothing: the University of Florida, after many trials, finds that nothing in the hole helps in all but very poor soil, and roots must live in this soil anyway. The other mixes compost in. Adding nothing is the rule here; compost goes on top, under the mulch."
    ),
    "compost_backfill": gettext_noop(
        "Two schools. You chose compost. The other adds nothing: the University of Florida finds no gain in all but very poor soil, and in clay a hole of richer soil fills like a basin. The share is common practice without a source."
    ),
    "acid_backfill": gettext_noop(
        "Blueberries and their like want sour soil full of humus: the University of Florida mixes peat in at planting, or pine bark. How much is common practice without a source. For other kinds the hole gets nothing."
    ),
    "no_feed_in_hole": gettext_noop(
        "Feed burns new roots and they cannot use it yet. Schools differ on when to begin: Arizona in the second year, Texas once 15 cm (6 in) have grown, Florida three weeks after planting for citrus."
    ),
    "no_feed_month": gettext_noop(
        "Cut and torn roots are burnt by salts. Most mixes bring feed for the first weeks."
    ),
    "first_feed": gettext_noop(
        "You chose to feed. It is one part of the first season's amount for its kind, in your own product, and counts against that season. Schools differ: Arizona feeds none in the first year, Texas once 15 cm (6 in) have grown, Florida citrus after three weeks."
    ),
    "set_height": gettext_noop(
        "Soil sinks, mulch comes on top. What stands a little high ends level; what stands level ends buried."
    ),
    "pot_height": gettext_noop(
        "Bark in wet mix rots; the free rim takes the water of one watering."
    ),
    "settle_with_water": gettext_noop(
        "Water brings soil to every root. Boots press the air out."
    ),
    "edging": gettext_noop(
        "A ring without an edge is grass again by autumn, and each mowing nicks the bark."
    ),
    "trunk_guard": gettext_noop(
        "One strip of bark cut round by a trimmer or gnawed by a vole kills a young tree."
    ),
    "mulch_ring": gettext_noop(
        "Mulch holds water and keeps grass off. Against the bark it rots the trunk. Schools give 5 to 45 cm (2 to 18 in) of bare ground; citrus needs most, against foot rot."
    ),
    "pot_mulch": gettext_noop(
        "It slows drying and keeps the mix from washing out. Common practice without a source."
    ),
    "stake_if_windy": gettext_noop(
        "A trunk that sways grows thicker. Stake only where wind or loose soil would tip it, a third of its height, and take the stake away after one season."
    ),
    "fruit_off": gettext_noop("Fruit takes what roots need to grow."),
    "head_back": gettext_noop(
        "Half the roots stayed in the nursery; what is left cannot feed the whole top."
    ),
    "label": gettext_noop("In three years nobody knows which it was."),
    "first_watering": gettext_noop(
        "Until roots reach into the soil round it, the ball alone feeds the tree and dries within days. From tomorrow the plan tells when."
    ),
}


#: What a figure is, behind its amount.
def _sizes() -> dict[str, str]:
    """Return which way a length is measured, to follow it."""
    return {
        "mound_height_m": pgettext("behind a length", "high"),
        "ring_width_m": pgettext("behind a length", "across"),
        "hole_width_m": pgettext("behind a length", "wide"),
        "hole_depth_m": pgettext("behind a length", "deep"),
        "mulch_depth_mm": pgettext("behind a length", "deep"),
    }


LABELS = {
    "pipe_m": gettext_noop("at least from pipes and paving"),
    "wall_m": gettext_noop("at least from walls"),
    "septic_m": gettext_noop("at least from a drain field"),
    "spacing_m": gettext_noop("from its neighbours, usually"),
    "test_hole_m": gettext_noop("deep the test hole"),
    "mound_l": gettext_noop("of soil"),
    "mound_width_m": "across",
    "deeper_mm": "deeper",
    "turf_m2": gettext_noop("of turf"),
    "backfill_l": gettext_noop("go back"),
    "compost_l": gettext_noop("of compost"),
    "acid_l": gettext_noop("of peat or bark"),
    "product_g": gettext_noop("of the product"),
    "nitrogen_g": gettext_noop("of nitrogen in it"),
    "above_mm": gettext_noop("above the ground"),
    "water_l": gettext_noop("of water"),
    "edging_m": gettext_noop("of edging"),
    "mulch_l": gettext_noop("of mulch"),
    "trunk_gap_mm": gettext_noop("bare round the trunk"),
    "stakes": gettext_noop("stakes"),
    "posts": gettext_noop("post"),
    "ties": gettext_noop("wide ties"),
    "medium_l": gettext_noop("of mix"),
    "pot_l": gettext_noop("the pot holds"),
    "pot_width_m": gettext_noop("wide, about"),
    "pot_mulch_l": gettext_noop("of bark"),
}


def title_of_step(code: str) -> str:
    """Return a step's verb sentence; one without words is shown as it stands."""
    words = TITLES.get(code)
    return gettext(words) if words else code.replace("_", " ").capitalize()


def amount_of(figure: Figure, units: UnitSystem) -> str:
    """Return a figure as an amount with its unit; a range where it is one."""
    least = format_quantity(figure.least, figure.unit, units)
    if figure.most is None or figure.most == figure.least:
        return least
    most = format_quantity(figure.most, figure.unit, units)
    if least == most:
        return least
    number, _, unit = least.partition(" ")
    return (
        f"{number}\N{EN DASH}{most}"
        if most.endswith(f" {unit}")
        else gettext("{least} to {most}").format(least=least, most=most)
    )


def figure_words(figure: Figure, units: UnitSystem) -> str:
    """Return a figure with what it is: "0.67-1 m wide"."""
    label = label_of(figure) or figure.name.replace("_", " ")
    return f"{amount_of(figure, units)} {label}"


def label_of(figure: Figure) -> str:
    """Return what a figure is, to follow its amount; nothing where no words are."""
    return _sizes().get(figure.name) or gettext(LABELS.get(figure.name, ""))


def figures_words(step: Step, units: UnitSystem) -> tuple[str, ...]:
    """Return all figures of a step in words."""
    return tuple(figure_words(figure, units) for figure in step.figures)
