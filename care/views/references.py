"""Source keys as full references."""

from collections.abc import Iterable
from dataclasses import replace

from django.utils.translation import get_language, gettext, gettext_noop

from care.planning.species_facts import OWN
from orchard.catalogue import Basis, Provenance, Species, species_catalogue
from orchard.views.works import Reference, works

__all__ = ["REFERENCES", "Reference", "references", "works"]


FROM_MEMORY = Reference(gettext_noop("From memory, not checked against any source."))

REFERENCES = {
    "fao56": Reference(
        "Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop "
        "evapotranspiration: guidelines for computing crop water requirements. FAO "
        "Irrigation and Drainage Paper 56, Rome.",
        "https://www.fao.org/4/x0490e/x0490e00.htm",
    ),
    "rutgers_fs812": Reference(
        "Rutgers Cooperative Extension, fact sheet FS812: containers in sun and heat."
    ),
    "pollination_distances": Reference(
        "An extension summary of pollination in home orchards, read in a reprint: a "
        "partner best within 50 ft, poor beyond 100 ft.",
    ),
    "osu_pears": Reference(
        "Oregon State University Extension. Are Asian and European pears compatible? "
        "They are, where bloom meets; Asian pears mostly bloom earlier.",
        "https://extension.oregonstate.edu/gardening/berries-fruit/are-asian-european-pears-compatible",
    ),
    "ask_extension_hazel": Reference(
        "Ask Extension, question 344029 (2016): a hazelnut's pollinizer no more than "
        "50 ft away.",
        "https://ask.extension.org/kb/faq.php?id=344029",
    ),
    "uf_citrus_home": Reference(
        "University of Florida IFAS, Citrus Research and Education Center. Home "
        "citrus: irrigation of newly planted trees.",
    ),
    "uf_ifas_mulch": Reference(
        "University of Florida IFAS Extension. Mulches for the landscape: depth, "
        "settling and distance from the trunk.",
    ),
    "ansi_a300_1995": Reference(
        "American National Standards Institute (1995). ANSI A300: tree care operations, "
        "standard practices. No more than a quarter of the foliage in one season.",
    ),
    "osha_1910_269": Reference(
        "United States Code of Federal Regulations, 29 CFR 1910.269: line-clearance tree "
        "trimming, 10 ft to 50 kV and 4 in more for every 10 kV above.",
        "https://www.law.cornell.edu/cfr/text/29/1910.269",
    ),
    "uf_ifas_stone": Reference(
        "University of Florida IFAS Extension, in the Orlando Sentinel (2022). Pruning of "
        "peaches: a third of last year's shoots, the leader stopped at 3 to 4 ft.",
    ),
    "wsu_renovation": Reference(
        "Kitsap Sun (1996), after Washington State University Extension. A neglected tree "
        "is brought back over three years, one or two large limbs a year.",
    ),
    "wsu_sprouts": Reference(
        "Washington State University Extension, in newspaper columns. Water sprouts are "
        "pulled in June, at 10 to 12 in.",
    ),
    "sunset_training": Reference(
        "Sunset. Training and pruning fruit trees; central leader.",
        "https://www.sunset.com/garden/fruits-veggies/training-pruning-fruit-trees",
    ),
    "southwest_central_leader": Reference(
        "Extension text on central leaders in the Southwest of the United States, read in "
        "a copy without author: four branches 8 to 10 in apart, the lowest 18 to 24 in up.",
    ),
    "nmsu_h333": Reference(
        "Yao, S. Training young apple trees to the central leader system. New Mexico State "
        "University, Guide H-333: branches at 45 to 60 degrees.",
        "https://pubs.nmsu.edu/_h/H333/",
    ),
    "ncsu_peach_training": Reference(
        "Parker, M. L., North Carolina State University. Training and pruning young peach "
        "trees, read in a textbook's copy: three to four branches, the lowest 24 to 32 in up.",
    ),
    "uf_tropical_training": Reference(
        "Wasielewski, J., McLaughlin, J. and Crane, J. (2015). Pruning and shaping young "
        "tropical fruit trees. Proceedings of the Florida State Horticultural Society 128.",
        "https://journals.flvc.org/fshs/article/view/105935",
    ),
    "uf_ifas_miami_dade": Reference(
        "University of Florida IFAS Extension, Miami-Dade County (2025). Pruning tropical "
        "and subtropical fruit trees: 8 to 15 ft high, a quarter of the canopy at most.",
        "https://blogs.ifas.ufl.edu/miamidadeco/2025/09/17/pruning-tropical-and-sub-tropical-fruit-trees/",
    ),
    "uc_mg_suckers": Reference(
        "University of California Master Gardeners, Sacramento County. Monthly tips: "
        "suckers are looked for in April.",
    ),
    "uc_ipm_fire_blight": Reference(
        "University of California IPM, Pest Notes 7414, Fire blight; University of "
        "Illinois Extension. Cuts 8 to 12 in below, tools cleaned in growth.",
    ),
    "product_label": Reference(
        gettext_noop("The label of the product, as the person who used it read it."),
    ),
    "nop_manure": Reference(
        "United States National Organic Program, 7 CFR 205.203: raw manure, 90 or 120 "
        "days before harvest.",
    ),
    "psu_orchard_frost": Reference(
        "Penn State Extension. Orchard frost: critical temperatures for various fruits.",
        "https://extension.psu.edu/orchard-frost-critical-temperatures-for-various-fruits",
    ),
    "ncsu_thinning": Reference(
        "North Carolina State Extension. Fruit tree thinning: spacing, and size of the "
        "fruit when it is done.",
    ),
    "uc_mg_thinning": Reference(
        "University of California Master Gardeners, Santa Clara and Sacramento Counties. "
        "Monthly tips: fruit to a cluster and distance between fruit.",
    ),
    "ripeness_signs": Reference(
        "University of Maine Extension, Utah State University Extension and Iowa State "
        "University Extension. When fruit is ripe to pick.",
    ),
    "uf_hs132_citrus": Reference(
        "University of Florida IFAS Extension. Citrus culture in the home landscape "
        "(EDIS HS132), as printed by Badurek, UF/IFAS Pinellas.",
    ),
    "uc_ipm_citrus": Reference(
        "University of California IPM. Fertilizing citrus.",
        "https://ipm.ucanr.edu/PMG/GARDEN/FRUIT/CULTURAL/citfertilization.html",
    ),
    "az1671_citrus": Reference(
        "University of Arizona Cooperative Extension (2015). Citrus fertilization chart "
        "for Arizona (AZ1671).",
        "https://extension.arizona.edu/publication/citrus-fertilization-chart-arizona",
    ),
    "ucmg_san_diego": Reference(
        "University of California Master Gardeners, San Diego County. Fertilizing fruit "
        "trees.",
    ),
    "ucmg_ventura": Reference(
        "University of California Cooperative Extension, Ventura County. Vegetables and "
        "fruit: fertilizing.",
    ),
    "tamu_fruit": Reference(
        "Texas A&M AgriLife Extension. Fertilizing and pruning fruit trees, as reprinted.",
    ),
    "psu_stone": Reference(
        "Penn State Extension. Stone fruit: nutritional requirements.",
        "https://extension.psu.edu/plants/gardening/fphg/stone/nutritional-requirements",
    ),
    "ncsu_fert": Reference(
        "North Carolina State Extension. Fruit tree fertilizer, quick reference.",
    ),
    "unh_trunk": Reference(
        "University of New Hampshire Extension. Fertilizing fruit trees by the width of "
        "the trunk, and how far shoots should grow; as relayed.",
    ),
    "uga_fig": Reference(
        "University of Georgia Extension, Colquitt County (2024). How do I fertilize my "
        "figs?",
        "https://site.extension.uga.edu/colquitthomeowners/2024/04/how-do-i-fertilize-my-figs/",
    ),
    "lsu_fig": Reference(
        "Louisiana State University AgCenter (Pyzner). Figs: fertilizing; as relayed.",
    ),
    "nc_sylva": Reference(
        "North Carolina Cooperative Extension. Blueberries and grapes, in The Sylva "
        "Herald.",
    ),
    "extension_blueberry_ph": Reference(
        "Extension Foundation, blueberry community (after Gu and Crouse). Soil pH for "
        "blueberry plantings.",
        "https://blueberries.extension.org/soil-ph-for-blueberry-plantings/",
    ),
    "ut_blueberries": Reference(
        "University of Tennessee. Home garden fruit and nuts: blueberries.",
        "https://utcrops.com/soil/home-garden-fruit-and-nuts/blueberries",
    ),
    "fyn_workbook": Reference(
        "University of Florida IFAS, Florida Yards & Neighborhoods. Workbook: coverage of "
        "mulch, distance from the trunk, none under citrus.",
    ),
    "ucmg_citrus_mulch": Reference(
        "University of California Master Gardeners (2013). Two to three inches of mulch "
        "under citrus, off the trunk; in The Mercury News.",
    ),
    "local_rule": Reference(
        gettext_noop("The local rule on feeding, as entered for the site.")
    ),
    "soil_laboratory": Reference(gettext_noop("The soil test entered for the site.")),
    "us_811": Reference(
        "Locate services in the United States (811): ask two to three business days "
        "before digging; state rules differ.",
    ),
    "csu_planting": Reference(
        "Colorado State University Extension, GardenNotes 633: the science of planting "
        "trees. Hole two to three times as wide, the ball 1-2 in above the ground.",
    ),
    "uf_amendments": Reference(
        "University of Florida IFAS, Environmental Horticulture. Amendments at planting and "
        "backfilling: in all but very poor soil nothing needs to be mixed in; water is the "
        "best amendment.",
        "https://hort.ifas.ufl.edu/woody/amendments.shtml",
    ),
    "uf_cir1192": Reference(
        "Williamson, J. G., Lyrene, P. M. and Olmstead, J. W., University of Florida IFAS "
        "Extension, CIR1192. Blueberry gardener's guide: peat moss mixed in at or before "
        "planting, pine bark mixed in or laid on.",
        "https://docslib.org/doc/6411143/blueberry-gardeners-guide1",
    ),
    "tamu_drainage": Reference(
        "Texas A&M AgriLife Extension. Test of drainage by a hole 30 in deep: under 24 "
        "hours good, over 48 unsuitable.",
    ),
    "uf_establishment": Reference(
        "University of Florida IFAS, woody landscape research: months of irrigation by "
        "trunk and zone, 2-3 gal an inch of trunk each time.",
        "https://hort.ifas.ufl.edu/woody/irrigation-research.shtml",
    ),
    "umn_establishment": Reference(
        "University of Minnesota Extension. Watering newly planted trees: a year and a "
        "half an inch of trunk.",
    ),
    "osu_tall_trees": Reference(
        "Oregon State University Extension in The Oregonian, 2011: trees above 15 to 20 ft "
        "are work for a professional.",
    ),
    "az_mg_stakes": Reference(
        "University of Arizona Cooperative Extension, Master Gardener manual, fruit trees: "
        "stakes off after a season, dwarf stocks excepted.",
        "https://ag.arizona.edu/pubs/garden/mg/fruit/care.html",
    ),
    "uf_containers": Reference(
        "University of Florida IFAS Gardening Solutions, citrus in containers; further "
        "extension pages on potting on and root pruning, in reprints.",
    ),
    "extension_apple_stocks": Reference(
        "Extension Foundation, apples.extension.org. Apple rootstocks, one page each: size "
        "of the tree against one on seedling roots, and whether it is held up.",
        "https://apples.extension.org/tag/rootstock-info/",
    ),
    "rhs_rootstocks": Reference(
        "Royal Horticultural Society. Rootstocks for fruit: how high and wide trees grow.",
        "https://www.rhs.org.uk/advice/profile?PID=359",
    ),
    "az_rootstocks": Reference(
        "University of Arizona Cooperative Extension, Master Gardener manual. Fruit trees: "
        "which rootstocks are held up for good; spacing by size.",
    ),
    "nursery_rootstocks": Reference(
        "Rootstock lists of several nurseries; they differ, and the span holds them.",
    ),
    "uc_codling": Reference(
        "University of California Master Gardeners of Sacramento County, monthly orchard "
        "tips: fruit is checked every week for entry holes from petal fall on.",
        "https://ucanr.edu/site/uc-master-gardeners-sacramento-county/monthly-orchard-tips",
    ),
    "ipm_calendar": Reference(
        "University of California Integrated Pest Management and Purdue Extension ID-146: "
        "what to look for by the stages of the year.",
    ),
    "uf_citrus_freeze": Reference(
        "University of Florida IFAS Extension. Citrus in a freeze: harvest ripe fruit "
        "before four hours below 28 °F (-2.2 °C).",
    ),
    "lsu_citrus_freeze": Reference(
        "Louisiana State University AgCenter. Citrus and freezing temperatures: what "
        "trees and fruit bear, hardening, mulch.",
    ),
    "cultivar_days": Reference(
        "Extension tables of apple cultivars, days from full bloom to harvest, read in "
        "copies; Utah State University Extension, fruit questions, for McIntosh.",
    ),
    "niosh_lifting": Reference(
        "Waters, T. R., Putz-Anderson, V. and Garg, A. (1994). Applications manual for the "
        "revised NIOSH lifting equation: 23 kg (51 lb) at best, less the farther from the "
        "body. As told by the Canadian Centre for Occupational Health and Safety and OSHA.",
        "https://www.ccohs.ca/oshanswers/ergonomics/niosh/assessing.html",
    ),
    "hse_l23": Reference(
        "Health and Safety Executive, L23. Manual handling: two people together lift about "
        "two thirds of the sum of what each can. As told by Network Rail.",
        "https://safety.networkrail.co.uk/safety/manual-handling/principles-of-manual-handling/lifting-and-handling-in-teams/",
    ),
    "osha_heat": Reference(
        "Occupational Safety and Health Administration and National Weather Service. "
        "Water, rest, shade; signs of heat stroke. As told by ISHN.",
        "https://www.ishn.com/articles/93651-scorching-heat-puts-outdoor-workers--lives-at-risk",
    ),
    "omafra_sunburn": Reference(
        "Green, A., Ontario Ministry of Agriculture, Food and Rural Affairs, after Schmidt "
        "(2018), Washington State University. Fruit in the sun is at risk above 30 degC.",
        "https://www.farms.com/news/sun-browning-risk-in-apples-136626.aspx",
    ),
    "weinberger_1950": Reference(
        "Weinberger, J. H. (1950). Chilling requirements of peach varieties. Proceedings "
        "of the American Society for Horticultural Science 56:122-128; cited, not read.",
    ),
    "fishman_1987": Reference(
        "Fishman, S., Erez, A. and Couvillon, G. A. (1987). The temperature dependence of "
        "dormancy breaking in plants. Journal of Theoretical Biology 124:473-483; "
        "equations read in four public implementations.",
    ),
    "memory": FROM_MEMORY,
    "taking_root": Reference(
        "Taking Root: right tree, right place. Trees to 40 ft at least 10 ft from "
        "buildings, taller ones 15 ft; 5 ft from paving and pipes; near overhead lines "
        "only what stays below 25 ft.",
        "https://takingroot.info",
    ),
    "nc_chatham_septic": Reference(
        "North Carolina Cooperative Extension, Chatham County. Trees keep as far from a "
        "septic drain field as they grow high; read in a copy.",
    ),
    "extension_tree_roots": Reference(
        "Extension Foundation. Trees and septic drain fields: small trees 25 ft away.",
        "https://trees-energy-conservation.extension.org",
    ),
    "uf_tropical_timing": Reference(
        "University of Florida IFAS, J. H. Crane, slides on tropical fruit: planted in "
        "spring and summer, the warm and wet half of the year."
    ),
    "noaa_freeze_dates": Reference(
        "NOAA, National Centers for Environmental Information: probabilities of freeze "
        "dates (Climatography of the U.S. No. 20)."
    ),
    "common_practice": Reference(
        gettext_noop("Common practice of growers; no source was read.")
    ),
    "ecocrop": Reference(
        "Food and Agriculture Organization of the United Nations. EcoCrop: crop "
        "environmental requirements database.",
    ),
}


