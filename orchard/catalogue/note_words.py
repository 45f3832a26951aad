"""The catalogue's notes on its kinds, in the reader's language.

The table holds them in English; what an orchard types itself is shown as it stands.
"""

from django.utils.translation import gettext, gettext_noop

#: Every note of the table, so that it is found for translation; a test compares them.
NOTES = frozenset(
    {
        gettext_noop(
            "Seeds, leaves and stems carry cyanogenic glycosides; fallen fruit can ferment"
        ),
        gettext_noop("Seeds carry cyanogenic glycosides (low risk)"),
        gettext_noop("Seeds carry cyanogenic glycosides"),
        gettext_noop(
            "Stems, leaves and pits carry cyanogenic glycosides; worst when wilting"
        ),
        gettext_noop("As peach"),
        gettext_noop("Bitter kernels and wilted leaves release cyanide"),
        gettext_noop(
            "Milky sap irritates skin and mouth (people and pets); worse in sunlight"
        ),
        gettext_noop(
            "Unripe fruit can form stomach bezoars; seeds can block a dog's gut"
        ),
        gettext_noop("As Asian persimmon"),
        gettext_noop("Bark, root and rind alkaloids upset stomachs"),
        gettext_noop("Unripe fruit and sap upset stomachs"),
        gettext_noop("Seeds and leaves carry cyanogenic glycosides"),
        gettext_noop("Fruit and raisins can cause kidney failure in dogs"),
        gettext_noop("As grape"),
        gettext_noop(
            "Leaves, stems, roots and unripe or raw berries are toxic; cook fruit"
        ),
        gettext_noop("Skin, seeds and leaves may upset stomachs or skin"),
        gettext_noop("Mouldy nuts and husks can poison dogs; shells block guts"),
        gettext_noop(
            "Mouldy husks can cause tremors in dogs; leaves harm some plants (juglone)"
        ),
        gettext_noop(
            "Wood, hulls and nuts can poison dogs; shavings cause laminitis in horses; juglone harms nearby plants"
        ),
        gettext_noop("Sap may irritate skin; mouldy nuts can poison dogs"),
        gettext_noop("Safe cooked; do not confuse with horse-chestnut (toxic)"),
        gettext_noop(
            "Peel oils and psoralens upset pets; juice plus sun can burn skin"
        ),
        gettext_noop("As orange"),
        gettext_noop("As orange; sap plus sun can cause severe skin burns in people"),
        gettext_noop("As orange; fruit interacts with many medicines"),
        gettext_noop(
            "Leaves, bark, seed and fruit (persin) harm birds, rabbits, horses and ruminants; milder in dogs"
        ),
        gettext_noop("Sap and peel cause poison-ivy-type rash in people"),
        gettext_noop(
            "Unripe fruit eaten fasting can cause low blood sugar in children"
        ),
        gettext_noop("As lychee (unripe fruit)"),
        gettext_noop("Not known to be toxic"),
        gettext_noop(
            "Latex of unripe fruit irritates; avoid unripe fruit in pregnancy"
        ),
        gettext_noop("Leaves and unripe fruit carry cyanogenic glycosides"),
        gettext_noop(
            "Oxalic acid: people with kidney disease must not eat it; keep from pets"
        ),
        gettext_noop("Sticky latex; latex allergy"),
        gettext_noop(
            "Unripe fruit and seeds: latex, saponins; remove hooked seeds before eating"
        ),
        gettext_noop("Seeds contain cyanogenic compounds; latex irritates"),
        gettext_noop("Seeds are toxic; juice injures eyes"),
        gettext_noop("Seeds toxic; heavy long-term intake linked to nerve harm"),
        gettext_noop("Seeds are resinous; may cause diarrhoea"),
        gettext_noop("Not known to be toxic; small spines"),
        gettext_noop("Nuts cause weakness, vomiting and tremor in dogs"),
        gettext_noop("Beans (caffeine) poison pets"),
        gettext_noop("Theobromine poisons dogs and cats"),
        gettext_noop("Suspected kidney injury in dogs (tartaric acid)"),
        gettext_noop("Sharp spines"),
        gettext_noop(
            "Callery pear rootstock or seedlings are regulated in several regions - check local list"
        ),
        gettext_noop(
            "Bird-spread seedlings naturalise in some regions - check local list"
        ),
        gettext_noop("Listed as invasive in parts of California - check local list"),
        gettext_noop(
            "White mulberry is listed invasive in many regions - check local list"
        ),
        gettext_noop("Caution or listed in some warm regions - check local list"),
        gettext_noop(
            "Declared weed in parts of Australia; feral elsewhere - check local list"
        ),
        gettext_noop("Feral vines are a pest in New Zealand - check local list"),
        gettext_noop(
            "On watch or invasive lists in parts of the NE USA - check local list"
        ),
        gettext_noop("Naturalised in parts of NW Europe - check local list"),
        gettext_noop(
            "Several wild species are noxious weeds - plant named cultivars, check local list"
        ),
        gettext_noop(
            "Yellow Himalayan raspberry and others are weeds - check local list"
        ),
        gettext_noop(
            "Planting restricted in some US states (white pine blister rust) - check local law"
        ),
        gettext_noop("Can sucker into hedges - check local list"),
        gettext_noop("Forms thickets; naturalised in places - check local list"),
        gettext_noop("Native in E N America; planted elsewhere - check local list"),
        gettext_noop("Naturalised in the tropics - check local list"),
        gettext_noop(
            "Listed invasive (Florida category I) and weedy in Hawaii, Pacific, Africa - check local list"
        ),
        gettext_noop(
            "Scored low on most weed-risk questions in a Florida assessment; check local list"
        ),
        gettext_noop("Weedy in parts of the Pacific and Australia - check local list"),
        gettext_noop("Naturalised in parts of Brazil and elsewhere - check local list"),
        gettext_noop("Listed invasive in south Florida - check local list"),
        gettext_noop(
            "Invasive and not recommended by UF/IFAS in Florida; weedy in Hawaii and the Caribbean - check local list"
        ),
        gettext_noop(
            "Listed or weedy in parts of Australia, South Africa and Florida - check local list"
        ),
        gettext_noop(
            "Invasive in Hawaii, Queensland and some island forests - check local list"
        ),
        gettext_noop(
            "Weedy in parts of northern Australia and Pacific - check local list"
        ),
        gettext_noop("Weedy in parts of Australia - check local list"),
        gettext_noop(
            "Late dormant: structure visible, wounds close at bud break; avoid wet or severe cold spells"
        ),
        gettext_noop(
            "Late dormant; keep cuts light because strong regrowth invites fire blight"
        ),
        gettext_noop("Late dormant; thin fruit after set"),
        gettext_noop("Late dormant; light thinning only"),
        gettext_noop(
            "Prune close to bloom so winter-killed wood shows and canker risk is lower; fruits on last year's shoots"
        ),
        gettext_noop("Summer in regions with silver leaf; otherwise late dormant"),
        gettext_noop(
            "Dormant thinning plus light summer tipping; summer where silver leaf or canker is common"
        ),
        gettext_noop(
            "Dry late summer: at least six weeks before rain, to avoid Eutypa and bacterial canker"
        ),
        gettext_noop("Dry late summer after harvest where canker or Eutypa occurs"),
        gettext_noop("July-August after harvest, six weeks before rain (Eutypa)"),
        gettext_noop("Dormant but in dry weather; little pruning once shaped"),
        gettext_noop("Late dormant; gloves, sap irritates"),
        gettext_noop("Late dormant; fruits on current shoots from last year's tips"),
        gettext_noop("Late dormant; train young only"),
        gettext_noop("Late dormant; keep 3-5 trunks, remove suckers"),
        gettext_noop("Fully dormant; bleeds if cut late"),
        gettext_noop("After harvest; thin for light, avoid fire blight spread"),
        gettext_noop("Spring after frost, in dry weather (olive knot)"),
        gettext_noop(
            "Late dormant; remove most of last year's wood; late cuts delay frost-prone buds"
        ),
        gettext_noop("Late dormant; spur prune the cordons, bleeding is harmless"),
        gettext_noop(
            "Dormant: replace fruited canes; summer tipping; late winter cuts bleed"
        ),
        gettext_noop("Dormant plus repeated summer pruning"),
        gettext_noop("Late dormant: remove oldest canes each year"),
        gettext_noop("Late dormant or straight after harvest; renew oldest canes"),
        gettext_noop("Right after harvest in warm areas; late winter in colder ones"),
        gettext_noop(
            "Cut fruited canes out after harvest; tip new canes in summer; shorten side shoots late winter"
        ),
        gettext_noop(
            "Summer types: remove fruited canes; autumn types: cut all canes late winter"
        ),
        gettext_noop("Late dormant: keep a mix of 1-3 year wood"),
        gettext_noop("Late dormant; cut old canes or whole plant"),
        gettext_noop("Late dormant; few cuts"),
        gettext_noop("Late dormant; train a single leader"),
        gettext_noop("Late summer: bleeds heavily in spring"),
        gettext_noop("Late summer or mid-winter dry spell"),
        gettext_noop("Dormant in dry weather; bears in alternate years"),
        gettext_noop("Dormant; keep a leader"),
        gettext_noop("Dormant; remove suckers several times a year"),
        gettext_noop("After frost danger; remove dead wood and rootstock shoots only"),
        gettext_noop("After frost danger; shorten lanky shoots"),
        gettext_noop("After frost danger; light shaping"),
        gettext_noop("After frost danger; dead wood only"),
        gettext_noop("After frost danger; thin heavy crops on weak limbs"),
        gettext_noop("After harvest, before spring flush; hold height at 3-5 m"),
        gettext_noop("Straight after harvest; hold height at 2-4.5 m"),
        gettext_noop("Straight after harvest; needs cool dry winter, no late pruning"),
        gettext_noop("Straight after harvest"),
        gettext_noop("Remove dead leaves; after bunch harvest cut that stem"),
        gettext_noop("Rarely pruned; replace every 3-4 years"),
        gettext_noop(
            "Late winter to spring; heading cuts time the crop; hold at 1-3.7 m"
        ),
        gettext_noop("Late winter; light, or clip as hedge"),
        gettext_noop("Late winter or after crop; shorten side canes"),
        gettext_noop("Late winter; selective thinning, fruits on inner wood"),
        gettext_noop("After harvest; hold at 4-5 m, keep trunk spurs"),
        gettext_noop("After main harvest; light"),
        gettext_noop("After harvest; light"),
        gettext_noop("Late winter before flush; shorten to renew wood"),
        gettext_noop("Late winter before flush; strip leaves to break buds"),
        gettext_noop("Late winter; hold at 2-3.7 m"),
        gettext_noop("Light; keep low and open"),
        gettext_noop("Late winter; thin crowded stems"),
        gettext_noop("Very little; open centre so trunks get light"),
        gettext_noop("After spring crop; takes hedge clipping"),
        gettext_noop("Rarely needed"),
        gettext_noop("After last crop: thin tangled, old and diseased stems"),
        gettext_noop("After harvest; keep one leader, shorten codominants"),
        gettext_noop("After harvest: renew oldest stems"),
        gettext_noop("Keep jorquette, remove chupons often"),
        gettext_noop("After harvest; train a strong frame"),
        gettext_noop("Remove dead leaves and thorns; thin and bag bunches"),
        gettext_noop("Remove rootstock suckers at any time"),
        gettext_noop("Remove rootstock suckers"),
        gettext_noop("Suckers freely; remove"),
        gettext_noop("Suckers; remove"),
        gettext_noop("Suckers; keep 1-5 trunks or a bush"),
        gettext_noop("D. virginiana rootstock suckers"),
        gettext_noop("Suckers strongly from roots"),
        gettext_noop("Keep 3-5 trunks"),
        gettext_noop("Remove base suckers"),
        gettext_noop("Spreads by suckers or tip-rooting"),
        gettext_noop("Suckers widely; keep rows 30-45 cm wide"),
        gettext_noop("Suckers"),
        gettext_noop("Root suckers; remove near grafted trees"),
        gettext_noop("Rootstock suckers are spiny; remove"),
        gettext_noop("Suckers strongly; remove 3-4 times a year"),
        gettext_noop("Remove rootstock shoots below graft"),
        gettext_noop("Remove rootstock shoots"),
        gettext_noop(
            "Keep 3-4 stems of different ages per mat; remove extra pups monthly"
        ),
        gettext_noop("Single stem; remove side shoots"),
        gettext_noop("Root suckers; remove"),
        gettext_noop("Remove chupons (water shoots)"),
        gettext_noop("Offshoots: keep 2-3 for propagation, remove rest"),
        gettext_noop(
            "Needs a second diploid cultivar in bloom at the same time; triploids cannot pollinate others"
        ),
        gettext_noop(
            "Most set far better with a second cultivar; some warm-climate hybrids set fruit alone"
        ),
        gettext_noop("Plant two cultivars that overlap; thin hard"),
        gettext_noop("Self-fruitful"),
        gettext_noop("Nearly all cultivars self-fruitful"),
        gettext_noop("Some cultivars self-fruitful, others need another European plum"),
        gettext_noop("Most need a second Japanese-type plum in bloom"),
        gettext_noop("Cross-incompatibility groups; a few cultivars are self-fertile"),
        gettext_noop("Most self-fruitful; a few need a partner"),
        gettext_noop("Most need a second cultivar; a few are self-fruitful"),
        gettext_noop(
            "Common type sets without pollination; Smyrna and San Pedro types need the fig wasp"
        ),
        gettext_noop(
            "Most cultivars set seedless fruit alone; pollination changes flesh of some"
        ),
        gettext_noop(
            "Usually separate male and female trees; races differ in chromosome number"
        ),
        gettext_noop("Self-fruitful; bees or a second plant raise set"),
        gettext_noop("Many cultivars set without pollen; some are male only"),
        gettext_noop("Most set alone; some need a partner"),
        gettext_noop("Wind pollinated; many set more with a second cultivar"),
        gettext_noop("Nearly all self-fruitful"),
        gettext_noop("Female cultivars need a self-fertile partner"),
        gettext_noop(
            "Separate male and female vines; one male to about eight females in bloom overlap"
        ),
        gettext_noop("Separate sexes except one self-fruitful cultivar"),
        gettext_noop("Self-fruitful but larger and earlier with a second cultivar"),
        gettext_noop("Needs a second rabbiteye cultivar"),
        gettext_noop("Plant two cultivars for size, earliness and yield"),
        gettext_noop("Mostly self-fruitful; blackcurrants often gain from a partner"),
        gettext_noop("Sets little alone: plant two cultivars within about 18 m"),
        gettext_noop(
            "Needs a genetically different partner; hand pollination helps (flies and beetles)"
        ),
        gettext_noop("Some set alone; most crop more with a partner"),
        gettext_noop("Pair a type I (pollen first) with a type II; wind pollinated"),
        gettext_noop("Catkins and nutlets often miss each other; add a pollinizer"),
        gettext_noop("Wind pollinated; more than one tree helps"),
        gettext_noop("Separate male and female trees"),
        gettext_noop("Needs a second cultivar or seedling"),
        gettext_noop(
            "Wind pollinated with incompatibility alleles; needs compatible partners"
        ),
        gettext_noop("Self-fruitful; Tahiti is seedless"),
        gettext_noop("Satsuma sets alone; some mandarins and tangelos need a partner"),
        gettext_noop("A and B flower types; one tree usually sets, mixing types helps"),
        gettext_noop("Self-fruitful; needs cool dry spell to flower and warm bloom"),
        gettext_noop("Most set alone; bees and a second cultivar help"),
        gettext_noop("Most set alone; bears in alternate years"),
        gettext_noop("Sets without pollination"),
        gettext_noop(
            "Male, female and bisexual plants; plant bisexual types or several seedlings"
        ),
        gettext_noop("Sets alone; cross-pollination raises yield"),
        gettext_noop("Two cultivars recommended"),
        gettext_noop(
            "Purple type self-fertile; yellow type needs a different vine and carpenter bees"
        ),
        gettext_noop(
            "Many set alone; long- and short-styled cultivars help each other"
        ),
        gettext_noop("Separate male and female flowers on one tree"),
        gettext_noop("Several cultivars need a partner"),
        gettext_noop("Mostly self-fruitful"),
        gettext_noop("Flowers female then male: hand pollinate for good set"),
        gettext_noop("Beetles or hand pollination raise set"),
        gettext_noop("Sets alone; hand pollination improves"),
        gettext_noop("Poor natural set; hand pollinate"),
        gettext_noop("Mostly self-fruitful; insects or a partner help"),
        gettext_noop(
            "Night flowers; some clones need pollen from another, hand pollinate"
        ),
        gettext_noop("Many clones self-incompatible; midges pollinate"),
        gettext_noop("Separate sexes: hand pollinate females"),
    }
)


def note_words(note: str) -> str:
    """Return a note of the catalogue in the reader's language; nothing for nothing."""
    return gettext(note)
