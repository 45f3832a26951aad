"""The steps of a planting sheet in words: what to do, how much, why so."""

from care.planning.planting_steps import Figure, Step
from orchard.units import UnitSystem, format_quantity

TITLES = {
    "locate": "Ask where pipes and cables lie",
    "distances": "Measure how far it stands from things",
    "lead": "Have the soil tested for lead",
    "plant_quarantine": "Ask whether this kind may be brought here",
    "invasive": "Look at the list of invasive plants",
    "soil_test": "Have acidity and nutrients tested",
    "drainage": "Test how fast the ground drains",
    "raised_mound": "Build a mound",
    "drain_holes": "Look that the drain holes are open",
    "flare_found": "Find the root flare",
    "fig_deeper": "Plan to set the fig deeper than it stood",
    "soak_roots": "Soak the bare roots",
    "circling_roots": "Cut circling roots",
    "wire_burlap": "Take wire, twine and burlap off",
    "graft_above": "Keep the graft above the soil",
    "turf_ring": "Lift the turf in a ring",
    "hole_depth": "Dig the hole",
    "permanent_post": "Set the post",
    "no_gravel": "Leave gravel out",
    "soilless_mix": "Fill the pot with mix",
    "acid_mix": "Take an acid mix",
    "native_backfill": "Fill with the soil that came out",
    "compost_backfill": "Mix compost into what goes back",
    "acid_backfill": "Mix peat or pine bark into what goes back",
    "no_feed_in_hole": "Feed nothing now",
    "no_feed_month": "Feed nothing for a month",
    "first_feed": "Give its first feed",
    "set_height": "Set it above the ground",
    "pot_height": "Set it just above the mix",
    "settle_with_water": "Settle it with water",
    "edging": "Set the edging",
    "trunk_guard": "Fit a trunk guard",
    "mulch_ring": "Mulch the ring, not the trunk",
    "pot_mulch": "Cover the mix with bark",
    "stake_if_windy": "Stake it, or leave it free",
    "fruit_off": "Take off blossom and fruit",
    "head_back": "Cut the top back",
    "label": "Hang its label",
    "first_watering": "Water the ball once more",
}
WHY = {
    "locate": "A spade through a cable can kill, and through a main cuts off a street. Marking is free of charge in most places and takes some working days.",
    "distances": "What is a whip today shades a window, lifts a path or fills a drain when it is grown. Local rules may ask for more.",
    "lead": "Lead stays where paint, fuel and sprays of old days left it; soil on hands and fruit brings it into children.",
    "plant_quarantine": "Plants carry pests that no one sees. Some places forbid moving citrus, walnut or others at all.",
    "invasive": "A kind that birds carry off into the wild may be forbidden where you live.",
    "soil_test": "Sulfur and lime take months to work and cannot be taken back: the time for them is before planting.",
    "drainage": "Roots need air. A hole that holds water for days drowns them, and no watering plan can mend that.",
    "raised_mound": "On a mound the roots stand above the water. Texas A&M gives 15 to 30 cm (6 to 12 in) of height and 2.5 to 3 m (8 to 10 ft) across.",
    "drain_holes": "A pot without a way out for water is a bucket, and its lowest roots rot first.",
    "flare_found": "Many trees come too deep in their pot. Bark that lies in wet soil rots, and roots grow round it and strangle it years later.",
    "fig_deeper": "A fig roots from its buried stem and comes back from there after a freeze. It is the exception; other trees rot so.",
    "soak_roots": "Fine roots die within minutes in sun and wind.",
    "circling_roots": "A root that circles goes on circling, and in ten years strangles the trunk. A cut root branches outwards.",
    "wire_burlap": "Wire outlives the roots that grow through it, and dry burlap wicks water out of the ball.",
    "graft_above": "Below the soil the upper part roots by itself, and a dwarf is a dwarf no longer.",
    "turf_ring": "Grass is the young tree's first rival: it drinks first, and where it is trimmed the bark suffers.",
    "hole_depth": "Roots spread wide, not deep. A ball on loosened soil sinks, and its flare with it. Another school digs deeper; University of Florida trials found no water saved by it.",
    "permanent_post": "Roots of dwarf stocks cannot hold a crown full of fruit. A post driven in later goes through the roots.",
    "no_gravel": "Water stays in the mix above gravel, where the roots are.",
    "soilless_mix": "Garden soil packs down in a pot and holds no air.",
    "acid_mix": "Acid lovers starve beside plenty where the mix is not sour: iron is there and cannot be taken up.",
    "native_backfill": "Two schools. One adds nothing: the University of Florida, after many trials, finds that nothing in the hole helps in all but very poor soil, and roots must live in this soil anyway. The other mixes compost in. Adding nothing is the rule here; compost goes on top, under the mulch.",
    "compost_backfill": "Two schools. You chose compost. The other adds nothing: the University of Florida finds no gain in all but very poor soil, and in clay a hole of richer soil fills like a basin. The share is common practice without a source.",
    "acid_backfill": "Blueberries and their like want sour soil full of humus: the University of Florida mixes peat in at planting, or pine bark. How much is common practice without a source. For other kinds the hole gets nothing.",
    "no_feed_in_hole": "Feed burns new roots and they cannot use it yet. Schools differ on when to begin: Arizona in the second year, Texas once 15 cm (6 in) have grown, Florida three weeks after planting for citrus.",
    "no_feed_month": "Cut and torn roots are burnt by salts. Most mixes bring feed for the first weeks.",
    "first_feed": "You chose to feed. It is one part of the first season's amount for its kind, in your own product, and counts against that season. Schools differ: Arizona feeds none in the first year, Texas once 15 cm (6 in) have grown, Florida citrus after three weeks.",
    "set_height": "Soil sinks, mulch comes on top. What stands a little high ends level; what stands level ends buried.",
    "pot_height": "Bark in wet mix rots; the free rim takes the water of one watering.",
    "settle_with_water": "Water brings soil to every root. Boots press the air out.",
    "edging": "A ring without an edge is grass again by autumn, and each mowing nicks the bark.",
    "trunk_guard": "One strip of bark cut round by a trimmer or gnawed by a vole kills a young tree.",
    "mulch_ring": "Mulch holds water and keeps grass off. Against the bark it rots the trunk. Schools give 5 to 45 cm (2 to 18 in) of bare ground; citrus needs most, against foot rot.",
    "pot_mulch": "It slows drying and keeps the mix from washing out. Common practice without a source.",
    "stake_if_windy": "A trunk that sways grows thicker. Stake only where wind or loose soil would tip it, a third of its height, and take the stake away after one season.",
    "fruit_off": "Fruit takes what roots need to grow.",
    "head_back": "Half the roots stayed in the nursery; what is left cannot feed the whole top.",
    "label": "In three years nobody knows which it was.",
    "first_watering": "Until roots reach into the soil round it, the ball alone feeds the tree and dries within days. From tomorrow the plan tells when.",
}
#: What a figure is, behind its amount.
LABELS = {
    "pipe_m": "at least from pipes and paving",
    "wall_m": "at least from walls",
    "septic_m": "at least from a drain field",
    "spacing_m": "from its neighbours, usually",
    "test_hole_m": "deep the test hole",
    "mound_l": "of soil",
    "mound_height_m": "high",
    "mound_width_m": "across",
    "deeper_mm": "deeper",
    "ring_width_m": "across",
    "turf_m2": "of turf",
    "hole_width_m": "wide",
    "hole_depth_m": "deep",
    "backfill_l": "go back",
    "compost_l": "of compost",
    "acid_l": "of peat or bark",
    "product_g": "of the product",
    "nitrogen_g": "of nitrogen in it",
    "above_mm": "above the ground",
    "water_l": "of water",
    "edging_m": "of edging",
    "mulch_l": "of mulch",
    "mulch_depth_mm": "deep",
    "trunk_gap_mm": "bare round the trunk",
    "stakes": "stakes",
    "posts": "post",
    "ties": "wide ties",
    "medium_l": "of mix",
    "pot_l": "the pot holds",
    "pot_width_m": "wide, about",
    "pot_mulch_l": "of bark",
}


def title_of_step(code: str) -> str:
    """Return a step's verb sentence; one without words is shown as it stands."""
    return TITLES.get(code, code.replace("_", " ").capitalize())


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
        else f"{least} to {most}"
    )


def figure_words(figure: Figure, units: UnitSystem) -> str:
    """Return a figure with what it is: "0.67-1 m wide"."""
    label = LABELS.get(figure.name, figure.name.replace("_", " "))
    return f"{amount_of(figure, units)} {label}"


def figures_words(step: Step, units: UnitSystem) -> tuple[str, ...]:
    """Return all figures of a step in words."""
    return tuple(figure_words(figure, units) for figure in step.figures)