def references(
    keys: Iterable[str], species: Species | str | None
) -> tuple[Reference, ...]:
    """Return the references of a task, each once, in the order of ``keys``.

    A key that is not among :data:`REFERENCES` is looked up among the origins of the
    figures of ``species``, as the tree's orchard has them, or by the key of a species
    of the catalogue; no key at all means memory.
    """
    if isinstance(species, str):
        species = species_catalogue().get(species)
    found = [one for key in keys for one in _references(key, species)]
    return tuple(_told(one) for one in dict.fromkeys(found))


def _told(reference: Reference) -> Reference:
    """Return a source as a page names it: works by their own titles, in English."""
    text = gettext(reference.text)
    is_work = text == reference.text and reference in REFERENCES.values()
    is_foreign = is_work and not (get_language() or "en").startswith("en")
    return replace(reference, text=text, language="en" if is_foreign else "")


def _references(key: str, species: Species | None) -> list[Reference]:
    if not key:
        return [FROM_MEMORY]
    if key in REFERENCES:
        return [REFERENCES[key]]
    origins = species.provenance.values() if species else ()
    if key.startswith(OWN):
        return [_own(key.removeprefix(OWN), origins)]
    addresses = next((o.address for o in origins if o.source == key), "")
    if not addresses:
        text = gettext("Species table, source “{key}”.").format(key=key)
        return [Reference(text)]
    text = gettext("Species table, after {work}.")
    return [replace(one, text=text.format(work=one.text)) for one in works(addresses)]


def _own(source: str, origins: Iterable[Provenance]) -> Reference:
    """Return what an orchard's own figure rests on, and who typed it."""
    mine = next(
        (o for o in origins if (o.basis, o.source) == (Basis.OWN, source)), None
    )
    if mine is None or not mine.by:
        text = gettext("This orchard's own figure: {source}.").format(source=source)
        return Reference(text)
    text = gettext("This orchard's own figure: {source}, entered by {person}.")
    return Reference(text.format(source=source, person=mine.by))
