"""What to look at and to do at one task, line by line."""

from django.utils.translation import gettext, gettext_noop

from care.models import Task
from care.views.wording import reason_of

CHECKS = {
    # Before planting.
    "lead": gettext_noop(
        "In a town, by an old house, road or former orchard: have the soil tested for lead and arsenic before anything edible goes in."
    ),
    "plant_quarantine": gettext_noop(
        "Ask the plant-health office whether this kind may be brought here: some places forbid moving it."
    ),
    "invasive": gettext_noop(
        "Look at the local list of invasive plants: this kind is on some."
    ),
    "soil_test": gettext_noop(
        "Have acidity and nutrients tested once; it takes weeks."
    ),
    # The planting day.
    "distances": gettext_noop(
        "Measure the distances: walls, pipes, drain field, wires, neighbours."
    ),
    "drainage_known": gettext_noop(
        "Drainage was not tested: fill the hole with water and see that it is empty within a day."
    ),
    "raised_mound": gettext_noop(
        "Water drains slowly here: build a mound 15 to 30 cm (6 to 12 in) high and 2.5 to 3 m (8 to 10 ft) across, and plant into that."
    ),
    "flare_found": gettext_noop(
        "Find the flare, where trunk turns into root, and scrape soil off the ball until you see it. It stays above the ground, 25 to 50 mm (1 to 2 in), never below."
    ),
    "fig_deeper": gettext_noop(
        "A fig alone goes 50 to 100 mm (2 to 4 in) deeper than it stood."
    ),
    "soak_roots": gettext_noop(
        "Keep bare roots wet and out of the sun; soak them for an hour or two before they go in."
    ),
    "circling_roots": gettext_noop(
        "Cut roots that circle the ball, straighten the rest."
    ),
    "wire_burlap": gettext_noop(
        "Once it stands, cut wire, twine and burlap off at least the upper half."
    ),
    "graft_above": gettext_noop("The graft union stays well above soil and mulch."),
    "hole_depth": gettext_noop(
        "Dig no deeper than the ball is high and leave the bottom undug, so that it does not sink."
    ),
    "native_backfill": gettext_noop("Fill with the soil that came out, nothing added."),
    "acid_backfill": gettext_noop(
        "An acid lover: mix peat or fine pine bark into the soil that goes back."
    ),
    "settle_with_water": gettext_noop("Settle the soil with water, not with boots."),
    "no_feed_in_hole": gettext_noop(
        "No fertiliser in the hole, nor in the first weeks."
    ),
    "fruit_off": gettext_noop("Take off all blossom and fruit this year."),
    "head_back": gettext_noop(
        "Cut the top back to balance lost roots: by about a third."
    ),
    "stake_if_windy": gettext_noop(
        "Stake only in wind or loose soil: short, with wide flexible ties, for one season."
    ),
    "permanent_post": gettext_noop(
        "A dwarf rootstock needs its post for life: set it before the tree."
    ),
    "mulch_ring": gettext_noop("Mulch a ring, and keep the trunk free of it."),
    "trunk_guard": gettext_noop(
        "Fit a trunk guard against mowers, trimmers and rodents."
    ),
    # The first years.
    "flare_after_settling": gettext_noop(
        "Is the flare still above the ground? If it sank, lift it while that is easy."
    ),
    "ties_loose": gettext_noop("Ties must not rub or bind: loosen them."),
    "guard_loose": gettext_noop(
        "The guard must stand off the bark and leave it room to grow."
    ),
    "ring_wet": gettext_noop("Is the ball itself moist, not only the soil round it?"),
    "ring_weeded": gettext_noop("No grass within the ring."),
    "stands_alone": gettext_noop(
        "Untie it and push: it should sway and stand straight again."
    ),
    "ties_off": gettext_noop(
        "Take every tie, tape and stake away, and labels with them."
    ),
    "scratch_bark": gettext_noop("Scratch a twig: green below the bark is alive."),
    "wet_or_dry": gettext_noop(
        "Dig a finger deep beside the trunk: neither soggy nor dust."
    ),
    "roots_deep": gettext_noop("Is it planted too deep, or mulch against the trunk?"),
    "leaves_small": gettext_noop(
        "Leaves that stay small, curl or fall are a warning; plain standing still is not."
    ),
    "water_steps_down": gettext_noop(
        "Water seldom and more at a time from now on; the plan does so by itself."
    ),
    "companions": gettext_noop(
        "Undemanding neighbours may go in outside the ring; no heavy feeders."
    ),
    "ring_to_dripline": gettext_noop("Widen mulch and ring to the edge of the crown."),
    # The planting sheet besides.
    "locate": gettext_noop(
        "Nobody digs before pipes and cables are marked. In the United States call 811, elsewhere the local service."
    ),
    "drainage": gettext_noop(
        "Fill a test hole twice and time the second emptying. Under a day is good; over two days no tree stands here without a mound."
    ),
    "turf_ring": gettext_noop(
        "Lift grass and weeds off the whole ring, roots and all, shallowly."
    ),
    "compost_backfill": gettext_noop(
        "Mix compost into the soil that came out, no more than a quarter of it. The other school adds nothing."
    ),
    "first_feed": gettext_noop(
        "Strew it on moist ground outside the ball, never into the hole, and water it in. The other school feeds nothing at planting."
    ),
    "set_height": gettext_noop(
        "Lay a handle across the hole: where stem turns into root stands above the ground, and stays so when the soil has sunk."
    ),
    "edging": gettext_noop(
        "Set the edging round the ring, level with the ground, so that grass stays out and the mower too."
    ),
    "label": gettext_noop(
        "Write name, cultivar, rootstock and day on a label, and hang it loosely on a branch, not round the trunk."
    ),
    "first_watering": gettext_noop(
        "Water once more, slowly, over the ball itself. Leave it out where water still stands."
    ),
    "acid_mix": gettext_noop(
        "An acid lover: take a mix for azaleas, of peat and fine pine bark, and never any lime."
    ),
    "pot_height": gettext_noop(
        "Set the base of the stem just above the mix, and the mix two fingers (30 mm, 1 in) below the rim for water."
    ),
    "pot_mulch": gettext_noop("Cover the mix thinly with bark, clear of the stem."),
    # Pots.
    "drain_holes": gettext_noop("Drain holes open, saucer empty."),
    "soilless_mix": gettext_noop(
        "Fresh soilless mix, of bark or the like and perlite; no garden soil."
    ),
    "no_gravel": gettext_noop("No gravel at the bottom: water stands above it."),
    "roots_trimmed": gettext_noop(
        "Take 25 to 50 mm (1 to 2 in) of circling roots off, sides and bottom."
    ),
    "same_depth": gettext_noop("Set it as deep as it stood."),
    "top_cut": gettext_noop(
        "Cut the top back by a quarter to a third, to match the roots."
    ),
    "pot_salt": gettext_noop(
        "A white crust is salt: pour water through slowly until it runs freely below."
    ),
    "no_feed_month": gettext_noop("No feed for a month."),
    "slip_out": gettext_noop(
        "Slip it out of the pot: if roots circle or fill it, pot it on or trim them now, and write the pot's size down."
    ),
    # Looking over, by stage.
    "mummies": gettext_noop("Dried fruit on twigs and ground: take it away."),
    "cankers": gettext_noop(
        "Sunken, oozing or dead bark: cut it out, clear the prunings away."
    ),
    "scale": gettext_noop("Bumps that can be scraped off twigs: scale."),
    "rodent_guards": gettext_noop(
        "Gnawed bark at the ground; guards in place and loose."
    ),
    "leaf_curl": gettext_noop(
        "Buds begin to swell: the time to act against leaf curl is over for this year; note it for leaf fall."
    ),
    "traps": gettext_noop("Hang traps for codling moth."),
    "no_spray_in_bloom": gettext_noop("Nothing is sprayed on open bloom: bees."),
    "count_bloom": gettext_noop("How much is in bloom, and on which day is it full?"),
    "frost_damage": gettext_noop(
        "Cut some flowers open after a frost: a dark middle bears no fruit."
    ),
    "blossom_blight": gettext_noop("Flowers and tips that wilt and brown."),
    "entry_holes": gettext_noop(
        "Small holes with crumbs in young fruit: pick those off and destroy them."
    ),
    "trunk_bands": gettext_noop(
        "Cardboard bands round trunks: open them, destroy what hides there."
    ),
    "fire_blight": gettext_noop(
        "Blackened tips bent like a hook are fire blight: on a dry day cut 200 to 300 mm (8 to 12 in) below what shows, and clean the blade after each cut."
    ),
    "aphids_ants": gettext_noop("Curled leaves, honeydew, ants on the trunk."),
    "drops": gettext_noop("Gather fallen fruit, from now on every week."),
    "touching_fruit": gettext_noop("Thin fruit that touch: worms go in there."),
    "mites_scale_ants": gettext_noop("Bronzed or sticky leaves, scale, ants."),
    "sunburn_drought": gettext_noop(
        "Burnt bark or fruit, leaves that hang in the morning."
    ),
    "quarantine": gettext_noop(
        "Blotchy yellow leaves, lopsided fruit, or an insect on a warning list: report the first find to the plant-health office and move no plant or leaf."
    ),
    "small_flies": gettext_noop(
        "Soft fruit with tiny holes: pick early and pick all of it."
    ),
    "wasps_birds": gettext_noop(
        "Wasps, birds: nets closed and without gaps, so that nothing is caught in them."
    ),
    "pick_promptly": gettext_noop("Pick what is ripe, every one."),
    "leftover_fruit": gettext_noop("Strip what still hangs and gather what lies."),
    "fallen_leaves": gettext_noop("Compost leaves hot or take them away."),
    "wet_leaves": gettext_noop(
        "It has rained: look for spots on leaves and fruit, and prune for air, not now but when dry."
    ),
    "guard_and_ties": gettext_noop(
        "On young trees: guard and ties loose, whole, nothing rubbing."
    ),
}


def check_list(task: Task) -> tuple[str, ...]:
    """Return the lines of a task's list in the order of the work; none for most.

    A code without words here is shown as it stands: better odd than lost.
    """
    codes = reason_of(task).text("checks").split()
    return tuple(gettext(CHECKS.get(code, code.replace("_", " "))) for code in codes)
