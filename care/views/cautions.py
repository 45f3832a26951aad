"""What to mind so that nobody is hurt, in words; when to stop comes first."""

from collections.abc import Iterable

#: In the order in which they are shown: what could hurt somebody, the worst first; then
#: what could hurt the tree.
CAUTIONS = {
    "wait_for_marks": "Stop: nobody digs before pipes and cables are marked. In the United States 811 sends for them, elsewhere the local service; its rules and waiting days go before the plan's.",
    "power_lines": "Stop: wires are near. No ladder, pole, saw or wet branch within 3 m (10 ft) of them; a professional does this.",
    "look_for_wires": "Stop if a wire runs through or within 3 m (10 ft) of the tree. Look up before you start.",
    "call_professional": "Do not climb it and do not saw above your shoulders: a tree this tall is work for a professional.",
    "stay_on_the_ground": "What hangs above 4.5 m (15 ft) stays there, or is reached with a pole from the ground: do not climb for it.",
    "ladder": "Stop in wind, rain or ice, and at the first thunder. On soil only a three-legged orchard ladder, its third leg uphill; stay 60 cm (2 ft) below its top, keep three holds, never lean out, and never alone.",
    "no_ladder_in_ice": "No ladder on frozen or icy ground.",
    "stay_on_ground": "Look from the ground, with field glasses if need be; no ladder for a look.",
    "saw": "Stop if you cannot stand firm while you cut. Hand tools only: a chain saw is for trained people with its gear, never on a ladder and never above the shoulders. Keep the other hand away from the blade, wear eye protection and gloves, and keep people from under the limb.",
    "too_tall_for_lines": "Stop: its kind grows too tall for the wires here. Choose another place, or a kind that stays below 7.6 m (25 ft).",
    "hand_dig_near_marks": "Within 60 cm (2 ft) of a mark dig by hand only, with care; no machine.",
    "no_open_flame": "No open flame, heater or lamp under a cover: fire and fumes.",
    "sulfur_dust": "Stop near any flame or spark: sulfur dust burns. Spread it on a still day with eye protection, mask and gloves.",
    "trimmer_throws": "Trimmers and mowers throw stones: eye protection, long trousers and firm shoes, and nobody within 15 m (50 ft).",
    "heat_put_off_work": "Put heavy work off: on such a day nobody prunes, digs or carries in the hottest hours. Stop and cool down at a headache, cramps or confusion, and call for help. Local heat rules go first.",
    "heat_illness": "Confusion, fainting or fits in the heat are heat stroke: call your emergency number at once, move the person into shade and cool them with water until help comes (OSHA). Headache, sickness or dizziness: stop, shade, drink.",
    "heat_work_early": "Stop if you feel dizzy. Work early or late, drink, wear a hat: the day will be hot.",
    "two_people_lift": "Too heavy for one: two people or a dolly, backs straight, not on steps.",
    "move_before_watering": "Move the pot first and water it afterwards: wet soil weighs far more.",
    "lifting_after_watering": "Once watered it is too heavy for one person to lift.",
    "keep_back_straight": "Kneel instead of bending, wear gloves, and change sides often.",
    "carry_small_loads": "Carry it in small loads; a full barrow of mulch is heavy.",
    "toxic_parts": "Parts of this plant are poisonous or irritate skin: gloves on, nothing in the mouth, children and animals away.",
    "mango_sap": "Its sap and peel burn the skin as poison ivy does: long sleeves and gloves, wash at once, and not for anybody who reacts to it.",
    "label_rules": "The product's label is the rule, for dose and for protecting yourself. Wear gloves.",
    "spray_label_law": "No product is advised here. Whoever uses one keeps to its label, which is the law, and to local rules, logs it, and waits its days before picking.",
    "damp_mulch_dust": "Damp dry mulch before you spread it and do not breathe its dust; wear gloves and wash hands.",
    "damp_potting_dust": "Damp the mix before you pour it and do not breathe its dust; gloves, and wash hands.",
    "waiting_days": "Wait out the days that a spray's label or the rule for raw manure asks for before you pick.",
    "windfalls": "Windfalls: gather them every week. Eat none that are mouldy or lay where animals go; wash and cook the rest.",
    "read_species_note": "Parts of this plant or its unripe fruit can do harm: read its note before you eat or touch it.",
    "tell_helpers": "Tell everybody who might pick here, and hang a note on the tree.",
    "weedkiller_in_mulch": "Clippings, hay, straw and compost can carry weedkiller that cripples fruit plants for a year or more: use only what comes from ground you know was never sprayed.",
    "weed_seed_in_mulch": "Clippings and straw bring weed seed: take them before they seed, and lay them thin.",
    "drains_too_slowly": "Stop: the ground holds water for days. Without a mound the roots drown.",
    "no_spray_open_bloom": "Nothing is sprayed while blossom is open: it kills bees.",
    "wet_disease": "In wet weather cut nothing and touch wet leaves little: that spreads disease.",
    "check_local_rules": "Some places forbid feeding in parts of the year: check before you spread.",
    "rule_forbids_watering": "Stop: the local watering rule forbids water on this day. Ask for leave first. Until then shade it, and keep its ground under mulch.",
    "rule_by_hand_only": "On this day by can or by a hose in your hand only: the local watering rule forbids drippers and sprinklers.",
    "not_when_soil_wet": "Stop if the soil is still wet a finger deep: too much water kills as surely as too little.",
    "feel_soil_first": "Feel the soil first: somebody may have watered without saying so.",
    "rain_unknown_check_soil": "The rain is not known: check the soil before you pour.",
    "drowns_easily": "Its test hole held water for two days, so roots drown here: feel deep before you water, water seldom, and replant it on a mound when it sleeps.",
    "hot_pot": "The pot stands in heat: the mix at its wall can pass 49 °C (120 °F) and kill roots. Shade the pot, water early, and look again in the evening.",
    "salty_water": "Your water is salty, hard or softened: let a quarter of it run out below a pot, never water the leaves, and use rain or unsoftened water where you can.",
    "check_twice_daily": "It dries out within the day: look again in the evening.",
    "pot_smaller_than_ball": "Stop: the root ball is as large as the pot. Choose a larger pot, or it dries out within the day.",
    "pot_too_small": "The pot is too small for its crown: a larger one would spare you much carrying.",
    "pour_in_portions": "Pour in portions and let each sink in, or it runs off.",
    "water_first": "The soil is dry: water first, feed a day later.",
    "wait_for_workable_soil": "Wait: the soil is frozen or full of water.",
    "wait_heavy_rain": "Wait: heavy rain is coming and would wash the feed away.",
    "sulfur_mix_in": "Only into empty ground, worked into the top hand's breadth; never round roots that live there.",
    "sulfur_on_surface": "On the surface only: do not dig it in round the roots, and never put any into a pot.",
    "empty_saucer": "Let all of it run off and empty the saucer: a pot that stands in its salty water takes it up again.",
    "plain_water": "Use rain water or unsoftened water if you have any: a softener's salt makes it worse.",
    "keep_from_water": "A local rule keeps feed away from water: enter how far this tree stands from it, and spread none nearer.",
    "lawn_feed_counts": "Feed for the lawn within 1.5 m (5 ft) of its branches counts too: give one or the other.",
    "not_in_hole": "On the surface only, never into the planting hole: it burns new roots.",
    "moist_soil_only": "Only onto moist soil, and water it in.",
    "edge_shallow": "Cut shallowly: roots of the tree lie near the top.",
    "guard_loose": "Leave the guard loose and clear of the soil; look at it twice a year so that it never binds.",
    "trimmer_off_bark": "Keep mower and trimmer off the bark: weed by hand next to the trunk, and fit a trunk guard. One strip of bark cut round can kill a young tree.",
    "keep_off_trunk": "Keep it off the trunk.",
    "huddle_by_wall": "If it cannot come in, stand it close to other pots by a wall that faces the sun, on the ground, its pot wrapped: better than nothing, not safe.",
    "mulch_back_before_frost": "Pull the mulch back from under a young citrus before a clear, calm frost night and put it back after (LSU AgCenter); others leave it to guard the roots. Pots keep theirs.",
    "frozen_wood_stays": "Leave brown leaves and frozen wood on until new shoots show what lives: cutting sooner costs live wood.",
    "bank_young_citrus": "Bank clean soil 30 to 45 cm (12-18 in) up a young citrus trunk, above its graft, and take it off when the frosts are over.",
    "cover_to_ground": "Let the cover reach the ground, so that it holds the soil's warmth.",
    "uncover_by_day": "Take the cover off by day: under it the sun cooks the leaves.",
    "water_soil_before_freeze": "Moist soil gives more warmth than dry: water before the frost, but not clay that is wet already.",
    "harden_gradually": "Shade it for the first days: leaves grown indoors burn in full sun.",
    "dry_spell": "Wait for a few dry days: wet cuts let disease in.",
    "clean_tools": "Clean the blades between trees.",
    "clean_each_cut": "Clean the blade in alcohol of 70% after each cut, away from fire.",
}


def caution_words(codes: Iterable[str]) -> tuple[str, ...]:
    """Return cautions in words, what stops the work first.

    A code without words here is shown as it stands: better odd than lost.
    """
    order = list(CAUTIONS)
    known = sorted({code for code in codes if code in CAUTIONS}, key=order.index)
    unknown = [code for code in codes if code not in CAUTIONS]
    words = [CAUTIONS[code] for code in known]
    return (*words, *(code.replace("_", " ").capitalize() + "." for code in unknown))
