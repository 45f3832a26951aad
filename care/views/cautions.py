"""What to mind so that nobody is hurt, in words; when to stop comes first."""

from collections.abc import Iterable

#: In the order in which they are shown: what stops the work, then what guards it.
CAUTIONS = {
    "power_lines": "Stop: wires are near. No ladder, pole, saw or wet branch within 3 m (10 ft) of them; a professional does this.",
    "look_for_wires": "Stop if a wire runs through or within 3 m (10 ft) of the tree. Look up before you start.",
    "call_professional": "Do not climb it and do not saw above your shoulders: a tree this tall is work for a professional.",
    "ladder": "Stop in wind, rain or ice. Set a ladder on firm level ground, keep three holds on it, never lean out, and never alone.",
    "no_ladder_in_ice": "No ladder on frozen or icy ground.",
    "saw": "Stop if you cannot stand firm while you cut. Keep the other hand away from the blade, wear eye protection and gloves, and keep people from under the limb.",
    "no_open_flame": "No open flame, heater or lamp under a cover: fire and fumes.",
    "two_people_lift": "Too heavy for one: two people or a dolly, backs straight, not on steps.",
    "move_before_watering": "Move the pot first and water it afterwards: wet soil weighs far more.",
    "lifting_after_watering": "Once watered it is too heavy for one person to lift.",
    "keep_back_straight": "Kneel instead of bending, wear gloves, and change sides often.",
    "carry_small_loads": "Carry it in small loads; a full barrow of mulch is heavy.",
    "damp_mulch_dust": "Damp dry mulch before you spread it and do not breathe its dust; wear gloves and wash hands.",
    "heat_work_early": "Stop if you feel dizzy. Work early or late, drink, wear a hat: the day will be hot.",
    "waiting_days": "Wait out the days that a spray's label or the rule for raw manure asks for before you pick.",
    "windfalls": "Windfalls: gather them every week. Eat none that are mouldy or lay where animals go; wash and cook the rest.",
    "read_species_note": "Parts of this plant or its unripe fruit can do harm: read its note before you eat or touch it.",
    "toxic_parts": "Parts of this plant are poisonous or irritate skin: gloves on, nothing in the mouth, children and animals away.",
    "label_rules": "The product's label is the rule, for dose and for protecting yourself. Wear gloves.",
    "check_local_rules": "Some places forbid feeding in parts of the year: check before you spread.",
    "not_when_soil_wet": "Stop if the soil is still wet a finger deep: too much water kills as surely as too little.",
    "feel_soil_first": "Feel the soil first: somebody may have watered without saying so.",
    "rain_unknown_check_soil": "The rain is not known: check the soil before you pour.",
    "check_twice_daily": "It dries out within the day: look again in the evening.",
    "pot_too_small": "The pot is too small for its crown: a larger one would spare you much carrying.",
    "pour_in_portions": "Pour in portions and let each sink in, or it runs off.",
    "water_first": "The soil is dry: water first, feed a day later.",
    "wait_for_workable_soil": "Wait: the soil is frozen or full of water.",
    "wait_heavy_rain": "Wait: heavy rain is coming and would wash the feed away.",
    "moist_soil_only": "Only onto moist soil, and water it in.",
    "trimmer_off_bark": "Keep mower and trimmer off the bark: weed by hand next to the trunk, and fit a trunk guard. One strip of bark cut round can kill a young tree.",
    "keep_off_trunk": "Keep it off the trunk.",
    "cover_to_ground": "Let the cover reach the ground, so that it holds the soil's warmth.",
    "uncover_by_day": "Take the cover off by day: under it the sun cooks the leaves.",
    "water_soil_before_freeze": "Moist soil gives more warmth than dry: water before the frost, but not clay that is wet already.",
    "harden_gradually": "Shade it for the first days: leaves grown indoors burn in full sun.",
    "dry_spell": "Wait for a few dry days: wet cuts let disease in.",
    "clean_tools": "Clean the blades between trees.",
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
