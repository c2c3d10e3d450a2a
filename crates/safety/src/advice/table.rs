//! The rows, by topic.

use larderwright_model::Profile;

use super::{AdviceRow, Audience, Figure, Topic};
use crate::keeping::KeepClass as Class;
use crate::source::Flag;

const COOKED: &[Class] = &[
    Class::RiceCooked,
    Class::PulseCooked,
    Class::GrainCooked,
    Class::PastaCooked,
    Class::PoultryCooked,
    Class::MeatCooked,
    Class::FishCooked,
    Class::VegetableCooked,
    Class::EggHardCooked,
    Class::EggDish,
    Class::Soup,
    Class::SauceCooked,
    Class::TofuCooked,
    Class::BreakfastPot,
    Class::Leftovers,
    Class::Pizza,
];
const COLD: &[Class] = &[
    Class::Dressing,
    Class::DairyDressing,
    Class::Dip,
    Class::MixedSalad,
    Class::PickleVinegar,
    Class::OpenedPack,
    Class::TofuOpened,
    Class::DoughRaw,
];
const RAW_FLESH: &[Class] = &[
    Class::GroundMeatRaw,
    Class::MeatRaw,
    Class::PoultryRaw,
    Class::FishRaw,
    Class::SausageRaw,
    Class::Bacon,
    Class::PoultryMarinating,
    Class::MeatMarinating,
];
const OIL: &[Class] = &[Class::GarlicInOil, Class::HerbInOil, Class::Pesto];
const UK: Audience = Audience::Only(&[Profile::Uk]);
const US: Audience = Audience::Only(&[Profile::UsHome]);
const SERVICE: Audience = Audience::Only(&[Profile::UsFoodService]);

