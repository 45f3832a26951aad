"""What to mind so that nobody is hurt, in words; when to stop comes first."""

from collections.abc import Iterable

from django.utils.translation import gettext, gettext_noop

#: In the order in which they are shown: what could hurt somebody, the worst first; then
#: what could hurt the tree.
CAUTIONS = {
    "wait_for_marks": gettext_noop(
        "Stop: nobody digs before pipes and cables are marked. In the United States 811 sends for them, elsewhere the local service; its rules and waiting days go before the plan's."
    ),
    "power_lines": gettext_noop(
        "Stop: wires are near. No ladder, pole, saw or wet branch within 3 m (10 ft) of them; a professional does this."
    ),
    "look_for_wires": gettext_noop(
        "Stop if a wire runs through or within 3 m (10 ft) of the tree. Look up before you start."
    ),
    "call_professional": gettext_noop(
        "Do not climb it and do not saw above your shoulders: a tree this tall is work for a professional."
    ),
    "stay_on_the_ground": gettext_noop(
        "What hangs above 4.5 m (15 ft) stays there, or is reached with a pole from the ground: do not climb for it."
    ),
    "ladder": gettext_noop(
        "Stop in wind, rain or ice, and at the first thunder. On soil only a three-legged orchard ladder, its third leg uphill; stay 60 cm (2 ft) below its top, keep three holds, never lean out, and never alone."
    ),
    "no_ladder_in_ice": gettext_noop("No ladder on frozen or icy ground."),
    "stay_on_ground": gettext_noop(
        "Look from the ground, with field glasses if need be; no ladder for a look."
    ),
    "saw": gettext_noop(
        "Stop if you cannot stand firm while you cut. Hand tools only: a chain saw is for trained people with its gear, never on a ladder and never above the shoulders. Keep the other hand away from the blade, wear eye protection and gloves, and keep people from under the limb."
    ),
    "too_tall_for_lines": gettext_noop(
        "Stop: its kind grows too tall for the wires here. Choose another place, or a kind that stays below 7.6 m (25 ft)."
    ),
    "hand_dig_near_marks": gettext_noop(
        "Within 60 cm (2 ft) of a mark dig by hand only, with care; no machine."
    ),
    "no_open_flame": gettext_noop(
        "No open flame, heater or lamp under a cover: fire and fumes."
    ),
    "sulfur_dust": gettext_noop(
        "Stop near any flame or spark: sulfur dust burns. Spread it on a still day with eye protection, mask and gloves."
    ),
    "trimmer_throws": gettext_noop(
        "Trimmers and mowers throw stones: eye protection, long trousers and firm shoes, and nobody within 15 m (50 ft)."
    ),
    "heat_put_off_work": gettext_noop(
        "Put heavy work off: on such a day nobody prunes, digs or carries in the hottest hours. Stop and cool down at a headache, cramps or confusion, and call for help. Local heat rules go first."
    ),
    "heat_illness": gettext_noop(
        "Confusion, fainting or fits in the heat are heat stroke: call your emergency number at once, move the person into shade and cool them with water until help comes (OSHA). Headache, sickness or dizziness: stop, shade, drink."
    ),
    "heat_work_early": gettext_noop(
        "Stop if you feel dizzy. Work early or late, drink, wear a hat: the day will be hot."
    ),
    "two_people_lift": gettext_noop(
        "Too heavy for one: two people or a dolly, backs straight, not on steps."
    ),
    "move_before_watering": gettext_noop(
        "Move the pot first and water it afterwards: wet soil weighs far more."
    ),
    "lifting_after_watering": gettext_noop(
        "Once watered it is too heavy for one person to lift."
    ),
    "keep_back_straight": gettext_noop(
        "Kneel instead of bending, wear gloves, and change sides often."
    ),
    "carry_small_loads": gettext_noop(
        "Carry it in small loads; a full barrow of mulch is heavy."
    ),
    "toxic_parts": gettext_noop(
        "Parts of this plant are poisonous or irritate skin: gloves on, nothing in the mouth, children and animals away."
    ),
    "mango_sap": gettext_noop(
        "Its sap and peel burn the skin as poison ivy does: long sleeves and gloves, wash at once, and not for anybody who reacts to it."
    ),
    "label_rules": gettext_noop(
        "The product's label is the rule, for dose and for protecting yourself. Wear gloves."
    ),
    "spray_label_law": gettext_noop(
        "No product is advised here. Whoever uses one keeps to its label, which is the law, and to local rules, logs it, and waits its days before picking."
    ),
    "damp_mulch_dust": gettext_noop(
        "Damp dry mulch before you spread it and do not breathe its dust; wear gloves and wash hands."
    ),
    "damp_potting_dust": gettext_noop(
        "Damp the mix before you pour it and do not breathe its dust; gloves, and wash hands."
    ),
    "waiting_days": gettext_noop(
        "Wait out the days that a spray's label or the rule for raw manure asks for before you pick."
    ),
    "windfalls": gettext_noop(
        "Windfalls: gather them every week. Eat none that are mouldy or lay where animals go; wash and cook the rest."
    ),
    "read_species_note": gettext_noop(
        "Parts of this plant or its unripe fruit can do harm: read its note before you eat or touch it."
    ),
    "tell_helpers": gettext_noop(
        "Tell everybody who might pick here, and hang a note on the tree."
    ),
    "weedkiller_in_mulch": gettext_noop(
        "Clippings, hay, straw and compost can carry weedkiller that cripples fruit plants for a year or more: use only what comes from ground you know was never sprayed."
    ),
    "weed_seed_in_mulch": gettext_noop(
        "Clippings and straw bring weed seed: take them before they seed, and lay them thin."
    ),
    "drains_too_slowly": gettext_noop(
        "Stop: the ground holds water for days. Without a mound the roots drown."
    ),
    "no_spray_open_bloom": gettext_noop(
        "Nothing is sprayed while blossom is open: it kills bees."
    ),
    "wet_disease": gettext_noop(
        "In wet weather cut nothing and touch wet leaves little: that spreads disease."
    ),
    "check_local_rules": gettext_noop(
        "Some places forbid feeding in parts of the year: check before you spread."
    ),
    "rule_forbids_watering": gettext_noop(
        "Stop: the local watering rule forbids water on this day. Ask for leave first. Until then shade it, and keep its ground under mulch."
    ),
    "rule_by_hand_only": gettext_noop(
        "On this day by can or by a hose in your hand only: the local watering rule forbids drippers and sprinklers."
    ),
    "not_when_soil_wet": gettext_noop(
        "Stop if the soil is still wet a finger deep: too much water kills as surely as too little."
    ),
    "feel_soil_first": gettext_noop(
        "Feel the soil first: somebody may have watered without saying so."
    ),
    "rain_unknown_check_soil": gettext_noop(
        "The rain is not known: check the soil before you pour."
    ),
    "drowns_easily": gettext_noop(
        "Its test hole held water for two days, so roots drown here: feel deep before you water, water seldom, and replant it on a mound when it sleeps."
    ),
    "hot_pot": gettext_noop(
        "The pot stands in heat: the mix at its wall can pass 49 °C (120 °F) and kill roots. Shade the pot, water early, and look again in the evening."
    ),
    "salty_water": gettext_noop(
        "Your water is salty, hard or softened: let a quarter of it run out below a pot, never water the leaves, and use rain or unsoftened water where you can."
    ),
    "check_twice_daily": gettext_noop(
        "It dries out within the day: look again in the evening."
    ),
    "pot_smaller_than_ball": gettext_noop(
        "Stop: the root ball is as large as the pot. Choose a larger pot, or it dries out within the day."
    ),
    "pot_too_small": gettext_noop(
        "The pot is too small for its crown: a larger one would spare you much carrying."
    ),
    "pour_in_portions": gettext_noop(
        "Pour in portions and let each sink in, or it runs off."
    ),
    "water_first": gettext_noop("The soil is dry: water first, feed a day later."),
    "wait_for_workable_soil": gettext_noop(
        "Wait: the soil is frozen or full of water."
    ),
    "wait_heavy_rain": gettext_noop(
        "Wait: heavy rain is coming and would wash the feed away."
    ),
    "sulfur_mix_in": gettext_noop(
        "Only into empty ground, worked into the top hand's breadth; never round roots that live there."
    ),
    "sulfur_on_surface": gettext_noop(
        "On the surface only: do not dig it in round the roots, and never put any into a pot."
    ),
    "empty_saucer": gettext_noop(
        "Let all of it run off and empty the saucer: a pot that stands in its salty water takes it up again."
    ),
    "plain_water": gettext_noop(
        "Use rain water or unsoftened water if you have any: a softener's salt makes it worse."
    ),
    "keep_from_water": gettext_noop(
        "A local rule keeps feed away from water: enter how far this tree stands from it, and spread none nearer."
    ),
    "lawn_feed_counts": gettext_noop(
        "Feed for the lawn within 1.5 m (5 ft) of its branches counts too: give one or the other."
    ),
    "not_in_hole": gettext_noop(
        "On the surface only, never into the planting hole: it burns new roots."
    ),
    "moist_soil_only": gettext_noop("Only onto moist soil, and water it in."),
    "edge_shallow": gettext_noop("Cut shallowly: roots of the tree lie near the top."),
    "guard_loose": gettext_noop(
        "Leave the guard loose and clear of the soil; look at it twice a year so that it never binds."
    ),
    "trimmer_off_bark": gettext_noop(
        "Keep mower and trimmer off the bark: weed by hand next to the trunk, and fit a trunk guard. One strip of bark cut round can kill a young tree."
    ),
    "keep_off_trunk": gettext_noop("Keep it off the trunk."),
    "huddle_by_wall": gettext_noop(
        "If it cannot come in, stand it close to other pots by a wall that faces the sun, on the ground, its pot wrapped: better than nothing, not safe."
    ),
    "mulch_back_before_frost": gettext_noop(
        "Pull the mulch back from under a young citrus before a clear, calm frost night and put it back after (LSU AgCenter); others leave it to guard the roots. Pots keep theirs."
    ),
    "frozen_wood_stays": gettext_noop(
        "Leave brown leaves and frozen wood on until new shoots show what lives: cutting sooner costs live wood."
    ),
    "bank_young_citrus": gettext_noop(
        "Bank clean soil 30 to 45 cm (12-18 in) up a young citrus trunk, above its graft, and take it off when the frosts are over."
    ),
    "cover_to_ground": gettext_noop(
        "Let the cover reach the ground, so that it holds the soil's warmth."
    ),
    "uncover_by_day": gettext_noop(
        "Take the cover off by day: under it the sun cooks the leaves."
    ),
    "water_soil_before_freeze": gettext_noop(
        "Moist soil gives more warmth than dry: water before the frost, but not clay that is wet already."
    ),
    "harden_gradually": gettext_noop(
        "Shade it for the first days: leaves grown indoors burn in full sun."
    ),
    "dry_spell": gettext_noop("Wait for a few dry days: wet cuts let disease in."),
    "clean_tools": gettext_noop("Clean the blades between trees."),
    "clean_each_cut": gettext_noop(
        "Clean the blade in alcohol of 70% after each cut, away from fire."
    ),
}


def caution_words(codes: Iterable[str]) -> tuple[str, ...]:
    """Return cautions in words, what stops the work first.

    A code without words here is shown as it stands: better odd than lost.
    """
    order = list(CAUTIONS)
    known = sorted({code for code in codes if code in CAUTIONS}, key=order.index)
    unknown = [code for code in codes if code not in CAUTIONS]
    words = [gettext(CAUTIONS[code]) for code in known]
    return (*words, *(code.replace("_", " ").capitalize() + "." for code in unknown))