const fn row(
    id: &'static str,
    topic: Topic,
    (audience, classes): (Audience, &'static [Class]),
    text: &'static str,
) -> AdviceRow {
    AdviceRow {
        id,
        topic,
        audience,
        classes,
        figure: None,
        text,
        source: "",
        flag: Flag::Read,
    }
}

const fn said(
    row: AdviceRow,
    figure: Option<(i64, &'static str)>,
    source: &'static str,
    flag: Flag,
) -> AdviceRow {
    let figure = match figure {
        Some((value, unit)) => Some(Figure { value, unit }),
        None => None,
    };
    AdviceRow {
        figure,
        source,
        flag,
        ..row
    }
}

const ALL: Audience = Audience::Everyone;

/// Every row.
pub(super) const ROWS: &[AdviceRow] = &[
    said(
        row(
            "beans/boil",
            Topic::Beans,
            (ALL, &[Class::PulseCooked]),
            "dry kidney, cannellini, broad and unknown red or white beans are soaked 5 hours or more, drained, and kept at a \
             full boil in fresh water for 10 minutes at the least, 30 advised, before anything slower; canned ones are \
             cooked already",
        ),
        Some((10, "min")),
        "10 min: J. Food Sci. 1985 and foodsafety.asn.au/topic/slow-cookers; 30 min and the soak: FDA Bad Bug Book 2nd ed., \
         read at mscnews.net",
        Flag::Read,
    ),
    said(
        row(
            "beans/boil-advised",
            Topic::Beans,
            (ALL, &[]),
            "30 minutes at a full boil are advised; above about 1000 m they are the least",
        ),
        Some((30, "min")),
        "FDA Bad Bug Book 2nd ed., read at mscnews.net; the altitude is derived",
        Flag::Read,
    ),
    said(
        row(
            "rice/toxin",
            Topic::Rice,
            (ALL, &[Class::RiceCooked]),
            "warming does not mend rice that stood warm: the toxin survives the heat",
        ),
        None,
        "national health service text on rice, read at healthwell.eani.org.uk",
        Flag::Read,
    ),
    said(
        row(
            "rice/uk-cool",
            Topic::Rice,
            (UK, &[Class::RiceCooked]),
            "rice is cooled within one hour, kept no more than a day and warmed once only",
        ),
        Some((60, "min")),
        "national health service text on rice, read at healthwell.eani.org.uk",
        Flag::Read,
    ),
    said(
        row(
            "oil/cold",
            Topic::Oil,
            (ALL, OIL),
            "garlic or herbs in oil never stand at room temperature: at 40 °F (4 °C) or colder from the moment they are made, \
             or frozen; throw away what stood out",
        ),
        Some((44, "0.1 °C")),
        "NCHFP, Freezing Garlic-in-Oil (Nummer et al. 2011, reviewed 2015); older texts give 7 and 10 days, the shortest is \
         taken",
        Flag::Read,
    ),
    said(
        row(
            "oil/dressing",
            Topic::Oil,
            (ALL, &[Class::Dressing]),
            "with fresh garlic or herbs in oil it counts as garlic in oil: 4 days",
        ),
        Some((4, "days")),
        "NCHFP, Freezing Garlic-in-Oil (Nummer et al. 2011, reviewed 2015)",
        Flag::Read,
    ),
    said(
        row(
            "eggs/hard",
            Topic::Eggs,
            (ALL, &[Class::EggHardCooked]),
            "into the fridge within 2 hours, in the shell; peeled ones are eaten sooner",
        ),
        Some((120, "min")),
        "eggsafety.org",
        Flag::Read,
    ),
    said(
        row(
            "eggs/raw",
            Topic::Eggs,
            (ALL, &[Class::EggInShell, Class::EggOutOfShell]),
            "the printed date rules while eggs are in the shell; cook until yolk and white are firm",
        ),
        None,
        "federal minimum internal temperatures, foodsafety.gov, copy at wichealth.org (2019-04-12)",
        Flag::Read,
    ),
    said(
        row(
            "raw-meat/altitude",
            Topic::RawMeat,
            (ALL, &[]),
            "above 3,000 ft (914 m) meat and poultry in moist heat take longer, up to a fourth more at 5,000 ft (1,524 m); a thermometer \
             tells when",
        ),
        Some((25, "%")),
        crate::altitude::MOIST_HEAT.source,
        Flag::ReadSecond,
    ),
    said(
        row(
            "produce/cut",
            Topic::Produce,
            (ALL, &[Class::CutProduce, Class::SaladLeaves]),
            "cut melon, tomatoes and leaves are kept cold once they are cut; wash before cutting",
        ),
        None,
        "from memory: FDA Food Code 1-201.10",
        Flag::Memory,
    ),
    said(
        row(
            "produce/soft-herbs",
            Topic::Produce,
            (ALL, &[]),
            "parsley, coriander, dill, mint, chives: stems in a little water, a bag over the leaves, in the fridge; about two weeks at 5 °C \
             (41 °F), and a limit of quality",
        ),
        Some((14, "days")),
        "UC Davis Postharvest, Herbs (Fresh Culinary), Cantwell and Reid, Optimum Temperature: 2 weeks at 5 °C, 3 weeks at 0 °C; \
         the glass and the bag: common practice, no source",
        Flag::Read,
    ),
    said(
        row(
            "produce/basil",
            Topic::Produce,
            (ALL, &[]),
            "basil turns black in the cold: in a glass of water, above 10 °C (50 °F); one to two weeks there, three to four days at 5 °C",
        ),
        Some((7, "days")),
        "UC Davis Postharvest, Herbs (Fresh Culinary), Cantwell and Reid, Optimum Temperature: above 10 °C, 1 to 2 weeks; Lange and \
         Cameron, HortScience 32(1) (1997) 114-116, abstract: 3 to 4 days at 5 °C",
        Flag::Read,
    ),
    said(
        row(
            "produce/sprouts",
            Topic::Produce,
            (ALL, &[]),
            "raw sprouts are not for eaters at risk",
        ),
        None,
        "from memory: FDA Food Code 3-801.11",
        Flag::Memory,
    ),
    said(
        row(
            "can/opened",
            Topic::Can,
            (ALL, &[Class::CanOpenedLowAcid, Class::CanOpenedAcid]),
            "move what is left of a can into a clean covered box; throw away cans that bulge, leak or spurt, without tasting",
        ),
        None,
        "from memory: federal consumer advice on canned food",
        Flag::Memory,
    ),
    said(
        row(
            "pack/printed",
            Topic::Pack,
            (
                ALL,
                &[
                    Class::OpenedPack,
                    Class::TofuOpened,
                    Class::Bacon,
                    Class::SaladLeaves,
                ],
            ),
            "what the pack prints rules when it is sooner: the date, and days once opened",
        ),
        None,
        "common practice, no source",
        Flag::Practice,
    ),
    said(
        row(
            "raw/apart",
            Topic::RawMeat,
            (ALL, RAW_FLESH),
            "raw meat, poultry and fish stand below food that is ready to eat, in a dish that holds their juice; the days \
             count from buying or thawing",
        ),
        None,
        "from memory: federal home advice, separate raw from ready to eat",
        Flag::Memory,
    ),
    said(
        row(
            "marinade/cold",
            Topic::Marinade,
            (ALL, &[Class::PoultryMarinating, Class::MeatMarinating]),
            "marinate in the fridge only; keep some marinade back for the table, or boil what touched raw meat",
        ),
        None,
        "dinnertonight.tamu.edu, Marinade safely",
        Flag::Read,
    ),
    said(
        row(
            "baby/spoon",
            Topic::Baby,
            (ALL, &[Class::BabyFood]),
            "throw away what the spoon has touched; no honey before the first birthday",
        ),
        None,
        "spoon: evolvia.com.tr citing foodsafety.gov; honey: foodsafety.gov/blog/blog_22",
        Flag::ReadSecond,
    ),
    said(
        row(
            "chill/shallow",
            Topic::Chilling,
            (ALL, COOKED),
            "into shallow boxes, no deeper than 2 in (5 cm), lids ajar until cold, apart from each other; never the whole \
             pot into the fridge",
        ),
        Some((50, "mm")),
        "USDA advice on shallow containers, read at Solano County Environmental Health",
        Flag::ReadSecond,
    ),
    said(
        row(
            "chill/service-curve",
            Topic::Chilling,
            (SERVICE, COOKED),
            "57 °C to 21 °C within 2 hours and to 5 °C within 6 hours altogether, with a log",
        ),
        Some((360, "min")),
        "FDA Food Code 3-501.14(A), read in 16 Del. Admin. Code 3-501.14",
        Flag::Read,
    ),
    said(
        row(
            "chill/service-ambient",
            Topic::Chilling,
            (SERVICE, COLD),
            "made from food at room temperature: at 5 °C within 4 hours",
        ),
        Some((240, "min")),
        "FDA Food Code 3-501.14(B), read in 16 Del. Admin. Code 3-501.14",
        Flag::Read,
    ),
    said(
        row(
            "chill/cold-food",
            Topic::Chilling,
            (ALL, COLD),
            "back into the fridge after serving; what stood out longer than the limit is thrown away",
        ),
        None,
        "U.S. National Agricultural Library, How long should I keep leftover food",
        Flag::Read,
    ),
    said(
        row(
            "reheat/us",
            Topic::Reheating,
            (US, COOKED),
            "warm to 165 °F (74 °C) in the middle; soups and sauces to a rolling boil",
        ),
        Some((739, "0.1 °C")),
        "University of Illinois Extension, Leftovers; the boil on a page that quotes USDA",
        Flag::Read,
    ),
    said(
        row(
            "reheat/uk",
            Topic::Reheating,
            (UK, COOKED),
            "steaming hot throughout, 70 °C for 2 minutes (82 °C in Scotland), once only",
        ),
        Some((700, "0.1 °C")),
        "Food Standards Agency, read at hr-cl.com; Scotland on a secondary page",
        Flag::Read,
    ),
    said(
        row(
            "reheat/service",
            Topic::Reheating,
            (SERVICE, COOKED),
            "for hot holding 165 °F (74 °C) for 15 seconds within 2 hours",
        ),
        Some((120, "min")),
        "FDA Food Code 3-403.11(A) and (D), read in 16 Del. Admin. Code 3-403.11",
        Flag::Read,
    ),
    said(
        row(
            "reheat/others",
            Topic::Reheating,
            (
                Audience::Only(&[Profile::Canada, Profile::Australia, Profile::Eu]),
                COOKED,
            ),
            "warm until steaming hot throughout; 74-75 °C in the middle",
        ),
        Some((750, "0.1 °C")),
        "Canada 74 °C on a secondary page, Australia 75 °C from memory; no common figure of the Union",
        Flag::Memory,
    ),
    said(
        row(
            "reheat/once",
            Topic::Reheating,
            (ALL, &[]),
            "warm only what is eaten now; warmed food does not go back into the box",
        ),
        None,
        "once only: United Kingdom text on rice, read at healthwell.eani.org.uk; elsewhere common practice",
        Flag::Read,
    ),
    said(
        row(
            "thaw/fridge",
            Topic::Thawing,
            (ALL, &[]),
            "in the fridge: 24 hours for each 5 lb (2.3 kg), on a plate that holds what drips",
        ),
        Some((635, "min/kg")),
        "MSU Extension E3259",
        Flag::Read,
    ),
    said(
        row(
            "thaw/water",
            Topic::Thawing,
            (ALL, &[]),
            "in cold water, in a tight bag, water changed every 30 minutes: a small pack within an hour, 3-4 lb in 2-3 hours, \
             about 30 minutes a pound; then cooked at once",
        ),
        Some((30, "min/lb")),
        "MSU Extension E3259; 30 min/lb on a secondary page",
        Flag::Read,
    ),
    said(
        row(
            "thaw/microwave",
            Topic::Thawing,
            (ALL, &[]),
            "in the microwave: cooked at once, not put back into the fridge",
        ),
        None,
        "MSU Extension E3259; NDSU",
        Flag::Read,
    ),
    said(
        row(
            "thaw/never-counter",
            Topic::Thawing,
            (ALL, &[]),
            "never on the counter",
        ),
        None,
        "from memory: FDA Food Code 3-501.13 and federal home advice",
        Flag::Memory,
    ),
    said(
        row(
            "slow-cooker/thaw-first",
            Topic::SlowCooker,
            (ALL, &[]),
            "meat goes in thawed; a slow cooker never warms left-overs; each look under the lid costs 30 minutes; beans are \
             boiled first",
        ),
        Some((30, "min")),
        "blogs.extension.iastate.edu 2021-01-05 citing FSIS",
        Flag::Read,
    ),
    said(
        row(
            "time-out/service",
            Topic::TimeOut,
            (SERVICE, &[]),
            "by time alone: 4 hours from cold or hot, 6 hours from cold while it never passes 70 °F (21 °C), then thrown away",
        ),
        Some((240, "min")),
        "FDA Food Code 3-501.19(B) and (C), read in 16 Del. Admin. Code 3-501.19",
        Flag::Read,
    ),
    said(
        row(
            "power-cut/fridge",
            Topic::PowerCut,
            (ALL, &[]),
            "a fridge kept shut stays cold about 4 hours; after that perishable food is thrown away",
        ),
        Some((4, "h")),
        "from memory: federal advice on food in a power cut, foodsafety.gov",
        Flag::Memory,
    ),
    said(
        row(
            "power-cut/freezer-full",
            Topic::PowerCut,
            (ALL, &[]),
            "a full freezer kept shut holds about 48 hours; food that still has ice crystals may be frozen again",
        ),
        Some((48, "h")),
        "from memory: federal advice on food in a power cut, foodsafety.gov",
        Flag::Memory,
    ),
    said(
        row(
            "power-cut/freezer-half",
            Topic::PowerCut,
            (ALL, &[]),
            "a half-full freezer kept shut holds about 24 hours; food that still has ice crystals may be frozen again",
        ),
        Some((24, "h")),
        "from memory: federal advice on food in a power cut, foodsafety.gov",
        Flag::Memory,
    ),
];
